"""Invented pictures for tests: what a camera writes, and files that are none.

In: what to put in. Out: bytes. `MARK` stands in every kind of metadata, so that one search finds a leak.
"""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path

from PIL import Image, ImageCms, PngImagePlugin, TiffImagePlugin

__all__ = ["HEIC", "MARK", "exif", "huge_png", "jpeg", "picture", "png", "webp", "wide_profile"]

MARK = "SECRET-PLACE"
HEIC = Path(__file__).parent / "two-colours.heic"  # 64 x 48: green left, red right; its Exif holds the mark
XMP = f'<x:xmpmeta xmlns:x="adobe:ns:meta/"><exif:GPSLatitude>{MARK}</exif:GPSLatitude></x:xmpmeta>'.encode()


def picture(size: tuple[int, int] = (64, 48)) -> Image.Image:
    """Green in the left half, red in the right."""
    image = Image.new("RGB", size, (200, 40, 40))
    image.paste((40, 160, 60), (0, 0, size[0] // 2, size[1]))
    return image


def exif(
    taken: str = "2025:10:19 14:30:00", offset: str = "", orientation: int = 1, *, place: bool = True
) -> bytes:
    """What a phone writes: when, where, which way up, with a small preview."""
    found = Image.Exif()
    found[0x010E] = MARK
    found[0x0112] = orientation
    times = found.get_ifd(0x8769)
    if taken:
        times[0x9003] = taken
    if offset:
        times[0x9011] = offset
    if place:
        degrees = tuple(TiffImagePlugin.IFDRational(n) for n in (48, 12, 30))
        found.get_ifd(0x8825).update({1: "N", 2: degrees, 3: "E", 4: degrees})
    return found.tobytes()


def wide_profile() -> bytes:
    """A colour profile that is not sRGB: red and green change places, so that it cannot go unnoticed."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    count = struct.unpack(">I", profile[128:132])[0]
    tags = {bytes(profile[at : at + 4]): at for at in range(132, 132 + 12 * count, 12)}  # ICC.1:2022, 7.3
    red, green = (bytes(profile[tags[name] + 4 : tags[name] + 12]) for name in (b"rXYZ", b"gXYZ"))
    profile[tags[b"rXYZ"] + 4 : tags[b"rXYZ"] + 12] = green
    profile[tags[b"gXYZ"] + 4 : tags[b"gXYZ"] + 12] = red
    return bytes(profile.replace("sRGB".encode("utf-16-be"), "odd ".encode("utf-16-be")))


def jpeg(image: Image.Image | None = None, *, metadata: bytes = b"", profile: bytes = b"") -> bytes:
    """A JPEG with everything that a JPEG can say besides its pixels."""
    file = io.BytesIO()
    (image or picture()).save(
        file,
        "JPEG",
        quality=95,
        subsampling=0,
        exif=metadata or exif(),
        icc_profile=profile,
        xmp=XMP,
        comment=MARK.encode(),
    )
    iptc = b"Photoshop 3.0\x008BIM\x04\x04\x00\x00" + struct.pack(">I", len(MARK)) + MARK.encode()
    segment = b"\xff\xed" + struct.pack(">H", len(iptc) + 2) + iptc  # APP13
    body = file.getvalue()
    return body[:2] + segment + body[2:]


def png(image: Image.Image | None = None, *, metadata: bytes = b"", profile: bytes = b"") -> bytes:
    """A PNG with texts, Exif and XMP."""
    texts = PngImagePlugin.PngInfo()
    texts.add_text("Comment", MARK)
    texts.add_itxt("XML:com.adobe.xmp", XMP.decode())
    file = io.BytesIO()
    (image or picture()).save(
        file, "PNG", pnginfo=texts, exif=metadata or exif(), icc_profile=profile or None
    )
    return file.getvalue()


def webp(image: Image.Image | None = None, *, metadata: bytes = b"", profile: bytes = b"") -> bytes:
    """A WebP with Exif and XMP."""
    file = io.BytesIO()
    (image or picture()).save(
        file, "WEBP", quality=95, exif=metadata or exif(), xmp=XMP, icc_profile=profile or None
    )
    return file.getvalue()


def huge_png(width: int, height: int) -> bytes:
    """A PNG of some hundred bytes that asks for as many pixels as it likes."""
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(b"\0" * 1000)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(name, body) for name, body in chunks)


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
