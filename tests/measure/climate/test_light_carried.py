"""Days, flags, steps and rows of lamp settings."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Per, Rate
from sitegen.core.facts.indices import TubClimate
from sitegen.core.facts.tree import Climate
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Event
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.climate.climate import climate_of
from sitegen.measure.climate.light import settings_of
from tests.measure.builders import event, place, remarks_of, run_of, setup_of
from tests.measure.values import amount, bounds, lines, rate

LAMP = Lamp(
    "bar",
    "Bar",
    exactly(24, Dimension.POWER, 1),
    exactly(200, Dimension.PHOTON_FLUX, 10),
    exactly(30, Dimension.LENGTH, 1),
)
HOURS = exactly(16, Dimension.DURATION, 1)
USE = LampUse(LAMP, HOURS, exactly(30, Dimension.LENGTH, 1))
OFF = replace(USE, off=True)
ENDED = event(Deed.END, 30, kept=False)


def setting(day: int | Day, use: LampUse, tub: str = "tub", entry: int | None = None, line: int = 0) -> Light:
    """A lamp set so from a day on."""
    when = day if isinstance(day, Day) else Day.on(day)
    return Light(when, entry, place(line or when.first + 1), tub, use)


def lit(*lights: Light, events: tuple[Event, ...] = (ENDED,), tubs: tuple[str, ...] = ("tub",)) -> Climate:
    """The climate of a run with these settings."""
    return climate_of(run_of(setup_of(tubs=tubs), events=events, lights=lights))


def tub(*lights: Light, **more: Any) -> TubClimate:
    """The only tub of such a run."""
    return lit(*lights, **more).tubs[0]


def days_of(
    *lights: Light, events: tuple[Event, ...] = (ENDED,), tubs: tuple[str, ...] = ("tub",)
) -> list[tuple[int, int]]:
    """How many days each setting of the first tub lasted, at least and at most."""
    run = run_of(setup_of(tubs=tubs), events=events, lights=lights)
    return [(found.least, found.most) for found in settings_of(run, tubs[0])]


def test_a_setting_lasts_until_the_next_or_the_end() -> None:
    """Each setting lasts until the next one's first day, the last until the run ended, or to the last entry."""
    assert days_of(setting(0, USE), setting(10, OFF)) == [(10, 10), (20, 20)]
    assert days_of(setting(0, USE), events=(event(Deed.NOTE, 25),)) == [(25, 25)]
    after = (event(Deed.END, 30, kept=True), event(Deed.NOTE, 45))
    assert days_of(setting(0, USE), events=after) == [(30, 30)]
    assert days_of(setting(40, USE)) == days_of() == []


def test_before_the_first_setting_nothing_was_recorded() -> None:
    """From day 0 to the first setting the lamp is not known: the settings last as long as the run."""
    assert days_of(setting(5, USE)) == [(5, 5), (25, 25)]
    facts = tub(setting(5, USE))
    assert bounds(facts.energy) == (pytest.approx(0.384 * 25), None)
    assert remarks_of(facts.energy) == "the lamp was not recorded for 5 days"


def test_a_change_on_a_span_of_days() -> None:
    """16 h to day 10-30 of 60 and 12 h after it: 24 W give 18.24 to 20.16 kWh, by definition of the quantities."""
    shorter = replace(USE, hours=exactly(12, Dimension.DURATION, 1))
    ended = (event(Deed.END, 60, kept=False),)
    facts = tub(setting(0, USE), setting(Day(10, 30), shorter), events=ended)
    assert days_of(setting(0, USE), setting(Day(10, 30), shorter), events=ended) == [(10, 30), (30, 50)]
    assert bounds(facts.energy) == (pytest.approx(18.24), pytest.approx(20.16))
    assert bounds(facts.light_sum) == (pytest.approx(547.2), pytest.approx(604.8))
    assert not amount(facts.energy).about


def test_an_end_on_a_span_of_days() -> None:
    """An end on day 30-50 leaves 16 h of 24 W at 11.52 to 19.2 kWh; an unknown stretch is a span of days too."""
    end = event(Deed.END, 30, kept=False)._replace(day=Day(30, 50))
    assert bounds(tub(setting(0, USE), events=(end,)).energy) == (pytest.approx(11.52), pytest.approx(19.2))
    found = tub(setting(0, USE), setting(10, replace(USE, lamp=None)), events=(end,)).energy
    assert remarks_of(found) == "the lamp was not recorded for 20–40 days"


