"""What must hold of any run, whatever was logged."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Figure, Rate, figures
from sitegen.core.records.rows import Pick, Tally
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension, unit_named
from sitegen.measure import measure
from sitegen.measure.harvest.harvest import harvest_of
from tests.measure.builders import grams, joint, pick, reading, remarks_of, run_of, seeds, tally, unweighed

FOUR = ("P1", "P2", "P3", "P4")
ALL = joint(*FOUR, word="all")
WHICH = st.sampled_from([joint("P1"), joint("P2"), joint("P1", "P2"), ALL])
WEIGHTS = st.one_of(st.integers(0, 400).map(grams), st.just(unweighed()))
PICKS = st.lists(st.tuples(st.integers(1, 60), WHICH, WEIGHTS), max_size=6).map(
    lambda rows: [pick(day, which, weight, line=n + 1) for n, (day, which, weight) in enumerate(rows)]
)
TALLIES = st.lists(st.tuples(st.integers(1, 60), st.integers(0, 2000)), max_size=3).map(
    lambda rows: [tally(day, grams(weight), ALL, line=900 + n) for n, (day, weight) in enumerate(rows)]
)


@given(PICKS, TALLIES)
def test_the_only_tub_has_everything(picks: list[Pick], tallies: list[Tally]) -> None:
    """With one tub, what was picked from it is what was picked, running tallies included."""
    harvest = harvest_of(run_of(picks=picks, tallies=tallies))
    if harvest.by_tub:
        (tub,) = harvest.by_tub
        assert _bounds(tub.figure) == _bounds(harvest.total)


def _bounds(figure: Figure) -> tuple[float, float | None]:
    assert isinstance(figure.value, Quantity)
    high = figure.value.high
    return pytest.approx(figure.value.low), None if high is None else pytest.approx(high)  # type: ignore[return-value]


@given(PICKS, st.sampled_from(["oz", "lb", "kg"]))
def test_units_change_no_total(picks: list[Pick], symbol: str) -> None:
    """Weights written in another unit give the same total."""
    unit = unit_named(symbol, Dimension.MASS)
    assert unit is not None
    written = [replace(p, weight=_there_and_back(p.weight, unit)) for p in picks]
    first, second = (harvest_of(run_of(picks=p)).total for p in (picks, written))
    if first.recorded:
        assert _bounds(second) == _bounds(first)


def _there_and_back(weight: Quantity, unit: object) -> Quantity:
    there, back = unit.from_canonical, unit.to_canonical  # type: ignore[attr-defined]
    high = None if weight.high is None else back(there(weight.high))
    return replace(weight, low=back(there(weight.low)), high=high)


@given(PICKS)
def test_a_rate_is_never_more_certain_than_its_total(picks: list[Pick]) -> None:
    """Where the total has no upper bound, no yield has one."""
    facts = measure(run_of(picks=picks, events=[seeds(0, 1, *FOUR)]))
    total = facts.harvest.total.value
    if isinstance(total, Quantity) and total.high is None:
        rates = [figure.value for figure in figures(facts.harvest.per) if isinstance(figure.value, Rate)]
        assert all(rate.amount.high is None or rate.amount.dimension is not Dimension.MASS for rate in rates)


@given(st.lists(st.tuples(st.integers(1, 40), st.integers(1, 60)), min_size=2, max_size=6))
def test_growth_lies_between_the_readings(heights: list[tuple[int, int]]) -> None:
    """A plant's growth a day times the days is the difference of its first and last reading."""
    rows = [
        reading("height", day, exactly(size, Dimension.LENGTH, 1), ("P1",), line=n)
        for n, (day, size) in enumerate(sorted(dict(heights).items()))
    ]
    absolute = measure(run_of(readings=rows)).growth.rate.height.absolute
    if len(rows) < 2:
        assert absolute == ()
        return
    value = absolute[0].figure.value
    assert isinstance(value, Rate)
    days = rows[-1].day.first - rows[0].day.first
    assert value.amount.low * days == pytest.approx(rows[-1].value.low - rows[0].value.low)


def test_what_is_missing_is_explained() -> None:
    """In a run of nothing, every rarer figure without a value says why."""
    facts = measure(run_of())
    parts = (facts.germination.rate, facts.germination.claims, facts.growth.rate, facts.harvest.per)
    parts += (facts.harvest.timing, facts.harvest.costs, facts.climate.tubs, facts.solution.tubs[0].uptake)  # type: ignore[assignment]
    unexplained = [f.name for part in parts for f in figures(part) if not f.recorded and not remarks_of(f)]
    assert unexplained == []
