"""The range of earlier runs and its chance: by enumeration, by simulation, and against Kaplan and Meier's estimate."""

from __future__ import annotations

import math
import warnings
from fractions import Fraction
from itertools import combinations, permutations
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.measure.across.prediction import (
    FEWEST,
    Bounds,
    Prediction,
    next_run_chance,
    next_run_window,
    predict,
)

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # the library's own imports, not ours
    from lifelines import KaplanMeierFitter

NOTHING = -math.inf


def on(day: float) -> Bounds:
    """A value that is one number."""
    return Bounds(day, day)


def after(day: float) -> Bounds:
    """A value that lies above a day, nobody knows where."""
    return Bounds(day + 1, None)


@pytest.mark.parametrize(("runs", "chance"), [(2, "1/3"), (3, "1/2"), (5, "2/3"), (9, "4/5")])
def test_chance(runs: int, chance: str) -> None:
    """Three earlier runs hold the next one time in two, five two times in three."""
    assert next_run_chance(runs) == Fraction(chance)


@pytest.mark.parametrize("runs", range(2, 8))
def test_chance_by_enumeration(runs: int) -> None:
    """Of all orders of n + 1 runs, the last is inside the range of the others in just this share."""
    orders = list(permutations(range(runs + 1)))
    inside = sum(min(order[:-1]) < order[-1] < max(order[:-1]) for order in orders)
    assert next_run_chance(runs) == Fraction(inside, len(orders))


def test_chance_by_simulation() -> None:
    """The range of five random runs holds a sixth with the stated chance, within four standard errors."""
    random, tries = Random(5), 4000  # noqa: S311 - nothing secret
    runs = [[random.expovariate(1) for _ in range(6)] for _ in range(tries)]
    held = sum(min(run[:5]) <= run[5] <= max(run[:5]) for run in runs) / tries
    chance = float(next_run_chance(5))
    assert abs(held - chance) < 4 * math.sqrt(chance * (1 - chance) / tries)


@pytest.mark.parametrize(("runs", "unbounded"), [(3, 1), (3, 2), (4, 1), (5, 1)])
def test_chance_with_values_that_nothing_bounds(runs: int, unbounded: int) -> None:
    """Whichever of the earlier runs have no upper bound, the range holds the next in no smaller share of the orders."""
    every = runs + unbounded
    orders = list(permutations(range(every + 1)))
    shares = [
        Fraction(sum(_held(order, open_) for order in orders), len(orders))
        for open_ in combinations(range(every), unbounded)
    ]
    latest = [sorted(order[:-1])[runs - 1] for order in orders]  # the open ones beyond all others
    worst = sum(min(o[:-1]) < o[-1] < last for o, last in zip(orders, latest, strict=True))
    assert min(shares) >= next_run_chance(runs, unbounded) == Fraction(worst, len(orders))


def _held(order: tuple[int, ...], open_: tuple[int, ...]) -> bool:
    """Whether the window of the earlier places holds the last, where some are only known to be no less than they are."""
    values = [Bounds(n, None) if place in open_ else on(n) for place, n in enumerate(order[:-1])]
    window = next_run_window(values, NOTHING)
    assert window is not None
    assert window.high is not None
    return window.low < order[-1] < window.high


@pytest.mark.parametrize("past", range(4))
def test_chance_past_a_day_by_enumeration(past: int) -> None:
    """Among runs that are later than a day, the others that were later hold the next as any range of so many does."""
    orders = [order for order in permutations(range(7)) if order[-1] >= past]
    found = [predict([on(n) for n in order[:-1]], past) for order in orders]
    held = [
        each.window is not None and each.window.low < order[-1] < (each.window.high or 0)
        for each, order in zip(found, orders, strict=True)
    ]
    assert {(each.chance, each.runs, each.passed) for each in found} == {
        (next_run_chance(6 - past), 6 - past, past)
    }
    assert Fraction(sum(held), len(held)) == next_run_chance(6 - past)


