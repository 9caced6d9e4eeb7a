"""Photos as they came: the picture's own bytes, and nothing that tells of persons."""

import io
import struct

import pytest
from PIL import Image, ImageChops, PngImagePlugin
from PIL.ExifTags import IFD, Base

from jobs.photos.originals import without_metadata
from parts.tools.pictures import as_kept

SECRET = b"Secret Lane 5"


def painted(size=(160, 120)):
    picture = Image.new("RGB", size)
    picture.putdata([((7 * i) % 256, (3 * i) % 256, i % 256) for i in range(size[0] * size[1])])
    return picture


def exif(turned=1):
    block = Image.Exif()
    block[Base.Orientation], block[Base.Artist], block[Base.Make] = turned, SECRET.decode(), SECRET.decode()
    block.get_ifd(IFD.GPSInfo)[2] = (51.0, 30.0, 0.0)
    block.get_ifd(IFD.Exif)[0x9003] = SECRET.decode()
    return block


def saved(form, **more):
    out = io.BytesIO()
    painted().save(out, form, **more)
    return out.getvalue()


def jpeg(turned=1, **more):
    """A JPEG with every place that tells of persons filled: Exif, XMP, IPTC, a comment, a film behind its end."""
    plain = saved("JPEG", quality=90, exif=exif(turned), comment=SECRET, **more)
    xmp = b"http://ns.adobe.com/xap/1.0/\0<x>" + SECRET + b"</x>"
    iptc = b"Photoshop 3.0\0" + SECRET
    preview = b"MPF\0" + SECRET
    blocks = b"".join(
        b"\xff" + bytes([marker]) + struct.pack(">H", len(words) + 2) + words
        for marker, words in ((0xE1, xmp), (0xED, iptc), (0xE2, preview))
    )
    return plain[:2] + blocks + plain[2:] + b"\0film" + SECRET


@pytest.mark.parametrize("more", [{}, {"progressive": True}, {"subsampling": 2, "restart_marker_blocks": 4}])
@pytest.mark.parametrize("turned", [1, 6])
def test_a_jpeg_keeps_its_pixels_and_how_it_is_turned_and_loses_the_rest(turned, more):
    came = jpeg(turned, **more)
    assert came.count(SECRET) > 5
    content, suffix = without_metadata(io.BytesIO(came))
    assert (suffix, SECRET in content, b"MPF" in content) == ("jpg", False, False)
    before, after = Image.open(io.BytesIO(came)), Image.open(io.BytesIO(content))
    assert ImageChops.difference(before.convert("RGB"), after.convert("RGB")).getbbox() is None
    left = dict(after.getexif())
    assert left == ({} if turned == 1 else {Base.Orientation: turned})
    assert not after.getexif().get_ifd(IFD.GPSInfo)
    scan = came[came.index(b"\xff\xda") : came.rindex(b"\xff\xd9")]
    assert scan in content, "the coded picture is the same, byte for byte"


def test_a_colour_profile_stays():
    from PIL import ImageCms

    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    for form in ("JPEG", "PNG", "WEBP"):
        came = saved(form, icc_profile=profile, **({"lossless": True} if form == "WEBP" else {}))
        content, _ = without_metadata(io.BytesIO(came))
        assert Image.open(io.BytesIO(content)).info.get("icc_profile") == profile


def test_a_png_loses_its_texts_its_exif_and_what_stands_behind_its_end():
    info = PngImagePlugin.PngInfo()
    info.add_text("Author", SECRET.decode())
    info.add_itxt("Place", SECRET.decode())
    came = saved("PNG", pnginfo=info, exif=exif()) + SECRET
    content, suffix = without_metadata(io.BytesIO(came))
    assert (suffix, SECRET in content) == ("png", False)
    assert Image.open(io.BytesIO(content)).tobytes() == painted().tobytes()


def test_a_webp_loses_its_exif_and_xmp():
    came = saved("WEBP", lossless=True, exif=exif().tobytes(), xmp=b"<x>" + SECRET + b"</x>")
    assert SECRET in came
    content, suffix = without_metadata(io.BytesIO(came))
    picture = Image.open(io.BytesIO(content))
    assert (suffix, SECRET in content, dict(picture.getexif())) == ("webp", False, {})
    assert picture.convert("RGB").tobytes() == painted().tobytes()


@pytest.mark.parametrize("form", ["PNG", "WEBP", "HEIF"])
def test_what_cannot_be_copied_is_encoded_upright_at_full_size(form):
    """A turned PNG or WebP has no other place to say so, a HEIC keeps its facts in boxes that point at each other."""
    content, suffix = without_metadata(io.BytesIO(saved(form, exif=exif(6).tobytes())))
    picture = Image.open(io.BytesIO(content))
    assert (suffix, SECRET in content, picture.format, dict(picture.getexif())) == ("jpg", False, "JPEG", {})
    assert picture.size == (120, 160)


@pytest.mark.parametrize(
    ("size", "kept", "small"),
    [
        ((8000, 600), (8000, 600), (240, 120)),
        ((600, 8000), (600, 8000), (120, 240)),
        ((4000, 3000), (2400, 1800), (240, 180)),
    ],
)
def test_a_panorama_keeps_its_detail_and_a_small_picture_that_shows_something(size, kept, small):
    picture = Image.new("RGB", size, "white")
    reach = min(size) // 6
    middle = (size[0] // 2 - reach, size[1] // 2 - reach, size[0] // 2 + reach, size[1] // 2 + reach)
    picture.paste("red", middle)
    made = as_kept(picture)
    assert Image.open(io.BytesIO(made.large)).size == kept
    thumbnail = Image.open(io.BytesIO(made.small))
    assert thumbnail.size == small
    red, green, _ = thumbnail.getpixel((small[0] // 2, small[1] // 2))
    assert (red > 200, green < 120) == (True, True)
