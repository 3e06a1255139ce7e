"""The Kaplan-Meier estimate against published and hand-worked cases."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.duration.survfunc import SurvfuncRight

from sitegen.measure.stages.survival import Observation, kaplan_meier_median, survival_curve

TABLE = Path(__file__).parent.parent.parent / "published" / "kaplan_meier.csv"
ROWS = list(
    csv.DictReader(line for line in TABLE.read_text("utf-8").splitlines() if not line.startswith("#"))
)
SPELLS = st.lists(st.builds(Observation, st.integers(0, 60), reached=st.booleans()), min_size=1, max_size=12)


def observations(times: str) -> list[Observation]:
    """Times as written; a plus sign marks one that had not come."""
    return [Observation(int(time.rstrip("+")), not time.endswith("+")) for time in times.split()]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["case"])
def test_median(row: dict[str, str]) -> None:
    """The median is the first time at which at most half remain, and open where half never arrived."""
    assert kaplan_meier_median(observations(row["times"])) == (int(row["median"]) if row["median"] else None)


@pytest.mark.parametrize("row", [row for row in ROWS if row["curve"]], ids=lambda row: row["case"])
def test_curve(row: dict[str, str]) -> None:
    """The share remaining agrees with the table at each of its times."""
    curve = {step.day: float(step.remaining) for step in survival_curve(observations(row["times"]))}
    for point in row["curve"].split():
        time, share = point.split("/")
        known = next(curve[day] for day in sorted(curve, reverse=True) if day <= int(time))
        assert known == pytest.approx(float(share), abs=1e-6)


def test_half_is_half() -> None:
    """A curve that is one half on paper is exactly one half, however it got there."""
    curve = survival_curve(observations("1 2 3 4 5 6 7 8 9 10 11 12"))
    assert curve[5].remaining == Fraction(1, 2)
    assert kaplan_meier_median(observations("1 2 3 4 5 6 7 8 9 10 11 12")) == 6


def test_at_ties_arrivals_come_first() -> None:
    """A plant last looked at on the day of an arrival still counts as waiting on that day."""
    assert survival_curve(observations("6 6+"))[0].remaining == Fraction(1, 2)


@given(SPELLS)
def test_second_implementation(found: list[Observation]) -> None:
    """The curve agrees with statsmodels at every arrival."""
    curve = survival_curve(found)
    if not curve:
        assert kaplan_meier_median(found) is None
        return
    known = SurvfuncRight([s.day + 1 for s in found], [int(s.reached) for s in found])
    at = dict(zip((time - 1 for time in known.surv_times), known.surv_prob, strict=True))
    assert {step.day: float(step.remaining) for step in curve} == pytest.approx(
        {step.day: at[step.day] for step in curve}, abs=1e-12
    )
