"""One visit while it is being read: the day, the names that hold then, and the rows it gives.

In: nothing. Out: `Visit`, handed to the readers of single keys, and `Collected`, the rows of all visits so far.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, NamedTuple

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.format.entry import LogKey
from sitegen.core.records.rows import (
    Deed,
    Event,
    Light,
    MilestoneRow,
    Photo,
    Pick,
    Reading,
    Routine,
    Tally,
    Which,
)
from sitegen.core.records.setup import Crop, LampUse
from sitegen.core.values.day import Day
from sitegen.ingest.library import Library
from sitegen.ingest.values.plants import PlantNames


@dataclass(slots=True)
class Collected:
    """The records read so far, and the settings that last beyond a visit."""

    events: list[Event] = field(default_factory=list)
    readings: list[Reading] = field(default_factory=list)
    picks: list[Pick] = field(default_factory=list)
    tallies: list[Tally] = field(default_factory=list)
    milestones: list[MilestoneRow] = field(default_factory=list)
    lights: list[Light] = field(default_factory=list)
    routines: list[Routine] = field(default_factory=list)
    photos: list[Photo] = field(default_factory=list)
    lamps: dict[str, LampUse] = field(default_factory=dict)  # the setting that holds, by tub


class Visit(NamedTuple):
    """The context in which the keys of one entry are read."""

    day: Day
    entry: int
    names: PlantNames
    tub_ids: tuple[str, ...]
    library: Library
    crop: Crop
    photo_names: frozenset[str]
    rows: Collected
    findings: Findings

    def add(self, event: Event) -> None:
        """Add an event of this visit."""
        self.rows.events.append(event)

    def record(self, key: LogKey, source: Source, which: Which | None = None, **values: Any) -> None:
        """Add an event of the type that its key names."""
        assert key.record is not None
        self.add(key.record(Deed(key.key), self.day, self.entry, source, which, **values))
