"""What a photo field takes, and the many kinds of files that it refuses in a sentence."""

import io
import struct
import zipfile
import zlib

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image, PngImagePlugin

from jobs.models import Job, Photo
from parts.tools import pictures
from parts.tools.pictures import PhotoError, read_photo
from tests.factories import JobFactory

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
def test_it_is_refused_in_a_sentence_and_nothing_is_stored(owner_client, files, kind):
    job = JobFactory()
    url = reverse("jobs:photo-add", args=[job.number])
    page = owner_client.post(url, {"photos": [upload(JPEG, "good.jpg"), upload((BAD | LARGE)[kind])]}, follow=True)
    assert page.status_code == 200
    told = "x.jpg is not a JPEG, PNG, WebP or HEIC photo" if kind in BAD else "the limit is 60 million pixels"
    assert told in page.text
    assert Photo.objects.count() == 0
    assert not [file for file in files.rglob("*") if file.is_file()]


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


def test_what_hangs_on_to_a_good_picture_is_not_kept():
    info = PngImagePlugin.PngInfo()
    info.add_text("Comment", "<script>alert(1)</script>")
    for data in (JPEG + HTML + _zip(), saved("PNG", pnginfo=info), saved("WEBP", xmp=b"<script>alert(1)</script>")):
        kept = pictures.encoded(read_photo(upload(data)), 240)
        assert b"script" not in kept
        assert b"PK\x03\x04" not in kept
        assert kept.startswith(b"\xff\xd8\xff")