def test_about_is_carried_where_the_settings_differ() -> None:
    """A change on about some day makes the sums about, unless light or current is the same on both sides."""
    about = Day.on(36, about=True)
    raised = replace(USE, distance=exactly(40, Dimension.LENGTH, 1))
    ended = (event(Deed.END, 60, kept=False),)
    assert amount(tub(setting(0, USE), setting(about, OFF), events=ended).energy).about
    assert not amount(tub(setting(0, USE), setting(about, USE), events=ended).energy).about
    assert not amount(tub(setting(0, USE), setting(about, raised), events=ended).energy).about
    assert amount(tub(setting(0, USE), setting(about, raised), events=ended).light_sum).about
    end = event(Deed.END, 30, kept=False)._replace(day=Day.on(30, about=True))
    assert amount(tub(setting(0, USE), events=(end,)).energy).about


CHANGES = st.lists(
    st.tuples(
        st.integers(0, 12),
        st.integers(0, 4),
        st.booleans(),
        st.sampled_from((USE, OFF, replace(USE, hours=Quantity(4, 8, Dimension.DURATION)))),
    ),
    min_size=1,
    max_size=3,
)


@given(CHANGES, st.integers(0, 14), st.integers(0, 4))
def test_sums_over_all_placements_of_the_changes(
    changes: list[tuple[int, int, bool, LampUse]], first: int, more: int
) -> None:
    """Light and current reach from the smallest to the largest sum of any days, in order, that the log allows."""
    spans = [
        Day(0, day + wide, before=True) if before and day + wide else Day(day, day + wide)
        for day, wide, before, _ in changes
    ]
    found = sorted(zip(spans, (use for *_, use in changes), strict=True), key=lambda pair: pair[0].key)
    end = Day(first, first + more)
    lights = [setting(0, OFF), *(setting(day, use, entry=n) for n, (day, use) in enumerate(found))]
    facts = tub(*lights, events=(event(Deed.END, first, kept=False)._replace(day=end),))
    within = [(day, use) for day, use in found if day.first <= end.last]
    uses = [use for _, use in within]
    hours = [(0, 0) if use.off or not use.hours else (use.hours.low, use.hours.high or 0) for use in uses]
    lowest, highest = [], []
    for placed in product(*(range(day.first, day.last + 1) for day in (*(d for d, _ in within), end))):
        if list(placed) != sorted(placed):
            continue
        days = [until - since for since, until in pairwise(placed)]
        lowest.append(sum(n * low for n, (low, _) in zip(days, hours, strict=True)))
        highest.append(sum(n * high for n, (_, high) in zip(days, hours, strict=True)))
    assert bounds(facts.energy) == (
        pytest.approx(0.024 * min(lowest), abs=1e-9),
        pytest.approx(0.024 * max(highest), abs=1e-9),
    )
    assert bounds(facts.light_sum) == (
        pytest.approx(0.72 * min(lowest), abs=1e-9),
        pytest.approx(0.72 * max(highest), abs=1e-9),
    )


def test_settings_are_taken_in_the_order_of_days_and_visits() -> None:
    """Of two settings of one day, the one of the later visit holds on; the one from the start comes first."""
    late, early = setting(5, OFF, entry=4, line=8), setting(5, USE, entry=2, line=9)
    assert days_of(late, early) == [(5, 5), (0, 0), (25, 25)]
    assert bounds(tub(late, early).energy) == (0, None)
    start = setting(5, USE, line=99)
    assert bounds(tub(late, start).energy) == (0, None)


def test_a_setting_belongs_to_its_tub() -> None:
    """A setting that names no tub is the lone tub's, and nobody's where there are two."""
    assert days_of(setting(0, USE, tub="")) == [(30, 30)]
    assert days_of(setting(0, USE, tub=""), tubs=("left", "right")) == []
    assert days_of(setting(0, USE, tub="right"), tubs=("left", "right")) == []
    assert days_of(setting(0, USE, tub="other")) == []


