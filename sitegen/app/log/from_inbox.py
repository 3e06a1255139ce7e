"""`sitegen log --from`: an inbox filed, and what became of each of its lines."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from sitegen.app.console.status import Status
from sitegen.app.options import refuse_outside, report
from sitegen.core.language.text import plural


def log_from_inbox(root: Path, inbox: Path, today: dt.date) -> int:
    """File the lines of an inbox; 1 where any stay."""
    from sitegen.filing.inbox.transaction import UnreadableIntentError, intent_path  # noqa: PLC0415 - `--help` does without
    from sitegen.pipeline.filing.inbox import OtherJournalError, file_inbox  # noqa: PLC0415 - as above

    record = intent_path(inbox)
    if not inbox.is_file() and not record.is_file():
        raise click.UsageError(f"there is no file `{inbox}`")
    refuse_outside(inbox.parent.resolve() / inbox.name, root)
    try:
        filing = file_inbox(root, inbox, today)
    except OtherJournalError as error:
        raise click.UsageError(
            f"a filing of `{inbox.name}` into `{error.root}` was not finished: give the same command there first"
        ) from error
    except UnreadableIntentError as error:
        raise click.UsageError(
            f"`{record}` is damaged: it says what an earlier filing was to do. "
            "Look at the last entries of the logs, remove from the inbox what they hold, then remove that file"
        ) from error
    except OSError:
        click.echo("nothing is lost: the same command goes on from here", err=True)
        raise
    report(filing.journal_errors, root)
    for place in filing.finished:
        click.echo(f"{place}: an earlier filing is finished")
    for visit in filing.filed:
        click.echo(f"{visit.run}, {visit.when}")
        for said in (*visit.said, *([f"note: {visit.note}"] if visit.note else [])):
            click.echo(f"  {said}")
    report(filing.warnings, root)
    report(filing.findings, inbox.resolve().parent)
    left = f", {plural(filing.left, 'line')} left in {inbox.name}" if filing.left else ""
    undo = (
        "; `sitegen log EXPERIMENT --undo` takes back the last entry of one"
        if filing.filed and filing.kept
        else ""
    )
    click.echo(f"{plural(len(filing.filed), 'visit')} filed{left}{undo}", err=True)
    return Status.ERRORS if filing.findings or filing.journal_errors else Status.DONE
