"""Records of files beside the log: sensors' exports and photos.

In: nothing. Out: `Export` and `PhotoFile`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day


@dataclass(frozen=True, slots=True)
class Export:
    """A sensor's series: times in order, in the zone of the journal, without offset."""

    name: str
    tub: str
    source: Source
    times: tuple[datetime, ...]
    values: tuple[float, ...]
    unit: str


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """A file lying in photos/: its day where one is known, whether it carries a location."""

    file: str
    day: Day | None = None
    taken: date | None = None
    located: bool = False
