"""What the head of an experiment says beside its plants and tubs: its start, seed, answer, corrections.

In: the head of experiment.yaml, or a part of it. Out: the records of `core.setup`, or None.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator

from sitegen.core.findings.finding import Findings
from sitegen.core.format import FORMAT
from sitegen.core.language.text import clock
from sitegen.core.records.setup import Answer, Chapter, Claims, Correction, Episode, Seed
from sitegen.core.values.day import Start
from sitegen.ingest.values.dates import parse_date, parse_day
from sitegen.ingest.yaml.nodes import Items, Scalar, check_id, expect_scalar
from sitegen.ingest.yaml.typed_fields import TypedFields

_MONTH = re.compile(r"\d{4}-\d{2}")


def check_format(fields: TypedFields) -> None:
    """Refuse a format that a later version may write."""
    version = fields.whole("format")
    if version is not None and version != FORMAT:
        fields.report(
            "format",
            "format-version",
            f"format {version} is not known; this version reads format {FORMAT}",
            f"write `format: {FORMAT}`",
            found=str(version),
            expected=str(FORMAT),
        )


def start_of(fields: TypedFields) -> Start | None:
    """Day 0, as far as it is known."""
    scalar = fields.scalar("start")
    if scalar is None:
        return None
    if scalar.text == "unknown":
        return Start()
    if _MONTH.fullmatch(scalar.text):
        month = parse_date(Scalar(f"{scalar.text}-01", scalar.source), "start", fields.findings)
        return Start(month, "month") if month else None
    day = parse_date(scalar, "start", fields.findings)
    return Start(day, "day") if day else None


def earlier_ids(fields: TypedFields) -> tuple[str, ...]:
    """The ids that old addresses hold."""
    node = fields.node("was")
    if node is None:
        return ()
    items = node.items if isinstance(node, Items) else (node,)
    scalars = [expect_scalar(item, "was", fields.findings) for item in items]
    return tuple(s.text for s in scalars if s is not None and check_id(s, fields.findings))


def seed_of(fields: TypedFields | None) -> Seed | None:
    """Where the seed came from."""
    if fields is None:
        return None
    claims = fields.nested("claims")
    return Seed(fields.text("source"), fields.text("packed"), _claims(claims) if claims else Claims())


def _claims(fields: TypedFields) -> Claims:
    counted: str = fields.choice("from")
    days = fields.day("days")
    if days is not None and not counted:
        fields.report(
            "days",
            "missing-key",
            "the packet's days count from sowing or from transplanting; it is not said which",
            "write `from: sowing` or `from: transplant` beside `days`",
            expected="from",
        )
    return Claims(
        days,
        "sowing" if counted == "sowing" else "transplant" if counted == "transplant" else "",
        fields.quantity("height"),
        fields.quantity("germination"),
    )


def answer_of(fields: TypedFields | None) -> Answer | None:
    """The verdict."""
    if fields is None:
        return None
    verdict = fields.choice("verdict")
    for known in ("again", "not again", "undecided"):
        if verdict == known:
            return Answer(known, fields.text("why"), fields.text("change"))
    return None


def corrections_of(fields: TypedFields) -> Iterator[Correction]:
    """What was put right later."""
    for item in fields.nested_list("corrections"):
        when: dt.date | None = item.date("date")
        if when is not None:
            yield Correction(when, item.text("text"))


_CLOCK = re.compile(r"(?:(?P<hours>\d{1,2}):(?=[0-5]\d:))?(?P<minutes>\d{1,3}):(?P<seconds>[0-5]\d)")


def parse_clock(scalar: Scalar, key: str, findings: Findings) -> int | None:
    """The seconds of `12:30` or `1:02:30`."""
    match = _CLOCK.fullmatch(scalar.text)
    if match is not None:
        return int(match["hours"] or 0) * 3600 + int(match["minutes"]) * 60 + int(match["seconds"])
    scalar.report(
        findings,
        "not-a-time",
        f"`{scalar.text}` is not a time; `{key}` wants minutes and seconds",
        f"write `{key}: 12:30`, or with hours `{key}: 1:02:30`",
        "minutes and seconds such as 12:30",
    )
    return None


def episode_of(fields: TypedFields) -> Episode:
    """An episode about the run."""
    until = fields.scalar("until")
    length = _clock(fields, "length")
    return Episode(
        title=fields.text("title"),
        link=fields.text("link"),
        published=fields.date("published"),
        until=parse_day(until, "until", fields.findings) if until else None,
        length=length,
        chapters=tuple(_chapters(fields, length)),
    )


def _clock(fields: TypedFields, key: str) -> int | None:
    scalar = fields.scalar(key)
    return None if scalar is None else parse_clock(scalar, key, fields.findings)


def _chapters(fields: TypedFields, length: int | None) -> Iterator[Chapter]:
    """The chapters, each held against the one before it and against the episode's length."""
    if fields.has("chapters") and not fields.has("length"):
        _no_length(fields)
    before = -1
    for item in fields.nested_list("chapters"):
        at = _clock(item, "at")
        if at is None:
            continue
        if at <= before:
            _out_of_order(item, at, before)
        elif length is not None and at >= length:
            _late(item, at, length)
        before = at
        yield Chapter(at, item.text("title"))


def _no_length(fields: TypedFields) -> None:
    fields.report(
        "chapters",
        "missing-key",
        "the last chapter ends with the episode, whose length is not given",
        "write `length: 12:30` beside `chapters`",
        expected="length",
    )


def _out_of_order(item: TypedFields, at: int, before: int) -> None:
    item.report(
        "at",
        "chapter-order",
        f"the chapter at {clock(at)} does not begin after the one before it, at {clock(before)}",
        "mend its time, or put the chapters in order",
        found=clock(at),
        expected=f"a time after {clock(before)}",
    )


def _late(item: TypedFields, at: int, length: int) -> None:
    item.report(
        "at",
        "chapter-late",
        f"the chapter at {clock(at)} begins when the episode has ended, at {clock(length)}",
        "mend its time, or the episode's `length`",
        found=clock(at),
        expected=f"a time before {clock(length)}",
    )
