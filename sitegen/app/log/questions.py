"""What is asked on a terminal where `sitegen log` is given nothing to write.

In: a run as it stands. Out: the answers, as texts of a key each; an empty answer gives none. An answer that could not be
written is asked for again, so that the others are not lost.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from sitegen.core.records.rows import Deed, Run
from sitegen.core.reference.milestones import milestones_of

if TYPE_CHECKING:
    from sitegen.pipeline.filing.planning import OpenRun


_YES = ("yes", "y", "ja", "j")
_NO = ("no", "n", "nein", "nothing", "nichts", "-")


class Question(NamedTuple):
    """What is asked, an example of an answer, and what stands before the answer."""

    asked: str
    example: str
    key: str


def questions(run: Run) -> Iterator[Question]:
    """What is usual in the phase of a run: seedlings before all are up, then readings, water, feed and picks."""
    rows, kind = run.rows, run.setup.crop.kind
    reached = {row.name for row in rows.milestones if row.reached}
    up = bool(reached) or any(event.deed is Deed.SPROUTED for event in rows.events)
    tubs = [tub.id for tub in run.setup.tubs] if len(run.setup.tubs) > 1 else []
    where = f"{tubs[0]} tub " if tubs else ""
    if not any(event.deed is Deed.SOW for event in rows.events):
        yield Question("Sown?", "3 a spot", "sow: ")
    elif not any(stage != "seed_leaves" for stage in reached):
        yield Question("Seedlings up so far?", "5 of 8", "sprouted: ")
    if up:
        yield Question("Height?", "P1 9 cm, P2 11 cm", "height: ")
    waters = f"{where}2 L; filled" if tubs else "2 L, filled, changed"
    yield Question("Water?", waters, "water: ")
    if up and run.setup.products:
        product = next((each.id for each in run.setup.products if each.kind == "feed"), "")
        yield Question("Feed?", f"{where}{product} 10 ml", "feed: ")
    stages = list(milestones_of(kind).values())
    latest = max((number for number, each in enumerate(stages) if each.name in reached), default=-1)
    stage = next(iter(stages[latest + 1 :]), None)
    if up and stage is not None:
        yield Question(
            f"{stage.noun[0].upper()}{stage.noun[1:]}?", "P1; 2 plants; all; none", f"{stage.name}="
        )
    if rows.picks or any(name in reached for name in ("ripe", "rosette", "full_root", "first_pod")):
        yield Question("Picked?", "P1 84 g, P2 unweighed", "picked ")
    yield Question("Anything else?", "aphids on P2", "")


def asked(root: Path, run_id: str, today: date) -> tuple[str, ...]:
    """The answers of somebody at a terminal."""
    from sitegen.pipeline.filing.planning import opened_run  # noqa: PLC0415 - only where somebody is asked

    opened = opened_run(root, run_id, today)
    if opened.run is None:
        return ("",)  # its errors are said where it would be written
    click.echo(f"{run_id}: {opened.run.setup.title}. Leave empty what was not looked at.")
    found: list[str] = []
    try:
        for question in questions(opened.run):
            found += _answer(question, opened)
    except click.Abort:
        click.echo("\nnothing was written", err=True)
        raise
    return tuple(found)


def _answer(question: Question, opened: OpenRun) -> list[str]:
    """The answer as a text, where there is one; asked until it can be written."""
    while True:
        said = click.prompt(f"{question.asked} ({question.example})", default="", show_default=False).strip()
        text = text_of(question, said)
        if not text:
            return []
        errors = opened.planned("", [text]).errors
        if not errors:
            return [text]
        click.echo(f"{errors[0].message}: {errors[0].mend}; or leave it empty")


def text_of(question: Question, said: str) -> str:
    """An answer as a text that the command takes; empty where it says nothing."""
    bare = said.lower().rstrip(".!")
    if not bare or (bare in _NO and not question.key.endswith("=")):
        return ""
    if not question.key.endswith("="):
        return f"{question.key}{said}"
    stage = question.key[:-1]
    word = "none" if bare in _NO else "some" if bare in _YES else bare
    if word in ("all", "none", "some") or word.replace(" of ", "").isdecimal():
        return f"milestone: {{{stage}: {word}}}"
    return f"{question.asked.rstrip('?').lower()} on {said}"
