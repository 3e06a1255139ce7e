"""Fillings, refills, full changes, what plants took up, and how a solution moved."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Figure, Per, Rate, Several
from sitegen.core.facts.indices import TubTrend, Uptake
from sitegen.core.facts.tree import Solution as SolutionFacts
from sitegen.core.facts.tree import TubFacts
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Event, Reading
from sitegen.core.records.setup import Crop
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.ranges import share_of
from sitegen.measure.solution.solution import solution_of
from sitegen.measure.solution.trend import drift_a_day
from sitegen.measure.solution.uptake import mean_interval, water_taken_up
from tests.measure.builders import (
    event,
    joint,
    litres,
    ml,
    of,
    reading,
    remarks_of,
    routine,
    run_of,
    setup_of,
)
from tests.measure.values import amount, bounds, lines, rate

FOUR = ("P1", "P2", "P3", "P4")
TWO = ("left", "right")


def water(day: int | Day, size: float | Quantity | None = None, **more: Any) -> Event:
    """Water into a tub: so many litres, or an amount of its own."""
    when = day if isinstance(day, Day) else Day.on(day)
    held = size if isinstance(size, Quantity) or size is None else litres(size)
    return event(more.pop("deed", Deed.WATER), when.first, amount=held, **more)._replace(day=when)


def changed(day: int, size: float | None = None, **more: Any) -> Event:
    """A full change."""
    return water(day, size, deed=Deed.CHANGE, **more)


FILLED = water(10, filled=True)
ABOUT_0 = Day.on(0, about=True)


def solution(
    *rows: Event | Reading | Routine, tubs: tuple[str, ...] = ("tub",), **head: Any
) -> SolutionFacts:
    """The solution of a run."""
    return solution_of(
        run_of(
            replace(setup_of(tubs=tubs), **head),
            events=[row for row in rows if isinstance(row, Event)],
            readings=[row for row in rows if isinstance(row, Reading)],
            routines=[row for row in rows if isinstance(row, Routine)],
        )
    )


def tub(*rows: Event | Reading | Routine, **more: Any) -> TubFacts:
    """Its first tub."""
    return solution(*rows, **more).tubs[0]


def uptake(*rows: Event | Reading | Routine, **more: Any) -> Uptake:
    """What the plants of the first tub took up."""
    return tub(*rows, **more).uptake


def volume(low: float, high: float | None, step: float = 1000, **flags: Any) -> Quantity:
    """A volume in millilitres."""
    return Quantity(low, high, Dimension.VOLUME, step=step, **flags)


@pytest.mark.parametrize(
    ("rows", "poured", "refills"),
    [
        ((water(0, filled=True),), litres(8), 0),
        ((water(-1, filled=True),), litres(8), 0),
        ((water(ABOUT_0, filled=True),), replace(litres(8), about=True), 0),
        ((event(Deed.SOW, 0, joint(*FOUR))._replace(day=ABOUT_0), water(ABOUT_0, filled=True)), litres(8), 0),
        ((water(ABOUT_0, 8),), litres(8), 0),
        ((water(1, filled=True),), volume(0, None, 0, unweighed=1), 1),
        ((event(Deed.TRANSPLANT, 14, joint(*FOUR)), water(14, filled=True)), litres(8), 0),
        (
            (event(Deed.TRANSPLANT, 14, joint(*FOUR)), water(14, filled=True, entry=15)),
            volume(0, None, 0, unweighed=1),
            1,
        ),
        ((water(0, filled=True), water(0, filled=True, line=2000)), volume(8000, None, unweighed=1), 1),
        ((water(0, 3, filled=True), water(9, 2)), litres(5), 1),
        (
            (water(6, filled=True)._replace(day=Day(0, 6, before=True)),),
            volume(0, None, 0, unweighed=1),
            1,
        ),
        ((changed(9, filled=True),), litres(8), 0),
        ((changed(9),), volume(0, None, 0, unweighed=1), 0),
        ((water(0),), volume(0, None, 0, unweighed=1), 0),
        ((water(0, 8), water(9, 2)), litres(10), 1),
        ((water(0, 8), water(0, 2, line=2000)), litres(10), 1),
        ((water(1, 8),), litres(8), 1),
        (
            (
                water(0, filled=True),
                water(9, volume(1000, 2000, by_eye=True)),
                water(12, volume(500, None, open=1)),
            ),
            volume(9500, None, by_eye=True, open=1),
            2,
        ),
    ],
)
def test_water(rows: tuple[Event, ...], poured: Quantity, refills: int) -> None:
    """What each kind of filling comes to, and which are refills."""
    found = tub(*rows)
    assert (found.water.value, found.refills.value) == (poured, counted(refills))


def test_a_system_without_a_reservoir() -> None:
    """Filling up a tub of unknown size is an unknown amount."""
    setup = setup_of()
    (lone,) = setup.tubs
    bare = replace(lone, system=replace(lone.system, reservoir=None))
    rows = (water(0, filled=True), changed(9, filled=True), water(12, 1))
    (found,) = solution_of(run_of(replace(setup, tubs=(bare,)), events=rows)).tubs
    assert found.water.value == volume(1000, None, unweighed=2)


def test_rows_and_names_of_water() -> None:
    """Water has all its fillings as rows, refills and changes their own."""
    found = tub(water(0, filled=True), water(9, 2), changed(20, 7))
    figures = (found.water, found.refills, found.changes)
    assert [(f.name, f.formula, lines(f)) for f in figures] == [
        ("solution.tubs.tub.water", "water_added", [1000, 1009, 1020]),
        ("solution.tubs.tub.refills", "refill_count", [1009]),
        ("solution.tubs.tub.changes", "change_count", [1020]),
    ]
    assert (found.changes.value, tub().changes.value, tub().refills.value) == (
        counted(1),
        counted(0),
        counted(0),
    )


def test_all_tubs_together() -> None:
    """Water and refills of all tubs add up, whatever tub a filling names, with all rows."""
    rows = (water(0, 3, tub="left"), water(9, 1, tub="left"), water(9, 4, tub="right", line=7))
    found = solution(*rows, tubs=TWO)
    assert (found.water.value, lines(found.water), found.water.name) == (
        litres(8),
        [7, 1000, 1009],
        "solution.water",
    )
    assert (found.refills.value, lines(found.refills)) == (counted(2), [7, 1009])
    assert (found.refills.name, found.refills.formula) == ("solution.refills", "refill_count")
    assert [t.key for t in found.tubs] == ["left", "right"]
    assert (solution().water.value, solution().refills.value) == (None, counted(0))
    nowhere = solution(water(9, 4), tubs=TWO)
    assert (nowhere.water.value, [t.water.value for t in nowhere.tubs]) == (
        litres(4),
        [replace(litres(4), low=0.0)] * 2,
    )


def daily(**more: Any) -> Routine:
    """Water topped up every day."""
    return replace(routine(5, "daily", litres(1)), what="water", **more)


def test_top_ups_by_routine_open_their_own_tub() -> None:
    """Water by routine opens water and refills of its tub and of all together, not those of another."""
    rows = (water(1, 3, tub="left"), water(1, 4, tub="right", line=7))
    found = solution(*rows, daily(tub="right"), tubs=TWO)
    left, right = found.tubs
    assert (left.water.value, left.refills.value) == (litres(3), counted(1))
    assert (right.water.value, right.refills.value) == (
        volume(4000, None, open=1),
        Quantity(1, None, Dimension.COUNT, open=1, step=1),
    )
    assert (found.water.value, found.refills.value) == (
        volume(7000, None, open=1),
        Quantity(2, None, Dimension.COUNT, open=1, step=1),
    )
    assert lines(right.water) == lines(right.refills) == [7, 6005]
    both = solution(*rows, daily(), tubs=TWO)
    assert [bounds(t.water)[1] for t in both.tubs] == [None, None]


@pytest.mark.parametrize(
    ("often", "what", "opened"),
    [
        ("Every Refill", "feed", True),
        ("with each topping", "feed", True),
        ("each top up", "feed", True),
        ("each fill", "feed", True),
        ("every week", "feed", False),
        ("every week", "water", True),
        ("every logged refill", "feed", False),
        ("every logged refill", "water", False),
        ("each fill", "prune", False),
    ],
)
def test_which_routines_add_water(often: str, what: str, opened: bool) -> None:
    """A routine of water, or of feed with each top-up, adds water that was not counted; another does not."""
    one = replace(routine(5, often, ml(10)), what=what)
    found = tub(water(0, filled=True), water(20, 2), one)
    assert (bounds(found.water)[1] is None, found.uptake.per_day.value is None) == (opened, opened)


def test_nothing_is_taken_up_by_what_was_not_counted() -> None:
    """With top-ups by routine neither rate nor interval is given, nor any row."""
    found = uptake(FILLED, water(15, 2), water(20, 2), daily())
    for figure in (found.per_day, found.per_plant_day, found.interval):
        assert (figure.value, lines(figure)) == (None, [])
    assert [f.name for f in (found.per_day, found.per_plant_day, found.interval)] == [
        f"solution.tubs.tub.uptake.{name}" for name in ("per_day", "per_plant_day", "interval")
    ]
    assert [f.formula for f in (found.per_day, found.per_plant_day, found.interval)] == [
        "water_taken_up",
        "water_taken_up",
        "mean_interval",
    ]


def test_formulas() -> None:
    """12 L in 8 days are 1.5 L a day, gaps of 5, 10 and 6 days 7 on average; by definition."""
    assert (water_taken_up(12, 8), mean_interval([5, 10, 6]), drift_a_day([0.5, -0.1], [2, 2])) == (
        1.5,
        7,
        0.1,
    )


def a_day(rows: tuple[Event, ...]) -> tuple[Any, list[int]]:
    """Millilitres a day, and the rows behind them."""
    found = uptake(*rows).per_day
    return (found.value and bounds(found), lines(found))


def test_stretches_between_full_changes() -> None:
    """Only refills count, over the days from a filling or change to the last refill before the next change."""
    assert a_day((water(10, 8), water(15, 2), water(20, 4))) == ((600, 600), [1010, 1015, 1020])
    rows = (water(10, 8), water(20, 2), changed(30, 8), water(40, 4), changed(50, 8))
    assert a_day(rows) == ((300, 300), [1010, 1020, 1030, 1040])
    assert a_day((changed(10, 8), water(20, 2))) == ((200, 200), [1010, 1020])
    assert a_day((water(10, 8), changed(20, 8), changed(30, 8))) == (None, [])
    assert a_day((water(10, 8), water(10, 2, line=7))) == (None, [])
    assert a_day((water(10, 8), water(10, 2, line=1011), changed(20, 8), water(22, 1))) == (
        (500, 500),
        [1020, 1022],
    )


def test_an_uptake_carries_flags_and_step() -> None:
    """Bounds and flags of refills, the step of their sum over the days, about where a day at an end is."""
    rows = (
        FILLED,
        water(15, volume(1000, 2000, 100, by_eye=True)),
        water(20, volume(500, None, 100, open=1)),
    )
    assert rate(uptake(*rows).per_day) == volume(150, None, 10, by_eye=True, open=1)
    about = (FILLED, water(15, 2), water(Day.on(20, about=True), 4))
    assert rate(uptake(*about).per_day) == volume(600, 600, 10, about=True)
    assert rate(uptake(*about).per_plant_day).about
    spans = (FILLED, water(15, 2), water(Day(18, 22), 4))
    assert rate(uptake(*spans).per_day) == volume(500, 750, 10)
    begins = (water(Day(10, 15), 8), water(20, 5))
    assert rate(uptake(*begins).per_day) == volume(500, 1000, 10)
    assert rate(uptake(*begins).per_plant_day) == volume(125, 250, 10)
    within = (FILLED, water(Day(14, 16), 2), water(20, 4))
    assert rate(uptake(*within).per_day) == volume(600, 600, 10)
    assert rate(uptake(FILLED, water(20, volume(999, 999, 1, about=True))).per_day).about


def test_plants_and_days() -> None:
    """Each plant counts for the days that it stood, from the filling on and before the last refill's day."""
    assert bounds(uptake(FILLED, water(20, 4)).per_plant_day) == (100, 100)
    lost = event(Deed.LOST, 15, joint("P1"))
    assert bounds(uptake(FILLED, lost, water(20, 3.5)).per_plant_day) == (100, 100)
    unnamed = event(Deed.LOST, 15, of(1, 4))
    assert bounds(uptake(FILLED, unnamed, water(20, 3.5)).per_plant_day) == (100, 100)
    late = event(Deed.LOST, 20, joint("P1"))
    assert bounds(uptake(FILLED, late, water(20, 4)).per_plant_day) == (100, 100)
    found = uptake(FILLED, water(20, 4)).per_plant_day
    assert (found.value, lines(found)) == (Rate(volume(100, 100, 10), Per.PLANT_AND_DAY), [1010, 1020])


