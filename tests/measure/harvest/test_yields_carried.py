"""Yields of what went in: intervals, flags, steps, and the rows of both sides."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Per, Rate
from sitegen.core.facts.indices import HarvestPer
from sitegen.core.facts.tree import Facts
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Event, Pick, Tally
from sitegen.core.records.setup import Lamp, LampUse, Setup
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.harvest.yields import ratio, weight_per
from tests.measure.builders import (
    event,
    grams,
    joint,
    litres,
    of,
    pick,
    place,
    run_of,
    seeds,
    setup_of,
    unweighed,
)
from tests.measure.values import amount, bounds, lines, rate

FOUR = ("P1", "P2", "P3", "P4")
P1, P2 = joint("P1"), joint("P2")
ALL = joint(*FOUR, word="all")
SOWN = seeds(0, 2, *FOUR)
ENDED = event(Deed.END, 100, kept=False)


def facts(
    *rows: Event | Pick | Tally | Light, setup: Setup | None = None, ended: Event | None = ENDED
) -> Facts:
    """The facts of a run of 100 days."""
    events = [row for row in rows if isinstance(row, Event)]
    return measure(
        run_of(
            setup or setup_of(),
            events=[SOWN, *events, *([ended] if ended else [])],
            picks=[row for row in rows if isinstance(row, Pick)],
            tallies=[row for row in rows if isinstance(row, Tally)],
            lights=[row for row in rows if isinstance(row, Light)],
        )
    )


def per(*rows: Event | Pick | Tally | Light, **more: Any) -> HarvestPer:
    """Its yields."""
    return facts(*rows, **more).harvest.per


def mass(low: float, high: float | None, step: float = 1, **flags: Any) -> Quantity:
    """A weight between two bounds."""
    return Quantity(low, high, Dimension.MASS, step=step, **flags)


def count(low: float, high: float | None, **flags: Any) -> Quantity:
    """A number of what went in."""
    return Quantity(low, high, Dimension.COUNT, **flags)


@pytest.mark.parametrize(
    ("picked", "against", "made"),
    [
        (mass(540, 540), count(12, 12), mass(45, 45, 0.1)),  # Z18: 540 g of 12 L are 45 g/L, worked
        (mass(500, 600), count(10, 20), mass(25, 60, 0.1)),
        (mass(500, None, unweighed=1), count(10, 20), mass(25, None, 0.1, unweighed=1)),
        (mass(500, 600), count(10, None, open=1), mass(0, 60, 0.1, open=1)),
        (mass(500, 600, about=True), count(10, 20, by_eye=True), mass(25, 60, 0.1, about=True, by_eye=True)),
        (mass(500, 600), count(0, 20), mass(25, None, 0.1)),
        (mass(500, 600), count(0, 0), None),
        (mass(500, 600), count(0, None), None),
        (mass(0, None, unweighed=1), count(10, 20), None),
        (mass(0, 0), count(10, 20), mass(0, 0, 1 / 15)),
        (mass(3, 3), count(400, 400), mass(0.0075, 0.0075, 0.0001)),
    ],
)
def test_ratio(picked: Quantity, against: Quantity, made: Quantity | None) -> None:
    """A yield goes from the least over the most to the most over the least, with the flags of both."""
    found = ratio(picked, against, Per.LITRE)
    if made is None:
        assert found is None
        return
    assert found is not None
    assert found.per is Per.LITRE
    assert bounds(found) == (pytest.approx(made.low), None if made.high is None else pytest.approx(made.high))
    assert replace(found.amount, low=0, high=0, step=0) == replace(made, low=0, high=0, step=0)
    assert found.amount.step == pytest.approx(made.step)


def test_published_yields_in_other_words() -> None:
    """20 L/kg are 50 g/L (Barbosa et al. 2015); 250 L/kg are 4 g/L; worked."""
    assert (weight_per(1000, 20), weight_per(1000, 250)) == (50, 4)


WATERED = event(Deed.WATER, 3, amount=litres(10))


def test_a_litre_carries_both_sides() -> None:
    """Water that nobody measured leaves a yield without a lower bound, a harvest without a weight none at all."""
    opened = per(WATERED, event(Deed.WATER, 9), pick(80, P1, grams(500))).litre
    assert bounds(opened) == (0, 50)
    assert (lines(opened), rate(opened).unweighed) == ([1003, 1009, 2080], 1)
    both = per(WATERED, event(Deed.WATER, 9), pick(80, P1, grams(500)), pick(81, P1, unweighed())).litre
    assert (both.value, lines(both)) == (None, [2080, 2081])
    assert per(pick(80, P1, grams(500))).litre.value is None
    nothing = per(WATERED).litre
    assert (nothing.value, lines(nothing), nothing.formula) == (None, [], "weight_per")


def test_rows_where_the_other_side_is_not_known() -> None:
    """A yield that cannot be made leads to the picks alone."""
    assert lines(per(pick(80, P1, grams(500))).kilowatt_hour) == [2080]
    assert lines(per(pick(80, P1, grams(500))).stem) == [2080]


def test_a_yield_of_days() -> None:
    """The length of the run with its own uncertainty, and the row of its end."""
    spans = event(Deed.END, 100)._replace(day=Day(95, 105, about=True))
    found = per(pick(80, P1, grams(500)), ended=spans).day
    assert bounds(found) == (pytest.approx(500 / 105), pytest.approx(500 / 95))
    assert (rate(found).about, lines(found)) == (True, [1100, 2080])
    running = per(pick(80, P1, grams(500)), ended=None).day
    assert (bounds(running), lines(running)) == ((6.25, 6.25), [180, 2080])


def test_weeks_of_picking() -> None:
    """A week is seven days between first and last pick; uncertain days make a range, and rows of both."""
    late = replace(pick(94, P2, grams(40)), day=Day(94, 101, about=True))
    found = per(pick(80, P1, grams(100)), late).week_of_picking
    assert bounds(found) == (pytest.approx(140 / 3), pytest.approx(70))
    assert (rate(found).about, lines(found)) == (True, [2080, 2094])
    assert found.value == Rate(rate(found), Per.WEEK)
    one_day = per(pick(80, P1, grams(100)), pick(80, P2, grams(100), 7)).week_of_picking
    assert (one_day.value, lines(one_day)) == (None, [7, 2080])
    assert per().week_of_picking.value is None


def test_plants_that_were_picked() -> None:
    """Each plant counts once, however often; one pick of plants not named leaves no number."""
    rows = (pick(80, joint("P1", "P2"), grams(100)), pick(85, P1, grams(50)))
    found = per(*rows).plant_picked
    assert (found.value, lines(found)) == (Rate(mass(75, 75), Per.PLANT), [2080, 2085])
    for which in (of(2, 4), joint()):
        assert per(*rows, pick(90, which, grams(5))).plant_picked.value is None


def thinned(day: int, number: int, *ids: str, **more: Any) -> Event:
    """Some spots thinned to a number of stems."""
    return event(Deed.THIN, day, joint(*ids), amount=counted(number), each=True, **more)


def stems(*events: Event) -> tuple[Any, list[int]]:
    """Grams a stem of 120 g, and the rows."""
    found = per(*events, pick(80, ALL, grams(120))).stem
    return (found.value and bounds(found), lines(found))


def test_stems() -> None:
    """Each spot has one stem at least and as many as its last thinning left at most."""
    assert stems(thinned(12, 2, "P1", "P2")) == ((20, 30), [1012, 2080])
    assert stems(thinned(12, 3, "P1"), thinned(14, 2, "P1", "P2")) == ((20, 30), [1014, 2080])
    assert stems(thinned(14, 2, "P1", "P2"), thinned(12, 3, "P1")) == ((20, 30), [1014, 2080])
    assert stems(thinned(12, 1, *FOUR)) == (None, [2080])
    assert stems() == (None, [2080])


def test_a_thinning_before_the_own_sowing_says_nothing() -> None:
    """In a spot sown again, stems left before count no more; those left on the day of sowing do."""
    assert stems(thinned(12, 2, "P1", "P2"), seeds(20, 1, "P1")) == ((24, 30), [1012, 2080])
    assert stems(thinned(20, 2, "P1", "P2"), seeds(20, 1, "P1")) == ((20, 30), [1020, 2080])


def test_a_thinning_without_a_number() -> None:
    """A spot of which nobody said how many stems were left counts as one."""
    bare = event(Deed.THIN, 12, joint("P2"))
    assert stems(thinned(11, 2, "P1"), bare) == ((24, 30), [1011, 1012, 2080])


def wide(*sides: tuple[Quantity, Quantity] | None) -> Setup:
    """A head with a tub for each footprint."""
    setup = setup_of(tubs=tuple(f"t{n + 1}" for n in range(len(sides))))
    tubs = tuple(
        replace(tub, system=replace(tub.system, footprint=side))
        for tub, side in zip(setup.tubs, sides, strict=True)
    )
    return replace(setup, tubs=tubs, spans=(("system", place(7)),))


def cm(low: float, high: float | None = None, **flags: Any) -> Quantity:
    """A length."""
    return Quantity(low, low if high is None else high, Dimension.LENGTH, step=1, **flags)


def test_ground() -> None:
    """The areas of all tubs add up, with their ranges and flags; one without a footprint leaves none."""
    two = per(
        pick(80, P1, grams(100)), setup=wide((cm(50), cm(40)), (cm(50), cm(60, 80, about=True)))
    ).square_metre
    assert bounds(two) == (pytest.approx(100 / 0.6), pytest.approx(200))
    assert (rate(two).about, lines(two)) == (True, [7, 2080])
    one = per(pick(80, P1, grams(100)), setup=wide((cm(50), cm(40)), None)).square_metre
    assert (one.value, lines(one)) == (None, [2080])


LAMP = Lamp("bar", "Bar", exactly(24, Dimension.POWER, 1), exactly(200, Dimension.PHOTON_FLUX, 10), cm(30))
USE = LampUse(LAMP, exactly(16, Dimension.DURATION, 1), cm(30))


def lit(tub: str, day: int = 0, use: LampUse = USE) -> Light:
    """A tub's lamp set from a day on."""
    return Light(Day.on(day), None, place(day + 1), tub, use)


