"""`sitegen log --photos`: pictures of a folder filed under the experiments that grew when they were taken."""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sitegen.app.console.status import Status
from sitegen.app.options import report, unknown_run
from sitegen.core.language.text import listed, plural

if TYPE_CHECKING:
    from sitegen.filing.inbox.run_names import KnownRun
    from sitegen.filing.pictures import Decision
    from sitegen.pipeline.filing.pictures import Outcome

MOST = 5  # other files that are named


def log_photos(root: Path, folder: Path, to: str, today: dt.date) -> int:
    """Copy pictures into the journal, a line for each; 1 where any is left."""
    from sitegen.pipeline.filing.pictures import copy_pictures, pictures_in, runs_of  # noqa: PLC0415 - `--help` does without

    if folder.resolve().is_relative_to(root / "seasons"):
        raise click.UsageError(
            f"`{folder}` belongs to the journal: name the folder that the pictures come from"
        )
    runs, errors = runs_of(root)
    found = pictures_in(folder, root, today, _named(to, runs) if to and not errors else None)
    if errors or found.errors:
        report(errors or found.errors, root)
        return Status.ERRORS
    counts = {"filed": 0, "already there": 0, "left": 0}
    for outcome in copy_pictures(folder, root, tuple(_asked(found.decisions)), found.runs):
        kind, line = _line(outcome)
        counts[kind] += 1
        click.echo(line)
    if found.others:
        more = [f"`{name}`" for name in found.others[:MOST]]
        more += [f"{len(found.others) - MOST} more"] if len(found.others) > MOST else []
        click.echo(f"not pictures, and not looked at: {listed(more)}", err=True)
    said = [f"{number} {kind}" for kind, number in counts.items() if number]
    click.echo(f"{plural(sum(counts.values()), 'picture')}{': ' if said else ''}{', '.join(said)}", err=True)
    return Status.ERRORS if counts["left"] else Status.DONE


def _named(name: str, runs: Sequence[KnownRun]) -> KnownRun:
    from sitegen.filing.inbox.run_names import runs_named  # noqa: PLC0415 - as above

    meant = runs_named(name, runs)
    if len(meant) == 1:
        return meant[0]
    if meant:
        which = listed([f"`{run.id}`" for run in meant], "or")
        raise click.UsageError(f"`{name}` may be {which}")
    raise unknown_run(name, [run.id for run in runs])


def _asked(decisions: Sequence[Decision]) -> Iterator[Decision]:
    """The decisions; on a terminal, where several experiments fit, as the author answers."""
    from sitegen.pipeline.filing.pictures import answered  # noqa: PLC0415 - as above

    terminal = sys.stdin.isatty() and sys.stdout.isatty()
    always: dict[tuple[str, ...], str] = {}
    for decision in decisions:
        ids = tuple(fit.run.id for fit in decision.fits)
        if len(ids) < 2 or not terminal:
            yield decision
            continue
        chosen = always.get(ids)
        if chosen is None:
            chosen, every = _answer(decision)
            if every:
                always[ids] = chosen
        yield answered(decision, chosen) if chosen else decision


def _answer(decision: Decision) -> tuple[str, bool]:
    """The experiment chosen (empty: leave the picture), and whether for all pictures that these experiments fit."""
    click.echo(f"{decision.picture.name}, taken on {decision.picture.taken}, fits:")
    for choice, fit in enumerate(decision.fits, start=1):
        click.echo(f"  {choice}  {fit}")
    while True:
        answer = click.prompt("Which? (`1`, `1 all`; empty leaves it)", default="", show_default=False)
        number, _, every = answer.strip().partition(" ")
        if not number:
            return "", False
        if number.isdecimal() and 1 <= int(number) <= len(decision.fits) and every.strip() in ("", "all"):
            return decision.fits[int(number) - 1].run.id, bool(every)
        click.echo(f"write a number from 1 to {len(decision.fits)}")


def _line(outcome: Outcome) -> tuple[str, str]:
    """What became of a picture: how it is counted, and the line about it."""
    from sitegen.app.console.report import printable  # noqa: PLC0415 - as above

    name = printable(outcome.picture.name)
    if outcome.new and outcome.fit is not None:
        day = f"day {outcome.fit.day}" if outcome.fit.day is not None else "no day is known of it"
        return "filed", f"{name}: {printable(outcome.place)}, {day}"
    if outcome.place:
        return "already there", f"{name}: already there as {printable(outcome.place)}"
    return "left", f"{name}: left; {printable(outcome.why)}"
