"""`sitegen write`: write the site into the output folder, or with `--only` one page into a folder of its own.

In: a journal. Out: files; findings and a summary on stderr; an exit status.
"""

from __future__ import annotations

import datetime as dt
import sys
import time
from pathlib import Path

import click

from sitegen.app.console.status import Status
from sitegen.app.options import journal_argument, report, root_of, today_option, told_line, unknown_run
from sitegen.core.language.text import listed, plural
from sitegen.core.site.addresses import HOME
from sitegen.core.site.page import WriteResult


@click.command("write", epilog="Example: sitegen write my-bench -o public", help="Write the site.")
@journal_argument
@click.option("-o", "--output", type=click.Path(path_type=Path, file_okay=False), help="Where to write it.")
@click.option(
    "--only",
    metavar="EXPERIMENT",
    help="A copy of this page alone, for a reviewer: a folder that needs nothing else, drafts too. It goes where -o "
    "says, else beside the site's folder (output-EXPERIMENT beside output), and never into it.",
)
@click.option("--keep-going", is_flag=True, help="Publish the sound experiments, leave out the others.")
@click.option("--jobs", type=click.IntRange(0), default=0, help="Processes at once.  [default: one a core]")
@click.option("--fresh", is_flag=True, help="Make everything anew, whatever is known from before.")
@today_option
def command(
    journal: Path | None,
    output: Path | None,
    only: str | None,
    keep_going: bool,
    jobs: int,
    fresh: bool,
    today: dt.date,
) -> int:
    """Write the site; 1 where errors prevented it, 4 where some experiments were left out."""
    if only is None:
        return _write_site(root_of(journal), today, output, keep_going, jobs, fresh)
    if keep_going:
        raise click.UsageError("`--only` makes one page: there is nothing to keep going with")
    return _write_copy(root_of(journal), today, output, only, fresh)


def _write_site(
    root: Path, today: dt.date, output: Path | None, keep_going: bool, jobs: int, fresh: bool
) -> int:
    from sitegen.pipeline import publish  # noqa: PLC0415 - `--help` does without

    begin, line = time.perf_counter(), _ProgressLine()
    done = publish(
        root,
        today,
        output=output,
        keep_going=keep_going,
        jobs=jobs,
        fresh=fresh,
        progress=line.progress,
        waiting=_waiting,
    )
    line.clear()
    report([finding for finding in done.findings if finding not in done.told], root)
    if done.told:
        click.echo(told_line(len(done.told)), err=True)
    if done.outcome is None:
        return _nothing_written()
    new = [plural(n, word) for n, word in ((done.charts, "chart"), (done.photos, "photo")) if n]
    pictures = f"; {listed(new)} on the pages made" if new else ""
    removed = f", {len(done.outcome.removed)} removed"
    seconds = time.perf_counter() - begin
    duration = f"{seconds:.0f}" if seconds >= 10 else f"{seconds:.2g}"
    click.echo(f"{_files(done.outcome)}{removed}{pictures}; {duration} s: {done.folder}", err=True)
    if done.left_out:
        click.echo(f"left out: {listed(done.left_out)}", err=True)
        return Status.PARTLY
    return Status.DONE


def _write_copy(root: Path, today: dt.date, output: Path | None, experiment: str, fresh: bool) -> int:
    from sitegen.pipeline.publishing.standalone import copy  # noqa: PLC0415 - `--help` does without

    begin = time.perf_counter()
    done = copy(root, today, experiment, output=output, fresh=fresh, waiting=_waiting)
    if done.known is not None:
        raise unknown_run(experiment, done.known)
    report(done.findings, root)
    if done.outcome is None:
        return _nothing_written()
    seconds = time.perf_counter() - begin
    click.echo(f"{_files(done.outcome)}; {seconds:.2g} s: {done.folder / HOME}", err=True)
    if done.held_back:
        click.echo(f"`{experiment}` is not published; its copy says so", err=True)
    return Status.DONE


def _nothing_written() -> int:
    click.echo("nothing was written: the errors come first", err=True)
    return Status.ERRORS


def _files(outcome: WriteResult) -> str:
    return f"{plural(len(outcome.written), 'file')} written, {outcome.unchanged} unchanged"


def _waiting() -> None:
    click.echo("another process writes to this folder; waiting until it has done", err=True)


class _ProgressLine:
    """Progress on one line that is overwritten, on a terminal only."""

    def __init__(self) -> None:
        self._on_terminal = sys.stderr.isatty()
        self._length = 0

    def progress(self, done: int, of: int) -> None:
        """Show the number of experiments that are rendered."""
        if self._on_terminal:
            self._show(f"{done} of {plural(of, 'experiment')}")

    def clear(self) -> None:
        """Blank the line."""
        if self._length:
            self._show("")
            click.echo("\r", nl=False, err=True)

    def _show(self, text: str) -> None:
        click.echo(f"\r{text:<{self._length}}", nl=False, err=True)
        self._length = len(text)