def test_plants_count_where_they_stand() -> None:
    """A plant that moved takes its water from the new tub from that day on; an empty tub has no rate a plant."""
    moved = event(Deed.MOVE, 15, joint("P1"), tub="right")
    rows = (water(10, 8, tub="left"), moved, water(20, 3, tub="left"))
    assert bounds(uptake(*rows, tubs=TWO).per_plant_day) == (200, 200)
    away = event(Deed.MOVE, 5, joint("P1", "P2"), tub="right")
    empty = uptake(water(10, 8, tub="left"), away, water(20, 3, tub="left"), tubs=TWO)
    assert (empty.per_plant_day.value, bounds(empty.per_day)) == (None, (300, 300))
    gone = (event(Deed.LOST, 5, joint("P1")), event(Deed.LOST, 6, of(4, 4)))
    assert uptake(FILLED, *gone, water(20, 4)).per_plant_day.value is None


def gaps(*rows: Event, tubs: tuple[str, ...] = ("tub",)) -> Figure:
    """Days between fillings of the first tub."""
    return uptake(*rows, tubs=tubs).interval


def test_days_between_fillings() -> None:
    """One length by itself, two side by side, three as a mean; several fillings of a day or a visit are one."""
    one = gaps(FILLED, water(15, 2), water(15, 1, line=7))
    assert (one.value, lines(one)) == (exactly(5, Dimension.DAYS, 1), [1010, 1015])
    two = gaps(changed(25, 2), FILLED, water(15, 2))
    assert two.value == Several((exactly(5, Dimension.DAYS, 1), exactly(10, Dimension.DAYS, 1)))
    three = gaps(FILLED, water(15, 2), water(25, 2), water(31, 2))
    assert (three.value, lines(three)) == (exactly(7, Dimension.DAYS, 0.1), [1010, 1015, 1025, 1031])
    none = gaps(FILLED, water(10, 2, entry=11))
    assert (none.value, lines(none)) == (None, [])
    apart = gaps(water(10, 8, tub="left"), water(15, 2, tub="right"), water(22, 2, tub="left"), tubs=TWO)
    assert apart.value == exactly(12, Dimension.DAYS, 1)