def test_chance_with_runs_given_up_by_simulation() -> None:
    """Runs end whenever, and those that did before the look are left out: the chance is a least one."""
    random, held, stated, tries = Random(8), 0, Fraction(0), 0  # noqa: S311 - nothing secret
    while tries < 3000:
        arrives = [random.gauss(60, 8) for _ in range(8)]
        ends = [random.uniform(30, 120) for _ in range(7)]
        looked = random.uniform(30, 60)
        if arrives[-1] <= looked:
            continue
        values = [on(a) if a <= e else Bounds(e, None) for a, e in zip(arrives, ends, strict=False)]
        found = predict([v for v in values if v.high is not None or v.low > looked], looked)
        if found.window is None or found.chance is None or found.window.high is None:
            continue
        tries += 1
        held += found.window.low <= arrives[-1] <= found.window.high
        stated += found.chance
    chance = float(stated / tries)
    assert held / tries > chance - 4 * math.sqrt(chance * (1 - chance) / tries)


DAYS = st.lists(st.tuples(st.integers(1, 60), st.booleans()), min_size=1, max_size=9)


@given(DAYS)
def test_end_of_the_range_is_kaplan_meier(days: list[tuple[int, bool]]) -> None:
    """At its end Kaplan and Meier's share (lifelines) is n/(n + m) or more; just that where the m come last."""
    values = [on(day) if there else after(day) for day, there in days]
    window = next_run_window(values, NOTHING)
    if window is None or window.high is None:
        assert not any(there for _, there in days)
        return
    fitted = KaplanMeierFitter().fit([day for day, _ in days], [there for _, there in days])
    share, counted = 1 - float(fitted.predict(window.high)), sum(there for _, there in days)
    assert share >= counted / len(days) - 1e-9
    if all(there or day >= window.high for day, there in days):
        assert math.isclose(share, counted / len(days))


def test_wide_values_widen_the_range() -> None:
    """The range is from the lowest low to the highest high, and the chance then a least one."""
    found = predict([Bounds(31, 35), on(33), on(40), Bounds(38, 44)], 20)
    assert found == Prediction(Bounds(31, 44), Fraction(3, 5), 4, 0, 0, at_least=True)


def test_flags_travel() -> None:
    """A value that is about, or by eye, makes the range so."""
    found = predict([on(31), Bounds(33, 33, about=True), Bounds(40, 40, by_eye=True)], 20)
    assert found.window == Bounds(31, 40, about=True, by_eye=True)
    assert not found.at_least


def test_past_some() -> None:
    """Past a day, only runs that were later count; one that may have been widens the range."""
    found = predict([on(30), Bounds(41, 46), on(50), on(52), on(61)], 44)
    assert found == Prediction(Bounds(44, 61), Fraction(1, 2), 3, 0, 1, at_least=True)


def test_past_all() -> None:
    """Past all of them, none is behind a range."""
    assert predict([on(30), on(31), on(33)], 40) == Prediction(None, None, 0, 0, 3, at_least=False)


def test_without_upper_bounds() -> None:
    """Runs of which nothing bounds the value are counted apart, and no range comes from them."""
    found = predict([on(30), on(31), on(33), after(25), after(40)], 20)
    assert found == Prediction(Bounds(30, 33), Fraction(1, 3), 3, 2, 0, at_least=True)
    assert predict([after(30)] * 4, 20) == Prediction(None, None, 0, 4, 0, at_least=False)


BOUNDS = st.builds(
    lambda low, more, open_: Bounds(low, None if open_ else low + more),
    st.integers(0, 80),
    st.sampled_from((0, 0, 5)),
    st.booleans(),
)


@given(st.lists(BOUNDS, max_size=8), st.integers(0, 80))
def test_no_range_from_two(values: list[Bounds], least: int) -> None:
    """There is a range where three runs or more have bounds at or above the least; it never begins below that."""
    found = predict(values, least)
    counted = sum(each.high is not None and each.low >= least for each in values)
    assert (found.window is not None) == (counted >= FEWEST) == (found.chance is not None)
    assert found.window is None or found.window.low >= least


@given(st.lists(BOUNDS, max_size=8), st.integers(0, 80), st.randoms())
def test_order_of_runs_is_nothing(values: list[Bounds], least: int, random: Random) -> None:
    """Runs in another order give the same."""
    assert predict(random.sample(values, len(values)), least) == predict(values, least)
