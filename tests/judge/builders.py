"""Runs made by hand for the rules: invented, small, and without a finding until a test adds its fault.

A row of day N stands on line 100 + N unless told otherwise.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any, get_args

from sitegen.app.console.report import finding_line
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import (
    Deed,
    Entry,
    Event,
    MilestoneRow,
    Photo,
    Pick,
    Reading,
    Rows,
    Run,
    Tally,
    Which,
)
from sitegen.core.records.setup import Answer, Crop, LampUse, Plant, Product, Setup, System, Tub
from sitegen.core.records.tables import event_of
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.judge import judge
from sitegen.judge.context import Context, Rule

FILE = "e.yaml"
TODAY = dt.date(2025, 6, 1)
TUB = System("crate", "Crate", "deep water culture", 4, exactly(8000, Dimension.VOLUME, 1000))
SYRUP = Product("syrup", "Syrup", "feed", exactly(2, Dimension.VOLUME_DOSE, 1))
PHYSALIS = Crop("physalis", "Physalis", "fruiting", "Physalis peruviana")

Row = Event | Reading | Pick | Tally | MilestoneRow | Light | Routine | Photo

_TABLES: dict[type, str] = {
    **dict.fromkeys(get_args(Event), "events"),
    Reading: "readings",
    Pick: "picks",
    Tally: "tallies",
    MilestoneRow: "milestones",
    Light: "lights",
    Routine: "routines",
    Photo: "photos",
}


def place(line: int, column: int = 5, width: int = 3) -> Source:
    """A place in the one file of the run."""
    return Source(FILE, line, column, width)


def setup(**changes: Any) -> Setup:
    """The head of a run of four plants, begun on 1 March 2025."""
    plants = tuple(Plant(f"P{n}", n, "tub", "", (), place(7)) for n in range(1, 5))
    head = Setup(
        id="first-physalis",
        season="spring",
        source=place(1),
        title="First physalis",
        crop=PHYSALIS,
        start=Start(dt.date(2025, 3, 1), "day"),
        plants=plants,
        tubs=(Tub("tub", TUB),),
        question="Does it fruit?",
        answer=Answer("again"),
        spans=(("log", place(10)), ("plants", place(7)), ("question", place(4))),
        products=(SYRUP,),
    )
    return replace(head, **changes)


def day(when: int | tuple[int, int]) -> Day:
    """A day, or a span of days."""
    return Day(*when) if isinstance(when, tuple) else Day.on(when)


def _row(when: int | tuple[int, int], line: int) -> tuple[Day, int, Source]:
    on = day(when)
    return on, on.first, place(line or 100 + on.first)


def named(*ids: str) -> Which:
    """Plants named one by one."""
    return Which(ids)


def everyone() -> Which:
    """`all`."""
    return Which(("P1", "P2", "P3", "P4"), word="all")


def some_of(count: int, of: int | None = None) -> Which:
    """`2 of 4`."""
    return Which((), count, of)


def none() -> Which:
    """`none`."""
    return Which(count=0, word="none")


def done(
    deed: Deed, when: int | tuple[int, int], which: Which | None = None, *, line: int = 0, **more: Any
) -> Event:
    """Something done or seen."""
    on, entry, source = _row(when, line)
    return event_of(deed, day=on, entry=entry, source=source, which=which, **more)


def sown(when: int = 0, seeds: int = 3, which: Which | None = None, **more: Any) -> Event:
    """So many seeds a spot."""
    return done(Deed.SOW, when, which or everyone(), amount=counted(seeds), each=True, **more)


def up(when: int, number: int, of: int | None = None, which: Which | None = None) -> Event:
    """So many seedlings up."""
    return done(Deed.SPROUTED, when, which or everyone(), amount=counted(number), out_of=of)


def lost(when: int, which: Which | None) -> Event:
    """Plants that died."""
    return done(Deed.LOST, when, which)


def read(name: str, when: int, value: Quantity, which: Which | None = None, **more: Any) -> Reading:
    """A measured value."""
    on, entry, source = _row(when, 0)
    more.setdefault("tub", "" if which else "tub")
    return Reading(name, on, entry, source, value, which.ids if which else (), which, **more)


def height(when: int, cm: float, *ids: str, **more: Any) -> Reading:
    """Heights of named plants, to the centimetre."""
    return read("height", when, exactly(cm, Dimension.LENGTH, 1), named(*ids), **more)


def ec(when: int, value: float, **more: Any) -> Reading:
    """A conductivity of the solution."""
    return read("ec", when, exactly(value, Dimension.CONDUCTIVITY, 0.1), **more)


def ph(when: int, value: float, **more: Any) -> Reading:
    """A pH of the solution."""
    return read("ph", when, exactly(value, Dimension.ACIDITY, 0.1), **more)


def grams(value: float) -> Quantity:
    """A weight to the gram."""
    return exactly(value, Dimension.MASS, 1)


def picked(when: int, grams_: float, which: Which | None = None, *, line: int = 0, **more: Any) -> Pick:
    """A harvest."""
    on, entry, source = _row(when, line)
    return Pick(on, entry, source, which or everyone(), grams(grams_), ("tub",), **more)


def tallied(when: int, quantity: Quantity, which: Which | None = None) -> Tally:
    """Everything picked up to a day."""
    on, entry, source = _row(when, 0)
    return Tally(on, entry, source, which or everyone(), quantity)


def seen(name: str, when: int, which: Which, *, reached: bool = True) -> MilestoneRow:
    """A milestone."""
    on, entry, source = _row(when, 0)
    return MilestoneRow(name, on, entry, source, which, reached)


def lit(when: int, hours: float) -> Light:
    """So many lamp hours a day."""
    on, entry, source = _row(when, 0)
    return Light(on, entry, source, "tub", LampUse(hours=exactly(hours, Dimension.DURATION, 1)))


def fed(when: int, quantity: Quantity, **more: Any) -> Event:
    """Syrup into the tub."""
    return done(Deed.FEED, when, tub="tub", product="syrup", amount=quantity, **more)


def watered(when: int, litres: float) -> Event:
    """Water into the tub."""
    return done(Deed.WATER, when, tub="tub", amount=exactly(litres * 1000, Dimension.VOLUME, 1000))


def ml(value: float) -> Quantity:
    """A volume to the millilitre."""
    return exactly(value, Dimension.VOLUME, 1)


def ended(when: int, *, kept: bool | None = False, line: int = 0) -> Event:
    """The end of the run."""
    return done(Deed.END, when, line=line, what="done", kept=kept)


def visits(*days: int | tuple[int, int], lines: tuple[int, ...] = ()) -> tuple[Entry, ...]:
    """Entries on days, in the order of the days; `lines` are where they are written."""
    at = dict(zip(days, lines, strict=True)) if lines else {}
    ordered = sorted(days, key=day)
    return tuple(
        Entry(index, day(d), place(at.get(d, 100 + day(d).first))) for index, d in enumerate(ordered)
    )


def _at_entry(row: Any, entry: int | None) -> Any:
    return row._replace(entry=entry) if hasattr(row, "_replace") else replace(row, entry=entry)


def run(
    *rows: Row,
    head: Setup | None = None,
    entries: tuple[Entry, ...] | None = None,
    recap: str = "",
    photo_files: tuple[PhotoFile, ...] = (),
) -> Run:
    """A run of rows, each in its table; every day of a row was a visit unless `entries` are given."""
    if entries is None:
        entries = visits(*dict.fromkeys(row.day.first for row in rows if row.entry is not None))
    index = {entry.day.first: entry.index for entry in entries}
    tables: dict[str, list[Any]] = {}
    for row in sorted(rows, key=lambda row: row.day):
        entry = None if row.entry is None else index.get(row.day.first, row.entry)
        tables.setdefault(_TABLES[type(row)], []).append(_at_entry(row, entry))
    filled = {name: tuple(table) for name, table in tables.items()}
    return Run(head or setup(), Rows(entries=entries, **filled), recap, photo_files)


def findings(made: Run, today: dt.date = TODAY) -> tuple[Finding, ...]:
    """The findings of all rules about a run."""
    return judge(made, today)


def said(made: Run, today: dt.date = TODAY) -> list[str]:
    """The findings on one line each."""
    return [finding_line(finding) for finding in findings(made, today)]


def by(rule: Rule, made: Run, today: dt.date = TODAY) -> list[str]:
    """The findings of one rule, one on each line."""
    return [finding_line(finding) for finding in rule(Context.of(made, today))]


def checked(rule: Rule, made: Run, today: dt.date = TODAY) -> list[Finding]:
    """The findings of one rule, with all their parts."""
    return list(rule(Context.of(made, today)))


def sheet_row(when: int | tuple[int, int], line: int, name: str = "leaves", plant: str = "P1") -> Reading:
    """A reading of a spreadsheet."""
    return Reading(name, day(when), None, Source("sheet.csv", line), exactly(4, Dimension.COUNT, 1), (plant,))
