"""The limits of a Kaplan-Meier curve against published limits and second implementations."""

from __future__ import annotations

import math
import warnings

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from sitegen.measure.stages.survival import Observation, kaplan_meier_median, survival_curve
from tests.measure.published import published
from tests.measure.stages.log_log_limits import curve_limits, log_log_interval

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # what the library's own imports warn of
    from lifelines import KaplanMeierFitter
    from lifelines.utils import median_survival_times

ROWS = published("median_interval")
SPELLS = st.lists(st.builds(Observation, st.integers(1, 60), reached=st.booleans()), min_size=2, max_size=14)


def observations(times: str) -> list[Observation]:
    """Times as written; a plus sign marks one that had not come."""
    return [Observation(int(time.rstrip("+")), not time.endswith("+")) for time in times.split()]


def whole(text: str) -> int | None:
    """A limit, or none where it stays open."""
    return int(text) if text else None


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["case"])
def test_published_interval(row: dict[str, str]) -> None:
    """The limits of the median are the published ones; one that is not reached stays open."""
    assert log_log_interval(observations(row["times"])) == (whole(row["low"]), whole(row["high"]))


@pytest.mark.parametrize("row", [row for row in ROWS if row["at"]], ids=lambda row: row["case"])
def test_published_limits(row: dict[str, str]) -> None:
    """The limits of the curve agree to the last printed digit."""
    (limits,) = (each for each in curve_limits(observations(row["times"])) if each.day == int(row["at"]))
    assert (limits.low, limits.high) == pytest.approx(
        (float(row["share_low"]), float(row["share_high"])), abs=5.1e-5
    )


def test_after_the_last_arrival_no_upper_limit_is_known() -> None:
    """Where every plant arrived, the curve ends at nothing and the upper limit stays open."""
    assert log_log_interval(observations("20 22 25 28")) == (20, None)


@given(SPELLS)
def test_against_lifelines(found: list[Observation]) -> None:
    """Wherever plants still wait at the end, the interval is that of lifelines."""
    if max(s.day for s in found) == max((s.day for s in found if s.reached), default=0):
        found = [*found, Observation(61, reached=False)]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        fitted = KaplanMeierFitter().fit([s.day for s in found], [s.reached for s in found])
        low, high = median_survival_times(fitted.confidence_interval_).values[0]
    mine = [float("inf") if day is None else day for day in log_log_interval(found)]
    known = kaplan_meier_median(found)
    assert mine == [low, high]
    # lifelines compares floats: a share of one half may miss by a digit, so only the clear cases are held against it.
    if not any(step.remaining == 0.5 for step in survival_curve(found)):
        assert (float("inf") if known is None else known) == fitted.median_survival_time_


@given(SPELLS.filter(lambda found: any(s.reached for s in found)))
def test_against_scipy(found: list[Observation]) -> None:
    """The limits of the curve are those of scipy on the same scale."""
    data = stats.CensoredData(
        uncensored=[s.day for s in found if s.reached], right=[s.day for s in found if not s.reached]
    )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        interval = stats.ecdf(data).sf.confidence_interval(method="log-log")
    for limits in curve_limits(found):
        low, high = (float(end.evaluate(limits.day)) for end in (interval.low, interval.high))
        if limits.low > 0 and not math.isnan(low):  # not a number where nothing remains
            assert (limits.low, limits.high) == pytest.approx((low, high), abs=1e-9)


@given(SPELLS, st.integers(0, 13))
def test_censoring_a_plant_never_shortens_a_median(found: list[Observation], which: int) -> None:
    """A plant that was not seen to arrive can only make the median later, or leave it open."""
    position = which % len(found)
    censored = [Observation(s.day, s.reached and n != position) for n, s in enumerate(found)]
    before, after = kaplan_meier_median(found), kaplan_meier_median(censored)
    assert after is None or (before is not None and after >= before)


@given(SPELLS)
def test_the_interval_holds_the_median(found: list[Observation]) -> None:
    """A median that is reached lies inside its interval."""
    median, (low, high) = kaplan_meier_median(found), log_log_interval(found)
    if median is not None:
        assert low is not None
        assert low <= median
        assert high is None or median <= high
