"""Doses: which count, with how much water, from when until when, and what they come to a litre."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Label
from sitegen.core.facts.tree import Dosing, PlotPoint, RoutineFacts, TubFacts
from sitegen.core.facts.tree import Solution as SolutionFacts
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Event, Reading, Run
from sitegen.core.records.setup import Product
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.solution.feed import feed_from_rate, feed_per_litre
from sitegen.measure.solution.solution import solution_of
from tests.measure.builders import (
    SYRUP,
    event,
    grams,
    litres,
    ml,
    place,
    reading,
    routine,
    run_of,
    setup_of,
)
from tests.measure.values import amount, bounds, lines

FOUR = ("P1", "P2", "P3", "P4")
FILLED = event(Deed.WATER, 0, filled=True)


def rate(low: float, high: float | None = None, step: float = 1, **flags: Any) -> Quantity:
    """A dose a litre."""
    return Quantity(low, low if high is None else high, Dimension.VOLUME_DOSE, step=step, **flags)


def volume(low: float, high: float | None, step: float = 1, **flags: Any) -> Quantity:
    """A volume in millilitres."""
    return Quantity(low, high, Dimension.VOLUME, step=step, **flags)


def water(day: int, amount_: Quantity | None = None, **more: Any) -> Event:
    """Water into a tub."""
    return event(more.pop("deed", Deed.WATER), day, amount=amount_, **more)


def feed(day: int, amount_: Quantity | None = None, **more: Any) -> Event:
    """Syrup into a tub."""
    more = {"product": "syrup", "line": 1500 + day, **more}
    return event(more.pop("deed", Deed.FEED), day, amount=amount_, **more)


def run(
    *rows: Event | Reading | Routine,
    tubs: tuple[str, ...] = ("tub",),
    products: tuple[Product, ...] = (SYRUP,),
) -> Run:
    """A run with these events, readings and routines."""
    return run_of(
        replace(setup_of(tubs=tubs), products=products),
        events=[row for row in rows if isinstance(row, Event)],
        readings=[row for row in rows if isinstance(row, Reading)],
        routines=[row for row in rows if isinstance(row, Routine)],
    )


def solution(*rows: Event | Reading | Routine, **more: Any) -> SolutionFacts:
    """Its solution."""
    return solution_of(run(*rows, **more))


def tub(*rows: Event | Reading | Routine, **more: Any) -> TubFacts:
    """Its first tub."""
    return solution(*rows, **more).tubs[0]


def dose(*rows: Event | Reading | Routine, **more: Any) -> Dosing:
    """Its only product."""
    (found,) = tub(*rows, **more).doses
    return found


@pytest.mark.parametrize(
    ("dosed", "poured", "fed"),
    [
        # N1: 2 ml/L in one US gallon are 7.570824 ml; worked.
        (rate(2), volume(3785.411784, 3785.411784), volume(7.570824, 7.570824, 3.785411784)),
        (rate(2, 3), volume(1000, 2000), volume(2, 6)),
        (
            rate(2, about=True),
            volume(1000, None, by_eye=True, open=1),
            volume(2, None, about=True, by_eye=True, open=1),
        ),
        (rate(2, step=0.5), volume(1000, 1000), volume(2, 2, 0.5)),
    ],
)
def test_feed_from_a_rate(dosed: Quantity, poured: Quantity, fed: Quantity) -> None:
    """A rate times its water, with the bounds and flags of both and the step of the rate in that water."""
    found = feed_from_rate(dosed, poured)
    assert bounds(found) == (pytest.approx(fed.low), None if fed.high is None else pytest.approx(fed.high))
    assert replace(found, low=0, high=0, step=0) == replace(fed, low=0, high=0, step=0)
    assert found.step == pytest.approx(fed.step)


def test_a_rate_by_weight_gives_a_weight() -> None:
    """N4: 0.666667 g/L, which is 100 ppm of nitrogen from a feed with 15 %, in 3 L are 2 g; worked."""
    by_weight = exactly(2 / 3, Dimension.MASS_DOSE)
    assert feed_from_rate(by_weight, volume(3000, 3000)) == exactly(2, Dimension.MASS)
    found = dose(water(9, litres(3)), feed(9, by_weight))
    assert found.total.value == exactly(2, Dimension.MASS)
    assert amount(found.per_litre).dimension is Dimension.MASS_DOSE
    assert bounds(found.per_litre) == (pytest.approx(2 / 3), pytest.approx(2 / 3))


def test_feed_a_litre() -> None:
    """N3: one US teaspoon in one US gallon is 1.302083 ml/L; worked."""
    assert feed_per_litre(4.92892159375, 3785.411784) == pytest.approx(1.302083, abs=5e-7)


BOTH = (SYRUP, replace(SYRUP, id="salt", name="Salt", dose=exactly(9, Dimension.MASS, 1)))


@pytest.mark.parametrize(
    ("given", "whole"),
    [
        (feed(9, rate(3)), volume(6, 6, 2)),
        (feed(9, as_labelled=True), volume(4, 4, 2)),
        (feed(9, as_labelled=True, product="unlisted"), unknown(Dimension.VOLUME)),
        (feed(9, as_labelled=True, product="salt"), unknown(Dimension.VOLUME)),
        (feed(12, rate(3)), unknown(Dimension.VOLUME)),
        (feed(12, exactly(3, Dimension.MASS_DOSE)), unknown(Dimension.VOLUME)),
        (feed(9), unknown(Dimension.VOLUME)),
        (feed(9, grams(4)), grams(4)),
    ],
)
def test_one_dose(given: Event, whole: Quantity) -> None:
    """What a dose comes to, of a product or at a rate, with 2 L poured on day 9."""
    assert dose(water(9, litres(2)), given, products=BOTH).total.value == whole


@pytest.mark.parametrize(
    ("poured", "whole"),
    [
        ((water(9, litres(2)), water(9, litres(1), line=7)), volume(9, 9, 3)),
        ((water(9, litres(2)), water(9, None, line=7)), volume(6, None, 2, unweighed=1)),
        ((water(9, volume(2000, None, open=1)),), volume(6, None, 2, open=1)),
        ((water(9, volume(0, 2000)),), volume(0, 6, 0)),
        ((water(9),), unknown(Dimension.VOLUME)),
        ((water(9, litres(2), entry=8),), unknown(Dimension.VOLUME)),
        ((water(9, litres(2), deed=Deed.CHANGE),), volume(6, 6, 2)),
    ],
)
def test_a_rate_takes_all_the_water_of_its_visit(poured: tuple[Event, ...], whole: Quantity) -> None:
    """3 ml/L with whatever was poured at the visit: several fillings, at least so much, nothing measured."""
    assert dose(*poured, feed(9, rate(3))).total.value == whole


def test_a_rate_takes_the_water_of_its_tub() -> None:
    """Water into another tub at the same visit is not fed."""
    rows = (
        water(9, litres(2), tub="left"),
        water(9, litres(5), tub="right", line=7),
        feed(9, rate(3), tub="left"),
    )
    left, right = solution(*rows, tubs=("left", "right")).tubs
    assert (bounds(left.doses[0].total), right.doses) == ((6, 6), ())


def test_doses_of_two_kinds_of_unit() -> None:
    """Doses in another unit than the first known one are unknown in the sum; the count has them."""
    mixed = dose(feed(3), feed(5, ml(10)), feed(9, grams(4)))
    assert (mixed.total.value, mixed.times.value) == (volume(10, None, 1, unweighed=2), counted(3))
    assert bounds(dose(feed(5, grams(4)), feed(9, ml(10))).total) == (4, None)
    assert amount(dose(feed(5, grams(4)), feed(9, ml(10))).total).dimension is Dimension.MASS
    assert dose(feed(3), feed(5, grams(4))).total.value == Quantity(
        4, None, Dimension.MASS, unweighed=1, step=1
    )


def test_flags_of_doses() -> None:
    """By eye, about and at least reach the sum."""
    rows = (
        feed(5, replace(ml(10), by_eye=True)),
        feed(6, replace(ml(3), about=True)),
        feed(7, replace(ml(2), high=None, open=1)),
    )
    assert dose(*rows).total.value == volume(15, None, 1, about=True, by_eye=True, open=1)


def test_products_of_one_tub() -> None:
    """Each product by itself, in the order of the days on which they were first given, with its rows and names."""
    rows = (
        feed(9, ml(10), product="bloom"),
        feed(5, ml(5)),
        feed(12, ml(5)),
        feed(7, ml(1), product="ph-down", deed=Deed.ADJUST),
        feed(8, ml(2), product=""),
    )
    found = tub(*rows, products=(replace(SYRUP, kind="tonic"),))
    assert [(d.product, d.kind, d.total.value, d.times.value, lines(d.total)) for d in found.doses] == [
        ("syrup", "tonic", ml(10), counted(2), [1505, 1512]),
        ("feed", "feed", ml(2), counted(1), [1508]),
        ("bloom", "feed", ml(10), counted(1), [1509]),
    ]
    assert [(d.product, d.kind, d.total.value) for d in found.adjusted] == [("ph-down", "", ml(1))]
    syrup = found.doses[0]
    assert [(f.name, f.formula, lines(f)) for f in (syrup.total, syrup.times, syrup.per_litre)] == [
        ("solution.tubs.tub.doses.syrup.total", "feed_added", [1505, 1512]),
        ("solution.tubs.tub.doses.syrup.times", "dose_count", [1505, 1512]),
        ("solution.tubs.tub.doses.syrup.per_litre", "feed_per_litre", [1505, 1512]),
    ]
    assert found.adjusted[0].total.name == "solution.tubs.tub.adjusted.ph-down.total"


def per_litre(*rows: Event) -> Any:
    """Bounds of feed a litre; None where it is not known."""
    value = dose(*rows).per_litre.value
    return value and bounds(value)


def test_feed_a_litre_of_what_is_not_certain() -> None:
    """The least feed over the most water to the most feed over the least water."""
    assert per_litre(FILLED, water(9, volume(2000, 4000)), feed(5, volume(12, 30))) == (1, 3)
    assert per_litre(FILLED, water(9), feed(5, ml(20))) == (0, 2.5)
    assert per_litre(FILLED, feed(5, ml(20)), feed(6)) == (2.5, None)
    assert per_litre(FILLED, water(9), feed(5, ml(20)), feed(6)) is None
    assert per_litre(feed(5, ml(20))) is None
    assert per_litre(water(9), feed(5, ml(20))) is None
    assert per_litre(FILLED, feed(5, exactly(9, Dimension.COUNT))) is None


def test_feed_a_litre_with_flags_step_and_rows() -> None:
    """Flags of feed and water, a power of ten as a step, rows of both; without water those of the feed."""
    rows = (FILLED, feed(5, replace(ml(20), by_eye=True, about=True)))
    found = dose(*rows).per_litre
    assert found.value == replace(rate(2.5, step=0.1), about=True, by_eye=True)
    assert (lines(found), lines(dose(feed(5, ml(20))).per_litre)) == ([1000, 1505], [1505])
    both_open = dose(FILLED, water(9), feed(5, ml(20)), feed(6)).per_litre
    assert lines(both_open) == [1505, 1506]


COUNTED = "every logged refill"


def test_a_routine_counts_from_its_day_until_its_end() -> None:
    """A filling on the first day counts, one on the day that ended the routine does not."""
    fillings = [water(day, litres(1)) for day in (4, 5, 19, 20)]
    found = dose(*fillings, routine(5, COUNTED, ml(20), until=20))
    assert (found.total.value, found.times.value, lines(found.total)) == (ml(40), counted(2), [1005, 1019])
    assert dose(*fillings, routine(5, COUNTED, ml(20))).times.value == counted(3)


def test_a_filling_that_may_lie_outside_a_routine() -> None:
    """Its dose is between nothing and all; of two routines that follow on each other it is one or the other."""
    fuzzy = water(4, litres(1))._replace(day=Day(4, 6))
    found = dose(fuzzy, routine(5, COUNTED, ml(20)))
    assert (found.total.value, found.times.value) == (
        volume(0, 20, 1),
        Quantity(0, 1, Dimension.COUNT, step=1),
    )
    ended = dose(fuzzy, routine(2, COUNTED, ml(20), until=5))
    assert ended.total.value == volume(0, 20, 1)
    two = dose(water(2, litres(1)), fuzzy, routine(1, COUNTED, ml(5), until=5), routine(5, COUNTED, ml(8)))
    assert (bounds(two.total), bounds(two.times)) == ((10, 13), (2, 2))


@pytest.mark.parametrize(
    ("often", "times"),
    [
        ("every refill", (2, None)),
        ("Each top-up", (2, None)),
        ("at each topping up", (2, None)),
        ("every logged refill", (2, 2)),
        ("every second refill", None),
        ("every week", None),
    ],
)
def test_what_counts_logged_refills(often: str, times: tuple[int, int | None] | None) -> None:
    """Only a routine at every filling counts those that were logged; the others of it were not counted."""
    doses = tub(water(9, litres(1)), water(12, litres(1)), routine(5, often, ml(20))).doses
    assert [bounds(found.times) for found in doses] == ([times] if times else [])


def test_a_routine_counts_full_changes_and_its_own_tub() -> None:
    """A full change is a filling; fillings of another tub do not count, all do where no tub is named."""
    fillings = (water(9, litres(2), tub="left", deed=Deed.CHANGE), water(9, litres(5), tub="right", line=7))
    named = solution(*fillings, routine(5, COUNTED, ml(20), tub="left"), tubs=("left", "right"))
    assert [[d.times.value for d in t.doses] for t in named.tubs] == [[counted(1)], []]
    bare = solution(*fillings, routine(5, COUNTED, rate(3)), tubs=("left", "right"))
    assert [bounds(t.doses[0].total) for t in bare.tubs] == [(6, 6), (15, 15)]
    alone = dose(water(9, litres(2)), routine(5, COUNTED, ml(20), tub="tub"))
    assert alone.times.value == counted(1)


def test_a_visit_that_logs_the_product_itself_counts_once() -> None:
    """A dose logged at a visit stands for the routine's, of that product and tub alone."""
    rows = (water(9, litres(1)), water(12, litres(1)), feed(9, ml(3)))
    found = dose(*rows, routine(5, COUNTED, ml(20)))
    assert (found.total.value, lines(found.total)) == (ml(23), [1012, 1509])
    other = tub(*rows[:2], feed(9, ml(3), product="bloom"), routine(5, COUNTED, ml(20)))
    assert {d.product: d.total.value for d in other.doses} == {"bloom": ml(3), "syrup": ml(40)}


