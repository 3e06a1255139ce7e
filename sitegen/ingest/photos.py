"""The folder photos/ of an experiment: its files, their headers, and the day of each.

In: the folder, the days of photos in the log, the start. Out: a `PhotoFile` for each photo, in the order of names,
named in the log or not, and findings. A header is read without decoding a pixel; only a file without its end marker
is decoded, at an eighth of its size, to detect damage. Headers are stored by the file's stamp.
"""

from __future__ import annotations

import os
import re
import warnings
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import date, datetime
from pathlib import Path, PurePath
from typing import IO, TYPE_CHECKING, Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sitegen.core.files.photo_formats import ENDINGS, PhotoError, format_name, open_header, photo_finding
from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.findings.source import Source
from sitegen.core.records.files import PhotoFile
from sitegen.core.store import Store, file_stamp
from sitegen.core.values.day import Day, Start
from sitegen.ingest.photo_names import photo_names
from sitegen.ingest.text_files import name_of

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
        animated=kind in ("GIF", "PNG", "WEBP", "AVIF") and _is_animated(image),
        colours=PRINT_MODES.get(image.mode) or ("16 bits a colour" if _is_deep(image, file) else ""),
    )
    if not _has_end(file, kind):
        _try_decoding(image)
    return header


def _is_animated(image: Image) -> bool:
    try:
        return bool(getattr(image, "is_animated", False))
    except (
        Exception
    ) as error:  # the library looks for a second frame, and decoders raise anything on broken files
        raise PhotoError("photo-unreadable", "it is cut short or broken") from error


def _exif(image: Image) -> tuple[str, str, bool]:
    """The time taken, its offset, and whether there is a location."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
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


MIN_SIDE = 64  # pixels of the shorter side; common practice, no source


@dataclass(frozen=True, slots=True)
class PhotoFolder:
    """A folder of photos, and the data to date them: days of the log by file, the start, the journal's zone."""

    folder: Path
    root: Path
    in_log: dict[str, Day]
    start: Start
    zone: str


def read_photo_files(album: PhotoFolder, store: Store | None, findings: Findings) -> tuple[PhotoFile, ...]:
    """All photos of an experiment, also unreadable ones."""
    found: list[PhotoFile] = []
    for name in sorted(photo_names(album.folder, album.root)):
        header = photo_header(album.folder / name, store)
        taken, day = day_taken(header, name, album.start, album.zone)
        photo = PhotoFile(name, album.in_log.get(name, day), taken, header.located)
        source = Source(name_of(album.folder / name, album.root))
        findings.extend(_faults(header, photo, source))
        found.append(photo)
    return tuple(found)


def _faults(header: Header, photo: PhotoFile, source: Source) -> Iterator[Finding]:
    """The findings about one photo; an unreadable one has no other."""
    name = photo.file
    if header.fault:
        yield photo_finding(header.fault, name, source, header.about)
        return
    endings = ENDINGS.get(header.format, ())
    if endings and PurePath(name).suffix.lower() not in endings:
        better = PurePath(name).stem + endings[0]
        yield photo_finding("photo-mislabelled", name, source, format_name(header.format), better)
    if header.animated:
        yield photo_finding("photo-animated", name, source)
    if header.colours:
        yield photo_finding("photo-converted", name, source, header.colours)
    if min(header.width, header.height) < MIN_SIDE:
        yield photo_finding("photo-tiny", name, source, f"{header.width} × {header.height}")
    if photo.day is None:
        when = f": it was taken on {photo.taken}, but the start has no date" if photo.taken else ""
        yield photo_finding("photo-undated", name, source, when)


EARLIEST_DAY = -366  # a camera whose clock was never set dates photos years before the start

_DATE = re.compile(
    r"(?<!\d)(?P<y>20\d\d)(?P<s>[-_.]?)(?P<m>\d\d)(?P=s)(?P<d>\d\d)(?=\D|$|\d{6}(?!\d))"  # time may follow
)
_DAY = re.compile(r"(?<![a-z])day[-_ ]?(?P<n>\d{1,4})(?!\d)", re.IGNORECASE)


def day_taken(header: Header, name: str, start: Start, zone: str) -> tuple[date | None, Day | None]:
    """The date and day of a photo, by its header, else by a date in its name, else by a day number in it."""
    dates = [found for found in (date_taken(header, zone), date_in_name(name)) if found is not None]
    for found in dates:
        day = start.day_of(found)
        if day is not None and day.last >= EARLIEST_DAY:
            return found, day
    return next(iter(dates), None), day_in_name(name)


def date_taken(header: Header, zone: str) -> date | None:
    """The date in a header, converted to the journal's zone where it has an offset."""
    if not header.taken:
        return None
    local = datetime.fromisoformat(header.taken)
    try:
        zoned = datetime.fromisoformat(header.taken + header.offset)
        return zoned.astimezone(ZoneInfo(zone)).date() if zoned.tzinfo and zone else local.date()
    except (ValueError, OverflowError, ZoneInfoNotFoundError):
        return local.date()


def date_in_name(name: str) -> date | None:
    """`2025-10-19-first-cut.jpg`, `IMG_20251019_143000.jpg`."""
    for found in _DATE.finditer(name):
        try:
            return date(int(found["y"]), int(found["m"]), int(found["d"]))
        except ValueError:
            continue
    return None


def day_in_name(name: str) -> Day | None:
    """`day-26-roots.jpg`."""
    found = _DAY.search(name)
    return Day.on(int(found["n"])) if found else None
