"""What is asked on a terminal where `sitegen log` is given nothing to write.

In: a run as it stands. Out: the answers, as texts of a key each; an empty answer gives none.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import NamedTuple

import click

from sitegen.core.records.rows import Deed, Run
from sitegen.core.reference.milestones import milestones_of


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
    stage = next((each for each in milestones_of(kind).values() if each.name not in reached), None)
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

    run = opened_run(root, run_id, today).run
    if run is None:
        return ("",)  # its errors are said where it would be written
    click.echo(f"{run_id}: {run.setup.title}. Leave empty what was not looked at.")
    found: list[str] = []
    for question in questions(run):
        said = click.prompt(f"{question.asked} ({question.example})", default="", show_default=False).strip()
        if said:
            found.append(text_of(question, said))
    return tuple(found)


def text_of(question: Question, said: str) -> str:
    """An answer as a text that the command takes."""
    if not question.key.endswith("="):
        return f"{question.key}{said}"
    stage = question.key[:-1]
    bare = said.lower()
    if bare in ("all", "none", "some") or bare.replace(" of ", "").isdecimal():
        return f"milestone: {{{stage}: {bare}}}"
    return f"{question.asked.rstrip('?').lower()} on {said}"
