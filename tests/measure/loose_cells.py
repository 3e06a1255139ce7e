"""Cells of a log whose value is open or fuzzy, and the logs in which one of them is known.

In: a run. Out: `loose_cells`, each with the runs in which its value is known to lie somewhere inside its bounds. Cells of
one visit are on one day, and visits keep their order.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, replace
from functools import partial
from typing import Any

from sitegen.core.findings.source import Source
from sitegen.core.records.routines import EVERY_LOGGED_REFILL, Light, Routine
from sitegen.core.records.rows import (
    Addition,
    Entry,
    MilestoneRow,
    Pick,
    Reading,
    Rows,
    Run,
    SeedlingCount,
    Sowing,
    Tally,
    Thinning,
    Watering,
    Which,
)
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.measure.germination.counts import scope_of, seen_of

__all__ = ["LooseCell", "loose_cells", "looseness", "on_day"]

TABLES = tuple(each.name for each in fields(Rows) if each.init)
SAID_OF_EARLIER = ("included", "apart")
EVER = 10**6


@dataclass(frozen=True)
class LooseCell:
    """A value that is not exactly known, and the run in which it has another one; `source` is None in the set-up."""

    column: str
    value: Any
    instead: Callable[[Any], Run]
    source: Source | None = None
    order: tuple[int, int] = (-EVER, EVER)  # of a day: those of the visits before and after
    most: float = math.inf  # of a count so far: that of a count which holds it
    least: float = -math.inf  # of a pick: the weight of the spoilt part of it; of a count: an earlier one

    def __str__(self) -> str:
        return f"{self.column} ({looseness(self.value)})"

    def known(self) -> Iterator[Run]:
        """Runs in which the value is known: at either end of its bounds; beside it where it has nothing but a flag."""
        for value in _inside(self.value):
            in_order = not isinstance(value, Day) or self.order[0] <= value.first <= self.order[1]
            if in_order and not (isinstance(value, Quantity) and not self.least <= value.low <= self.most):
                yield self.instead(value)


def looseness(value: object) -> str:
    """The reason why a value is not exactly known; empty where it is."""
    if value is None:
        return "not recorded"
    if isinstance(value, Day):
        return _of_day(value)
    if isinstance(value, Quantity):
        return _of_quantity(value)
    if isinstance(value, Which):
        return "" if value.named or value.nobody else "not said which"
    return "unclear" if value == "unclear" else ""


def _of_day(value: Day) -> str:
    if value.before:
        return "before"
    return "about" if value.about else "" if value.single else "span"


def _of_quantity(value: Quantity) -> str:
    if value.high is None:
        return "not measured" if value.unweighed else "at least"
    if value.about or value.by_eye:
        return "about" if value.about else "by eye"
    return "" if value.single else "range"


def _inside(value: object) -> list[Any]:
    """Known values that a value may have."""
    if isinstance(value, Day):
        days = (value.first - 1, value.first + 1) if value.single else (value.first, value.last)
        return [Day.on(number) for number in days]
    if isinstance(value, Quantity):
        return [
            replace(value, low=number, high=number, about=False, by_eye=False, open=0, unweighed=0)
            for number in _numbers(value)
        ]
    return list(SAID_OF_EARLIER) if value == "unclear" else []


def _numbers(value: Quantity) -> tuple[float, ...]:
    step = value.step or 1.0
    if value.high is None:
        least = () if value.unweighed else (value.low,)
        return (*least, value.low + step, value.low + 2 * step)
    if value.single:
        return (max(value.low / 2, value.low - step), value.low + step)
    return (value.low, value.high)


_AMOUNTS = {
    Sowing: "seeds",
    SeedlingCount: "seedlings",
    Thinning: "left",
    Watering: "amount",
    Addition: "amount",
}
_FIELDS: dict[type, tuple[str, ...]] = {
    Reading: ("value",),
    Pick: ("weight", "spoilt_weight", "earlier", "which"),
    Tally: ("amount",),
    MilestoneRow: ("which",),
    Routine: ("amount", "until"),
}


def _column(table: str, name: str) -> str:
    if table == "events" and name in _AMOUNTS.values():
        return "events.amount"
    return f"{table}.plants" if name == "which" else f"{table}.{name}"


def _values(row: Any) -> Iterator[tuple[str, Any]]:
    """The fields of a row that can be open or fuzzy, but its day."""
    if name := _AMOUNTS.get(type(row)):
        # All seeds that there are, and a dose as its label says, rest on other columns.
        elsewhere = isinstance(row, SeedlingCount) or (isinstance(row, Addition) and row.as_labelled)
        if getattr(row, name) is not None or not elsewhere:
            yield name, getattr(row, name)
    for name in _FIELDS.get(type(row), ()):
        optional = isinstance(row, Routine) or name == "spoilt_weight"
        if getattr(row, name) is not None or not optional:
            yield name, getattr(row, name)


def _changed(row: Any, **values: Any) -> Any:
    return row._replace(**values) if hasattr(row, "_replace") else replace(row, **values)


def _with_row(run: Run, table: str, position: int, row: Any) -> Run:
    rows = list(getattr(run.rows, table))
    rows[position] = row
    return replace(run, rows=replace(run.rows, **{table: tuple(rows)}))


def on_day(run: Run, entry: int | None, source: Source, day: Day) -> Run:
    """A run in which a visit, with all of its rows, was on another day; a row alone where it is of no visit."""

    def of_visit(row: Any) -> bool:
        number = row.index if isinstance(row, Entry) else getattr(row, "entry", None)
        return row.source == source if entry is None else number == entry

    tables = {
        table: tuple(
            _changed(row, day=day) if hasattr(row, "day") and of_visit(row) else row
            for row in getattr(run.rows, table)
        )
        for table in TABLES
    }
    return replace(run, rows=replace(run.rows, **tables))


def _order(run: Run, entry: int | None) -> tuple[int, int]:
    """The days that a visit cannot have been before and after: visits keep their order, and day 0 is that of sowing."""
    sowings = [each for each in run.rows.of(Sowing) if each.day.reach[0] <= 0]
    if entry is not None and entry == min((each.entry for each in sowings), default=None):
        return 0, 0
    before = [each.day.first for each in run.rows.entries if entry is not None and each.index < entry]
    after = [each.day.last for each in run.rows.entries if entry is not None and each.index > entry]
    return max(before, default=0), min(after, default=EVER)


def loose_cells(run: Run) -> Iterator[LooseCell]:
    """Every cell of the log and of the set-up whose value is open or fuzzy."""
    for table in TABLES:
        for position, row in enumerate(getattr(run.rows, table)):
            yield from _of_row(run, table, position, row)
    yield from _of_setup(run)


def _of_row(run: Run, table: str, position: int, row: Any) -> Iterator[LooseCell]:

    def instead(made: Callable[[Any], Any]) -> Callable[[Any], Run]:
        return lambda value: _with_row(run, table, position, made(value))

    def changing(name: str) -> Callable[[Any], Any]:
        return lambda value: _changed(row, **{name: value})

    most, at_least = math.inf, -math.inf
    if isinstance(row, SeedlingCount):
        most, at_least = _largest_other_count(run, row), _least_by_others(run, row)
    for name, value in _values(row):
        if looseness(value):
            spoilt = row.spoilt_weight if isinstance(row, Pick) and name == "weight" else None
            least = at_least if spoilt is None else max(spoilt.low, spoilt.high or 0.0)
            column = _column(table, name)
            yield LooseCell(column, value, instead(changing(name)), row.source, most=most, least=least)
    if isinstance(row, Light):
        for column, value, made in _of_light(row):
            if looseness(value):
                yield LooseCell(column, value, instead(made), row.source)
    if isinstance(row, Routine) and row.often != EVERY_LOGGED_REFILL:
        yield LooseCell("routines.often", None, lambda _: run, row.source)
    if (day := getattr(row, "day", None)) is not None and looseness(day):
        entry = row.index if isinstance(row, Entry) else row.entry
        moved = partial(on_day, run, entry, row.source)
        yield LooseCell(f"{table}.day", day, moved, row.source, _order(run, entry))


def _largest_other_count(run: Run, row: SeedlingCount) -> float:
    """Seedlings were counted since sowing: one count is not above all the exact ones; "all" without a number is one."""
    others = [count for count in run.rows.of(SeedlingCount) if count != row]
    known = [seen_of(count, run) for count in others]
    later = [
        seen_of(count, run).high
        for count in others
        if scope_of(count, run) == scope_of(row, run) and count.day.last >= row.day.first
    ]
    most = max((each.low for each in known if each.exact), default=math.inf)
    return min([most, *(high for high in later if high is not None)])


def _least_by_others(run: Run, row: SeedlingCount) -> float:
    """A count is not below one of the same spots at the same visit or before."""
    others = [
        count
        for count in run.rows.of(SeedlingCount)
        if count != row and scope_of(count, run) == scope_of(row, run) and count.day.first <= row.day.last
    ]
    return max((seen_of(count, run).low for count in others), default=-math.inf)


def _of_light(row: Light) -> Iterator[tuple[str, Any, Callable[[Any], Any]]]:
    use, lamp = row.use, row.use.lamp
    if not use.off:
        yield "lights.hours", use.hours, lambda value: replace(row, use=replace(use, hours=value))
    if lamp is not None:

        def shining(name: str) -> Callable[[Any], Light]:
            return lambda value: replace(row, use=replace(use, lamp=replace(lamp, **{name: value})))

        yield "lamp.power", lamp.power, shining("power")
        yield "lamp.ppfd", lamp.ppfd, shining("ppfd")


def _of_setup(run: Run) -> Iterator[LooseCell]:
    setup = run.setup
    for position, tub in enumerate(setup.tubs):
        for name in ("headroom", "reservoir"):

            def other_tub(value: Any, position: int = position, name: str = name) -> Run:
                tubs = list(setup.tubs)
                system = replace(tubs[position].system, **{name: value})
                tubs[position] = replace(tubs[position], system=system)
                return replace(run, setup=replace(setup, tubs=tuple(tubs)))

            if (value := getattr(tub.system, name)) is not None and looseness(value):
                yield LooseCell(f"system.{name}", value, other_tub)
    if (base := setup.crop.base_temperature) is not None and looseness(base):

        def other_crop(value: Any) -> Run:
            return replace(run, setup=replace(setup, crop=replace(setup.crop, base_temperature=value)))

        yield LooseCell("crop.base_temperature", base, other_crop)
    if (seed := setup.seed) is not None:
        for name in ("days", "germination", "height"):

            def other_claim(value: Any, name: str = name) -> Run:
                claims = replace(seed.claims, **{name: value})
                return replace(run, setup=replace(setup, seed=replace(seed, claims=claims)))

            if (value := getattr(seed.claims, name)) is not None and looseness(value):
                yield LooseCell(f"claims.{name}", value, other_claim)
