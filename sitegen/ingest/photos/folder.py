"""The folder photos/ of an experiment: every photo in it is read, named in the log or not.

In: the folder, the days of photos in the log, the start. Out: a `PhotoFile` for each photo, in the order of names, and
findings. A photo in the log has the day of its entry.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path, PurePath
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sitegen.core.findings.finding import Finding, Findings, Source
from sitegen.core.language.text import plural
from sitegen.core.records.files import PhotoFile
from sitegen.core.site.photo_formats import ENDINGS, format_name, photo_finding
from sitegen.core.store import Store
from sitegen.core.values.day import Day, Start
from sitegen.ingest.photos.headers import Header, photo_header
from sitegen.ingest.text_files import name_of

PHOTO_ENDINGS = frozenset(
    ending for kind, endings in ENDINGS.items() if kind not in ("TIFF", "BMP") for ending in endings
)
MIN_SIDE = 64  # pixels of the shorter side; common practice, no source
IGNORED = frozenset({"thumbs.db", "desktop.ini"})  # written by operating systems


@dataclass(frozen=True, slots=True)
class PhotoFolder:
    """A folder of photos, and the data to date them: days of the log by file, the start, the journal's zone."""

    folder: Path
    root: Path
    in_log: dict[str, Day]
    start: Start
    zone: str


def photo_names(folder: Path) -> frozenset[str]:
    """The files in a folder whose names have the ending of a photo."""
    if not folder.is_dir():
        return frozenset()
    return frozenset(p.name for p in folder.iterdir() if p.suffix.lower() in PHOTO_ENDINGS and p.is_file())


def read_photo_files(album: PhotoFolder, store: Store | None, findings: Findings) -> tuple[PhotoFile, ...]:
    """All photos of an experiment, also unreadable ones."""
    _report_other_files(album, findings)
    found: list[PhotoFile] = []
    for name in sorted(photo_names(album.folder)):
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


def _report_other_files(album: PhotoFolder, findings: Findings) -> None:
    """One finding for all other files, which cameras often leave beside photos."""
    if not album.folder.is_dir():
        return
    others = sorted(path for path in album.folder.iterdir() if _is_other(path))
    if not others:
        return
    more = f", nor {plural(len(others) - 1, 'more file')} in it" if len(others) > 1 else ""
    first, message = others[0], f"nothing reads `photos/{others[0].name}`{more}"
    mend = "save a photo as JPEG, PNG, WebP or HEIC, and move other files elsewhere"
    findings.add("stray-file", Source(name_of(first, album.root)), message, mend=mend, found=first.name)


def _is_other(path: Path) -> bool:
    if path.name.startswith(".") or path.name.lower() in IGNORED:
        return False
    return path.suffix.lower() not in PHOTO_ENDINGS or not path.is_file()


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