def ec(day: int | Day, low: float, high: float | None = None, moment: str = "", **more: Any) -> Reading:
    """A reading of EC."""
    when = day if isinstance(day, Day) else Day.on(day)
    flags = {name: more.pop(name) for name in ("about", "step") if name in more}
    value = Quantity(low, low if high is None else high, Dimension.CONDUCTIVITY, **{"step": 0.01, **flags})
    return reading("ec", when.first, value, moment=moment, **more)._replace(day=when)


def ph(day: int, value: float, **more: Any) -> Reading:
    """A reading of pH."""
    return reading("ph", day, exactly(value, Dimension.ACIDITY, 0.1), line=7000 + day, **more)


def trend(*rows: Event | Reading, **head: Any) -> TubTrend:
    """How the solution of the first tub moved."""
    return tub(*rows, **head).trend


def per_day(low: float, high: float, step: float, **flags: Any) -> Rate:
    """A drift of EC."""
    return Rate(Quantity(low, high, Dimension.CONDUCTIVITY, step=step, **flags), Per.DAY)


def test_drift() -> None:
    """The sum of changes over the sum of days, in either direction, with all its readings."""
    found = trend(ec(12, 1.5), ec(14, 1.75), ec(18, 2.25)).ec
    assert (found.value, lines(found)) == (per_day(0.125, 0.125, 0.01), [5012, 5014, 5018])
    assert trend(ec(18, 1.5), ec(12, 2.25)).ec.value == per_day(-0.125, -0.125, 0.01)
    assert (found.name, found.formula) == ("solution.tubs.tub.trend.ec", "drift_a_day")


