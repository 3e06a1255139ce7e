"""The Wilson interval against its published table and a second implementation."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from statsmodels.stats.proportion import proportion_confint

from sitegen.core.facts.figure import Share
from sitegen.measure.ranges import share_of, wilson_interval

TABLE = Path(__file__).parent.parent / "published" / "wilson.csv"
ROWS = list(
    csv.DictReader(line for line in TABLE.read_text("utf-8").splitlines() if not line.startswith("#"))
)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["case"])
def test_table(row: dict[str, str]) -> None:
    """The interval agrees with the table to its four decimals."""
    low, high = wilson_interval(int(row["part"]), int(row["whole"]))
    assert (low, high) == pytest.approx((float(row["low"]), float(row["high"])), abs=0.5e-4)


@pytest.mark.parametrize("whole", [1, 2, 3, 6, 11, 49, 400])
def test_ends_are_exact(whole: int) -> None:
    """None of so many begins at exactly 0, all of so many ends at exactly 1."""
    assert (wilson_interval(0, whole)[0], wilson_interval(whole, whole)[1]) == (0.0, 1.0)


@pytest.mark.parametrize("whole", [1, 4, 18, 97])
def test_second_implementation(whole: int) -> None:
    """Every share of a count agrees with statsmodels."""
    for part in range(whole + 1):
        known = proportion_confint(part, whole, alpha=0.05, method="wilson")
        assert wilson_interval(part, whole) == pytest.approx(known, abs=1e-12)


@pytest.mark.parametrize(("part", "whole"), [(-1, 4), (5, 4), (0, 0)])
def test_impossible_counts(part: int, whole: int) -> None:
    """Counts that cannot both be true give no share, and no interval."""
    assert share_of(part, whole) is None
    with pytest.raises(ValueError, match="no share"):
        wilson_interval(part, whole)


def test_share() -> None:
    """A share carries its counts and its interval."""
    assert share_of(2, 4) == Share(2, 4, *wilson_interval(2, 4))
