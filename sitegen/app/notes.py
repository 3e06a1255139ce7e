"""`sitegen notes`: what to speak in an episode about an experiment, and what goes under it."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

import click

from sitegen.app.options import named_runs, report, root_of, today_option
from sitegen.app.status import Status
from sitegen.core.language.text import did_you_mean

KINDS = ("script", "description", "chapters", "post", "follow-up", "answers", "gaps", "shots", "cards")


@click.command(
    "notes",
    epilog="Example: sitegen notes pak-choi-pairs --minutes 8 -o script.md",
    help="Draft the notes of an episode about EXPERIMENT, as Markdown on stdout.",
)
@click.argument("experiment")
@click.option(
    "--journal", type=click.Path(path_type=Path, exists=True, file_okay=False), help="The journal's folder."
)
@click.option("--kind", type=click.Choice(KINDS), default="script", show_default=True, help="What to draft.")
@click.option("--minutes", type=click.FloatRange(min=0.5), help="Fit the script into so many minutes.")
@click.option(
    "--rate", type=click.IntRange(60, 300), default=150, show_default=True, help="Words spoken in a minute."
)
@click.option(
    "--length", type=click.IntRange(80), default=280, show_default=True, help="Characters of the post."
)
@click.option(
    "-o",
    "output",
    type=click.Path(path_type=Path),
    help="Write to a file, which keeps your edits; chapters as WebVTT to `.vtt`.",
)
@click.option("--plain", is_flag=True, help="To be pasted elsewhere: without the lines of the log.")
@click.option("--json", "as_json", is_flag=True, help="The data behind it, as JSON.")
@today_option
def command(
    experiment: str,
    journal: Path | None,
    kind: str,
    minutes: float | None,
    rate: int,
    length: int,
    output: Path | None,
    plain: bool,
    as_json: bool,
    today: dt.date,
) -> int:
    """Draft notes; 1 where the experiment has errors, or a file was kept."""
    from sitegen.notes.drafts import Wanted  # noqa: PLC0415 - `--help` does without
    from sitegen.pipeline.notes import drafted, material_of  # noqa: PLC0415 - as above

    folder, runs = named_runs((experiment,), journal)
    if not runs:
        raise click.UsageError(f"`{experiment}` is a journal: name one of its experiments")
    root, run = root_of(folder), runs[0]
    found = material_of(root, run, today)
    if found.journal_files is not None and found.material is None and not found.errors:
        known = [each.id for each in found.journal_files.folders]
        raise click.UsageError(f"there is no experiment `{run}`: {did_you_mean(run, known)}")
    report(found.errors, root)
    if found.material is None or found.journal_files is None:
        return Status.ERRORS
    wanted = Wanted(kind, minutes, rate, length)
    notes = drafted(found, wanted, plain=plain, vtt=output is not None and output.suffix == ".vtt")
    report(notes.findings, root)
    if notes.text is None and not notes.findings:
        raise click.UsageError(
            f"no episode of `{run}` says how far it told: write `until: day 64` to the last one"
        )
    if notes.text is None:
        return Status.ERRORS
    text = json.dumps(notes.data, indent=1, ensure_ascii=False) + "\n" if as_json else notes.text
    if output is None:
        click.echo(text, nl=False)
        return Status.DONE
    return _to_file(output, text)


def _to_file(output: Path, text: str) -> int:
    from sitegen.memo import Memo  # noqa: PLC0415 - only with `-o`
    from sitegen.pipeline.kept_file import write_kept  # noqa: PLC0415 - as above

    try:
        with Memo() as memo:
            kept = write_kept(output, text, memo)
    except OSError as error:
        raise click.UsageError(f"`{output}` cannot be written: {error.strerror or error}") from error
    if kept.outcome == "kept":
        click.echo(kept.difference, nl=False)
        click.echo(
            f"`{output}` has words that sitegen did not write, and was left as it is. The difference is printed above: "
            "take from it what you want, or name another file.",
            err=True,
        )
        return Status.ERRORS
    click.echo(f"{output}: {'written' if kept.outcome == 'written' else 'unchanged'}", err=True)
    return Status.DONE
