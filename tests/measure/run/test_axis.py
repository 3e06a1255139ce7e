"""The length of a run, its last entry, and the axis it is drawn on."""

from __future__ import annotations

from itertools import product
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Figure
from sitegen.core.records.rows import Deed, Entry, Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.run.axis import axis_of, day_count, first_day, last_day, last_entry_of, length_of
from tests.measure.builders import event, joint, place, reading, run_of
from tests.measure.values import lines


def days(low: int, high: int, *, about: bool = False) -> Quantity:
    """A time in whole days."""
    return Quantity(low, high, Dimension.DAYS, about=about, step=1)


def ended(first: int, last: int, *, about: bool = False, **more: Any) -> Run:
    """A run with an end at some time between two days, and an entry after it."""
    end = event(Deed.END, first, **more)._replace(day=Day(first, last, about))
    return run_of(events=[end, event(Deed.NOTE, 70)])


def entries(*found: tuple[int, int, int]) -> Run:
    """A run of entries: first day, last day, line."""
    return run_of(
        entries=[Entry(n, Day(first, last), place(line)) for n, (first, last, line) in enumerate(found)]
    )


def kept(figure: Figure) -> tuple[object, list[int], str, str]:
    """Value, rows, name and formula."""
    return figure.value, lines(figure), figure.name, figure.formula


def test_days_of_a_day() -> None:
    """Days since sowing are the day itself, with its span and whether it is about."""
    assert day_count(Day.on(90)) == days(90, 90)
    assert day_count(Day(88, 92, about=True)) == days(88, 92, about=True)


def test_first_and_last_of_days() -> None:
    """Of days that are spans, the first and the last are the spans of the days that they can be."""
    found = [Day(5, 9), Day(5, 7), Day(6, 6), Day(4, 9), Day(7, 9)]
    assert (first_day(found[:3]), first_day(found), last_day(found), last_day(found[:3])) == (
        Day(5, 6),
        Day(4, 6),
        Day(7, 9),
        Day(6, 9),
    )
    assert (first_day([]), last_day([])) == (None, None)


def test_flags_of_first_and_last_days() -> None:
    """A day that can be the first, or the last, gives it its flags; "before" stays where nothing else was as early."""
    before, about = Day(0, 59, before=True), Day.on(40, about=True)
    assert first_day([before, about]) == Day(0, 40, about=True, before=True)
    assert last_day([before, about]) == Day(40, 59, about=True)
    assert first_day([before, Day(0, 20)]) == Day(0, 20)
    assert (first_day([Day.on(5), about]), last_day([Day.on(50), about])) == (Day.on(5), Day.on(50))
    assert (first_day([before]), last_day([before])) == (before, before)


@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 4)), min_size=1, max_size=4))
def test_first_and_last_over_all_placements(spans: list[tuple[int, int]]) -> None:
    """The first and the last day are the spans of the earliest and latest of all days that the spans allow."""
    found = [Day(first, first + more) for first, more in spans]
    placed = list(product(*(range(day.first, day.last + 1) for day in found)))
    earliest, latest = [min(days) for days in placed], [max(days) for days in placed]
    assert first_day(found) == Day(min(earliest), max(earliest))
    assert last_day(found) == Day(min(latest), max(latest))


def test_an_end_before_a_day_is_not_before_what_was_seen() -> None:
    """An end "before day 60" came after the last entry before it: the length is a span that ends there."""
    end = event(Deed.END, 0)._replace(day=Day(0, 59, before=True), entry=2)
    seen = [Entry(n, Day.on(day), place(day)) for n, day in enumerate((3, 48))]
    log = [*seen, Entry(2, end.day, end.source)]
    assert length_of(run_of(events=[end], entries=log)).value == days(48, 59)
    assert length_of(run_of(events=[end], entries=log[2:])).value == days(0, 59)
    assert length_of(run_of(events=[end], entries=[*log, Entry(3, Day.on(70), place(70))])).value == days(
        48, 59
    )


def test_the_end_is_the_length() -> None:
    """A run that ended is as long as its end says, with its row, whatever was logged after."""
    assert kept(length_of(ended(58, 62, about=True))) == (
        days(58, 62, about=True),
        [1058],
        "length",
        "day_count",
    )


def test_a_running_run_is_as_long_as_its_log() -> None:
    """Up to the last entry, with its row; of several on that day the last; readings of a sheet do not count."""
    run = entries((3, 3, 5), (9, 9, 6), (9, 9, 8), (7, 8, 7))
    assert kept(length_of(run)) == (days(9, 9), [8], "length", "day_count")
    assert kept(last_entry_of(run)) == (Day.on(9), [8], "last_entry", "last_day")
    spans = entries((3, 12, 5), (9, 9, 6))
    assert (length_of(spans).value, last_entry_of(spans).value) == (days(9, 12), Day(9, 12))
    assert lines(length_of(spans)) == [5, 6]


def test_no_entry() -> None:
    """Without an entry there is neither length nor last entry."""
    assert kept(length_of(run_of())) == (None, [], "length", "day_count")
    assert kept(last_entry_of(run_of())) == (None, [], "last_entry", "last_day")


def test_the_last_entry_may_follow_the_end() -> None:
    """An entry after the end is the last one all the same, and the axis holds it."""
    run = ended(60, 60)
    assert (last_entry_of(run).value, axis_of(run).last, axis_of(run).end) == (Day.on(70), 70, 70)


def test_the_axis_holds_readings_of_a_sheet() -> None:
    """A reading after the last entry lengthens the axis, not the run."""
    later = reading("height", 85, exactly(9, Dimension.LENGTH), ("P1",))
    run = run_of(readings=[later], entries=[Entry(0, Day.on(70), place(1))])
    assert (axis_of(run).last, axis_of(run).end, length_of(run).value) == (85, 98, days(70, 70))
    assert (axis_of(run).start, axis_of(run_of()).end) == (run.setup.start, 14)


def test_a_run_ends_once() -> None:
    """A run with an end is not running, whether its plants were kept or not."""
    assert [measure(ended(60, 60, kept=k)).running for k in (True, False)] == [False, False]
    assert measure(run_of(events=[event(Deed.PRUNE, 9, joint("P1"))])).running
