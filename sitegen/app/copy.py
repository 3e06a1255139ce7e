"""`sitegen write --only`: one experiment's page as a folder that stands alone, for one who reviews it."""

from __future__ import annotations

import datetime as dt
import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sitegen.app.options import report
from sitegen.app.status import Status
from sitegen.core.language.text import did_you_mean, plural
from sitegen.core.site.addresses import HOME

if TYPE_CHECKING:
    from collections.abc import Callable


def write_copy(
    root: Path,
    experiment: str,
    today: dt.date,
    *,
    output: Path | None,
    fresh: bool,
    waiting: Callable[[], None],
) -> int:
    """Write the copy; 1 where errors kept it back."""
    from sitegen.pipeline import copy  # noqa: PLC0415 - `--help` does without

    begin = time.perf_counter()
    done = copy(root, today, experiment, output=output, fresh=fresh, waiting=waiting)
    if done.known:
        raise click.UsageError(
            f"there is no experiment `{experiment}`: {did_you_mean(experiment, done.known)}"
        )
    report(done.findings, root)
    if done.outcome is None:
        click.echo("nothing was written: the errors come first", err=True)
        return Status.ERRORS
    files = f"{plural(len(done.outcome.written), 'file')} written, {done.outcome.unchanged} unchanged"
    click.echo(f"{files}; {time.perf_counter() - begin:.2g} s: {done.folder / HOME}", err=True)
    if done.held_back:
        click.echo(f"`{experiment}` is not published; its copy says so", err=True)
    return Status.DONE
