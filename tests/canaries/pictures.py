"""Pictures whose every place beside the pixels holds a canary.

In: where to plant. Out: bytes of a JPEG with what phones and editors write, of a PNG, a WebP and a HEIC.
"""

from __future__ import annotations

import io
import struct
import zlib

from PIL import Image, ImageCms, TiffImagePlugin

from tests.canaries.marks import Planted
from tests.photos.pictures import HEIC, MARK, picture

SIZE = (240, 180)
# Exif 3.0 (CIPA DC-008): the tags of the first directory, and those of its Exif directory.
_FIRST = {
    0x010E: "ImageDescription",
    0x0131: "Software",
    0x013B: "Artist",
    0x013C: "HostComputer",
    0x8298: "Copyright",
}
_EXIF = {
    0xA430: "CameraOwnerName",
    0xA431: "BodySerialNumber",
    0xA435: "LensSerialNumber",
    0xA420: "ImageUniqueID",
    0xA436: "ImageTitle",
    0xA437: "Photographer",
}
TAKEN, OFFSET = "2026:03:11 03:07:41", "+12:45"
LATITUDE, LONGITUDE = (47, 23, 17.31), (9, 51, 43.77)  # nowhere in particular


def _decimal(parts: tuple[float, float, float]) -> str:
    whole = parts[0] + parts[1] / 60 + parts[2] / 3600
    return f"{int(whole * 10_000) / 10_000:.4f}"  # cut, not rounded: it is the beginning of any longer form


def _exif(planted: Planted, name: str) -> bytes:
    def hide(place: str) -> str:
        return planted.hide("Exif", f"{name}: {place}")

    found = Image.Exif()
    for tag, words in _FIRST.items():
        found[tag] = hide(words)
    found[0x9C9D] = hide("XPAuthor").encode("utf-16-le")
    found[0x9C9C] = hide("XPComment").encode("utf-16-le")
    inner = found.get_ifd(0x8769)
    for tag, words in _EXIF.items():
        inner[tag] = hide(words)
    inner[0x927C] = b"MAKER\0" + hide("MakerNote").encode()
    inner[0x9286] = b"UNICODE\0" + hide("UserComment").encode("utf-16-le")
    inner[0x9003], inner[0x9011] = TAKEN, OFFSET
    places = found.get_ifd(0x8825)
    for ref, tag, sign, value in ((1, 2, "N", LATITUDE), (3, 4, "E", LONGITUDE)):
        places[ref] = sign
        places[tag] = tuple(TiffImagePlugin.IFDRational(round(part * 100), 100) for part in value)
    places[0x1B] = b"ASCII\0\0\0" + planted.hide("GPS", f"{name}: GPSProcessingMethod").encode()
    places[0x1C] = b"ASCII\0\0\0" + planted.hide("GPS", f"{name}: GPSAreaInformation").encode()
    return found.tobytes()


def hide_place_and_time(planted: Planted) -> None:
    """The place and the time of day that every picture carries: numbers, in the forms in which they would be written."""
    planted.hide_forms("GPS", "latitude", _decimal(LATITUDE), _decimal(LATITUDE).replace(".", ","))
    planted.hide_forms("GPS", "longitude", _decimal(LONGITUDE), _decimal(LONGITUDE).replace(".", ","))
    planted.hide_forms(
        "time of day", "a photo's time of day", "03:07:41", "030741", "T03:07", " 03:07", "3:07 am"
    )
    planted.hide_forms("time of day", "a photo's offset from UTC", "+12:45", "+1245", "+13:45")


def _xmp(planted: Planted, name: str) -> bytes:
    secret = planted.hide("XMP", f"{name}: XMP")
    return f'<x:xmpmeta xmlns:x="adobe:ns:meta/"><dc:creator>{secret}</dc:creator></x:xmpmeta>'.encode()


def _profile(planted: Planted, name: str) -> bytes:
    """A colour profile whose description and copyright are canaries, of the same length as they were."""
    body = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    count = struct.unpack(">I", body[128:132])[0]
    for at in range(132, 132 + 12 * count, 12):  # ICC.1:2022, 7.3
        tag, offset, size = struct.unpack(">4sII", body[at : at + 12])
        if tag in (b"desc", b"cprt") and bytes(body[offset : offset + 4]) == b"mluc":
            secret = planted.hide("ICC profile", f"{name}: {tag.decode()}").encode("utf-16-be")
            start = offset + struct.unpack(">I", body[offset + 24 : offset + 28])[0]
            room = offset + size - start
            body[start : start + room] = secret[:room].ljust(room, b"\0")
            if room < len(secret):  # too short for the word: the beginning is planted, and looked for
                planted.canaries.pop()
    return bytes(body)


