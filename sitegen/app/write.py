"""`sitegen write`: the whole line, from season files to the output folder."""

from __future__ import annotations

import datetime as dt
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sitegen.app.options import journal_argument, report, root_of, today_option
from sitegen.app.status import Status
from sitegen.core.language.text import listed, plural

if TYPE_CHECKING:
    from sitegen.pipeline import Published


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
    """Write the site; 1 where errors kept it back, 4 where some experiments were left out."""
    if only is not None:
        if keep_going:
            raise click.UsageError("`--only` makes one page: there is nothing to keep going with")
        from sitegen.app.copy import write_copy  # noqa: PLC0415 - a whole site does without

        return write_copy(root_of(journal), only, today, output=output, fresh=fresh, waiting=_waiting)
    from sitegen.pipeline import publish  # noqa: PLC0415 - `--help` does without

    root, begin = root_of(journal), time.perf_counter()
    line = _Line()
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
    report(done.findings, root)
    if done.outcome is None:
        click.echo("nothing was written: the errors come first", err=True)
        return Status.ERRORS
    click.echo(_summary(done, time.perf_counter() - begin), err=True)
    if done.left_out:
        click.echo(f"left out: {listed(done.left_out)}", err=True)
        return Status.PARTLY
    return Status.DONE


def _summary(done: Published, seconds: float) -> str:
    """`41 files written, 3 unchanged, 0 removed; 24 charts and 9 photos in them; 6.1 s: output`."""
    assert done.outcome is not None
    outcome = done.outcome
    files = f"{plural(len(outcome.written), 'file')} written, {outcome.unchanged} unchanged"
    new = [plural(n, word) for n, word in ((done.charts, "chart"), (done.photos, "photo")) if n]
    pictures = f"; {listed(new)} on the pages made" if new else ""
    return f"{files}, {len(outcome.removed)} removed{pictures}; {_rounded(seconds)} s: {done.folder}"


def _rounded(seconds: float) -> str:
    return f"{seconds:.0f}" if seconds >= 10 else f"{seconds:.2g}"


def _waiting() -> None:
    click.echo("another process writes to this folder; waiting until it has done", err=True)


class _Line:
    """How far the work is: one line that is written over, on a terminal only."""

    def __init__(self) -> None:
        self._shown = sys.stderr.isatty()
        self._length = 0

    def progress(self, done: int, of: int) -> None:
        """Say how many experiments are made."""
        if self._shown:
            self._say(f"{done} of {plural(of, 'experiment')}")

    def clear(self) -> None:
        """Leave nothing behind."""
        if self._length:
            self._say("")
            click.echo("\r", nl=False, err=True)

    def _say(self, text: str) -> None:
        click.echo(f"\r{text:<{self._length}}", nl=False, err=True)
        self._length = len(text)