def test_drift_of_ranges() -> None:
    """From the highest before to the lowest after, to the lowest before to the highest after."""
    found = trend(ec(12, 1.5, 1.75), ec(16, 2, 2.5)).ec
    assert found.value == per_day(0.0625, 0.25, 0.01)
    falling = trend(ec(12, 2, 2.5), ec(16, 1.5, 1.75)).ec
    assert falling.value == per_day(-0.25, -0.0625, 0.01)


def test_flags_and_steps_of_a_drift() -> None:
    """About where a reading or a day is; the coarser step over the days, with two digits left."""
    assert rate(trend(ec(12, 1.5, about=True), ec(16, 2)).ec).about
    assert rate(trend(ec(12, 1.5), ec(16, 2, about=True)).ec).about
    assert rate(trend(ec(12, 1.5), ec(Day.on(16, about=True), 2)).ec).about
    assert not rate(trend(ec(12, 1.5), ec(16, 2)).ec).about
    assert rate(trend(ec(12, 1.5, step=0.001), ec(16, 2, step=0.02)).ec).step == pytest.approx(0.01)
    assert rate(trend(ec(12, 1.5, step=0.001), ec(16, 2, step=0.001)).ec).step == pytest.approx(0.001)
    assert rate(trend(ec(12, 1.5, step=0.02), ec(16, 2, step=0.001)).ec).step == pytest.approx(0.01)