def test_current_and_light() -> None:
    """38.4 kWh and 1152 mol/m² in 100 days; light counts with the footprint it fell on."""
    found = per(lit("t1"), pick(80, P1, grams(384)), setup=wide((cm(50), cm(40))))
    assert bounds(found.kilowatt_hour) == (pytest.approx(10), pytest.approx(10))
    assert bounds(found.mol) == (pytest.approx(384 / (1152 * 0.2)), pytest.approx(384 / (1152 * 0.2)))
    assert [lines(f) for f in (found.kilowatt_hour, found.mol)] == [[1, 2080]] * 2
    assert [f.value.per for f in (found.kilowatt_hour, found.mol) if isinstance(f.value, Rate)] == [
        Per.KILOWATT_HOUR,
        Per.MOL,
    ]


def test_light_of_two_tubs() -> None:
    """Light of all tubs adds up; a tub without a lamp or a footprint leaves a yield of at most so much."""
    both = wide((cm(50), cm(40)), (cm(100), cm(30)))
    dark = lit("t2", use=replace(USE, off=True))
    found = per(lit("t1"), dark, lit("t2", 50), pick(80, P1, grams(384)), setup=both).mol
    assert bounds(found) == (pytest.approx(384 / (1152 * 0.2 + 576 * 0.3)),) * 2
    assert lines(found) == [1, 51, 2080]
    dark = per(lit("t1"), pick(80, P1, grams(384)), setup=both).mol
    assert bounds(dark) == (0, pytest.approx(384 / (1152 * 0.2)))
    bare = wide((cm(50), cm(40)), None)
    assert bounds(per(lit("t1"), lit("t2"), pick(80, P1, grams(384)), setup=bare).mol) == bounds(dark)


