"""The header of a photo, read without decoding a pixel.

In: a file in photos/. Out: `Header`: format, size, time taken, whether there is a location, unusual properties. Only
a file without its end marker is decoded, at an eighth of its size, to detect damage. Headers are cached by the file's
stamp.
"""

from __future__ import annotations

import os
import warnings
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any

from sitegen.core.site.photo_formats import PhotoError, open_header
from sitegen.core.store import Store, file_stamp

if TYPE_CHECKING:
    from PIL.Image import Image

# Exif 3.0 (CIPA DC-008), tables of tags
EXIF_IFD, GPS_IFD = 0x8769, 0x8825
TAKEN = ((0x9003, 0x9011), (0x9004, 0x9012))  # DateTimeOriginal, then -Digitized, each with its offset
LATITUDE = 2

TAIL = 65_536  # bytes; cameras put previews after the picture
PRINT_MODES = {"CMYK": "printing colours", "LAB": "printing colours"}
DEEP_MODES = ("I;16", "I;16L", "I;16B", "I", "F")


@dataclass(frozen=True, slots=True)
class Header:
    """The data in a header. `taken` is local time in ISO 8601, and `offset` its distance from UTC, if known.

    `fault` is the code of the finding that makes the photo unusable, and `about` its details.
    """

    format: str = ""
    width: int = 0
    height: int = 0
    taken: str = ""
    offset: str = ""
    located: bool = False
    animated: bool = False
    colours: str = ""
    fault: str = ""
    about: str = ""


def photo_header(path: Path, store: Store | None) -> Header:
    """The header of a file, from the store where the file is untouched."""
    if store is None:
        return read_header(path)
    try:
        key = store.key("ingest", "photo header", file_stamp(path, path.stat()))
    except OSError as error:
        return _unopened(error)
    kept = store.get(key)
    if kept is not None:
        return Header(**kept.value)
    header = read_header(path)
    store.put(key, asdict(header))
    return header


def read_header(path: Path) -> Header:
    """The header of a file, read from it."""
    try:
        with path.open("rb") as file:
            return _header(file)
    except PhotoError as unfit:
        return Header(fault=unfit.code, about=unfit.about)
    except OSError as error:
        return _unopened(error)


def _unopened(error: OSError) -> Header:
    return Header(fault="photo-unreadable", about=error.strerror or "it cannot be opened")


def _header(file: IO[bytes]) -> Header:
    image = open_header(file)
    kind = "JPEG" if image.format == "MPO" else image.format or ""  # a JPEG with more pictures behind it
    taken, offset, located = _exif(image)
    header = Header(
        format=kind,
        width=image.width,
        height=image.height,
        taken=taken,
        offset=offset,
        located=located or b"GPSLatitude" in _xmp(image),
        animated=kind in ("GIF", "PNG", "WEBP", "AVIF") and bool(getattr(image, "is_animated", False)),
        colours=PRINT_MODES.get(image.mode) or ("16 bits a colour" if _is_deep(image, file) else ""),
    )
    if not _has_end(file, kind):
        _try_decoding(image)
    return header


def _exif(image: Image) -> tuple[str, str, bool]:
    """The time taken, its offset, and whether there is a location."""
    try:
        exif = _base_exif(image)
        times, place = exif.get_ifd(EXIF_IFD), exif.get_ifd(GPS_IFD)
    except Exception:  # broken Exif; the picture itself may be intact
        return "", "", False
    found = ((_moment(times.get(time)), str(times.get(offset, "")).strip(" \0")) for time, offset in TAKEN)
    taken, offset = next((pair for pair in found if pair[0]), ("", ""))
    return taken, offset, LATITUDE in place


def _base_exif(image: Image) -> Any:
    """Exif in the header. The method of PNG images would decode all pixels, to find Exif after them."""
    from PIL import Image as Pillow  # noqa: PLC0415 - loaded already

    return Pillow.Image.getexif(image)


def _moment(value: object) -> str:
    """`2025:10:19 14:30:00` as ISO 8601; empty for a clock that was never set."""
    try:
        return datetime.strptime(str(value).strip(" \0")[:19], "%Y:%m:%d %H:%M:%S").isoformat()
    except ValueError:
        return ""


def _xmp(image: Image) -> bytes:
    xmp = image.info.get("xmp", b"")
    return xmp if isinstance(xmp, bytes) else str(xmp).encode()


def _is_deep(image: Image, file: IO[bytes]) -> bool:
    """Whether a picture has 16 bits a colour. Pillow reads a PNG as 8-bit, so its header is checked."""
    if image.mode in DEEP_MODES:
        return True
    file.seek(0)
    return image.format == "PNG" and file.read(25)[24:] == b"\x10"


def _has_end(file: IO[bytes], kind: str) -> bool:
    """Whether the file has the end marker of its format."""
    size = file.seek(0, os.SEEK_END)
    file.seek(max(0, size - TAIL))
    tail = file.read()
    if kind == "JPEG":
        return b"\xff\xd9" in tail  # end of image, ITU-T T.81 table B.1
    if kind == "PNG":
        return b"IEND" in tail
    if kind == "WEBP":
        file.seek(4)
        return int.from_bytes(file.read(4), "little") + 8 <= size  # RIFF: the length of the rest
    return True


def _try_decoding(image: Image) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            image.draft("RGB", (image.width // 8, image.height // 8))
            image.load()
        except Exception as error:
            raise PhotoError("photo-unreadable", "it is cut short or broken") from error
