"""The pace of germination against published counts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.measure.germination.emergence import (
    emergence_speed,
    emergence_synchrony,
    emergence_uncertainty,
    emergence_variation,
    half_emergence_time,
    mean_emergence_time,
)
from tests.measure.published import published

ROWS = published("germination")
FORMULAS = {
    "mean": mean_emergence_time,
    "half": half_emergence_time,
    "speed": emergence_speed,
    "synchrony": emergence_synchrony,
    "uncertainty": emergence_uncertainty,
    "variation": emergence_variation,
}
COUNTS = st.lists(st.integers(0, 9), min_size=1, max_size=12).map(lambda found: list(enumerate(found, 1)))


def counts(row: dict[str, str]) -> list[tuple[float, int]]:
    """A row's counts with their days."""
    first = int(row["first"])
    return [(first + n, int(count)) for n, count in enumerate(row["counts"].split())]


PRINTED = [(row, name) for row in ROWS for name in FORMULAS if row[name]]


@pytest.mark.parametrize(("row", "name"), PRINTED, ids=[f"{row['case']}-{name}" for row, name in PRINTED])
def test_published_counts(row: dict[str, str], name: str) -> None:
    """Each index agrees with the published one to its last printed digit."""
    assert FORMULAS[name](counts(row)) == pytest.approx(float(row[name]), rel=1e-6)


def test_a_count_of_exactly_half_gives_its_own_day() -> None:
    """Where a count is exactly half of all, half had come up on its day."""
    (row,) = (row for row in ROWS if row["case"] == "G1-4")

    assert half_emergence_time(counts(row)) == 6


def test_half_at_the_first_count_is_not_known() -> None:
    """Where the first count has half already, nobody saw when half came up; a look that found none tells."""
    assert half_emergence_time([(5, 4), (6, 2)]) is None
    assert half_emergence_time([(4, 0), (5, 4), (6, 2)]) == pytest.approx(4.75)


@pytest.mark.parametrize("formula", FORMULAS.values(), ids=lambda f: f.__name__)
def test_nothing_up(formula: object) -> None:
    """Without a seedling there is no pace."""
    assert callable(formula)
    assert formula([(3, 0), (4, 0)]) is None
    assert formula([]) is None


def test_one_seedling() -> None:
    """One seedling has a mean and no spread."""
    assert mean_emergence_time([(6, 1)]) == 6
    assert (emergence_variation([(6, 1)]), emergence_synchrony([(6, 1)])) == (None, None)
    assert emergence_uncertainty([(6, 1)]) == 0


def test_no_speed_on_the_day_of_sowing() -> None:
    """A seedling on day 0 would be infinitely fast."""
    assert emergence_speed([(0, 1), (4, 2)]) is None


@given(COUNTS)
def test_half_lies_among_the_counts(found: list[tuple[float, int]]) -> None:
    """Both times lie between the first and the last day with seedlings, the half perhaps a count before."""
    mean, half = mean_emergence_time(found), half_emergence_time(found)
    days = [day for day, number in found if number]
    if mean is not None:
        assert min(days) <= mean <= max(days) or mean == pytest.approx(min(days))
    if half is not None:
        assert found[0][0] <= half <= max(days)


@given(COUNTS, st.integers(2, 5))
def test_more_seeds_change_no_time(found: list[tuple[float, int]], times: int) -> None:
    """So many times the seedlings at every count come up as fast."""
    more = [(day, number * times) for day, number in found]
    for formula in (mean_emergence_time, half_emergence_time, emergence_uncertainty):
        before, after = formula(found), formula(more)
        assert (before is None) == (after is None)
        assert before is None or after == pytest.approx(before, abs=1e-9)