@pytest.mark.parametrize("deed", [Deed.WATER, Deed.CHANGE, Deed.FEED, Deed.ADJUST])
def test_whatever_is_put_in_ends_a_drift(deed: Deed) -> None:
    """Water, change, feed, acid: each between two readings makes them no pair; other work does not."""
    assert trend(event(deed, 14), ec(12, 1.5), ec(16, 2)).ec.value is None
    assert trend(event(Deed.CLEAN, 14), ec(12, 1.5), ec(16, 2)).ec.recorded


@pytest.mark.parametrize(
    ("put_in", "before", "after", "pair"),
    [
        (12, "", "", True),
        (12, "after", "", True),
        (12, "before", "", False),
        (16, "", "before", True),
        (16, "", "", False),
        (16, "", "after", False),
        (11, "before", "", True),
        (17, "", "after", True),
        (13, "after", "before", False),
        (15, "after", "before", False),
    ],
)
def test_what_was_put_in_on_the_day_of_a_reading(put_in: int, before: str, after: str, pair: bool) -> None:
    """A reading without a moment stands after what was put in that day; `before` and `after` say it."""
    found = trend(event(Deed.FEED, put_in), ec(12, 1.5, moment=before), ec(16, 2, moment=after)).ec
    assert found.recorded is pair


@pytest.mark.parametrize(
    ("often", "what", "first", "until", "recorded"),
    [
        ("every week", "feed", 5, None, False),
        ("every refill", "feed", 5, None, False),
        ("daily", "water", 14, None, False),
        ("every week", "feed", 5, 14, False),
        ("every week", "feed", 5, 12, True),
        ("every week", "feed", 16, None, True),
        ("every logged refill", "feed", 5, None, True),
        ("every week", "prune", 5, None, True),
    ],
)
def test_a_routine_between_two_readings_ends_a_drift(
    often: str, what: str, first: int, until: int | None, recorded: bool
) -> None:
    """A routine of water or feed whose additions were not logged leaves no drift while it went on."""
    one = replace(routine(first, often, ml(10), until=until), what=what)
    found = tub(ec(12, 1.5), ec(16, 2), one).trend.ec
    assert found.recorded is recorded
    if not recorded:
        missing = "water or feed was a routine between every two readings"
        assert (remarks_of(found), lines(found)) == (missing, [])


def test_a_drift_carries_uncertain_days_and_readings_by_eye() -> None:
    """0.6 mS/cm in 2 to 6 days are 0.1 to 0.3 a day; a reading by eye makes the drift so."""
    spans = trend(ec(Day(10, 12), 1.5), ec(Day(14, 16), 2.1)).ec
    assert rate(spans) == Quantity(
        pytest.approx(0.1),  # type: ignore[arg-type]
        pytest.approx(0.3),  # type: ignore[arg-type]
        Dimension.CONDUCTIVITY,
        step=0.01,
    )
    assert remarks_of(spans) == "over 2–6 days, 1 pair of readings"
    assert trend(ec(Day(10, 14), 1.5), ec(Day(14, 16), 2.1)).ec.value is None
    by_eye = ec(16, 2)._replace(value=Quantity(2, 2, Dimension.CONDUCTIVITY, by_eye=True, step=0.01))
    assert rate(trend(ec(12, 1.5), by_eye).ec).by_eye


@pytest.mark.parametrize(
    ("day", "pair"), [(Day(13, 15), False), (Day(10, 13), False), (Day(15, 20), False), (Day(8, 12), True)]
)
def test_an_addition_on_an_uncertain_day_ends_a_drift(day: Day, pair: bool) -> None:
    """What may have been put in between two readings makes them no pair."""
    fed = event(Deed.FEED, day.first, tub="tub")._replace(day=day)
    assert tub(ec(12, 1.5), ec(16, 2), fed).trend.ec.recorded is pair


BEFORE_12, ABOUT_15 = Day(0, 11, before=True), Day.on(15, about=True)


