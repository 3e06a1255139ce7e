"""Episodes about a run, and their chapters.

In: a mapping of `episodes`. Out: `Episode`. A chapter that cannot stand where it is written is a finding.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from sitegen.core.finding import Findings
from sitegen.core.setup import Chapter, Episode
from sitegen.core.text import clock
from sitegen.ingest.dates import parse_day
from sitegen.ingest.nodes import Scalar
from sitegen.ingest.reader import Read

__all__ = ["episode_of", "parse_clock"]

_CLOCK = re.compile(r"(?:(?P<hours>\d{1,2}):(?=[0-5]\d:))?(?P<minutes>\d{1,3}):(?P<seconds>[0-5]\d)")


def parse_clock(scalar: Scalar, key: str, findings: Findings) -> int | None:
    """The seconds of `12:30` or `1:02:30`."""
    match = _CLOCK.fullmatch(scalar.text)
    if match is not None:
        return int(match["hours"] or 0) * 3600 + int(match["minutes"]) * 60 + int(match["seconds"])
    findings.add(
        "not-a-time",
        scalar.source,
        f"`{scalar.text}` is not a time; `{key}` wants minutes and seconds",
        mend=f"write `{key}: 12:30`, or with hours `{key}: 1:02:30`",
        found=scalar.text,
        expected="minutes and seconds such as 12:30",
    )
    return None


def episode_of(read: Read) -> Episode:
    """An episode about the run."""
    until = read.scalar("until")
    length = _clock(read, "length")
    return Episode(
        title=read.text("title"),
        link=read.text("link"),
        published=read.date("published"),
        until=parse_day(until, "until", read.findings) if until else None,
        length=length,
        chapters=tuple(_chapters(read, length)),
    )


def _clock(read: Read, key: str) -> int | None:
    scalar = read.scalar(key)
    return None if scalar is None else parse_clock(scalar, key, read.findings)


def _chapters(read: Read, length: int | None) -> Iterator[Chapter]:
    """The chapters, each held against the one before it and against the episode's length."""
    if read.has("chapters") and not read.has("length"):
        _no_length(read)
    before = -1
    for item in read.subs("chapters"):
        at = _clock(item, "at")
        if at is None:
            continue
        if at <= before:
            _out_of_order(item, at, before)
        elif length is not None and at >= length:
            _late(item, at, length)
        before = at
        yield Chapter(at, item.text("title"))


def _no_length(read: Read) -> None:
    read.findings.add(
        "missing-key",
        read.at("chapters"),
        "the last chapter ends with the episode, whose length is not given",
        mend="write `length: 12:30` beside `chapters`",
        expected="length",
    )


def _out_of_order(item: Read, at: int, before: int) -> None:
    item.findings.add(
        "chapter-order",
        item.at("at"),
        f"the chapter at {clock(at)} does not begin after the one before it, at {clock(before)}",
        mend="mend its time, or put the chapters in order",
        found=clock(at),
        expected=f"a time after {clock(before)}",
    )


def _late(item: Read, at: int, length: int) -> None:
    item.findings.add(
        "chapter-late",
        item.at("at"),
        f"the chapter at {clock(at)} begins when the episode has ended, at {clock(length)}",
        mend="mend its time, or the episode's `length`",
        found=clock(at),
        expected=f"a time before {clock(length)}",
    )
