"""The tables of one experiment, declared once: for Table Schema, for writing CSV and for reading it back.

In: nothing. Out: `TABLES` and `PLANTS`: which row type each holds, and its columns in order. Terms are those of MIAPPE
1.1, where a column answers to one. What is private has no column.

References
----------
MIAPPE 1.1, checklist and data model: Papoutsoglou et al. 2020, New Phytologist 227:260-273,
https://doi.org/10.1111/nph.16544

"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sitegen.core.files.spreadsheet_cells import text_cell, text_of
from sitegen.core.format.entry import key_of
from sitegen.core.records.columns import (
    Cells,
    Column,
    FieldColumns,
    choice,
    day,
    flag,
    lamp_use,
    names,
    quantity,
    source,
    text,
    which,
    whole,
)
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import (
    Deed,
    Entry,
    Event,
    MilestoneRow,
    Pick,
    Reading,
    SeedlingCount,
    Sowing,
    Tally,
    Tasting,
    Thinning,
)
from sitegen.core.records.setup import Plant
from sitegen.core.values.day import Start
from sitegen.core.values.units import Dimension


@dataclass(frozen=True, slots=True)
class RowTable:
    """One table: `name` is also the field of `Rows` that holds its rows; `term` what a row is to MIAPPE."""

    name: str
    row: Callable[..., Any]
    about: str
    parts: tuple[FieldColumns, ...]
    term: str = ""
    value: Callable[[Any, str], Any] = getattr  # the value of a row for the columns of a field

    @property
    def columns(self) -> tuple[Column, ...]:
        """All columns, in order."""
        return tuple(column for part in self.parts for column in part.columns)

    def write(self, rows: Iterable[object], start: Start) -> Iterator[Cells]:
        """Rows as cells."""
        is_text = [column.kind == "string" for column in self.columns]
        for row in rows:
            cells = [cell for part in self.parts for cell in part.write(self.value(row, part.field), start)]
            yield tuple(
                [
                    text_cell(cell) if text and cell else cell
                    for text, cell in zip(is_text, cells, strict=True)
                ]
            )

    def read(self, cells: Sequence[str]) -> Any:
        """Cells as a row; ValueError where they do not fit."""
        found, place = {}, 0
        for part in self.parts:
            end = place + len(part.columns)
            own = zip(part.columns, cells[place:end], strict=True)
            texts = tuple(text_of(cell) if column.kind == "string" else cell for column, cell in own)
            found[part.field] = _read(part, texts)
            place = end
        return self.row(**found)


def _read(part: FieldColumns, cells: Cells) -> Any:
    try:
        return part.read(cells)
    except ValueError as error:
        raise ValueError(f"{part.columns[0].name}: {error}") from error


def _entry(*, required: bool = True) -> FieldColumns:
    return whole("entry", "the visit it was noted at, by its number in entries", required=required)


# The fields of events that the column `amount` holds, and the values of columns that an event has no field for.
_AMOUNTS = {Sowing: "seeds", SeedlingCount: "seedlings", Thinning: "left", Tasting: "score"}
_ABSENT = {"each": False, "product": "", "as_labelled": False, "filled": False}  # any other: None


def event_of(deed: Deed, **columns: Any) -> Event:
    """The event with some columns of its table; those that its record has no field for are ignored."""
    kind: Any = key_of(deed).record
    if kind in _AMOUNTS:
        columns[_AMOUNTS[kind]] = columns.pop("amount", None)
    event: Event = kind(deed, **{name: value for name, value in columns.items() if name in kind._fields})
    return event


def event_value(event: Event, name: str) -> Any:
    """The value of an event for the columns of a field."""
    if name == "amount":
        name = _AMOUNTS.get(type(event), name)
    return getattr(event, name, _ABSENT.get(name))


_TUB = text("tub", "id of the tub; empty where it is not about one", term="Spatial distribution")
_WHEN = day("day", "days since sowing", term="Event date")
_SEEN = day("day", "days since sowing", term="Time scale")

PLANTS = RowTable(
    "plants",
    Plant,
    "What grew where: one row a plant.",
    (
        text("id", "the plant's id", term="Observation unit ID", required=True),
        whole("spot", "growing position in the system, counted from 1", term="Spatial distribution"),
        text("tub", "id of the tub it began in", term="Spatial distribution"),
        text("variety", "id of the variety; empty where none is named", term="Biological material ID"),
        names("groups", "groups it was counted to", term="Observation Unit factor value"),
        source(),
    ),
    term="Observation Unit",
)

TABLES: tuple[RowTable, ...] = (
    RowTable(
        "entries",
        Entry,
        "Visits to the garden: one row a visit.",
        (
            whole("index", "number of the visit, from 0, in the order of days", required=True),
            day("day", "days since sowing"),
            text("tell", "whether it is told in episodes", words=("never", "always")),
            source(),
        ),
    ),
    RowTable(
        "events",
        event_of,
        "What was done or noted: sowing, water, feed, cuts, losses, notes.",
        (
            choice("deed", "what it records", Deed, term="Event type"),
            _WHEN,
            _entry(),
            which("plants", "which plants"),
            _TUB,
            text("what", "in words", term="Event description"),
            quantity("amount", "how much: water, feed, seeds, seedlings, score"),
            whole("out_of", "out of how many, where the amount is a count"),
            flag("each", "the amount is each plant's", default=False),
            text("product", "id of the product"),
            flag("as_labelled", "dosed as its label says", default=False),
            flag("filled", "the tub was filled up", default=False),
            day("until", "when it was over, in days since sowing", required=False),
            flag("kept", "an end that kept the plants"),
            whole("at", "when a clip begins in the final cut of its episode, in seconds"),
            whole("length", "how long a clip is, in seconds"),
            source(),
        ),
        term="Event",
        value=event_value,
    ),
    RowTable(
        "readings",
        Reading,
        "What was measured: heights, leaves, EC, pH, temperatures.",
        (
            text("name", "what was measured", term="Variable ID", required=True),
            _SEEN,
            _entry(required=False),
            names("plants", "each plant that the value is true of", term="Observation unit ID"),
            which("said", "which plants, as written"),
            _TUB,
            quantity("value", "what was measured", term="Trait", required=True),
            text("at", "what a height was taken to, where not the topmost leaf", term="Method"),
            text("moment", "before or after an adjustment", words=("before", "after")),
            flag("together", "one value for all of them together", default=False),
            text("what", "what was counted"),
            whole("scale", "scale of the EC meter: its ppm for each mS/cm"),
            text("note", "words beside its date in a spreadsheet"),
            source(),
        ),
        term="Observed Variable",
    ),
    RowTable(
        "picks",
        Pick,
        "What was harvested: one row a pick, from one plant or several together.",
        (
            day("day", "days since sowing", term="Collection date"),
            _entry(),
            which("plants", "from which plants", optional=False),
            names("tubs", "from which tubs"),
            quantity("weight", "fresh weight", Dimension.MASS, term="Sample description", required=True),
            whole("count", "how many pieces"),
            text("part", "which part of the plant", term="Plant anatomical entity"),
            text("grade", "how good it was"),
            whole("spoilt", "how many of the pieces were spoilt"),
            quantity("spoilt_weight", "how much of the weight was spoilt", Dimension.MASS),
            whole("flush", "number of the flush, where it was said"),
            text("earlier", "whether earlier picks are in it", words=("included", "apart", "unclear")),
            source(),
        ),
        term="Sample",
    ),
    RowTable(
        "tallies",
        Tally,
        "Running totals: everything picked so far.",
        (
            day("day", "days since sowing", term="Collection date"),
            _entry(),
            which("plants", "from which plants", optional=False),
            quantity("amount", "picked so far", required=True),
            source(),
        ),
    ),
    RowTable(
        "milestones",
        MilestoneRow,
        "Growth stages seen, or looked for and not there yet.",
        (
            text("name", "the stage", term="Plant structure development stage", required=True),
            _SEEN,
            _entry(),
            which("plants", "which plants", optional=False),
            flag("reached", "whether it was there; false: not yet", default=True),
            source(),
        ),
        term="Observed Variable",
    ),
    RowTable(
        "lights",
        Light,
        "How lamps were set, each until the next setting.",
        (
            day("day", "days since sowing", term="Event date"),
            _entry(required=False),
            _TUB,
            lamp_use("use"),
            source(),
        ),
        term="Environment",
    ),
    RowTable(
        "routines",
        Routine,
        "What was done from a day on without being noted each time.",
        (
            text("what", "what was done", term="Event type", required=True),
            _WHEN,
            _entry(),
            _TUB,
            text("product", "id of the product"),
            quantity("amount", "how much each time"),
            flag("as_labelled", "dosed as its label says", default=False),
            text("often", "how often, in words", term="Event description"),
            text("said", "an amount that no unit measures, in words"),
            day("until", "the day that it ended, in days since sowing", required=False),
            source(),
        ),
        term="Event",
    ),
)