def test_flags_and_ranges_reach_light_and_current() -> None:
    """Hours by eye and a power that is about make the sums so; a range of hours makes ranges."""
    power = replace(LAMP, power=replace(exactly(24, Dimension.POWER, 1), about=True))
    use = replace(USE, lamp=power, hours=Quantity(12, 16, Dimension.DURATION, by_eye=True, step=1))
    facts = tub(setting(0, use))
    assert facts.energy.value == Quantity(8.64, 11.52, Dimension.ENERGY, about=True, by_eye=True, step=0.1)
    dli, light = rate(facts.dli), amount(facts.light_sum)
    assert bounds(dli) == (pytest.approx(8.64), pytest.approx(11.52))
    assert bounds(light) == (pytest.approx(259.2), pytest.approx(345.6))
    assert (dli.about, dli.by_eye, light.about, light.by_eye) == (False, True, False, True)


def test_steps_of_light_and_current() -> None:
    """A finer lamp gives a finer integral; two digits of the value are always left."""
    fine = replace(
        LAMP, ppfd=exactly(200, Dimension.PHOTON_FLUX, 0.1), power=exactly(24, Dimension.POWER, 0.1)
    )
    facts = tub(setting(0, replace(USE, lamp=fine)))
    assert rate(facts.dli) == exactly(11.52, Dimension.LIGHT_SUM, 0.01)
    assert amount(facts.light_sum) == exactly(11.52 * 30, Dimension.LIGHT_SUM, 0.01 * 30)
    assert amount(facts.energy) == exactly(11.52, Dimension.ENERGY, 0.1)
    # 200 W to 100 W: 3 kWh of 96 kWh may be missing, and still two digits are written.
    coarse = replace(LAMP, power=exactly(200, Dimension.POWER, 100))
    assert amount(tub(setting(0, replace(USE, lamp=coarse))).energy) == exactly(96, Dimension.ENERGY, 1)


def test_a_lamp_that_is_off_is_dark_and_known() -> None:
    """Off is 0 mol and 0 kWh, whatever else was recorded of the lamp."""
    for use in (OFF, LampUse(off=True)):
        facts = tub(setting(0, use))
        assert facts.dli.value == Rate(exactly(0, Dimension.LIGHT_SUM), Per.DAY)
        assert (bounds(facts.light_sum), bounds(facts.energy)) == ((0, 0), (0, 0))


@pytest.mark.parametrize(
    ("use", "light", "current"),
    [
        (replace(USE, lamp=None), False, False),
        (replace(USE, hours=None), False, False),
        (replace(USE, lamp=replace(LAMP, ppfd=None)), False, True),
        (replace(USE, lamp=replace(LAMP, ppfd_at=None)), False, True),
        (replace(USE, distance=None), False, True),
        (replace(USE, distance=Quantity(30, 32, Dimension.LENGTH)), False, True),
        (replace(USE, lamp=replace(LAMP, ppfd_at=Quantity(30, 32, Dimension.LENGTH))), False, True),
        (replace(USE, distance=exactly(30.1, Dimension.LENGTH)), False, True),
        (replace(USE, distance=exactly(30 + 1e-12, Dimension.LENGTH)), True, True),
        (replace(USE, lamp=replace(LAMP, power=None)), True, False),
        (USE, True, True),
    ],
)
def test_what_must_be_known(use: LampUse, light: bool, current: bool) -> None:
    """Light needs lamp, hours, strength and the distance it is stated for; current needs lamp, hours and power."""
    facts = tub(setting(0, use))
    assert [f.recorded for f in (facts.dli, facts.light_sum, facts.energy)] == [light, light, current]


def test_what_is_not_known_of_some_days_opens_the_sums() -> None:
    """A setting that lasted makes the sums lower bounds; one that another replaced the same day does not."""
    dark = replace(USE, lamp=None)
    lasting = tub(setting(0, USE), setting(20, dark))
    assert amount(lasting.energy) == Quantity(7.68, None, Dimension.ENERGY, unweighed=1, step=0.1)
    assert (bounds(lasting.light_sum)[1], amount(lasting.light_sum).unweighed) == (None, 1)
    assert bounds(lasting.dli) == (11.52, 11.52)
    replaced = tub(setting(0, dark), setting(0, USE, entry=1))
    assert (bounds(replaced.energy), bounds(replaced.light_sum)) == (
        (11.52, 11.52),
        (pytest.approx(345.6), pytest.approx(345.6)),
    )


