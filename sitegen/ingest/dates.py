"""Dates and days as people write them: `2025-10-19`, `26`, `33-38`, `about 36`, `before 40`.

In: a single value. Out: a date or a `Day`, or None and a finding.
"""

from __future__ import annotations

import datetime as dt
import re
from functools import lru_cache

from sitegen.core.day import Day
from sitegen.core.finding import Findings
from sitegen.ingest.date_hints import date_hint, day_hint
from sitegen.ingest.nodes import Scalar

__all__ = ["parse_date", "parse_day"]

_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_DAY = re.compile(r"(?:day )?(?P<flag>about |before )?(?P<first>\d{1,4})(?:\s*[-–]\s*(?P<last>\d{1,4}))?")
_KEPT = 4096  # texts that are remembered: runs have the same days


def parse_date(scalar: Scalar, key: str, findings: Findings) -> dt.date | None:
    """An ISO 8601 date."""
    if _DATE.fullmatch(scalar.text):
        try:
            return dt.date.fromisoformat(scalar.text)
        except ValueError:
            pass
    message, mend = date_hint(scalar.text, key)
    findings.add(
        "not-a-date",
        scalar.source,
        message,
        mend=mend,
        found=scalar.text,
        expected="a date such as 2025-10-19",
    )
    return None


def parse_day(scalar: Scalar, key: str, findings: Findings) -> Day | None:
    """A day number, a span, `about 36` or `before 40`."""
    day = _written_day(scalar.text)
    if isinstance(day, Day):
        return day
    if day is None:
        findings.add(
            "not-a-day",
            scalar.source,
            f"`{scalar.text}` is not a day; `{key}` counts days since sowing",
            mend=day_hint(scalar.text, key, lambda text: isinstance(_written_day(text), Day)),
            found=scalar.text,
            expected="days since sowing",
        )
        return None
    findings.add(
        "reversed-range",
        scalar.source,
        f"the days `{scalar.text}` end before they begin",
        mend=f"write `{day}`",
        found=scalar.text,
    )
    return None


@lru_cache(_KEPT)
def _written_day(text: str) -> Day | str | None:
    """The day; days turned round as they may be meant; None where it is neither."""
    match = _DAY.fullmatch(text)
    if match is None:
        return None
    first, last = int(match["first"]), int(match["last"] or match["first"])
    if last < first:
        return f"{last}-{first}"
    if match["flag"] == "before ":
        return Day(0, max(0, first - 1))
    return Day(first, last, about=match["flag"] == "about ")
