"""Arguments, options and output that several commands share.

In: arguments of the command line. Out: the journal's folder, today's date, findings on stderr.
"""

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

ARCHIVES = (".zip", ".7z", ".rar", ".tar", ".tgz", ".gz", ".bz2", ".xz")


class _JournalFolder(click.Path):
    """The folder of a journal; of an archive, what to do with it first."""

    def __init__(self) -> None:
        super().__init__(path_type=Path, exists=True, file_okay=False)

    def convert(
        self, value: str | os.PathLike[str], param: click.Parameter | None, ctx: click.Context | None
    ) -> str | bytes | os.PathLike[str]:
        """The path of a folder that there is."""
        path = Path(value)
        if path.suffix.lower() in ARCHIVES and path.is_file():
            unpacked = "unpack it, and name the folder in it that holds journal.yaml"
            package = "of a data package, name its datapackage.json: sitegen facts --from datapackage.json"
            self.fail(f"`{path}` is an archive, which is not opened: {unpacked}; {package}", param, ctx)
        return super().convert(value, param, ctx)


JOURNAL_FOLDER = _JournalFolder()
journal_argument = click.argument("journal", required=False, type=JOURNAL_FOLDER)


def _parse_today(_ctx: click.Context, _parameter: click.Parameter, value: str | None) -> dt.date:
    if value is None:
        return dt.date.today()
    try:
        return dt.date.fromisoformat(value)
    except ValueError as error:
        raise click.BadParameter(f"`{value}` is not a date; write it as 2025-10-19") from error


def today_option(command: _Command) -> _Command:
    """The option `--today`: another date in place of the current one."""
    option = click.option(
        "--today", callback=_parse_today, metavar="DATE", help="Look at the journal as on this day."
    )
    return option(command)


def root_of(journal: Path | None) -> Path:
    """The journal's folder: the one given, else the current folder or the nearest above it with a journal.yaml."""
    for folder in [Path.cwd(), *Path.cwd().parents] if journal is None else [journal.resolve()]:
        if (folder / "journal.yaml").is_file():
            return folder
    begun = journal or Path.cwd()
    if near := _nearly_journal(begun):
        raise click.UsageError(f"`{begun / near}` is not read: rename it to `journal.yaml`")
    where = "this folder and those above it" if journal is None else f"`{journal}`"
    raise click.UsageError(
        f"there is no journal.yaml in {where}; name the journal's folder, or start one with `sitegen begin journal`"
    )


def _nearly_journal(folder: Path) -> str:
    """The file of a folder whose name is nearly journal.yaml; empty where there is none."""
    from sitegen.ingest.unread_files import meant_name  # noqa: PLC0415 - only where there is no journal

    try:
        names = sorted(path.name for path in folder.iterdir() if path.is_file())
    except OSError:
        return ""
    return next((name for name in names if meant_name(name, ("journal.yaml",))), "")


def named_runs(words: tuple[str, ...], journal: Path | None) -> tuple[Path | None, tuple[str, ...]]:
    """The journal's folder and the ids of experiments; a folder may be named in place of an id."""
    wanted = []
    for word in words:
        path = Path(word)
        if (path / "journal.yaml").is_file():
            journal = path
        elif (path / "experiment.yaml").is_file():
            journal = journal or path.resolve().parent.parent.parent
            wanted.append(path.resolve().name)
        else:
            wanted.append(word)
    return journal, tuple(wanted)


def report(findings: Iterable[Finding], root: Path, *, err: bool = True) -> None:
    """Findings on stderr, or on stdout where they are what was asked for; in colour only on a terminal."""
    found = tuple(findings)
    if found:
        from sitegen.app.console.report import findings_text  # noqa: PLC0415 - only where there is something to say

        colour = (sys.stderr if err else sys.stdout).isatty() and not os.environ.get("NO_COLOR")
        click.echo(findings_text(found, root, colour=colour), err=err)


def told_line(warnings: int) -> str:
    """`3 warnings told before: sitegen validate`, for those that stand."""
    from sitegen.core.language.text import plural  # noqa: PLC0415 - most runs have none

    return f"{plural(warnings, 'warning')} told before: sitegen validate"


def quoted(path: Path) -> str:
    """A path as a shell takes it."""
    import shlex  # noqa: PLC0415 - only where a command is shown

    return shlex.quote(str(path))


def refuse_outside(path: Path, root: Path) -> None:
    """A usage error where a file to be read or written lies behind a link that leads out of the journal."""
    from sitegen.core.files.inside import leads_out, link_place  # noqa: PLC0415 - only where something is written

    if path.is_relative_to(root) and leads_out(path, root):
        place = link_place(path, root)
        target = (root / place).resolve()
        raise click.UsageError(
            f"`{place}` is a link that leads out of the journal, to `{target}`: copy that into the journal, "
            "in place of the link"
        )


def unknown_run(name: str, known: Iterable[str]) -> click.UsageError:
    """What is told of an experiment that a journal has not."""
    from sitegen.core.language.text import did_you_mean  # noqa: PLC0415 - only on a mistake

    ids = tuple(known)
    mend = did_you_mean(name, ids) if ids else f"the journal has none yet: sitegen begin experiment {name}"
    return click.UsageError(f"there is no experiment `{name}`: {mend}")
