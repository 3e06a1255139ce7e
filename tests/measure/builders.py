"""Small runs made by hand, for the tests of every stage that reads one.

In: a few rows. Out: `Run`. The garden is invented.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any, Literal

from sitegen.core.facts.figure import Figure
from sitegen.core.findings.source import Source
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Entry, Event, MilestoneRow, Pick, Reading, Rows, Run, Tally, Which
from sitegen.core.records.setup import Crop, Plant, Product, Setup, System, Tub, Variety
from sitegen.core.records.tables import event_of
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity, counted, exactly, unknown
from sitegen.core.values.units import Dimension

__all__ = [
    "BUCKET",
    "SYRUP",
    "entry",
    "event",
    "grams",
    "joint",
    "litres",
    "milestone",
    "ml",
    "of",
    "pick",
    "place",
    "plants",
    "reading",
    "remarks_of",
    "routine",
    "run_of",
    "setup_of",
    "some",
    "tally",
    "unweighed",
]

FILE = "seasons/s/e/experiment.yaml"
BUCKET = System(
    "bucket",
    "Bucket",
    "deep water culture",
    4,
    exactly(8000, Dimension.VOLUME, 1000),
    headroom=exactly(50, Dimension.LENGTH, 1),
)
SYRUP = Product("syrup", "Syrup", "feed", exactly(2, Dimension.VOLUME_DOSE, 1))
FRUITING = Crop(
    "physalis", "Physalis", "fruiting", varieties=(Variety("amber", "Amber"), Variety("rust", "Rust"))
)


def place(line: int, column: int = 1) -> Source:
    """A place in the one file of the run."""
    return Source(FILE, line, column)


def grams(weight: float, **flags: Any) -> Quantity:
    """A weight to the gram."""
    return replace(exactly(weight, Dimension.MASS, 1), **flags)


def unweighed() -> Quantity:
    """A pick that nobody weighed."""
    return unknown(Dimension.MASS)


def ml(volume: float) -> Quantity:
    """A volume to the millilitre."""
    return exactly(volume, Dimension.VOLUME, 1)


def litres(volume: float) -> Quantity:
    """A volume to the litre."""
    return exactly(volume * 1000, Dimension.VOLUME, 1000)


def joint(*ids: str, word: str = "") -> Which:
    """Plants by name."""
    return Which(ids, word=word)


def of(count: int, whole: int | None = None) -> Which:
    """So many plants, not said which."""
    return Which((), count, whole)


def some() -> Which:
    """Some plants, not even how many."""
    return Which(word="some")


def plants(
    number: int, tubs: Sequence[str] = ("tub",), varieties: Sequence[str] = ("amber",)
) -> tuple[Plant, ...]:
    """`P1` … in equal shares of the tubs and varieties."""
    return tuple(
        Plant(
            f"P{n + 1}",
            n + 1,
            tubs[n * len(tubs) // number],
            varieties[n * len(varieties) // number],
            (),
            place(5, n + 1),
        )
        for n in range(number)
    )


def setup_of(
    number: int = 4,
    *,
    tubs: Sequence[str] = ("tub",),
    varieties: Sequence[str] = ("amber",),
    groups: tuple[tuple[str, tuple[str, ...]], ...] = (),
    crop: Crop = FRUITING,
    start: Start | None = None,
) -> Setup:
    """The head of an experiment with so many plants."""
    return Setup(
        id="first-physalis",
        season="s",
        source=place(1),
        title="First physalis",
        crop=crop,
        start=start or Start(dt.date(2025, 3, 1), "day"),
        plants=plants(number, tubs, varieties),
        tubs=tuple(Tub(tub, BUCKET) for tub in tubs),
        groups=groups,
        products=(SYRUP,),
    )


def entry(index: int, day: int) -> Entry:
    """A visit."""
    return Entry(index, Day.on(day), place(10 * index + 10))


def event(deed: Deed, day: int, which: Which | None = None, line: int = 0, **more: Any) -> Event:
    """Something done or seen; its entry is numbered by its day unless told."""
    at = {"day": Day.on(day), "entry": more.pop("entry", day), "source": place(line or 1000 + day)}
    return event_of(deed, **at, which=which, **more)


def pick(day: int, which: Which, weight: Quantity, line: int = 0, **more: Any) -> Pick:
    """A harvest; its entry is numbered by its day unless told."""
    return Pick(Day.on(day), more.pop("entry", day), place(line or 2000 + day), which, weight, **more)


def tally(day: int, amount: Quantity, which: Which, line: int = 0, **more: Any) -> Tally:
    """A running total."""
    return Tally(Day.on(day), more.pop("entry", day), place(line or 3000 + day), which, amount)


def milestone(
    name: str, day: int | Day, which: Which, *, reached: bool = True, line: int = 0
) -> MilestoneRow:
    """A stage seen, or not there yet."""
    when = day if isinstance(day, Day) else Day.on(day)
    return MilestoneRow(name, when, when.first, place(line or 4000 + when.first), which, reached)


def reading(
    name: str, day: int, value: Quantity, ids: Iterable[str] = (), line: int = 0, **more: Any
) -> Reading:
    """A measured value."""
    named = tuple(ids)
    which = Which(named) if named else None
    return Reading(name, Day.on(day), day, place(line or 5000 + day), value, named, which, **more)


def routine(day: int, often: str, amount: Quantity, until: int | None = None, **more: Any) -> Routine:
    """A routine of one product."""
    end = None if until is None else Day.on(until)
    return Routine(
        "feed",
        Day.on(day),
        day,
        place(more.pop("line", 6000 + day)),
        product="syrup",
        amount=amount,
        often=often,
        until=end,
        **more,
    )


Table = Literal["events", "readings", "picks", "tallies", "milestones", "routines"]


def run_of(setup: Setup | None = None, **tables: Any) -> Run:
    """A run from its tables; every day that a row names was a visit unless `entries` are given."""
    rows = [
        row for name, table in tables.items() if name not in {"entries", "lights", "exports"} for row in table
    ]
    days = {row.entry: row.day for row in rows}
    entries = tables.pop("entries", None) or tuple(
        Entry(index, day, place(100 + index)) for index, day in sorted(days.items())
    )
    return Run(setup or setup_of(), Rows(entries=tuple(entries), **{k: tuple(v) for k, v in tables.items()}))


def seeds(day: int, each: int, *ids: str) -> Event:
    """A sowing of so many seeds a spot."""
    return event(Deed.SOW, day, joint(*ids), amount=counted(each), each=True)


def remarks_of(figure: Figure) -> str:
    """The remarks of a figure in English."""
    return remarks_words(figure.remarks)
