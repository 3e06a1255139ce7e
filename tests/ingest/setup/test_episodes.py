"""Episodes about a run: their length and their chapters."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.text import clock
from sitegen.ingest.values.clock import parse_clock
from sitegen.ingest.yaml.nodes import Scalar

TIMES = {"0:00": 0, "4:10": 250, "12:30": 750, "90:00": 5400, "1:02:30": 3750, "02:30": 150}


@pytest.mark.parametrize("text", TIMES)
def test_times(text: str) -> None:
    """Minutes and seconds, with hours before them where there are any."""
    findings = Findings()

    assert parse_clock(Scalar(text, Source("f")), "at", findings) == TIMES[text]
    assert tuple(findings) == ()


@pytest.mark.parametrize("text", ["750", "12.30", "1:60", "1:60:00", "1:2", "-1:00", "12:30 min", "1:02:3"])
def test_error_no_time(text: str) -> None:
    """A bare number, a point and sixty of anything are no time."""
    findings = Findings()

    assert parse_clock(Scalar(text, Source("f")), "at", findings) is None
    assert [finding.code for finding in findings] == ["not-a-time"]


@pytest.mark.parametrize("seconds", [0, 59, 60, 750, 3599, 3600, 3750, 36_000])
def test_times_are_said_as_they_are_written(seconds: int) -> None:
    """What is said of a time is read as the same time again."""
    assert parse_clock(Scalar(clock(seconds), Source("f")), "at", Findings()) == seconds
