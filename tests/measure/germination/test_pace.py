"""The days that seedlings are dated to, and runs that have no pace."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Per, Rate
from sitegen.core.facts.indices import GerminationRate
from sitegen.core.facts.tree import CountStep
from sitegen.core.records.rows import Deed, Event
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.germination.emergence import (
    emergence_speed,
    emergence_uncertainty,
    emergence_variation,
    half_emergence_time,
    mean_emergence_time,
    newly_up,
)
from sitegen.measure.germination.germination import germination_of
from tests.measure.builders import event, joint, place, run_of, seeds
from tests.measure.values import amount, lines

FOUR = ("P1", "P2", "P3", "P4")
SOWN = seeds(0, 3, *FOUR)


def step(first: int, last: int, count: int) -> CountStep:
    """A count at some time between two days."""
    return CountStep(Day(first, last), count, 12, place(first))


def up(day: int | Day, number: int) -> Event:
    """So many seedlings in all."""
    when = day if isinstance(day, Day) else Day.on(day)
    row = event(Deed.SPROUTED, when.first, joint(*FOUR, word="all"), amount=counted(number))
    return row._replace(day=when)


def pace(*events: Event) -> GerminationRate:
    """The pace of a run with just these events."""
    return germination_of(run_of(events=events)).rate


def test_newly_up_is_dated_to_the_last_day_possible() -> None:
    """Each count gives what it has more than any before, on the last day of its span, counted from sowing."""
    steps = (step(4, 4, 0), step(5, 7, 4), step(8, 8, 3), step(9, 9, 6))
    assert newly_up(steps, 2) == ((2, 0), (5, 4), (6, 0), (7, 2))


def test_newly_up_is_dated_to_the_day_after_the_look_before() -> None:
    """The earliest date is the day after the look before; the first count's is the day of sowing."""
    steps = (step(5, 9, 4), step(6, 7, 5), step(8, 8, 9))
    assert newly_up(steps, 0, earliest=True) == ((0, 4), (6, 1), (7, 4))


def test_a_later_row_of_an_earlier_look_moves_no_date_back() -> None:
    """The look before is the latest of those before, whatever their order."""
    steps = (step(7, 7, 4), step(5, 9, 5), step(9, 9, 6))
    assert newly_up(steps, 0, earliest=True) == ((0, 4), (8, 1), (8, 1))


def test_no_seedling_comes_up_before_it_was_sown() -> None:
    """A count before the sowing is dated to the day of sowing."""
    assert newly_up((step(1, 1, 2),), 3) == ((0, 2),)


def test_days_count_from_the_day_of_sowing() -> None:
    """Seeds sown on day 3 and up on day 8 took five days; without a sowing, days count from day 0."""
    assert amount(pace(seeds(3, 3, *FOUR), up(7, 0), up(8, 4)).mean_time) == exactly(5, Dimension.DAYS, 0.1)
    assert amount(pace(up(7, 0), up(8, 4)).mean_time) == exactly(8, Dimension.DAYS, 0.1)


def test_days_that_are_about() -> None:
    """A count on about a day makes the mean time an about."""
    assert amount(pace(SOWN, up(4, 0), up(Day.on(6, about=True), 4)).mean_time) == Quantity(
        5, 6, Dimension.DAYS, about=True, step=0.1
    )


def test_half_lies_between_two_counts() -> None:
    """Half of ten seedlings, two of them up on day 5 and ten on day 9, were up on day 6.5."""
    rate = pace(SOWN, up(5, 2), up(9, 10))
    assert rate.half_time.value == exactly(6.5, Dimension.DAYS, 0.1)
    assert lines(rate.half_time) == [1005, 1009]


def test_rates_with_their_rows_and_formulas() -> None:
    """Every rate comes with its formula and with all counts; the dimensionless ones are exact."""
    rate = pace(SOWN, up(4, 0), up(5, 4), up(8, 8))
    figures = {
        "mean_emergence_time": rate.mean_time,
        "half_emergence_time": rate.half_time,
        "emergence_variation": rate.variation,
        "emergence_speed": rate.speed,
        "emergence_synchrony": rate.synchrony,
        "emergence_uncertainty": rate.uncertainty,
    }
    assert [figure.formula for figure in figures.values()] == list(figures)
    assert [lines(figure) for figure in figures.values()] == [[1004, 1005, 1008]] * 6
    assert rate.speed.value == Rate(exactly(4 / 5 + 4 / 8, Dimension.COUNT), Per.DAY)
    # N = 8, mean 6.5, squares 8 · 1.5²: √(18 / 7) / 6.5.
    assert rate.variation.value == exactly(math.sqrt(18 / 7) / 6.5, Dimension.COUNT)