def test_a_routine_as_labelled() -> None:
    """The label's 2 ml/L with the water of each filling; a routine without a product gives none."""
    labelled = replace(routine(5, COUNTED, ml(99)), as_labelled=True)
    assert bounds(dose(water(9, litres(3)), labelled).total) == (6, 6)
    assert tub(water(9, litres(3)), replace(labelled, product="")).doses == ()


def test_acids_have_no_routine() -> None:
    """A routine of feed adds nothing to acids and bases, and opens none of them."""
    acid = feed(9, ml(2), product="syrup", deed=Deed.ADJUST)
    for often in (COUNTED, "every week"):
        (found,) = tub(water(9, litres(1)), acid, routine(5, often, ml(20))).adjusted
        assert (found.total.value, found.times.value) == (ml(2), counted(1))


def open_feed(*routines: Routine, tubs: tuple[str, ...] = ("left", "right")) -> list[bool]:
    """Whether the feed of the first tub, and how often it was given, are lower bounds."""
    found = dose(feed(9, ml(3), tub=tubs[0]), *routines, tubs=tubs)
    return [bounds(figure)[1] is None for figure in (found.total, found.times)]


def test_which_routines_open_the_feed() -> None:
    """One of the same product into the same tub, or into no tub by name; counted or of others it opens nothing."""
    weekly = routine(5, "every week", ml(10))
    assert open_feed(weekly) == open_feed(replace(weekly, tub="left")) == [True, True]
    assert open_feed(replace(weekly, tub="right")) == [False, False]
    assert open_feed(replace(weekly, product="bloom")) == [False, False]
    assert open_feed(replace(weekly, what="water")) == [False, False]
    assert open_feed(replace(weekly, often=COUNTED)) == [False, False]
    assert open_feed() == [False, False]


