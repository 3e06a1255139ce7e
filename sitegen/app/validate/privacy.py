"""`sitegen validate --privacy`: what looks personal, where it would appear, and what is removed in any case.

In: the journal's folder. Out: findings on stdout, and a summary below them; in a form for programs without it.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from sitegen.app.console.status import Status
from sitegen.app.options import report
from sitegen.core.language.text import plural

# What the search of every published byte holds (tests/canaries).
_NEVER = (
    "the text of `private`",
    "runs that are held back, and their photos and sheets",
    "comments in YAML and in texts",
    "gear, crops and varieties that no run uses",
    "columns, sheets and cells that nothing reads",
    "questions of viewers",
    "inbox, drafts of notes, hidden files and backups",
    "names of photos, sheets and footage",
    "paths, names of the user and of the computer, times of change",
)
_FROM_PICTURES = (
    "place, time of day, camera, owner, serial numbers, captions, previews, colour profiles, what lies behind the end of "
    "the file (a second picture, a film)"
)
_NOT_LOOKED_AT = (
    "what a picture shows, prices, plates of cars, words with a capital alone (varieties have one too)"
)
REMOVED = (
    f"never published: {'; '.join(_NEVER)}\n"
    f"removed from pictures: {_FROM_PICTURES}\n"
    f"not looked at: {_NOT_LOOKED_AT}"
)


def report_personal(root: Path, today: dt.date, form: str | None) -> int:
    """Print what looks personal; 1 where the journal cannot be read."""
    from sitegen.pipeline.checks.privacy import personal  # noqa: PLC0415 - `--help` does without

    found = personal(root, today)
    errors = any(finding.is_error for finding in found.findings)
    if form is not None:
        from sitegen.app.console.report import findings_json, findings_lines  # noqa: PLC0415 - one form is imported

        click.echo((findings_json if form == "json" else findings_lines)(found.findings), nl=False)
    else:
        report(found.findings, root, err=False)
        if not found.findings:
            click.echo(f"nothing looks personal in {plural(found.texts, 'text')}\n")
        if not errors:
            click.echo(REMOVED)
    return Status.ERRORS if errors else Status.DONE
