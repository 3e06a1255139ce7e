"""The records of one experiment as rows: flat, frozen, each with the place it was written at.

In: nothing. Out: the row types, `Rows` (all of one experiment's) and `Run` (setup, rows, recap, photos): what
`ingest` hands to the later stages. The rows that there are most of are named tuples: they are made in a quarter of the
time.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal, NamedTuple, TypeVar, overload

from sitegen.core.findings.source import Source
from sitegen.core.records.files import Export, PhotoFile
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.setup import Setup
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Which:
    """Which plants a record is about.

    Named plants: `ids` holds them. `2 of 6`: `ids` is empty, `count` 2, `of` 6. `some`: `count` is None. `none`:
    `count` 0. `word` keeps a group's name, `all` and the like, as written.
    """

    ids: tuple[str, ...] = ()
    count: int | None = None
    of: int | None = None
    word: str = ""

    @property
    def named(self) -> bool:
        """Whether the plants themselves are known."""
        return bool(self.ids)

    @property
    def nobody(self) -> bool:
        """Whether it says `none`."""
        return self.count == 0

    def __str__(self) -> str:
        if self.word:
            return self.word
        if self.ids:
            return ", ".join(self.ids)
        return f"{self.count} of {self.of}" if self.of is not None else str(self.count)


@dataclass(frozen=True, slots=True)
class Entry:
    """One visit to the garden: an item of the log.

    `index` counts from 0 in the order of the days; rows refer to it. Private text is not kept here: `private`
    says only that there is one.
    """

    index: int
    day: Day
    source: Source
    tell: Literal["", "never", "always"] = ""
    private: bool = False


class Deed(StrEnum):
    """The kind of an event."""

    SOW = "sow"
    SPROUTED = "sprouted"
    THIN = "thin_to"
    TRANSPLANT = "transplant"
    WATER = "water"
    CHANGE = "change"  # a full change of the solution
    FEED = "feed"
    ADJUST = "adjust"
    PRUNE = "prune"
    TRAIN = "train"
    POLLINATE = "pollinate"
    TREAT = "treat"
    CLEAN = "clean"
    TROUBLE = "trouble"
    LOST = "lost"
    MOVE = "move"
    END = "end"
    TASTE = "taste"
    NOTE = "note"
    CLIP = "clip"
    STOP = "stop"


# An event is a record of one of the ten types below. All begin with the same fields: the deed, the day, the number of
# the visit, the place in the journal, the plants, the tub ("" where it does not belong to one), a description. They are
# written out in each, since a NamedTuple takes no fields from another; a test holds that they are the same.


class Sowing(NamedTuple):
    """Seeds sown: `seeds` in each spot (`each`) or in all; None where they were not counted."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    seeds: Quantity | None = None
    each: bool = False


class SeedlingCount(NamedTuple):
    """Seedlings up since the sowing, of `out_of` seeds; None where all of them are up."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    seedlings: Quantity | None = None
    out_of: int | None = None


class Thinning(NamedTuple):
    """Seedlings left in each spot, at most."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    left: Quantity | None = None

    @property
    def each(self) -> bool:
        """Whether the number is of each spot: always."""
        return True


class Watering(NamedTuple):
    """Water added to a tub, or a change of all of it; `filled` where the tub was filled up."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    amount: Quantity | None = None
    filled: bool = False


class Addition(NamedTuple):
    """A feed, an acid or a base added to the water: a product by its id, in an amount or as its label says."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    product: str = ""
    amount: Quantity | None = None
    as_labelled: bool = False


class Trouble(NamedTuple):
    """Damage, pest, disease or failure, over on the day `until` where that was noted."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    until: Day | None = None


class Tasting(NamedTuple):
    """A score out of `out_of`."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    score: Quantity | None = None
    out_of: int | None = None


class Ending(NamedTuple):
    """The end of a run; `kept` is None where the log does not say whether the plants were kept."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    kept: bool | None = None


class Clip(NamedTuple):
    """Footage: its file, its place in the final cut of an episode and its own length, in seconds; None where not said."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    file: str = ""
    at: int | None = None
    length: int | None = None


class Action(NamedTuple):
    """Any other event: its description, product or amount is all that there is to it."""

    deed: Deed
    day: Day
    entry: int
    source: Source
    which: Which | None = None
    tub: str = ""
    what: str = ""
    product: str = ""
    amount: Quantity | None = None


Event = Sowing | SeedlingCount | Thinning | Watering | Addition | Trouble | Tasting | Ending | Clip | Action
_EventType = TypeVar("_EventType", bound=Event)


