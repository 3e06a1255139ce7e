"""Days and dates as people write them."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.values.day import Day
from sitegen.ingest.values.dates import parse_day
from tests.ingest.builders import said, scalar


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("26", Day(26, 26)),
        ("day 26", Day(26, 26)),
        ("33-38", Day(33, 38)),
        ("33 – 38", Day(33, 38)),
        ("about 36", Day(36, 36, about=True)),
        ("before 40", Day(0, 39, before=True)),
        ("0-39", Day(0, 39)),
        ("before 1", Day(0, 0)),
        ("before 0", Day(0, 0)),
    ],
)
def test_day(text: str, day: Day) -> None:
    """A day, a span, an estimate, an end that is known."""
    findings = Findings()

    assert parse_day(scalar(text), "day", findings) == day
    assert said(findings) == []


@pytest.mark.parametrize("turn", [1, 2])
@pytest.mark.parametrize(
    ("text", "finding"),
    [
        ("38-33", "1:10: reversed-range: the days `38-33` end before they begin (write `33-38`)"),
        (
            "noon",
            (
                "1:10: not-a-day: `noon` is not a day; `until` counts days since sowing "
                "(write days since sowing, such as `until: 26`, `until: 33-38`, `until: about 36` or `until: before 40`)"
            ),
        ),
    ],
)
def test_error_day(text: str, finding: str, turn: int) -> None:
    """What is no day is refused, each time that it is written."""
    findings = [Findings() for _ in range(turn)]

    assert [parse_day(scalar(text), "until", each) for each in findings] == [None] * turn
    assert [said(each) for each in findings] == [[finding]] * turn
