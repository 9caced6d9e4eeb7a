"""What a photo field takes, and the many kinds of files that it refuses in a sentence."""

import io
import struct
import zipfile
import zlib

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image, PngImagePlugin

from jobs.models import Job, Photo
from parts.tools import pictures
from parts.tools.pictures import PhotoError, read_photo
from tests.factories import DialFactory, JobFactory

pytestmark = pytest.mark.alike

SPLIT = Image.new("RGB", (120, 80), "#fff")
SPLIT.paste("#f00", (0, 0, 60, 80))


def saved(kind, picture=SPLIT, **options):
    out = io.BytesIO()
    picture.save(out, kind, **options)
    return out.getvalue()


def upload(data, name="x.jpg", kind="image/jpeg"):
    return SimpleUploadedFile(name, data, kind)


def _chunk(name, data):
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def png(width, height, data=b"", *before):
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    chunks = [_chunk(b"IHDR", head), *before, _chunk(b"IDAT", zlib.compress(data)), _chunk(b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


def _zip():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("run.sh", "echo")
    return out.getvalue()


def _cut(data, share=0.5):
    return data[: int(len(data) * share)]


JPEG, PNG, WEBP, HEIC = saved("JPEG"), saved("PNG"), saved("WEBP"), saved("HEIF")
SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
HTML = b"<!doctype html><script>alert(1)</script>"
BAD = {
    "blank": b" ",
    "text": b"this is no picture",
    "svg": SVG,
    "svg behind an xml head": b'<?xml version="1.0"?>' + SVG,
    "html": HTML,
    "html before a jpeg": HTML + JPEG,
    "html behind a jpeg's mark": b"\xff\xd8\xff\xe0" + HTML,
    "gif": saved("GIF"),
    "gif that is a script": b"GIF89a/*" + b"*/=1;alert(1)",
    "tiff": saved("TIFF"),
    "bmp": saved("BMP"),
    "icon": saved("ICO"),
    "jpeg 2000": saved("JPEG2000"),
    "xbm": b"#define a_width 8\n#define a_height 8\nstatic char a_bits[] = { 0x00 };",
    "pdf": b"%PDF-1.7\n1 0 obj<</Type/Catalog>>endobj\ntrailer<</Root 1 0 R>>",
    "eps": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n",
    "zip": _zip(),
    "program": b"\x7fELF" + bytes(200),
    "jpeg cut short": _cut(JPEG),
    "jpeg of its mark alone": JPEG[:4],
    "png cut short": _cut(saved("PNG", Image.effect_noise((300, 200), 90))),
    "webp cut short": _cut(WEBP),
    "heic cut short": _cut(HEIC),
    "heic of its head alone": HEIC[:40],
    "heic with other bytes inside": HEIC[:-200] + bytes(200) if len(HEIC) > 600 else HEIC[:60] + bytes(400),
    "png of no size": png(0, 0),
    "png without a picture": png(400, 400)[:33] + _chunk(b"IEND", b""),
    "png with a wrong sum": PNG[:30] + bytes([PNG[30] ^ 1]) + PNG[31:],
    "noise behind a png's mark": b"\x89PNG\r\n\x1a\n" + bytes(range(256)),
    "noise behind a webp's mark": b"RIFF\x10\0\0\0WEBPVP8 " + bytes(range(64)),
}
LARGE = {
    "png of a billion pixels": png(40_000, 30_000),
    "png that unpacks to a hundred times its size": png(9_000, 9_000, bytes(9_001) * 9_000),
}


@pytest.mark.django_db
@pytest.mark.parametrize("kind", [*BAD, *LARGE])
def test_it_is_refused_in_a_sentence_and_the_good_one_is_kept(owner_client, files, kind):
    job = JobFactory()
    url = reverse("jobs:photo-add", args=[job.number])
    page = owner_client.post(url, {"photos": [upload(JPEG, "good.jpg"), upload((BAD | LARGE)[kind])]}, follow=True)
    assert page.status_code == 200
    told = "x.jpg is not a JPEG, PNG, WebP or HEIC photo" if kind in BAD else "the limit is 60 million pixels"
    assert told in page.text
    assert "1 photo saved." in page.text
    assert Photo.objects.count() == 1
    assert len([file for file in files.rglob("*") if file.is_file()]) == 2


@pytest.mark.parametrize("kind", BAD)
def test_the_reason_names_the_file_and_what_to_do(kind):
    with pytest.raises(PhotoError, match=r"^x\.jpg is not a .* photo\. Choose another\.$"):
        read_photo(upload(BAD[kind]))


def test_a_file_of_too_many_bytes_is_not_even_opened(monkeypatch):
    monkeypatch.setattr(pictures, "MOST_BYTES", 500)
    with pytest.raises(PhotoError, match="the limit is"):
        read_photo(upload(JPEG + bytes(500)))


@pytest.mark.parametrize(("data", "name"), [(JPEG, "a.jpg"), (PNG, "a.png"), (WEBP, "a.webp"), (HEIC, "a.heic")])
def test_each_kind_is_taken_whatever_it_is_called(data, name):
    assert read_photo(upload(data, name)).size == (120, 80)
    assert read_photo(upload(data, "x.txt", "text/plain")).size == (120, 80)


@pytest.mark.django_db
def test_a_heic_is_kept_upright_as_jpeg_without_its_metadata(owner_client, files):
    job, exif = JobFactory(), Image.Exif()
    exif[0x0112], exif[0x010E] = 6, "a secret place"
    data = saved("HEIF", exif=exif.tobytes())
    assert b"a secret place" in data
    owner_client.post(reverse("jobs:photo-add", args=[job.number]), {"photos": [upload(data, "a.heic", "image/heic")]})
    stored = Job.objects.get().photos.get()
    with Image.open(stored.file) as picture:
        assert (picture.format, picture.size) == ("JPEG", (80, 120))
        assert not picture.getexif()
        red, _, blue = picture.getpixel((40, 10))
        assert red > 200 > 100 > blue
    assert b"secret" not in b"".join(file.read_bytes() for file in files.rglob("*") if file.is_file())


@pytest.mark.django_db
@pytest.mark.parametrize("beside", [{"comment": b"a secret"}, {"xmp": b"a secret"}])
def test_a_picture_of_a_part_is_kept_without_what_its_file_says_beside_it(owner_client, files, beside):
    dial, data = DialFactory(), saved("JPEG", **beside)
    assert b"a secret" in data
    address = reverse("parts:part-pictures", args=["dials", dial.pk])
    owner_client.post(address, {"subject": "dial-front", "file": upload(data), "height": "0.40", "height_pm": "0.05"})
    (kept,) = (dial.pictures.get().file.read(),)
    assert kept.startswith(b"\xff\xd8")
    assert b"secret" not in kept


def test_what_hangs_on_to_a_good_picture_is_not_kept():
    info = PngImagePlugin.PngInfo()
    info.add_text("Comment", "<script>alert(1)</script>")
    for data in (JPEG + HTML + _zip(), saved("PNG", pnginfo=info), saved("WEBP", xmp=b"<script>alert(1)</script>")):
        kept = pictures.encoded(read_photo(upload(data)), 240)
        assert b"script" not in kept
        assert b"PK\x03\x04" not in kept
        assert kept.startswith(b"\xff\xd8\xff")


def _as_png(picture, **options):
    out = io.BytesIO()
    picture.save(out, "PNG", **options)
    return upload(out.getvalue(), "x.png", "image/png")


def test_what_is_transparent_lies_on_white():
    layer = Image.new("RGBA", (40, 40), (0, 0, 0, 0))
    assert read_photo(_as_png(layer)).getpixel((20, 20)) == (255, 255, 255)


def test_sixteen_bits_keep_their_greys():
    grey = Image.new("I;16", (40, 40), 32768)
    assert read_photo(_as_png(grey)).getpixel((20, 20)) == pytest.approx((128, 128, 128), abs=1)


WIDE = np.array([[0.51512, 0.29198, 0.15710], [0.24120, 0.69225, 0.06657], [-0.00105, 0.04189, 0.78407]])
"""Primaries of a wide colour space under D50: those of Display P3 as ICC profiles have them."""
COMMON = np.array([[0.43607, 0.38515, 0.14307], [0.22249, 0.71687, 0.06061], [0.01392, 0.09708, 0.71410]])
"""The same of sRGB (IEC 61966-2-1)."""


def profile(primaries):
    """An ICC profile of these primaries with a gamma of 2.2 (ICC.1:2022, clauses 7 and 10)."""

    def fixed(*values):
        return b"".join(struct.pack(">i", round(value * 65536)) for value in values)

    curve = b"curv" + bytes(4) + struct.pack(">IH", 1, round(2.2 * 256)) + bytes(2)
    tags = {b"wtpt": b"XYZ " + bytes(4) + fixed(0.9642, 1.0, 0.8249)}
    for name, column in zip((b"rXYZ", b"gXYZ", b"bXYZ"), primaries.T, strict=True):
        tags[name] = b"XYZ " + bytes(4) + fixed(*column)
    tags |= dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), curve)
    at, table, body = 128 + 4 + 12 * len(tags), b"", b""
    for name, content in tags.items():
        table += name + struct.pack(">II", at + len(body), len(content))
        body += content
    head = bytes(4) + bytes(4) + b"\x02\x10\x00\x00mntrRGB XYZ " + bytes(12) + b"acsp" + bytes(28)
    head += fixed(0.9642, 1.0, 0.8249)
    whole = head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + body
    return struct.pack(">I", len(whole)) + whole[4:]


def on_screens(own):
    """A colour of the wide space as sRGB has it, by the matrices of both spaces."""
    linear = np.linalg.inv(COMMON) @ WIDE @ (np.array(own) / 255) ** 2.2
    return tuple(np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055) * 255)


def test_other_colours_are_turned_into_those_of_every_screen():
    """A picture of a wide colour space, as cameras of telephones make them, against the matrices of both spaces."""
    own = (90, 180, 120)
    picture = Image.new("RGB", (40, 40), own)
    turned = read_photo(_as_png(picture, icc_profile=profile(WIDE))).getpixel((20, 20))
    assert turned == pytest.approx(on_screens(own), abs=2)
    assert turned[0] < 80
    assert read_photo(_as_png(picture, icc_profile=b"no profile")).getpixel((20, 20)) == own
