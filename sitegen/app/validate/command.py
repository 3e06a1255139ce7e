"""`sitegen validate`: all findings of a journal, in the order of files, as text, lines or JSON.

With `--fix` the mends that are safe are carried out first; `--diff` shows what that would change.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from sitegen.app.console.status import Status
from sitegen.app.options import journal_argument, report, root_of, today_option
from sitegen.core.language.text import plural


@click.command(
    "validate",
    epilog="Example: sitegen validate my-bench --line",
    help="Report what is wrong or odd in a journal.",
)
@journal_argument
@click.option("--line", "form", flag_value="line", help="One line a finding.")
@click.option("--json", "form", flag_value="json", help="Findings as JSON, on stdout.")
@click.option("--fix", is_flag=True, help="Carry out the mends that change no value, and report the rest.")
@click.option("--upgrade", is_flag=True, help="First rewrite files of an earlier format; comments stay.")
@click.option(
    "--diff",
    is_flag=True,
    help="Show what `--fix` (or `--upgrade`, where that is given) would change, on stdout; nothing is written.",
)
@click.option("--privacy", is_flag=True, help="Only what looks personal, and where it would appear.")
@today_option
def command(
    journal: Path | None,
    form: str | None,
    fix: bool,
    upgrade: bool,
    diff: bool,
    privacy: bool,
    today: dt.date,
) -> int:
    """Report findings; 1 where there is an error."""
    from sitegen.pipeline import validate  # noqa: PLC0415 - `--help` does without

    root = root_of(journal)
    if diff and (form or fix or privacy):
        raise click.UsageError("`--diff` shows changes and nothing else: leave out the other option")
    if upgrade:
        from sitegen.app.validate.upgrade import upgrade_files  # noqa: PLC0415 - most runs change nothing

        upgrade_files(root, show=diff)
        if diff:
            return Status.DONE
    if diff:
        _show_diff(root, today)
    elif fix:
        _fix(root, today, in_form=form is not None)
    if privacy:
        from sitegen.app.validate.privacy import report_personal  # noqa: PLC0415 - most runs do not ask for it

        return report_personal(root, today, form)
    checked = validate(root, today)
    if form is not None:
        from sitegen.app.console.report import findings_json, findings_lines  # noqa: PLC0415 - most runs have no findings

        in_form = findings_json if form == "json" else findings_lines
        click.echo(in_form(checked.findings), nl=False)
    elif diff:
        pass  # stdout holds a patch, and what it leaves is reported once it is applied
    elif checked.findings:
        report(checked.findings, root, err=False)
    else:
        entries = plural(checked.entries, "entry", "entries")
        begun = "" if checked.experiments else "; begin one with `sitegen begin experiment`"
        click.echo(f"no findings: {plural(checked.experiments, 'experiment')}, {entries}{begun}")
    return Status.ERRORS if any(f.is_error for f in checked.findings) else Status.DONE


def _show_diff(root: Path, today: dt.date) -> None:
    from sitegen.pipeline.filing.mending import mend_journal  # noqa: PLC0415 - only where something is mended

    click.echo(mend_journal(root, today, write=False).diff, nl=False)


def _fix(root: Path, today: dt.date, *, in_form: bool) -> None:
    """Mend, and print what was changed: on stderr where stdout holds findings in a form."""
    from sitegen.app.console.report import printable  # noqa: PLC0415 - only where something is mended
    from sitegen.pipeline.filing.mending import mend_journal  # noqa: PLC0415

    mended = mend_journal(root, today, write=True)
    for edit in sorted(mended.edits, key=lambda each: (each.file, each.line)):
        click.echo(
            printable(f"{edit.file}:{edit.line}: {_shown(edit.old)} → {_shown(edit.text)}"), err=in_form
        )
    for finding in mended.refused:
        line = (
            f"{finding.source}: left as it is, since what its help says does not mend it: {finding.message}"
        )
        click.echo(printable(line), err=True)
    for file in mended.changed_meanwhile:
        click.echo(f"{file}: left as it is, since it was changed meanwhile", err=True)


def _shown(text: str) -> str:
    return f"`{text}`" if text else "nothing"
