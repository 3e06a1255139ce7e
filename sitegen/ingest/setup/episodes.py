"""Episodes about an experiment, with their chapters.

In: an item of `episodes:`. Out: an `Episode`; chapters that are out of order or too late become findings.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from sitegen.core.findings.finding import Findings
from sitegen.core.language.text import clock
from sitegen.core.records.setup import Chapter, Episode
from sitegen.ingest.yaml.nodes import Scalar
from sitegen.ingest.yaml.typed_fields import TypedFields

_CLOCK = re.compile(r"(?:(?P<hours>\d{1,2}):(?=[0-5]\d:))?(?P<minutes>\d{1,3}):(?P<seconds>[0-5]\d)")


def episode_of(fields: TypedFields) -> Episode:
    """An episode about the run."""
    length = _seconds(fields, "length")
    return Episode(
        title=fields.text("title"),
        link=fields.text("link"),
        published=fields.date("published"),
        until=fields.day("until"),
        length=length,
        chapters=tuple(_chapters(fields, length)),
    )


def _seconds(fields: TypedFields, key: str) -> int | None:
    scalar = fields.scalar(key)
    return None if scalar is None else parse_clock(scalar, key, fields.findings)


def parse_clock(scalar: Scalar, key: str, findings: Findings) -> int | None:
    """The seconds of `12:30` or `1:02:30`."""
    match = _CLOCK.fullmatch(scalar.text)
    if match is not None:
        return int(match["hours"] or 0) * 3600 + int(match["minutes"]) * 60 + int(match["seconds"])
    message = f"`{scalar.text}` is not a time; `{key}` wants minutes and seconds"
    mend = f"write `{key}: 12:30`, or with hours `{key}: 1:02:30`"
    scalar.report(findings, "not-a-time", message, mend, "minutes and seconds such as 12:30")
    return None


def _chapters(fields: TypedFields, length: int | None) -> Iterator[Chapter]:
    """The chapters, each compared with the one before it and with the episode's length."""
    if fields.has("chapters") and not fields.has("length"):
        message = "the last chapter ends with the episode, whose length is not given"
        mend = "write `length: 12:30` beside `chapters`"
        fields.report("chapters", "missing-key", message, mend, expected="length")
    before = -1
    for item in fields.nested_list("chapters"):
        at = _seconds(item, "at")
        if at is None:
            continue
        begins = f"the chapter at {clock(at)}"
        if at <= before:
            message = f"{begins} does not begin after the one before it, at {clock(before)}"
            mend, expected = "mend its time, or put the chapters in order", f"a time after {clock(before)}"
            item.report("at", "chapter-order", message, mend, found=clock(at), expected=expected)
        elif length is not None and at >= length:
            message = f"{begins} begins when the episode has ended, at {clock(length)}"
            mend, expected = "mend its time, or the episode's `length`", f"a time before {clock(length)}"
            item.report("at", "chapter-late", message, mend, found=clock(at), expected=expected)
        before = at
        yield Chapter(at, item.text("title"))
