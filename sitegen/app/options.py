"""What several commands share: finding the journal, the day, and how findings are shown."""

from __future__ import annotations

import datetime as dt
import os
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TypeVar

import click

from sitegen.core.findings.finding import Finding

_Command = TypeVar("_Command", bound=Callable[..., object])

journal_argument = click.argument(
    "journal", required=False, type=click.Path(path_type=Path, exists=True, file_okay=False)
)


def _parse_today(_ctx: click.Context, _parameter: click.Parameter, value: str | None) -> dt.date:
    if value is None:
        return dt.date.today()
    try:
        return dt.date.fromisoformat(value)
    except ValueError as error:
        raise click.BadParameter(f"`{value}` is not a date; write it as 2025-10-19") from error


def today_option(command: _Command) -> _Command:
    """`--today`: look at the journal as on another day."""
    option = click.option(
        "--today", callback=_parse_today, metavar="DATE", help="Look at the journal as on this day."
    )
    return option(command)


def root_of(journal: Path | None) -> Path:
    """The journal's folder: the one named, else the nearest upwards that holds journal.yaml."""
    if journal is not None and (journal / "journal.yaml").is_file():
        return journal.resolve()
    folder = Path.cwd()
    found = (f for f in (folder, *folder.parents) if journal is None and (f / "journal.yaml").is_file())
    root = next(found, None)
    if root is None:
        where = f"`{journal}`" if journal is not None else "this folder and those above it"
        raise click.UsageError(
            f"there is no journal.yaml in {where}; name the journal's folder, or start one with `sitegen begin journal`"
        )
    return root


def report(findings: Iterable[Finding], root: Path) -> None:
    """Findings on stderr, in colour only on a terminal."""
    found = tuple(findings)
    if found:
        from sitegen.app.report.text import findings_text  # noqa: PLC0415 - only where there is something to say

        colour = sys.stderr.isatty() and not os.environ.get("NO_COLOR")
        click.echo(findings_text(found, root, colour=colour), err=True)