def test_a_routine_is_behind_what_it_opens() -> None:
    """Two routines make two open ends, and both are rows."""
    weekly = (routine(5, "every week", ml(10)), routine(6, "on Mondays", ml(10)))
    found = dose(feed(9, ml(3)), *weekly)
    assert found.total.value == volume(3, None, 1, open=1)
    assert found.times.value == Quantity(1, None, Dimension.COUNT, open=1, step=1)
    assert lines(found.total) == lines(found.times) == [1509, 6005, 6006]


def test_routines_are_kept_as_they_are() -> None:
    """A routine is reported whole, product or not, and never totalled by itself."""
    fed = routine(5, "every week", ml(10), until=20, tub="tub")
    plain = Routine("water", Day.on(6), 6, place(9), often="daily")
    assert [replace_label(r) for r in solution(fed, plain).routines] == [
        RoutineFacts(
            "feed", Label(""), "tub", ml(10), False, "every week", Day.on(5), Day.on(20), place(6005)
        ),
        RoutineFacts("water", Label(""), "", None, False, "daily", Day.on(6), None, place(9)),
    ]


def replace_label(found: RoutineFacts) -> RoutineFacts:
    """A routine without what a reader is shown."""
    return replace(found, label=Label(""))


def test_points_of_water_and_feed() -> None:
    """What was poured and fed, by day and tub, ready to be drawn; a dose says its product."""
    rows = (
        feed(9, rate(3)),
        FILLED,
        water(9, litres(2)),
        feed(9, ml(1), product="ph-down", deed=Deed.ADJUST),
    )
    found = solution(*rows)
    assert found.added == (
        PlotPoint(Day.on(0), "tub", litres(8), place(1000)),
        PlotPoint(Day.on(9), "tub", litres(2), place(1009)),
    )
    assert found.fed == (PlotPoint(Day.on(9), "tub", volume(6, 6, 2), place(1509), "syrup"),)


