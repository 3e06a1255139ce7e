"""The length of a run, its last entry, and the axis it is drawn on."""

from __future__ import annotations

from typing import Any

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
    """The first begins earliest, of equals ends earliest; the last ends latest, of equals begins latest."""
    found = [Day(5, 9), Day(5, 7), Day(6, 6), Day(4, 9), Day(7, 9)]
    assert (first_day(found[:3]), first_day(found), last_day(found), last_day(found[:3])) == (
        Day(5, 7),
        Day(4, 9),
        Day(7, 9),
        Day(5, 9),
    )
    assert (first_day([]), last_day([])) == (None, None)


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
    assert (length_of(spans).value, last_entry_of(spans).value) == (days(3, 12), Day(3, 12))


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
