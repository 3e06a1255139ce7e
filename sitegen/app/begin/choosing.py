"""The season, the crop and the system of a new experiment: those given, else the only ones there are.

In: a journal, the options of the command. Out: ids that the journal knows. An unknown crop or system is added with
questions on a terminal, and refused with the nearest known one elsewhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

import click

from sitegen.app.begin.adding import add_crop, add_system
from sitegen.app.begin.asking import asked, on_terminal
from sitegen.app.options import quoted
from sitegen.core.language.text import did_you_mean, listed
from sitegen.ingest import JournalFiles, read_journal

Kind = Literal["crop", "system"]
_FILES: dict[Kind, str] = {"crop": "crops.yaml", "system": "gear.yaml"}


def chosen_season(journal_files: JournalFiles, season: str | None) -> str:
    """The season asked for, else the only one."""
    known = [each.id for each in journal_files.seasons]
    if season is None and len(known) == 1:
        click.echo(f"season: {known[0]}, the only one", err=True)
        return known[0]
    root = journal_files.root
    if season is None:
        if not known:
            raise click.UsageError(f"there is no season yet: sitegen begin season 2026-spring {quoted(root)}")
        raise click.UsageError(f"which season? `--season` wants one of {_quoted(known)}")
    if season not in known:
        raise unknown_season(season, known, root)
    return season


def unknown_season(season: str, known: Sequence[str], root: Path) -> click.UsageError:
    """What is told of a season that a journal has not."""
    begin = f"sitegen begin season {season} {quoted(root)}"
    mend = f"{did_you_mean(season, known)}, or start it: {begin}" if known else begin
    return click.UsageError(f"there is no season `{season}`: {mend}")


def chosen_crop(journal_files: JournalFiles, crop: str | None) -> str:
    """The crop asked for, else the only one."""
    return _chosen(journal_files, "crop", crop)


def chosen_system(journal_files: JournalFiles, system: str | None) -> str:
    """The system asked for, else the only one."""
    return _chosen(journal_files, "system", system)


def _chosen(journal_files: JournalFiles, kind: Kind, given: str | None) -> str:
    library = journal_files.library
    known = [each.id for each in (library.crops if kind == "crop" else library.systems)]
    file = _FILES[kind]
    if given is None and len(known) == 1:
        click.echo(f"{kind}: {known[0]}, the only one of {file}", err=True)
        return known[0]
    if given is None:
        given = _asked_for(kind, known, file)
    if given in known:
        return given
    if not on_terminal():
        mend = did_you_mean(given, known) if known else f"add it to {file}"
        raise click.UsageError(
            f"`{given}` is not a {kind} of {file}: {mend}, or add `{given}` there; nothing was written"
        )
    add = add_crop if kind == "crop" else add_system
    add(journal_files.root, given)
    return given


def _asked_for(kind: Kind, known: Sequence[str], file: str) -> str:
    if not on_terminal():
        wants = f"wants one of {_quoted(known)}" if known else f"names it; {file} has none yet"
        raise click.UsageError(f"which {kind}? `--{kind}` {wants}")
    shown = (
        f" ({', '.join(known)}, or a new id)"
        if known
        else " (an id, such as `basil`)"
        if kind == "crop"
        else ""
    )
    return asked(f"Which {kind}?{shown}")


def _quoted(words: Sequence[str]) -> str:
    return listed([f"`{word}`" for word in words], "or")


def read_again(journal_files: JournalFiles) -> JournalFiles:
    """The journal after something was added to its crops or its gear."""
    again, _ = read_journal(journal_files.root)
    return again or journal_files
