"""What the head of an experiment says beside its plants and tubs: its start, seed, answer, corrections.

In: the head of experiment.yaml, or a part of it. Out: the records of `core.setup`, or None.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator

from sitegen.core.day import Start
from sitegen.core.format import FORMAT
from sitegen.core.setup import Answer, Claims, Correction, Seed
from sitegen.ingest.dates import parse_date
from sitegen.ingest.expect import check_id, expect_scalar
from sitegen.ingest.nodes import Items, Scalar
from sitegen.ingest.reader import Read

__all__ = ["answer_of", "check_format", "corrections_of", "earlier_ids", "seed_of", "start_of"]

_MONTH = re.compile(r"\d{4}-\d{2}")


def check_format(read: Read) -> None:
    """Refuse a format that a later version may write."""
    version = read.whole("format")
    if version is not None and version != FORMAT:
        read.findings.add(
            "format-version",
            read.at("format"),
            f"format {version} is not known; this version reads format {FORMAT}",
            mend=f"write `format: {FORMAT}`",
            found=str(version),
            expected=str(FORMAT),
        )


def start_of(read: Read) -> Start | None:
    """Day 0, as far as it is known."""
    scalar = read.scalar("start")
    if scalar is None:
        return None
    if scalar.text == "unknown":
        return Start()
    if _MONTH.fullmatch(scalar.text):
        month = parse_date(Scalar(f"{scalar.text}-01", scalar.source), "start", read.findings)
        return Start(month, "month") if month else None
    day = parse_date(scalar, "start", read.findings)
    return Start(day, "day") if day else None


def earlier_ids(read: Read) -> tuple[str, ...]:
    """The ids that old addresses hold."""
    node = read.node("was")
    if node is None:
        return ()
    items = node.items if isinstance(node, Items) else (node,)
    scalars = [expect_scalar(item, "was", read.findings) for item in items]
    return tuple(s.text for s in scalars if s is not None and check_id(s, read.findings))


def seed_of(read: Read | None) -> Seed | None:
    """Where the seed came from."""
    if read is None:
        return None
    claims = read.sub("claims")
    return Seed(read.text("source"), read.text("packed"), _claims(claims) if claims else Claims())


def _claims(read: Read) -> Claims:
    counted: str = read.choice("from")
    days = read.day("days")
    if days is not None and not counted:
        read.findings.add(
            "missing-key",
            read.at("days"),
            "the packet's days count from sowing or from transplanting; it is not said which",
            mend="write `from: sowing` or `from: transplant` beside `days`",
            expected="from",
        )
    return Claims(
        days,
        "sowing" if counted == "sowing" else "transplant" if counted == "transplant" else "",
        read.quantity("height"),
        read.quantity("germination"),
    )


def answer_of(read: Read | None) -> Answer | None:
    """The verdict."""
    if read is None:
        return None
    verdict = read.choice("verdict")
    for known in ("again", "not again", "undecided"):
        if verdict == known:
            return Answer(known, read.text("why"), read.text("change"))
    return None


def corrections_of(read: Read) -> Iterator[Correction]:
    """What was put right later."""
    for item in read.subs("corrections"):
        when: dt.date | None = item.date("date")
        if when is not None:
            yield Correction(when, item.text("text"))