@pytest.mark.parametrize(
    ("rows", "about"),
    [
        ((ec(BEFORE_12, 2), ec(1, 1)), True),
        ((ec(BEFORE_12, 2), ec(1, 1), event(Deed.FEED, 5)), True),
        ((ec(BEFORE_12, 2), ec(1, 1), event(Deed.FEED, 11, entry=5)), True),
        ((ec(BEFORE_12, 2), event(Deed.FEED, 13), ec(14, 3)), False),
        ((event(Deed.FEED, 15)._replace(day=ABOUT_15),), True),
        ((event(Deed.FEED, 8)._replace(day=Day.on(8, about=True)),), False),
        ((ec(8, 1, moment="before"), event(Deed.FEED, 8), ec(8, 2, moment="after", line=1)), False),
        ((ec(5, 1), replace(routine(5, "daily", ml(5)), day=Day(5, 7), until=Day(8, 10))), False),
        ((ec(5, 1), replace(routine(5, "daily", ml(5)), day=Day.on(0), until=Day(4, 6))), True),
    ],
    ids=[
        "a pair or none",
        "with an addition inside",
        "with an addition at its end",
        "certainly none",
        "an addition about a day",
        "an addition far off",
        "of one visit",
        "within a routine",
        "perhaps within a routine",
    ],
)
def test_a_pair_that_may_count_makes_a_drift_about(rows: tuple[Any, ...], about: bool) -> None:
    """A drift is about where a day that is not certain decides whether two more readings, or these, are a pair."""
    found = trend(ec(16, 2), ec(24, 2), *rows).ec
    assert rate(found).about is about
    assert trend(ec(16, 2), ec(24, 2)).ec.value == per_day(0, 0, 0.00125)


def test_uptake_where_no_routine_topped_up() -> None:
    """Refills before a routine of water count, those after its beginning do not."""
    rows = (water(10, 8), water(15, 2), water(20, 4), water(30, 4))
    found = uptake(*rows, replace(daily(), day=Day.on(20)))
    assert (rate(found.per_day), lines(found.per_day)) == (volume(600, 600, 10), [1010, 1015, 1020])
    assert remarks_of(found.per_day) == "over 10 days; not counting refills done as a routine"
    gap = exactly(5, Dimension.DAYS, 1)
    assert (found.interval.value, remarks_of(found.interval)) == (
        Several((gap, gap)),
        "over 3 fills; not counting refills done as a routine",
    )
    ended = uptake(*rows, replace(daily(), day=Day.on(10), until=Day.on(20)))
    assert (rate(ended.per_day), lines(ended.per_day)) == (volume(400, 400, 10), [1020, 1030])


def test_uncertain_days_between_fillings() -> None:
    """Gaps are as long as their days allow; the mean is the whole time over the gaps, whose inner days cancel out."""
    one = gaps(FILLED, water(Day(14, 16, about=True), 2))
    assert one.value == Quantity(4, 6, Dimension.DAYS, about=True, step=1)
    several = gaps(FILLED, water(Day(14, 16), 2), water(20, 2), water(25, 2))
    assert several.value == exactly(5, Dimension.DAYS, 0.1)
    ends = gaps(FILLED, water(15, 2), water(20, 2), water(Day(25, 28), 2))
    assert ends.value == Quantity(5, 6, Dimension.DAYS, step=0.1)


def test_plants_lost_or_moved_on_uncertain_days() -> None:
    """Two of four lost between day 10 and 20 leave 20 to 40 plant-days of a stretch of ten."""
    lost = event(Deed.LOST, 10, joint("P1", "P2"))._replace(day=Day(10, 20))
    assert bounds(uptake(FILLED, lost, water(20, 4)).per_plant_day) == (100, 200)
    unnamed = event(Deed.LOST, 5, of(1, 4))
    rows = (water(10, 8, tub="left"), unnamed, water(20, 2, tub="left"))
    assert bounds(uptake(*rows, tubs=TWO).per_plant_day) == (100, 200)


def test_refills_that_nobody_measured_show_no_uptake() -> None:
    """Where no refill was measured the uptake is not known, which is not "at least nothing"."""
    found = uptake(FILLED, water(20)).per_day
    assert (found.value, remarks_of(found)) == (None, "one refill was not measured")


def test_what_is_put_into_another_tub() -> None:
    """Feed for one tub ends no drift in another; readings of two tubs make no pair."""
    rows = (ec(12, 1.5, tub="left"), ec(16, 2, tub="left"), ec(14, 3, tub="right"))
    fed = event(Deed.FEED, 14, tub="right")
    left, right = solution(*rows, fed, tubs=TWO).tubs
    assert (left.trend.ec.value, right.trend.ec.value) == (per_day(0.125, 0.125, 0.01), None)


def test_readings_that_make_no_pair() -> None:
    """Two of one day, or one without an upper bound, make no pair, nor any rows."""
    assert trend(ec(12, 1.5, line=1), ec(12, 2, line=2)).ec.value is None
    opened = ec(16, 2)._replace(value=Quantity(2, None, Dimension.CONDUCTIVITY))
    for rows in ((ec(12, 1.5), opened), (opened, ec(20, 3)), (ec(12, 1.5),), ()):
        found = trend(*rows).ec
        assert (found.value, lines(found)) == (None, [])


