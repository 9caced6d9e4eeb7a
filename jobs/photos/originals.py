"""Photos as they came, without what tells of persons: place, camera, owner, times, comments, hidden pictures and films.

The picture's own bytes are copied, not encoded again; how it is turned and its colours stay. Sources: JPEG, ITU-T T.81
annex B; PNG, W3C third edition, section 11; WebP container, RFC 9649. A HEIC photo keeps such things within boxes that
point at each other: it is encoded once, as a JPEG of high quality and full size.
"""

from __future__ import annotations

import io
import re
import struct
from collections.abc import Iterator
from typing import IO

from PIL import Image, ImageOps
from PIL.ExifTags import Base

QUALITY = 95
"""JPEG quality of a picture that has to be encoded."""
_WITHOUT_LENGTH = frozenset((0x01, *range(0xD0, 0xD9)))
_NEXT_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
"""What ends the data of a scan: stuffed bytes and restarts belong to it."""
_PNG = b"\x89PNG\r\n\x1a\n"
_PNG_CHUNKS = frozenset(b"IHDR PLTE IDAT IEND tRNS gAMA cHRM sRGB iCCP sBIT cICP pHYs".split())
_WEBP_CHUNKS = frozenset((b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"))
_WEBP_NO_METADATA = 0xFF ^ 0x0C
"""The flags byte of VP8X without those for Exif and XMP."""


def without_metadata(file: IO[bytes]) -> tuple[bytes, str]:
    """(bytes, suffix) of a photo that was judged already; `file` is read from its start."""
    file.seek(0)
    content = file.read()
    if content.startswith(b"\xff\xd8"):
        return _jpeg(content), "jpg"
    if _orientation(content) != 1:
        return _encoded(content), "jpg"
    if content.startswith(_PNG):
        return _PNG + b"".join(_png_chunks(content)), "png"
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        chunks = b"WEBP" + b"".join(_webp_chunks(content))
        return b"RIFF" + struct.pack("<I", len(chunks)) + chunks, "webp"
    return _encoded(content), "jpg"


def _jpeg(content):
    """The segments that make up the picture, up to its end; a turned one is told so by an Exif block of that alone."""
    segments, at = [b"\xff\xd8", *_turned(content)], 2
    while at + 2 <= len(content) and content[at] == 0xFF:
        marker = content[at + 1]
        if marker == 0xD9:
            return b"".join([*segments, b"\xff\xd9"])
        if marker == 0xFF:
            at += 1
            continue
        end = at + 2 + (0 if marker in _WITHOUT_LENGTH else struct.unpack(">H", content[at + 2 : at + 4])[0])
        if marker == 0xDA:
            following = _NEXT_MARKER.search(content, end)
            end = following.start() if following else len(content)
        if _is_of_the_picture(marker, content[at:end]):
            segments.append(content[at:end])
        at = end
    return _encoded(content)


def _is_of_the_picture(marker, segment):
    """JFIF, the colour profile and Adobe's colour transform stay of the application's segments; comments go."""
    if marker == 0xE2:
        return segment[4:].startswith(b"ICC_PROFILE\0")
    return marker in (0xE0, 0xEE) or not (0xE0 <= marker <= 0xEF or marker == 0xFE)


def _orientation(content):
    """How the picture is turned by its Exif block, 1 for upright; nothing else counts."""
    turned = Image.open(io.BytesIO(content)).getexif().get(Base.Orientation, 1)
    return turned if turned in range(2, 9) else 1


def _turned(content):
    turned = _orientation(content)
    if turned == 1:
        return []
    exif = Image.Exif()
    exif[Base.Orientation] = turned
    block = b"Exif\0\0" + exif.tobytes().removeprefix(b"Exif\0\0")
    return [b"\xff\xe1" + struct.pack(">H", len(block) + 2) + block]


def _png_chunks(content: bytes) -> Iterator[bytes]:
    at = len(_PNG)
    while at + 12 <= len(content):
        (length,), kind = struct.unpack(">I", content[at : at + 4]), content[at + 4 : at + 8]
        if kind in _PNG_CHUNKS:
            yield content[at : at + 12 + length]
        if kind == b"IEND":
            return
        at += 12 + length


def _webp_chunks(content: bytes) -> Iterator[bytes]:
    at = 12
    while at + 8 <= len(content):
        kind, (length,) = content[at : at + 4], struct.unpack("<I", content[at + 4 : at + 8])
        whole = content[at : at + 8 + length + length % 2]
        if kind == b"VP8X":
            whole = whole[:8] + bytes([whole[8] & _WEBP_NO_METADATA]) + whole[9:]
        if kind in _WEBP_CHUNKS:
            yield whole
        at += 8 + length + length % 2


def _encoded(content):
    picture = ImageOps.exif_transpose(Image.open(io.BytesIO(content)))
    plain, out = Image.new("RGB", picture.size), io.BytesIO()
    plain.paste(picture.convert("RGB"))
    profile = picture.info.get("icc_profile")
    plain.save(out, "JPEG", quality=QUALITY, **({"icc_profile": profile} if profile else {}))
    return out.getvalue()
