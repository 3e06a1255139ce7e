"""`sitegen notes`: what to speak in an episode about an experiment, and what goes under it."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sitegen.app.console.status import Status
from sitegen.app.options import JOURNAL_FOLDER, named_runs, report, root_of, today_option, unknown_run
from sitegen.core.site.comments import DRAFT_MARK

if TYPE_CHECKING:
    from sitegen.pipeline.notes.material import FoundMaterial

KINDS = ("script", "description", "chapters", "post", "follow-up", "answers", "gaps", "shots", "cards")


@click.command(
    "notes",
    epilog="Example: sitegen notes pak-choi-pairs --minutes 8 -o script.md",
    help="Draft the notes of an episode about EXPERIMENT, as Markdown on stdout.",
)
@click.argument("experiment")
@click.option("--journal", type=JOURNAL_FOLDER, help="The journal's folder.")
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
@click.option(
    "--check",
    "narration",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="Hold the numbers of a narration (.vtt, .srt, text) against the log.",
)
@click.option("--title", default="", help="With `--check`: the title of the episode, checked too.")
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
    narration: Path | None,
    title: str,
    plain: bool,
    as_json: bool,
    today: dt.date,
) -> int:
    """Draft notes; 1 where the experiment has errors, or a file was kept."""
    from sitegen.notes.drafts import Wanted  # noqa: PLC0415 - `--help` does without
    from sitegen.pipeline.notes.material import drafted, material_of  # noqa: PLC0415 - as above

    folder, runs = named_runs((experiment,), journal)
    if not runs:
        raise click.UsageError(f"`{experiment}` is a journal: name one of its experiments")
    root, run = root_of(folder), runs[0]
    found = material_of(root, run, today)
    if found.journal_files is not None and found.material is None and not found.errors:
        known = [each.id for each in found.journal_files.folders]
        raise unknown_run(run, known)
    report(found.errors, root)
    if found.material is None or found.journal_files is None:
        return Status.ERRORS
    if narration is not None:
        return _check(found, narration, title, as_json=as_json)
    if kind == "cards":
        return _cards(root, run, output, today)
    wanted = Wanted(kind, minutes, rate, length)
    vtt = output is not None and output.suffix == ".vtt"
    notes = drafted(found, wanted, plain=plain, vtt=vtt, as_data=as_json)
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
    if output.suffix == ".md" and output.resolve().parent == root.resolve() and DRAFT_MARK not in text:
        raise click.UsageError(
            f"`{output}` would be a page of the site, as any Markdown in the journal's own folder: "
            f"write it into the folder of `{run}`, or elsewhere"
        )
    return _to_file(output, text)


def _check(found: FoundMaterial, narration: Path, title: str, *, as_json: bool) -> int:
    """1 where something that was spoken is wrong, or the narration cannot be read."""
    from sitegen.pipeline.notes.material import checked  # noqa: PLC0415 - only with `--check`

    result = checked(found, narration, title)
    report(result.findings, narration.parent)
    if any(finding.is_error for finding in result.findings):
        return Status.ERRORS
    click.echo(
        json.dumps(result.data(), indent=1, ensure_ascii=False) if as_json else result.text().rstrip("\n")
    )
    return Status.ERRORS if result.wrong else Status.DONE


def _cards(root: Path, run: str, folder: Path | None, today: dt.date) -> int:
    """The cards of a run as files of a folder, which keeps those that somebody changed."""
    from sitegen.pipeline.notes.material import cards_of_experiment  # noqa: PLC0415 - only for cards

    if folder is None:
        raise click.UsageError("cards are pictures: name a folder for them with `-o`")
    cards, findings = cards_of_experiment(root, run, today)
    report([each for each in findings if each.is_error], root)
    files = {f"{card.stem}.svg": card.svg.encode("utf-8") for card in cards}
    files |= {f"{card.stem}.png": card.png for card in cards}
    kept = _written({folder / name: content for name, content in files.items()}, folder)
    click.echo(f"{folder}: {len(files)} files, {len(cards)} cards as SVG and PNG", err=True)
    for path in kept:
        click.echo(f"`{path}` was changed since it was written, and was left as it is", err=True)
    return Status.ERRORS if kept or not cards else Status.DONE


def _written(files: dict[Path, bytes], folder: Path) -> list[Path]:
    """Write files; those that were kept."""
    from sitegen.memo import Memo  # noqa: PLC0415 - only with `-o`
    from sitegen.pipeline.notes.kept_file import write_kept  # noqa: PLC0415 - as above

    try:
        folder.mkdir(parents=True, exist_ok=True)
        with Memo() as memo:
            return [
                path for path, content in files.items() if write_kept(path, content, memo).outcome == "kept"
            ]
    except OSError as error:
        raise click.UsageError(f"`{folder}` cannot be written: {error.strerror or error}") from error


def _to_file(output: Path, text: str) -> int:
    from sitegen.memo import Memo  # noqa: PLC0415 - only with `-o`
    from sitegen.pipeline.notes.kept_file import write_kept  # noqa: PLC0415 - as above

    try:
        with Memo() as memo:
            kept = write_kept(output, text.encode("utf-8"), memo)
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