def test_the_moments_of_a_visit_are_in_turn() -> None:
    """`before` comes first and `after` last, wherever they are written."""
    rows = (
        ec(12, 2, moment="after", line=1),
        ec(12, 1, moment="before", line=2),
        ec(12, 1.5, line=3),
        ec(16, 1.75, moment="before", line=4),
    )
    found = trend(*rows).ec
    assert (found.value, lines(found)) == (per_day(-0.0625, -0.0625, 0.001), [1, 4])


def test_drift_of_ph() -> None:
    """PH has its own drift and its own band."""
    found = trend(ph(12, 6), ph(16, 6.5), ec(12, 1.5))
    assert (found.ph.value, found.ec.value) == (Rate(exactly(0.125, Dimension.ACIDITY, 0.01), Per.DAY), None)
    assert (found.ph.name, lines(found.ph)) == ("solution.tubs.tub.trend.ph", [7012, 7016])


# Oklahoma State University Extension HLA-6722, Table 2 (read in a transcription): tomato EC 2.0-4.0, pH 6.0-6.5;
# strawberry EC 1.8-2.2. The pH band is widened to the 5.5-6.5 of most crops (common practice, no source).
TOMATO = Crop("tomato", "Tomato", "fruiting", "Solanum lycopersicum")


def test_readings_at_the_ends_of_the_band() -> None:
    """The ends of the band are within it; readings that may lie on either side of one make the number a range."""
    opened = ec(30, 3)._replace(value=Quantity(3, None, Dimension.CONDUCTIVITY))
    sizes = (
        ec(11, 2),
        ec(12, 4),
        ec(13, 1.99),
        ec(14, 4.01),
        ec(15, 2, 4),
        ec(16, 1.9, 3),
        ec(17, 3, 4.1),
        opened,
    )
    found = trend(*sizes, crop=TOMATO).ec_within
    assert (found.value, lines(found)) == (
        Quantity(3, 6, Dimension.COUNT, step=1),
        [5011, 5012, 5013, 5014, 5015, 5016, 5017, 5030],
    )
    assert remarks_of(found).startswith("of 8 readings; 2 to 4 is usual for this crop, going by sources")
    assert trend(*sizes[:5], crop=TOMATO).ec_within.value == share_of(3, 5)
    assert (found.name, found.formula) == ("solution.tubs.tub.trend.ec_within", "wilson_interval")
    acid = trend(ph(11, 5.5), ph(12, 6.5), ph(13, 5.4), ph(14, 6.6), crop=TOMATO).ph_within
    assert (acid.value, lines(acid), acid.name) == (
        share_of(2, 4),
        [7011, 7012, 7013, 7014],
        "solution.tubs.tub.trend.ph_within",
    )


def test_a_flagged_reading_beside_an_end_of_the_band() -> None:
    """A reading about, or by eye, may be off by the step of its number: beside an end it may be on either side."""
    beside, clear = (ec(11, 2), ec(12, 1.95), ec(13, 4)), (ec(14, 3), ec(15, 1.5), ec(16, 5))
    for flag in ("about", "by_eye"):
        flagged = [
            row._replace(value=replace(row.value, step=0.1, **{flag: True})) for row in (*beside, *clear)
        ]
        found = trend(*flagged, crop=TOMATO).ec_within
        assert found.value == Quantity(1, 4, Dimension.COUNT, step=1)
        assert trend(*flagged[3:], crop=TOMATO).ec_within.value == share_of(1, 3)


def test_no_band_and_no_readings() -> None:
    """Without readings, or without a band for the crop, no share is given, nor any row."""
    for found in (trend(crop=TOMATO).ec_within, trend(ec(12, 2)).ec_within, trend(ph(12, 6)).ph_within):
        assert (found.value, lines(found)) == (None, [])


def test_ranges_of_readings() -> None:
    """EC and pH of a tub span its readings, with their rows."""
    found = tub(ec(12, 1.5), ec(16, 2, 2.5, about=True), ph(12, 6))
    assert (found.ec.value, lines(found.ec)) == (
        Quantity(1.5, 2.5, Dimension.CONDUCTIVITY, about=True, step=0.01),
        [5012, 5016],
    )
    assert (found.ph.value, lines(found.ph)) == (exactly(6, Dimension.ACIDITY, 0.1), [7012])
    assert [(f.name, f.formula) for f in (found.ec, found.ph)] == [
        ("solution.tubs.tub.ec", "reading_range"),
        ("solution.tubs.tub.ph", "reading_range"),
    ]


