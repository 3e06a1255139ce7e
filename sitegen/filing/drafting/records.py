"""What a source holds, row by row, before it becomes a log.

In: values with their day, their plants and their place. Out: `Record`, `Kept` and `Found`, which collects them.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field

from sitegen.filing.drafting.dates import When
from sitegen.filing.entries.entry_text import text_value


@dataclass(frozen=True, slots=True)
class Record:
    """A value of the log as the format writes it: whose it is (nobody's own: of all, or of the tub), its place."""

    when: When
    key: str
    plants: tuple[str, ...]
    value: str
    place: str


@dataclass(frozen=True, slots=True)
class Kept:
    """What could not be read, kept as a comment with its place."""

    when: When | None
    place: str
    text: str


@dataclass(frozen=True, slots=True)
class Entry:
    """An entry as a line of a diary says it: keys of the log with their values as YAML text."""

    when: When
    fields: tuple[tuple[str, str], ...]
    note: str = ""

    @property
    def pairs(self) -> tuple[tuple[str, str], ...]:
        """Its keys and values, the note last."""
        return (*self.fields, ("note", text_value(self.note))) if self.note else self.fields


@dataclass(frozen=True, slots=True)
class CopiedSheet:
    """A file to be written beside the experiment."""

    name: str
    content: bytes


@dataclass(slots=True)
class Found:
    """Everything that was found in a source."""

    records: list[Record] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    kept: list[Kept] = field(default_factory=list)
    plants: list[str] = field(default_factory=list)
    readings: list[str] = field(default_factory=list)  # items of `readings:`
    copies: list[CopiedSheet] = field(default_factory=list)
    titles: list[tuple[str, str]] = field(default_factory=list)  # place and text above a table
    # What the source says of day 0, and where.
    starts: list[tuple[dt.date, str]] = field(default_factory=list)
    title: str = ""
    first: dt.date | None = None  # first date in it

    def name_plant(self, plant: str) -> None:
        """A plant of the run."""
        if plant not in self.plants:
            self.plants.append(plant)

    def look_at(self, date: dt.date) -> None:
        """A date in the source."""
        if self.first is None or date < self.first:
            self.first = date