def _segment(marker: int, content: bytes) -> bytes:
    return bytes((0xFF, marker)) + struct.pack(">H", len(content) + 2) + content


def _small(comment: str) -> bytes:
    file = io.BytesIO()
    picture((16, 12)).save(file, "JPEG", comment=comment.encode())
    return file.getvalue()


def jpeg(planted: Planted, name: str) -> bytes:
    """A JPEG as a phone writes it, passed through editors; a second picture and a film lie behind its end."""

    def hide(kind: str, place: str) -> bytes:
        return planted.hide(kind, f"{name}: {place}").encode()

    file = io.BytesIO()
    picture(SIZE).save(
        file,
        "JPEG",
        quality=90,
        exif=_exif(planted, name),
        icc_profile=_profile(planted, name),
        xmp=_xmp(planted, name),
        comment=hide("JPEG segment", "COM"),
    )
    body = file.getvalue()
    caption = hide("IPTC", "caption")
    iptc = b"\x1c\x02\x78" + struct.pack(">H", len(caption)) + caption
    blocks = b"Photoshop 3.0\x008BIM\x04\x04\x00\x00" + struct.pack(">I", len(iptc)) + iptc
    preview = _small(planted.hide("preview", f"{name}: preview in APP2"))
    head = (
        _segment(0xED, blocks)
        + _segment(0xEF, b"odd\0" + hide("JPEG segment", "APP15"))
        + _segment(0xE0, b"JFXX\0\x10" + _small(planted.hide("preview", f"{name}: JFXX thumbnail")))
        + _segment(0xE2, b"MPF\0" + preview)
    )
    second = _small(planted.hide("second picture", f"{name}: picture behind the end"))
    film = b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom" + hide("film behind a photo", "user data of the film")
    return body[:2] + head + body[2:] + second + film + hide("trailing data", "behind the end")


def _chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def png(planted: Planted, name: str) -> bytes:
    """A PNG with texts plain and compressed, Exif, a profile, a chunk of its own, and bytes behind its end."""

    def hide(kind: str, place: str) -> bytes:
        return planted.hide(kind, f"{name}: {place}").encode()

    file = io.BytesIO()
    picture(SIZE).save(file, "PNG")
    body = file.getvalue()
    head = 8 + 25  # the signature and IHDR (W3C PNG, 5.2 and 11.2.2)
    more = (
        _chunk(b"tEXt", b"Author\0" + hide("PNG text", "tEXt"))
        + _chunk(b"zTXt", b"Comment\0\0" + zlib.compress(hide("PNG text", "zTXt")))
        + _chunk(b"iTXt", b"Title\0\0\0en\0\0" + hide("PNG text", "iTXt"))
        + _chunk(b"iTXt", b"Title\0\1\0en\0\0" + zlib.compress(hide("PNG text", "compressed iTXt")))
        + _chunk(b"eXIf", _exif(planted, name).removeprefix(b"Exif\0\0"))
        + _chunk(b"prVt", hide("PNG chunk", "a chunk of its own"))
    )
    return body[:head] + more + body[head:] + hide("trailing data", "behind the end")


def webp(planted: Planted, name: str) -> bytes:
    """A WebP with Exif, XMP, a chunk of its own, and bytes behind its end."""
    file = io.BytesIO()
    picture(SIZE).save(file, "WEBP", quality=90, exif=_exif(planted, name), xmp=_xmp(planted, name))
    body = bytearray(file.getvalue())
    secret = planted.hide("WebP chunk", f"{name}: a chunk of its own").encode()
    body += b"PRIV" + struct.pack("<I", len(secret)) + secret
    body[4:8] = struct.pack("<I", len(body) - 8)
    return bytes(body) + planted.hide("trailing data", f"{name}: behind the end").encode()


def heic(planted: Planted, name: str) -> bytes:
    """A HEIC whose Exif holds a canary."""
    secret = planted.hide("Exif", f"{name}: ImageDescription").encode()
    assert len(secret) == len(MARK)
    return HEIC.read_bytes().replace(MARK.encode(), secret)