def test_points_of_readings() -> None:
    """EC and pH are drawn as read, under the tub meant, with the moment of the visit."""
    ec, ph = exactly(1.4, Dimension.CONDUCTIVITY, 0.1), exactly(6, Dimension.ACIDITY, 0.1)
    found = solution(reading("ec", 9, ec, line=1, moment="before"), reading("ph", 12, ph, line=2, tub="tub"))
    assert found.ec == (PlotPoint(Day.on(9), "tub", ec, place(1), "", "before"),)
    assert found.ph == (PlotPoint(Day.on(12), "tub", ph, place(2)),)


@given(st.lists(st.tuples(st.integers(1, 40), st.integers(0, 30), st.booleans()), min_size=1, max_size=7))
def test_products_add_up_to_all_doses(given_: list[tuple[int, int, bool]]) -> None:
    """Doses of two products are counted once each, and what is not measured of one leaves the other closed."""
    rows = [
        feed(day, ml(size) if size else None, line=n + 1, product="syrup" if sweet else "bloom")
        for n, (day, size, sweet) in enumerate(given_)
    ]
    doses = tub(*rows).doses
    assert sum(amount(d.times).low for d in doses) == len(given_)
    assert sum(amount(d.total).low for d in doses) == sum(size for _, size, _ in given_)
    for found in doses:
        sizes = [size for _, size, sweet in given_ if sweet == (found.product == "syrup")]
        assert amount(found.total).unweighed == sizes.count(0)
        assert (bounds(found.total)[1] is None) == (0 in sizes)
