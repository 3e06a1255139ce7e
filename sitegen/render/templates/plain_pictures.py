"""Pictures of a journal's look without what cameras and editors write into them: pixels stay as they are.

In: the content of a JPEG, PNG or WebP. Out: the same without Exif, XMP, IPTC, comments, profiles, previews, texts, and
without what lies behind its end; a JPEG that lies on its side keeps its orientation. Any other content, and a file that
cannot be followed to its end, comes back as it is. No library decodes anything: a photo of the log is encoded anew
(`photos`), a drawing of the look is not to lose by that.

References
----------
JPEG: ITU-T T.81, annex B. PNG: W3C PNG, third edition, section 11. WebP: RFC 9649, section 2. Exif: CIPA DC-008, 4.6.

"""

from __future__ import annotations

import struct
from collections.abc import Iterator

# JFIF, and how colours are stored; all other application segments and comments are left out.
_KEPT_SEGMENTS = {0xE0, 0xEE, 0xDA, 0xDB, 0xDD, *(marker for marker in range(0xC0, 0xD0) if marker != 0xC8)}
_START, _END, _SCAN, _EXIF = 0xD8, 0xD9, 0xDA, 0xE1
_KEPT_CHUNKS = {
    *(
        b"IHDR",
        b"PLTE",
        b"IDAT",
        b"IEND",
        b"tRNS",
        b"gAMA",
        b"cHRM",
        b"sRGB",
        b"sBIT",
        b"bKGD",
        b"pHYs",
        b"cICP",
    ),
    *(b"acTL", b"fcTL", b"fdAT"),
}
_KEPT_PARTS = {b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF"}
_SAID = 0x20 | 0x08 | 0x04  # of VP8X: that there is a profile, Exif, XMP
_ORIENTATION, _LARGEST = 0x0112, 64  # the tag; more entries than a directory has
_PNG = b"\x89PNG\r\n\x1a\n"


def plain_picture(body: bytes) -> bytes:
    """A picture without metadata; any other content as it is."""
    try:
        if body.startswith(b"\xff\xd8\xff"):
            return b"".join(_jpeg(body))
        if body.startswith(_PNG):
            return _PNG + b"".join(_png(body))
        if body[:4] == b"RIFF" and body[8:12] == b"WEBP":
            parts = b"WEBP" + b"".join(_webp(body))
            return b"RIFF" + struct.pack("<I", len(parts)) + parts
    except (IndexError, ValueError, struct.error):  # broken: as the author has it
        pass
    return body


def _jpeg(body: bytes) -> Iterator[bytes]:
    yield body[:2]
    at = 2
    while body[at + 1] != _END:
        marker = body[at + 1]
        if body[at] != 0xFF or marker in (0xFF, _START):
            raise ValueError("no marker")
        stop = at + 2 + int(struct.unpack(">H", body[at + 2 : at + 4])[0])
        content = body[at + 4 : stop]
        if marker == _SCAN:
            stop = _behind_scan(body, stop)
        if marker == _EXIF and (turned := _orientation(content)) > 1:
            yield _turned(turned)
        if marker == 0xE0 and not content.startswith(b"JFIF\0"):
            pass  # a preview
        elif marker == 0xE0:
            yield b"\xff\xe0\0\x10" + content[:12] + b"\0\0"  # without its preview
        elif marker in _KEPT_SEGMENTS:
            yield body[at:stop]
        at = stop
    yield body[at : at + 2]


def _behind_scan(body: bytes, at: int) -> int:
    """The next marker behind entropy-coded data: 0xFF that is neither stuffed nor a restart."""
    while True:
        at = body.index(b"\xff", at)
        if body[at + 1] != 0 and not 0xD0 <= body[at + 1] <= 0xD7:
            return at
        at += 2


def _orientation(exif: bytes) -> int:
    """The orientation in an Exif segment; 1 where it says none."""
    tiff = exif.removeprefix(b"Exif\0\0")
    if tiff == exif or tiff[:2] not in (b"II", b"MM"):
        return 1
    order = "<" if tiff[:2] == b"II" else ">"
    (first,) = struct.unpack(f"{order}I", tiff[4:8])
    (count,) = struct.unpack(f"{order}H", tiff[first : first + 2])
    for entry in range(min(count, _LARGEST)):
        tag, _, _, value = struct.unpack(f"{order}HHIH", tiff[first + 2 + 12 * entry :][:10])
        if tag == _ORIENTATION:
            return int(value) if 1 <= value <= 8 else 1
    return 1


def _turned(orientation: int) -> bytes:
    """An Exif segment that holds an orientation and nothing else."""
    tiff = b"MM\0*" + struct.pack(">IHHHIHHI", 8, 1, _ORIENTATION, 3, 1, orientation, 0, 0)
    content = b"Exif\0\0" + tiff
    return b"\xff\xe1" + struct.pack(">H", len(content) + 2) + content


def _png(body: bytes) -> Iterator[bytes]:
    at, name = len(_PNG), b""
    while name != b"IEND":
        (length,) = struct.unpack(">I", body[at : at + 4])
        name, stop = body[at + 4 : at + 8], at + 12 + length
        if stop > len(body):
            raise ValueError("cut short")
        if name in _KEPT_CHUNKS:
            yield body[at:stop]
        at = stop


def _webp(body: bytes) -> Iterator[bytes]:
    at, end = 12, 8 + int(struct.unpack("<I", body[4:8])[0])
    if end > len(body):
        raise ValueError("cut short")
    while at < end:
        (length,) = struct.unpack("<I", body[at + 4 : at + 8])
        name, stop = body[at : at + 4], at + 8 + length + length % 2
        if name == b"VP8X":
            yield body[at : at + 8] + bytes((body[at + 8] & ~_SAID,)) + body[at + 9 : stop]
        elif name in _KEPT_PARTS:
            yield body[at:stop]
        at = stop
