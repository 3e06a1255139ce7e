"""Days that plants stood, the yield of a plant and day, and electricity for a kilogram."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Per, Rate
from sitegen.core.facts.tree import Facts
from sitegen.core.language.wording import Wording
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Event, Pick, Which
from sitegen.core.records.setup import Lamp, LampUse, Setup
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.harvest.plant_days import Standing
from sitegen.measure.harvest.yields import energy_per_weight
from tests.measure.builders import (
    event,
    grams,
    joint,
    of,
    pick,
    place,
    remarks_of,
    run_of,
    seeds,
    setup_of,
    some,
    unweighed,
)
from tests.measure.published import published
from tests.measure.values import bounds, lines, rate

FOUR = ("P1", "P2", "P3", "P4")
ALL = joint(*FOUR, word="all")
SOWN = seeds(0, 2, *FOUR)
ENDED = event(Deed.END, 100, kept=False)


def facts(*rows: Event | Pick | Light, setup: Setup | None = None, ended: Event | None = ENDED) -> Facts:
    """The facts of four plants over 100 days."""
    events = [row for row in rows if isinstance(row, Event)]
    return measure(
        run_of(
            setup or setup_of(),
            events=[SOWN, *events, *([ended] if ended else [])],
            picks=[row for row in rows if isinstance(row, Pick)],
            lights=[row for row in rows if isinstance(row, Light)],
        )
    )


def lost(day: int | Day, *ids: str, which: Any = None, line: int = 500) -> Event:
    """Plants lost on a day, by name or not."""
    made = event(Deed.LOST, 0, which or joint(*ids), line, entry=day.last if isinstance(day, Day) else day)
    return made._replace(day=day if isinstance(day, Day) else Day.on(day))


def stood(*events: Event, ended: Event | None = ENDED) -> tuple[float, float | None]:
    """The plant-days of a run of four plants."""
    made = run_of(events=[SOWN, *events, *([ended] if ended else [])])
    standing = Standing.of(made)
    assert standing is not None
    days, _ = standing.days(FOUR, {})
    return days.low, days.high


def test_a_loss_that_names_no_plant_may_be_of_another() -> None:
    """One of four was lost on day 30, not said which: two of them stood 130 to 200 plant-days together."""
    made = run_of(events=[SOWN, lost(30, which=of(1, 4)), ENDED])
    standing = Standing.of(made)
    assert standing is not None
    days, _ = standing.days(FOUR[:2], {})

    assert (days.low, days.high) == (130, 200)


@pytest.mark.parametrize(
    ("events", "days"),
    [
        ((), (400, 400)),
        ((lost(30, "P1"),), (330, 330)),
        ((lost(Day(30, 40), "P1"),), (330, 340)),
        ((lost(Day(0, 39, before=True), "P1"),), (300, 339)),
        ((lost(30, "P1"), seeds(50, 1, "P1")), (380, 380)),
        ((seeds(50, 1, "P1"),), (400, 400)),
        ((lost(30, which=of(1, 4)),), (330, 330)),
        ((lost(Day(30, 40), which=of(2, 4)),), (260, 280)),
        ((lost(30, which=some()),), (120, 330)),
        ((lost(30, which=of(1, 4)), seeds(50, 1, "P2")), (330, 400)),
    ],
    ids=[
        "all",
        "one lost",
        "on a span",
        "before a day",
        "sown again",
        "sown over",
        "not named",
        "two",
        "some",
        "not named, sown again",
    ],
)
def test_plant_days(events: tuple[Event, ...], days: tuple[int, int]) -> None:
    """Each plant counts from its sowing to its loss or the end; losses without a name or a day leave a range (worked)."""
    assert stood(*events) == days


@pytest.mark.parametrize(
    ("which", "day", "about"),
    [(of(1, 4), 30, True), (joint("P1"), 30, True), (some(), 30, True), (of(1, 4), 102, False)],
    ids=["not named", "named", "some", "after the end"],
)
def test_a_loss_about_a_day(which: Which, day: int, about: bool) -> None:
    """A loss about a day before the end makes the yield of a plant and day about, whether its plants are named or not."""
    gone = lost(Day.on(day, about=True), which=which)
    per = facts(gone, pick(80, joint("P2"), grams(660))).harvest.per.plant_day
    assert rate(per).about is about
    assert lines(per) == [500, 2080]


def test_an_uncertain_end() -> None:
    """An end on a span of days makes the plant-days a range; without an end they run to the last entry."""
    assert stood(ended=ENDED._replace(day=Day(90, 100))) == (360, 400)
    assert stood(lost(60, "P1"), ended=None) == (240, 240)


def test_a_pick_after_the_end_shows_that_plants_stood() -> None:
    """Plants that were kept and picked after the end stood until then."""
    found = facts(pick(120, ALL, grams(480)), ended=event(Deed.END, 100, kept=True)).harvest.per.plant_day
    assert bounds(found) == (1, 1)


def test_a_plant_and_day() -> None:
    """660 g of four plants, of which one stood 30 of 100 days: 2 g a plant and day (worked)."""
    found = facts(lost(30, "P1"), pick(80, joint("P2", "P3"), grams(660), 9)).harvest.per.plant_day
    assert found.value == Rate(exactly(2, Dimension.MASS, 0.01), Per.PLANT_AND_DAY)
    assert (found.name, lines(found)) == ("harvest.per.plant_day", [9, 500])
    assert found.formula == "weight_per"


def test_what_is_open_stays_open() -> None:
    """A pick that nobody weighed leaves a lower bound, a loss on an uncertain day a range."""
    opened = facts(pick(80, ALL, grams(400)), pick(81, ALL, unweighed())).harvest.per.plant_day
    assert (bounds(opened), remarks_of(opened)) == ((1, None), "one pick was not weighed")
    ranged = facts(lost(Day(0, 100), "P1"), pick(80, joint("P2"), grams(600))).harvest.per.plant_day
    assert bounds(ranged) == (1.5, 2)


def test_a_moved_plant_counts_for_its_group_until_its_move() -> None:
    """Harvest and days of a moved plant count for its group and tub until the move, and for the run to the end."""
    setup = setup_of(tubs=("left", "right"), groups=(("a", FOUR[:2]), ("b", FOUR[2:])))
    move = event(Deed.MOVE, 60, joint("P1"), 700, tub="right")
    picks = (
        pick(50, joint("P1"), grams(60), 1),
        pick(80, joint("P1"), grams(500), 2),
        pick(81, joint("P2"), grams(100), 3),
        pick(82, joint("P3"), grams(100), 4),
    )
    found = facts(move, *picks, setup=setup)
    left, right = found.sets.by_tub
    assert (bounds(left.plant_day), lines(left.plant_day)) == ((1, 1), [1, 3, 700])
    assert (bounds(right.plant_day), bounds(found.harvest.per.plant_day)) == ((0.5, 0.5), (1.9, 1.9))
    assert bounds(found.sets.by_group[0].plant_day) == (1, 1)
    assert left.plant_day.name == "sets.by_tub.left.plant_day"


STAYS = st.lists(st.tuples(st.integers(1, 99), st.integers(0, 9), st.integers(0, 9)), min_size=4, max_size=4)


@given(STAYS, st.integers(0, 9), st.integers(0, 9), st.integers(0, 2))
def test_plant_days_hold_the_days_that_there_were(
    losses: list[tuple[int, int, int]], before: int, after: int, unnamed: int
) -> None:
    """Losses on spans of days, with and without names, and an end on a span: the sum contains the true one."""
    named = [
        lost(Day(max(0, day - back), day + on), plant, line=500 + n)
        for n, (plant, (day, back, on)) in enumerate(zip(FOUR[unnamed:], losses[unnamed:], strict=True))
    ]
    hidden = [
        lost(Day(max(0, day - back), day + on), which=of(1, 4), line=600 + n)
        for n, (day, back, on) in enumerate(losses[:unnamed])
    ]
    ended = ENDED._replace(day=Day(110 - before, 110 + after))
    low, high = stood(*named[1:], *hidden, ended=ended)
    standing = FOUR[unnamed:][:1]
    truth = sum(day for day, _, _ in losses[:unnamed]) + 110 * len(standing)
    truth += sum(day for day, _, _ in losses[unnamed + 1 :])
    assert low <= truth
    assert high is not None
    assert truth <= high


LAMP = Lamp("bar", "Bar", exactly(24, Dimension.POWER, 1))
USE = LampUse(LAMP, exactly(16, Dimension.DURATION, 1))
LIT = Light(Day.on(0), None, place(1), "tub", USE)


@pytest.mark.parametrize("row", published("energy_per_weight"), ids=lambda row: row["case"])
def test_published_electricity_for_a_kilogram(row: dict[str, str]) -> None:
    """Energy for a kilogram of lettuce as published, in kilowatt hours."""
    found = energy_per_weight(float(row["energy"]), float(row["picked"]))
    assert found == pytest.approx(float(row["per"]), abs=float(row["precision"]))


def test_electricity_for_a_kilogram() -> None:
    """24 W for 16 h over 100 days are 38.4 kWh; for 800 g, 48 kWh a kilogram and 20.8 g a kilowatt hour (worked)."""
    found = facts(LIT, pick(80, ALL, grams(800), 9)).harvest.per
    assert isinstance(found.kilogram.value, Rate)
    assert (found.kilogram.value.per, rate(found.kilogram).dimension) == (Per.KILOGRAM, Dimension.ENERGY)
    assert bounds(found.kilogram) == pytest.approx((48, 48))
    assert bounds(found.kilowatt_hour) == pytest.approx((800 / 38.4,) * 2)
    assert (found.kilogram.name, found.kilogram.formula) == ("harvest.per.kilogram", "energy_per_weight")


def test_electricity_for_what_was_not_weighed() -> None:
    """A harvest of at least so much leaves at most so much electricity; none at all without a weight or a lamp."""
    opened = facts(LIT, pick(80, ALL, grams(800)), pick(81, ALL, unweighed())).harvest.per.kilogram
    assert (bounds(opened), remarks_of(opened)) == ((0, pytest.approx(48)), "one pick was not weighed")
    for found, said in (
        (facts(LIT), "no harvest was logged"),
        (facts(pick(80, ALL, grams(800))), "the lamp was not recorded"),
        (facts(LIT, pick(80, ALL, unweighed())), "one pick was not weighed"),
        (facts(LIT, pick(80, ALL, grams(0))), "nothing_weighed"),
    ):
        figure = found.harvest.per.kilogram
        assert (figure.value, remarks_of(figure)) == (
            None,
            said.replace("nothing_weighed", "nothing was weighed"),
        )


WEIGHTS = st.tuples(st.integers(1, 900), st.integers(0, 90))


@given(WEIGHTS, st.floats(0, 1), st.booleans())
def test_both_yields_of_electricity_say_the_same(weight: tuple[int, int], at: float, open_: bool) -> None:
    """Electricity for a kilogram is the yield of a kilowatt hour turned over, bound for bound, and holds the true one."""
    low, more = weight
    size = replace(grams(low), high=None if open_ else low + more, open=int(open_))
    per = facts(LIT, pick(80, ALL, size)).harvest.per
    least, most = bounds(per.kilowatt_hour)
    best, worst = bounds(per.kilogram)
    assert worst == pytest.approx(1000 / least)
    assert best == pytest.approx(0 if most is None else 1000 / most)
    truth = energy_per_weight(38.4, low + at * more)
    assert best - 1e-9 <= truth <= worst + 1e-9


def test_words_of_electricity_for_a_kilogram() -> None:
    """In both systems: 48 kWh for a kilogram are 21.8 kWh for a pound of 453.59237 g (by definition)."""
    value = Rate(Quantity(48, 48, Dimension.ENERGY, step=1), Per.KILOGRAM)
    assert Wording().say(value) == "48\u00a0kWh per\u00a0kg (21.8\u00a0kWh per\u00a0lb)"