class Reading(NamedTuple):
    """A measured value of plants or of a tub. `plants` lists each plant that the value is true of."""

    name: str
    day: Day
    entry: int | None  # None: from a spreadsheet
    source: Source
    value: Quantity
    plants: tuple[str, ...] = ()
    which: Which | None = None
    tub: str = ""
    at: str = ""  # what a height was taken to, where it is not the topmost leaf
    moment: Literal["", "before", "after"] = ""
    together: bool = False
    what: str = ""  # what was counted
    scale: int | None = None  # of the meter of an EC: its ppm for each mS/cm
    note: str = ""  # words beside the date in a spreadsheet


@dataclass(frozen=True, slots=True)
class Pick:
    """One harvest from one plant or from several together.

    `count` and `weight` include the spoilt pieces, of which `spoilt` is the number and `spoilt_weight` the weight.
    """

    day: Day
    entry: int
    source: Source
    which: Which
    weight: Quantity
    tubs: tuple[str, ...] = ()
    count: int | None = None
    part: str = ""
    grade: str = ""
    spoilt: int | None = None
    spoilt_weight: Quantity | None = None
    flush: int | None = None
    earlier: Literal["", "included", "apart", "unclear"] = ""


@dataclass(frozen=True, slots=True)
class Tally:
    """A running total: everything picked so far."""

    day: Day
    entry: int
    source: Source
    which: Which
    amount: Quantity


@dataclass(frozen=True, slots=True)
class MilestoneRow:
    """A stage seen, or recorded as not there yet (`reached` False)."""

    name: str
    day: Day
    entry: int
    source: Source
    which: Which
    reached: bool


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo named in the log."""

    file: str
    day: Day
    entry: int
    source: Source
    alt: str = ""
    which: Which | None = None
    shows: str = ""


@dataclass(frozen=True, slots=True)
class Rows:
    """All rows of one experiment, each table in the order of days, then of the file."""

    entries: tuple[Entry, ...] = ()
    events: tuple[Event, ...] = ()
    readings: tuple[Reading, ...] = ()
    picks: tuple[Pick, ...] = ()
    tallies: tuple[Tally, ...] = ()
    milestones: tuple[MilestoneRow, ...] = ()
    lights: tuple[Light, ...] = ()
    routines: tuple[Routine, ...] = ()
    photos: tuple[Photo, ...] = ()
    exports: tuple[Export, ...] = ()
    # Every stage asks for events by their kind, most of them again and again.
    _by_kind: Mapping[Deed | type, tuple[Event, ...]] = field(init=False, repr=False, compare=False)
    _by_kinds: dict[tuple[Deed | type, ...], tuple[Event, ...]] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        found: dict[Deed | type, list[Event]] = {}
        for event in self.events:
            found.setdefault(event.deed, []).append(event)
            found.setdefault(type(event), []).append(event)
        object.__setattr__(self, "_by_kind", {kind: tuple(events) for kind, events in found.items()})
        object.__setattr__(self, "_by_kinds", {})

    @overload
    def of(self, *kinds: type[_EventType]) -> tuple[_EventType, ...]: ...
    @overload
    def of(self, *kinds: Deed) -> tuple[Event, ...]: ...
    def of(self, *kinds: Deed | type) -> tuple[Event, ...]:
        """The events of one type of record, or of some deeds, in the order of the log."""
        if len(kinds) == 1:
            return self._by_kind.get(kinds[0], ())
        if kinds not in self._by_kinds:  # some ten groups of deeds, each asked for hundreds of times
            self._by_kinds[kinds] = tuple([event for event in self.events if event.deed in kinds])
        return self._by_kinds[kinds]

    def read(self, name: str) -> tuple[Reading, ...]:
        """The readings of one name."""
        return tuple(reading for reading in self.readings if reading.name == name)


Stage = Literal["planned", "running", "ended", "from memory"]


@dataclass(frozen=True, slots=True)
class Run:
    """One experiment as read: the input of every later stage."""

    setup: Setup
    rows: Rows
    recap: str = ""
    photo_files: tuple[PhotoFile, ...] = ()

    @property
    def id(self) -> str:
        """The experiment's id: the name of its folder."""
        return self.setup.id

    @property
    def last_day(self) -> int:
        """The last day that anything was recorded on."""
        days = [entry.day.last for entry in self.rows.entries]
        return max([*days, *(reading.day.last for reading in self.rows.readings)], default=0)

    @property
    def planned(self) -> bool:
        """Whether nothing has been recorded of a run that has a date to start on."""
        setup = self.setup
        recorded = self.rows.entries or self.rows.readings or setup.from_memory is not None
        return not recorded and setup.start.date is not None

    @property
    def stage(self) -> Stage:
        """How far it is, by its records, or that it is told without any."""
        if self.setup.from_memory is not None:
            return "from memory"
        if self.ended is not None:
            return "ended"
        return "planned" if self.planned else "running"

    @property
    def logged(self) -> bool:
        """Whether it is told by a log, and has figures."""
        return self.stage in ("running", "ended")

    @property
    def ended(self) -> Ending | None:
        """The event that ended the run, where there is one."""
        return next(iter(self.rows.of(Ending)), None)