def test_a_setting_of_no_days_has_no_integral() -> None:
    """A strength that was replaced on its own day is not in the range of daily integrals."""
    strong = replace(USE, hours=exactly(20, Dimension.DURATION, 1))
    assert bounds(tub(setting(0, strong), setting(0, USE, entry=1)).dli) == (11.52, 11.52)
    assert bounds(tub(setting(0, strong), setting(1, USE, entry=1)).dli) == (11.52, pytest.approx(14.4))


def test_a_setting_that_may_have_lasted_no_day_is_about() -> None:
    """A lamp on, known of days 26 to 30 alone, may have been turned on when the run ended: nothing certain is left."""
    found = tub(setting(Day(26, 30), USE)).dli.value
    assert isinstance(found, Rate)
    assert (found.amount.low, found.amount.about) == (11.52, True)
    near = tub(setting(Day.on(29, about=True), USE)).dli.value
    assert isinstance(near, Rate)
    assert near.amount.about
    certain = tub(setting(Day(26, 29), USE)).dli.value
    assert isinstance(certain, Rate)
    assert certain.amount.exact


def test_rows_and_formulas_of_light() -> None:
    """The integral leads to the settings it is known for, the sums to all; where nothing is known, to none."""
    facts = tub(setting(0, USE), setting(20, replace(USE, lamp=None)))
    assert [lines(f) for f in (facts.dli, facts.light_sum, facts.energy)] == [[1], [1, 21], [1, 21]]
    assert [f.formula for f in (facts.dli, facts.light_sum, facts.energy)] == [
        "daily_light_integral",
        "daily_light_integral",
        "lamp_energy",
    ]
    assert [f.name for f in (facts.dli, facts.light_sum, facts.energy, facts.degree_days)] == [
        f"climate.tubs.tub.{name}" for name in ("dli", "light_sum", "energy", "degree_days")
    ]
    nothing = tub(setting(0, replace(USE, lamp=None)))
    assert [lines(f) for f in (nothing.dli, nothing.light_sum, nothing.energy)] == [[], [], []]


def test_current_of_several_tubs() -> None:
    """The current of all tubs is the sum of each; one without a lamp leaves it open, all without leave nothing."""
    tubs = ("left", "right")
    dark = setting(0, OFF, "right")
    both = lit(setting(0, USE, "left"), dark, setting(10, USE, "right"), tubs=tubs)
    assert amount(both.energy) == exactly(11.52 + 7.68, Dimension.ENERGY, 0.1)
    assert lines(both.energy) == [1, 11]
    one = lit(setting(0, USE, "right"), tubs=tubs)
    assert amount(one.energy) == Quantity(11.52, None, Dimension.ENERGY, unweighed=1, step=1)
    assert lit(tubs=tubs).energy.value is None
    assert (both.energy.name, both.energy.formula) == ("climate.energy", "lamp_energy")


def test_hours_of_light() -> None:
    """Off counts as 0 hours; settings without hours are left out of the range and of the rows."""
    bare = LampUse()
    hours = lit(setting(9, OFF), setting(0, USE), setting(5, bare)).light_hours
    assert (amount(hours), lines(hours)) == (Quantity(0, 16, Dimension.DURATION, step=1), [1, 10])
    assert lit(setting(5, bare)).light_hours.value is None
    assert (hours.name, hours.formula) == ("climate.light_hours", "reading_range")


@given(st.lists(st.tuples(st.integers(1, 9), st.sampled_from((USE, OFF))), min_size=1, max_size=6))
def test_current_is_that_of_the_days_on(periods: list[tuple[int, LampUse]]) -> None:
    """24 W for 16 hours are 0.384 kWh a day: the current is so much for each day that the lamp was on."""
    begin, lights, on = 0, [], 0
    for days, use in periods:
        lights.append(setting(begin, use))
        begin += days
        on += 0 if use.off else days
    facts = tub(*lights, events=(event(Deed.END, begin, kept=False),))
    assert bounds(facts.energy) == (pytest.approx(0.384 * on), pytest.approx(0.384 * on))
    assert bounds(facts.light_sum) == (pytest.approx(11.52 * on), pytest.approx(11.52 * on))
