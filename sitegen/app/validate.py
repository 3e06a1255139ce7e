"""`sitegen validate`: all findings of a journal, in the order of files, as text, lines or JSON."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import click

from sitegen.app.options import journal_argument, report, root_of, today_option
from sitegen.app.status import Status
from sitegen.core.language.text import plural


@click.command(
    "validate",
    epilog="Example: sitegen validate my-bench --line",
    help="Report what is wrong or odd in a journal.",
)
@journal_argument
@click.option("--line", "form", flag_value="line", help="One line a finding.")
@click.option("--json", "form", flag_value="json", help="Findings as JSON, on stdout.")
@click.option("--upgrade", is_flag=True, help="First rewrite files of an earlier format; comments stay.")
@click.option(
    "--diff", is_flag=True, help="Show what `--upgrade` would change, on stdout; nothing is written."
)
@click.option("--privacy", is_flag=True, help="Only what looks personal, with the places that photos carry.")
@today_option
def command(
    journal: Path | None, form: str | None, upgrade: bool, diff: bool, privacy: bool, today: dt.date
) -> int:
    """Report findings; 1 where there is an error."""
    from sitegen.pipeline import validate  # noqa: PLC0415 - `--help` does without

    root = root_of(journal)
    if diff and not upgrade:
        raise click.UsageError("`--diff` shows what another option would change: write `--upgrade --diff`")
    if upgrade:
        from sitegen.app.upgrade import upgrade_files  # noqa: PLC0415 - most runs change nothing

        upgrade_files(root, show=diff)
        if diff:
            return Status.DONE
    checked = validate(root, today)
    if privacy:
        checked = replace(checked, findings=checked.personal)
    if form is not None:
        from sitegen.app.report import findings_json, findings_lines  # noqa: PLC0415 - most runs have no findings

        in_form = findings_json if form == "json" else findings_lines
        click.echo(in_form(checked.findings), nl=False)
    elif checked.findings:
        report(checked.findings, root, err=False)
    elif privacy:
        click.echo("nothing looks personal")
    else:
        entries = plural(checked.entries, "entry", "entries")
        click.echo(f"no findings: {plural(checked.experiments, 'experiment')}, {entries}")
    return Status.ERRORS if any(f.is_error for f in checked.findings) else Status.DONE