@pytest.mark.parametrize(
    "events",
    [
        (SOWN,),
        (SOWN, up(4, 0), up(6, 0)),
        (SOWN, seeds(6, 2, "P1"), up(9, 6)),
        (SOWN, event(Deed.SPROUTED, 5, joint(*FOUR), amount=Quantity(4, None, Dimension.COUNT, open=1))),
        (SOWN, up(5, 4)._replace(seedlings=Quantity(3, 5, Dimension.COUNT))),
    ],
)
def test_runs_without_a_pace(events: tuple[Event, ...]) -> None:
    """Nothing counted, nothing up, several days of sowing or an indefinite count: no rate is given."""
    rate = pace(*events)
    figures = (
        rate.mean_time,
        rate.half_time,
        rate.variation,
        rate.speed,
        rate.synchrony,
        rate.uncertainty,
    )
    assert [figure.value for figure in figures] == [None] * 6


def test_two_sowings_of_one_day_are_one() -> None:
    """Spots sown one by one on the same day have one day of sowing."""
    rate = pace(
        seeds(0, 3, "P1", "P2"), seeds(0, 3, "P3", "P4")._replace(source=place(3)), up(4, 0), up(5, 4)
    )
    assert amount(rate.mean_time) == exactly(5, Dimension.DAYS, 0.1)


def test_one_seedling_has_no_spread() -> None:
    """A lone seedling has a mean time and an uncertainty of nothing, no variation and no synchrony."""
    rate = pace(SOWN, up(4, 0), up(5, 1))
    assert (rate.variation.value, rate.synchrony.value) == (None, None)
    assert (rate.mean_time.value, rate.uncertainty.value) == (
        exactly(5, Dimension.DAYS, 0.1),
        exactly(0, Dimension.COUNT),
    )


def test_seedlings_on_the_day_of_sowing() -> None:
    """All up on day 0: no speed and no variation; a look on day 0 that found none hinders neither."""
    assert (emergence_speed([(0, 3)]), emergence_variation([(0, 3)])) == (None, None)
    assert (emergence_speed([(0, 0), (4, 2)]), emergence_variation([(0, 0), (4, 2)])) == (0.5, 0)


def test_two_seedlings_are_enough_for_a_variation() -> None:
    """Up on days 4 and 6: √2 / 5, worked from the formula."""
    assert emergence_variation([(4, 1), (6, 1)]) == pytest.approx(math.sqrt(2) / 5)


def test_certainty_is_not_minus_nothing() -> None:
    """Where all came up at one count the uncertainty is 0, not -0."""
    uncertainty = emergence_uncertainty([(5, 4)])
    assert uncertainty is not None
    assert math.copysign(1, uncertainty) == 1


def test_counts_between_which_nothing_came_up() -> None:
    """A count that found nothing new moves the start of the line on which half is sought."""
    assert half_emergence_time([(2, 2), (4, 0), (6, 4)]) == pytest.approx(4.5)


def test_half_reached_exactly() -> None:
    """A count of just half gives its own day, however long nothing followed; at the first count it is not known."""
    assert half_emergence_time([(1, 0), (2, 2), (4, 0), (6, 2)]) == 2
    assert half_emergence_time([(2, 2), (6, 2)]) is None


@given(
    st.lists(st.tuples(st.integers(1, 4), st.integers(0, 9)), min_size=1, max_size=8).filter(
        lambda found: any(number for _, number in found)
    )
)
def test_earliest_days_are_never_later(found: list[tuple[int, int]]) -> None:
    """The mean with the earliest days is at most the mean with the days seen, and both hold the same seedlings."""
    day, count, steps = 0, 0, []
    for gap, number in found:
        day, count = day + gap, count + number
        steps.append(step(day, day, count))
    early, late = newly_up(steps, 0, earliest=True), newly_up(steps, 0)
    first, last = mean_emergence_time(early), mean_emergence_time(late)
    assert first is not None
    assert last is not None
    assert first <= last
    assert sum(number for _, number in early) == sum(number for _, number in late) == count
