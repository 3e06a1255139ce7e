"""What is offered for a text that is no date or day."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.ingest.values.dates import parse_date, parse_day
from tests.ingest.builders import said, scalar

TWO = "can be read in two ways: day first or month first"


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        ("03/01/2026", f"`03/01/2026` {TWO} (write `date: 2026-01-03` or `date: 2026-03-01`)"),
        ("20260305", "`20260305` is not a date; `date` wants year-month-day (write `date: 2026-03-05`)"),
        (
            "2026-02-30",
            "`2026-02-30` is not a date: February 2026 has 28 days (write a day from `2026-02-01` to `2026-02-28`)",
        ),
        ("26", "`26` is a day, not a date (write `day: 26`)"),
        (
            "soon",
            "`soon` is not a date; `date` wants year-month-day (write year, month and day, such as `date: 2025-10-19`)",
        ),
    ],
)
def test_date(text: str, finding: str) -> None:
    """A date in another spelling is offered in the format's own, one with two readings in both."""
    findings = Findings()
    parse_date(scalar(text), "date", findings)

    assert said(findings) == [f"1:10: not-a-date: {finding}"]


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("20 days", "write `day: 20`"),
        ("3 weeks", "write `day: about 21`"),
        ("-1", "write `day: 0` for what was done before sowing too"),
        ("2026-03-05", "write `date: 2026-03-05`"),
        (
            "monday",
            "write days since sowing, such as `day: 26`, `day: 33-38`, `day: about 36` or `day: before 40`",
        ),
    ],
)
def test_day(text: str, mend: str) -> None:
    """A day in other words is offered as a number, and a date under its own key."""
    findings = Findings()
    parse_day(scalar(text), "day", findings)

    assert said(findings) == [
        f"1:10: not-a-day: `{text}` is not a day; `day` counts days since sowing ({mend})"
    ]
