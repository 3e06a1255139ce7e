"""`sitegen write`: the whole line, from season files to the output folder."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from sitegen.app.options import journal_argument, report, root_of, today_option
from sitegen.app.status import Status
from sitegen.core.text import listed, plural

__all__ = ["command"]


@click.command("write", epilog="Example: sitegen write my-bench -o public", help="Write the site.")
@journal_argument
@click.option("-o", "--output", type=click.Path(path_type=Path, file_okay=False), help="Where to write it.")
@click.option("--keep-going", is_flag=True, help="Publish the sound experiments, leave out the others.")
@today_option
def command(journal: Path | None, output: Path | None, keep_going: bool, today: dt.date) -> int:
    """Write the site; 1 where errors kept it back, 4 where some experiments were left out."""
    from sitegen.pipeline import publish  # noqa: PLC0415 - `--help` does without

    root = root_of(journal)
    done = publish(root, today, output=output, keep_going=keep_going)
    report(done.findings, root)
    if done.outcome is None:
        click.echo("nothing was written: the errors come first", err=True)
        return Status.ERRORS
    outcome = done.outcome
    click.echo(
        f"{plural(len(outcome.written), 'file')} written, {len(outcome.unchanged)} unchanged,"
        f" {len(outcome.removed)} removed: {done.folder}",
        err=True,
    )
    if done.left_out:
        click.echo(f"left out: {listed(done.left_out)}", err=True)
        return Status.PARTLY
    return Status.DONE