POURS = st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9), st.booleans()), min_size=2, max_size=7)


@given(POURS)
def test_uptake_times_days_is_what_was_refilled(found: list[tuple[int, int, bool]]) -> None:
    """The rate times the days of its periods is the water of the refills in them; more plants take less each."""
    day, rows, kept, begin, refilled, days, pending = 0, [], 0, 0, 0.0, 0, 0.0
    for n, (gap, litre, is_change) in enumerate(found):
        day += gap
        rows.append(changed(day, litre, line=n + 1) if is_change else water(day, litre, line=n + 1))
        if n == 0 or is_change:
            refilled, days, begin, pending, kept = refilled + pending, days + kept, day, 0.0, 0
        else:
            pending, kept = pending + 1000 * litre, day - begin
    refilled, days = refilled + pending, days + kept
    facts = uptake(*rows)
    assume(days > 0)
    assert bounds(facts.per_day)[0] * days == pytest.approx(refilled)
    assert bounds(facts.per_plant_day)[0] * 4 == pytest.approx(bounds(facts.per_day)[0])


@given(POURS)
def test_tubs_add_up_to_all_water(found: list[tuple[int, int, bool]]) -> None:
    """Water of two tubs is that of all together, and so are refills."""
    rows = [
        water(n, litre if known else None, line=n + 1, tub=TWO[gap % 2])
        for n, (gap, litre, known) in enumerate(found)
    ]
    facts = solution(*rows, tubs=TWO)
    each = [t.water for t in facts.tubs if t.water.recorded]
    whole = amount(facts.water)
    assert sum(amount(f).low for f in each) == whole.low
    assert sum(amount(f).unweighed for f in each) == whole.unweighed
    assert (whole.high is None) == any(not known for _, _, known in found)
    refills = [amount(t.refills).low for t in facts.tubs]
    filled_on_day_0 = 1
    assert sum(refills) == amount(facts.refills).low == len(found) - filled_on_day_0


SPANS = st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3)), min_size=3, max_size=6)


def within(inner: Figure, outer: Figure) -> bool:
    """Whether a range holds a number, to the last digits of floats."""
    if isinstance(inner.value, Several) and isinstance(outer.value, Several):
        pairs = zip(inner.value.values, outer.value.values, strict=True)
        each = [
            (one, other) for one, other in pairs if isinstance(one, Quantity) and isinstance(other, Quantity)
        ]
    else:
        each = (
            [(rate(inner), rate(outer))]
            if isinstance(inner.value, Rate)
            else [(amount(inner), amount(outer))]
        )
    return all(
        wide.low - 1e-9 <= one.low and (wide.high is None or (one.high or one.low) <= wide.high + 1e-9)
        for one, wide in each
    )


@given(SPANS)
def test_uncertain_days_give_ranges_that_hold_what_was(spans: list[tuple[int, int]]) -> None:
    """Whatever day of its span each filling and reading was on: uptake, interval and drift lie in their ranges."""
    days = [(10 * n + 5, before, after) for n, (before, after) in enumerate(spans)]
    exact = [water(day, 2, line=n + 1) for n, (day, _, _) in enumerate(days)]
    fuzzy = [
        water(Day(day - before, day + after), 2, line=n + 1, entry=n)
        for n, (day, before, after) in enumerate(days)
    ]
    known, ranges = uptake(*exact), uptake(*fuzzy)
    assert within(known.per_day, ranges.per_day)
    assert within(known.per_plant_day, ranges.per_plant_day)
    assert within(known.interval, ranges.interval)
    read = [ec(day, 1 + day / 50, line=n + 1) for n, (day, _, _) in enumerate(days)]
    about = [
        ec(Day(day - before, day + after), 1 + day / 50, line=n + 1)
        for n, (day, before, after) in enumerate(days)
    ]
    assert within(trend(*read).ec, trend(*about).ec)


@given(st.lists(st.tuples(st.integers(1, 9), st.floats(0.5, 3)), min_size=2, max_size=8))
def test_a_drift_is_the_whole_change_over_the_whole_time(found: list[tuple[int, float]]) -> None:
    """With nothing put in, the drift is from the first reading to the last."""
    day, rows = 0, []
    for gap, value in found:
        day += gap
        rows.append(ec(day, value))
    low, high = bounds(trend(*rows).ec)
    assert low == high == pytest.approx((found[-1][1] - found[0][1]) / (day - found[0][0]), abs=1e-9)
