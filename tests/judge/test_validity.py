"""The dates on which the findings of a run stay the same."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import pytest

from sitegen.core.records.rows import Run
from sitegen.core.values.day import DateRange, Start
from sitegen.judge import judge
from sitegen.judge.record import holds
from tests.judge.builders import ended, run, setup, sown, visits

D = date
BEGIN = D(2025, 2, 20)  # nine days before the start of these runs
MONTH = setup(start=Start(D(2025, 3, 1), "month"))
RUNS = {
    "running": run(sown(), entries=visits(0, 31)),
    "ended": run(sown(), ended(40), entries=visits(0, 20, 40)),
    "of a month": run(sown(), head=MONTH, entries=visits(0, 12)),
    "undated": run(sown(), head=setup(start=Start()), entries=visits(0)),
    "without a log": run(),
}


@pytest.mark.parametrize("name", RUNS)
def test_a_verdict_holds_as_long_as_it_says(name: str) -> None:
    """Over half a year, the findings of all dates in a range are equal, and each date lies in its own range."""
    made = RUNS[name]
    days = [BEGIN + timedelta(days=number) for number in range(180)]
    for today, tomorrow in pairwise(days):
        held = holds(made, today)
        assert held.contains(today)
        if held.contains(tomorrow):
            assert judge(made, tomorrow) == judge(made, today), tomorrow


def test_runs_turn_at_all() -> None:
    """The runs of these tests do give different findings on different days."""

    def codes(made: Run, today: date) -> set[str]:
        return {finding.code for finding in judge(made, today)}

    assert "in-the-future" in codes(RUNS["running"], BEGIN)
    assert "no-end" in codes(RUNS["running"], D(2025, 6, 1))
    assert "no-end" not in codes(RUNS["running"], D(2025, 5, 31))


@pytest.mark.parametrize(
    ("name", "today", "since", "until"),
    [
        ("running", D(2025, 3, 20), D(2025, 3, 20), D(2025, 3, 20)),
        ("running", D(2025, 3, 31), D(2025, 3, 31), D(2025, 3, 31)),
        ("running", D(2025, 4, 1), D(2025, 4, 1), D(2025, 5, 31)),
        ("running", D(2025, 5, 31), D(2025, 4, 1), D(2025, 5, 31)),
        ("running", D(2025, 6, 1), D(2025, 6, 1), None),
        ("running", D(2026, 6, 1), D(2025, 6, 1), None),
        ("ended", D(2025, 4, 9), D(2025, 4, 9), D(2025, 4, 9)),
        ("ended", D(2025, 4, 10), D(2025, 4, 10), None),
        ("of a month", D(2025, 3, 1), None, D(2025, 6, 11)),
        ("of a month", D(2025, 6, 12), D(2025, 6, 12), None),
        ("undated", D(2025, 6, 1), None, None),
        ("without a log", D(2025, 3, 1), None, D(2025, 3, 1)),
        ("without a log", D(2025, 6, 1), D(2025, 3, 2), None),
    ],
)
def test_range_of_dates(name: str, today: date, since: date | None, until: date | None) -> None:
    """A run with days in the future is valid for a day; else from the last change of its findings to the next."""
    assert holds(RUNS[name], today) == DateRange(since, until)
