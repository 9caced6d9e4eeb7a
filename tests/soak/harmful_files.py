"""Files that mean no good, drawn by chance from a seed so that each attempt can be repeated."""

import io
import json
import struct
import zipfile
import zlib

from PIL import Image, PngImagePlugin

from tests.soak.harm import value

MARK = b"UNWANTED-PAYLOAD"
"""Stands in files beside the picture; nothing that is kept may hold it."""
NAMES = (
    "photo.jpg",
    "../../../../etc/cron.d/x",
    "..\\..\\x.jpg",
    "/etc/passwd",
    "x" * 300 + ".jpg",
    "a\nb.jpg",
    "nul",
    ".htaccess",
    "photo.svg",
    "photo.html",
    "photo.php.jpg",
    "\u202egpj.exe",
    "\U0001f570.png",
    " ",
    "%00.jpg",
    "<b>.jpg",
    "sheet.csv",
    "sheet.json",
)
TYPES = (
    "image/jpeg",
    "image/png",
    "image/svg+xml",
    "text/html",
    "text/csv",
    "application/json",
    "",
    "a/b; c=\xff",
    "x",
)


def picture(chance):
    """A small sound picture with something beside it in its metadata, as bytes."""
    form = chance.choice(("JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF", "HEIF"))
    mode = chance.choice(("RGB", "L", "P", "RGBA", "CMYK", "1", "I;16", "LA"))
    image, out = Image.new(mode, (chance.randint(1, 40), chance.randint(1, 40))), io.BytesIO()
    more = {"exif": _exif(chance)} if form in ("JPEG", "WEBP") else {}
    if form == "PNG":
        more["pnginfo"] = PngImagePlugin.PngInfo()
        more["pnginfo"].add_text("note", MARK.decode())
    try:
        image.save(out, form, **more)
    except (OSError, ValueError, KeyError):
        out = io.BytesIO()
        image.convert("RGB").save(out, "JPEG", comment=MARK)
    return out.getvalue()


def _exif(chance):
    exif = Image.Exif()
    exif[0x010E] = MARK.decode()
    exif[0x0112] = chance.randint(0, 9)
    return exif


def _cut(chance, data):
    return data[: chance.randrange(len(data) + 1)]


def _changed(chance, data):
    spoiled = bytearray(data)
    for _ in range(chance.randint(1, 12)):
        spoiled[chance.randrange(min(len(spoiled), chance.choice((16, 64, 100_000))))] = chance.randrange(256)
    return bytes(spoiled)


def _put_in(chance, data):
    at = chance.randrange(len(data) + 1)
    return data[:at] + chance.randbytes(chance.randint(1, 200)) + data[at:]


def _two_in_one(chance, data):
    page = b"<html><script>alert(1)</script>" + MARK
    return chance.choice((data + page, page + data, data + zipped(MARK), b"%PDF-1.4\n" + MARK + data, data + data))


def _huge_png(chance, _):
    width, height = chance.choice(((60_000, 60_000), (2**31 - 1, 1), (1, 2**31 - 1), (0, 0), (2**32 - 1, 2**32 - 1)))
    head = _chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, chance.choice((1, 8, 16)), 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + _chunk(b"IDAT", zlib.compress(bytes(1000))) + _chunk(b"IEND", b"")


def _chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def _huge_jpeg(chance, _):
    out = io.BytesIO()
    Image.new("RGB", (16, 16)).save(out, "JPEG")
    data = bytearray(out.getvalue())
    at = data.index(b"\xff\xc0")
    data[at + 5 : at + 9] = struct.pack(">HH", chance.choice((0, 65_535, 30_000)), 65_535)
    return bytes(data)


def _huge_gif(chance, _):
    return b"GIF89a" + struct.pack("<HH", 65_535, 65_535) + chance.randbytes(60)


def _huge_heic(chance, _):
    kind = chance.choice((b"heic", b"mif1", b"avif", b"heix"))
    return struct.pack(">I", 24) + b"ftyp" + kind + bytes(4) + b"mif1heic" + chance.randbytes(200)


def _text(chance, _):
    svg = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
    xml = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><svg>&b;</svg>'
    return chance.choice(
        (b"", b"\0", svg, xml, b"<html>" + MARK, b"\xff\xd8", b"\xff\xd8\xff\xe0", b"\x89PNG\r\n\x1a\n")
    )


def zipped(content):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("x", content)
    return out.getvalue()


def _bomb(chance, _):
    return chance.choice((zipped(bytes(10_000_000)), zlib.compress(bytes(5_000_000)), b'{"a":' * 30_000))


def photo(chance):
    """A file for a field that asks for a picture; most are none."""
    hurt = (
        _cut,
        _cut,
        _changed,
        _changed,
        _changed,
        _put_in,
        _two_in_one,
        _huge_png,
        _huge_jpeg,
        _huge_gif,
        _huge_heic,
    )
    return chance.choice((*hurt, _text, _text, _bomb))(chance, picture(chance))


def table(chance, sound):
    """A file for a field that asks for CSV; `sound` is one that would be taken."""
    lines = sound.splitlines()
    headings, cells = lines[0], lines[-1].split(",")
    cells[chance.randrange(len(cells))] = value(chance).encode("utf-8", "surrogatepass").decode("latin-1")
    row = ",".join(cells).encode("utf-8", "surrogatepass")
    whole = sound.encode()
    return chance.choice(
        (
            lambda: headings.encode() + b"\r\n" + row,
            lambda: whole + b"\r\n" + row,
            lambda: _changed(chance, whole),
            lambda: _cut(chance, whole),
            lambda: _put_in(chance, whole),
            lambda: whole.decode().encode("utf-16"),
            lambda: headings.encode() + b"," * 20_000,
            lambda: headings.encode() + b'\r\n"' + b"x" * 200_000,
            lambda: b"name\r\n" + b"x\r\n" * 6_000,
            lambda: b"name;name\r\nx;y",
            lambda: _bomb(chance, b""),
            lambda: _text(chance, b""),
            lambda: picture(chance),
            lambda: bytes(2_100_000),
        )
    )()


def sheet(chance, sound):
    """A file for a field that asks for a fit sheet (JSON); `sound` is one that would be taken."""
    data = json.loads(sound)
    _spoil(chance, data)
    whole = json.dumps(data).encode()
    return chance.choice(
        (
            lambda: whole,
            lambda: whole,
            lambda: whole,
            lambda: whole,
            lambda: _changed(chance, sound.encode()),
            lambda: _cut(chance, sound.encode()),
            lambda: b"[" * chance.choice((100, 5_000, 150_000)),
            lambda: b'{"a":' * 20_000,
            lambda: b'{"case": ' + b"9" * 6_000 + b"}",
            lambda: chance.choice((b"null", b"1", b'"x"', b"[]", b"{}", b"NaN", b'{"case": null}')),
            lambda: whole.decode().encode("utf-16"),
            lambda: _bomb(chance, b""),
            lambda: picture(chance),
        )
    )()


_LEAVES = (
    None,
    True,
    -1,
    0,
    1e308,
    float("nan"),
    float("inf"),
    10**400,
    "x",
    "\ud800",
    "\0",
    [],
    {},
    [1, 2, 3],
    [[]],
    "9" * 500,
)


def _spoil(chance, data):
    """Put a wrong leaf somewhere into the JSON data."""
    while True:
        keys = list(data) if isinstance(data, dict) else range(len(data))
        key = chance.choice(list(keys))
        inside = data[key]
        if isinstance(inside, dict | list) and inside and chance.random() < 0.8:
            data = inside
        else:
            data[key] = chance.choice(_LEAVES)
            return