def test_no_light_is_no_yield_of_light() -> None:
    """A lamp that was off, or was never set, or shone on an unknown ground, gives no yield of light."""
    ground = wide((cm(50), cm(40)))
    off = replace(USE, off=True)
    assert per(lit("t1", use=off), pick(80, P1, grams(384)), setup=ground).mol.value is None
    assert per(pick(80, P1, grams(384)), setup=ground).mol.value is None
    assert per(lit("tub"), pick(80, P1, grams(384))).mol.value is None


def test_names_of_yields() -> None:
    """Each yield goes by its path."""
    found = per(pick(80, P1, grams(384)))
    names = [each.name for each in fields(HarvestPer)]
    assert [getattr(found, name).name for name in names] == [f"harvest.per.{name}" for name in names]


ENDS = st.tuples(st.integers(1, 500), st.integers(0, 500))


@given(ENDS, ENDS, st.floats(0, 1), st.floats(0, 1))
def test_an_exact_yield_lies_within_that_of_ranges(
    picked: tuple[int, int], poured: tuple[int, int], at: float, where: float
) -> None:
    """Any weight over any amount within what was written lies within the yield."""
    found = ratio(mass(picked[0], sum(picked)), count(poured[0], sum(poured)), Per.LITRE)
    low, high = bounds(found)
    exact = weight_per(picked[0] + at * picked[1], poured[0] + where * poured[1])
    assert low - 1e-9 <= exact <= high + 1e-9


@given(st.lists(st.integers(1, 300), min_size=1, max_size=5), st.integers(0, 2))
def test_yields_agree_with_each_other(weights: list[int], unknown: int) -> None:
    """A day's yield times the days, and a litre's times the litres, are the total; what opens it opens both."""
    rows = [pick(40 + 5 * n, P1, grams(weight), line=n + 1) for n, weight in enumerate(weights)]
    rows += [pick(80, P2, unweighed(), line=50 + n) for n in range(unknown)]
    found = facts(WATERED, *rows).harvest
    whole = amount(found.total)
    for figure, times in ((found.per.day, 100), (found.per.litre, 10)):
        low, high = bounds(figure)
        assert low * times == pytest.approx(whole.low)
        assert (high is None) == (whole.high is None) == bool(unknown)
        assert rate(figure).unweighed == unknown
