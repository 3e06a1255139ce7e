"""`sitegen log`: an entry from keys and values, from words, or from answers on a terminal."""

from __future__ import annotations

import datetime as dt
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sitegen.app.console.status import Status
from sitegen.app.log.said import EXAMPLE, LogCommand, said_date, said_texts, said_when
from sitegen.app.options import JOURNAL_FOLDER, root_of, today_option

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

    from sitegen.pipeline.filing.planning import Planned


def _complete(ctx: click.Context, _parameter: click.Parameter, beginning: str) -> list[CompletionItem]:
    """The ids of the journal's experiments, for a shell."""
    from click.shell_completion import CompletionItem  # noqa: PLC0415 - only a shell asks

    from sitegen.pipeline.filing.experiments import experiments  # noqa: PLC0415 - as above

    try:
        root = root_of(ctx.params.get("journal"))
    except click.UsageError:
        return []
    return [CompletionItem(each.id) for each in experiments(root) if each.id.startswith(beginning)]


@click.command(
    "log",
    cls=LogCommand,
    epilog=f"Example: {EXAMPLE}",
    help="Add an entry to the log of EXPERIMENT: its id, or a beginning of it that is no other's. Each of TEXTS is a key "
    "of an entry as in the file (`height: about 9 in`), or words (`picked P1 9 g, filled it`), English or German. What "
    "no rule takes is kept as the note. `sitegen log --words` lists the rules. The entry is of the day that its words "
    "begin with (`yesterday picked P1 9 g`, `day 26: filled`), else of today. Without TEXTS, it asks.",
)
@click.argument("experiment", required=False, shell_complete=_complete)
@click.argument("texts", nargs=-1)
@click.option("--day", metavar="DAY", help="The day of the entry: 26, 33-38, `about 36`.")
@click.option("--date", "on", metavar="DATE", help="Its date, such as 2025-10-19 or yesterday.")
@click.option("--anyway", is_flag=True, help="Write it though it brings an error.")
@click.option("--undo", is_flag=True, help="Take back the last entry that this command wrote.")
@click.option(
    "--from",
    "inbox",
    type=click.Path(path_type=Path, dir_okay=False),
    help="File the lines of a text file, each begun with a day (`basil day 31: picked P1 9 g`); others stay there.",
)
@click.option(
    "--photos",
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    help="Copy the pictures of a folder to the experiments that grew when they were taken.",
)
@click.option("--to", metavar="EXPERIMENT", default="", help="With `--photos`: to this one, if it grew then.")
@click.option("--words", is_flag=True, help="List the words that are understood, by key.")
@click.option("--journal", type=JOURNAL_FOLDER, help="The journal's folder.")
@today_option
def command(
    experiment: str | None,
    texts: tuple[str, ...],
    day: str | None,
    on: str | None,
    anyway: bool,
    undo: bool,
    inbox: Path | None,
    photos: Path | None,
    to: str,
    words: bool,
    journal: Path | None,
    today: dt.date,
) -> int:
    """Write an entry; 1 where it was refused."""
    if words:
        return _print_words()
    if to and photos is None:
        raise click.UsageError("`--to` goes with `--photos`: write the experiment first in place of it")
    if inbox is not None or photos is not None:
        alone = not (texts or day or on or anyway or undo or (inbox and photos))
        return _several(experiment, journal, inbox, photos, to, today, alone=alone)
    if experiment is None:
        raise click.UsageError(f"name an experiment, and what was seen or done: {EXAMPLE}")
    root, run = _run(experiment, journal)
    when = _when(day, on, today)
    from sitegen.filing.entries.append import CannotAppendError  # noqa: PLC0415 - `--help` does without

    try:
        if undo:
            _refuse_with_undo(texts, when)
            return _undo(root, run)
        said = said_texts(texts) or _answers(root, run, today)
        if texts and not when:
            when, said = said_when(said, today)
            if when:
                click.echo(f"  {when}")
        return _file(root, run, when, said, today, anyway=anyway) if said else _nothing()
    except CannotAppendError as error:
        message = (
            f"`{run}`, line {error.line}: {error.message}" if error.line > 1 else f"`{run}`: {error.message}"
        )
        raise click.UsageError(f"{message}; {error.mend}. Nothing was written") from error


def _several(
    word: str | None,
    journal: Path | None,
    inbox: Path | None,
    photos: Path | None,
    to: str,
    today: dt.date,
    *,
    alone: bool,
) -> int:
    """File an inbox, or a folder of pictures; a journal's folder may be named as well."""
    option = "--from" if inbox is not None else "--photos"
    if not alone:
        raise click.UsageError(f"`{option}` stands alone: leave out texts, days and other options")
    if word is not None and not (Path(word) / "journal.yaml").is_file():
        instead = "begin its lines with the experiment" if inbox is not None else f"write `--to {word}`"
        raise click.UsageError(f"`{option}` takes no experiment: {instead}")
    root = root_of(Path(word) if word is not None else journal)
    if inbox is not None:
        from sitegen.app.log.from_inbox import log_from_inbox  # noqa: PLC0415 - `--help` does without

        return log_from_inbox(root, inbox, today)
    from sitegen.app.log.photos import log_photos  # noqa: PLC0415 - as above

    assert photos is not None
    return log_photos(root, photos, to, today)


def _run(word: str, journal: Path | None) -> tuple[Path, str]:
    """The journal's folder, and the id of the experiment that a word means."""
    from sitegen.app.options import named_runs, refuse_outside, unknown_run  # noqa: PLC0415 - `--help` does without
    from sitegen.core.language.text import listed  # noqa: PLC0415 - as above
    from sitegen.pipeline.filing.experiments import experiments, meant_by  # noqa: PLC0415 - as above

    folder, names = named_runs((word,), journal)
    if not names:
        raise click.UsageError(f"`{word}` is a journal: name one of its experiments")
    root = root_of(folder)
    found = meant_by(names[0], root)
    if len(found) == 1:
        refuse_outside(found[0].path / "experiment.yaml", root)
    if len(found) == 1 and not (found[0].path / "experiment.yaml").exists():
        place = found[0].path.relative_to(root).as_posix()
        raise click.UsageError(f"`{place}` has no experiment.yaml: run `sitegen validate`, which says why")
    if len(found) == 1:
        return root, found[0].id
    if found:
        both = listed([f"`{each.id}`" for each in found])
        raise click.UsageError(
            f"`{names[0]}` begins the names of {both}: write more of the one that is meant"
        )
    for folder_of_runs in sorted({root / "seasons", *(root / "seasons").glob("*/")}):
        refuse_outside(folder_of_runs, root)  # it may hold the experiment
    known = tuple(each.id for each in experiments(root))
    raise unknown_run(names[0], known)


def _when(day: str | None, on: str | None, today: dt.date) -> str:
    """The line of the day; empty for today."""
    if day is not None and on is not None:
        raise click.UsageError("`--day` and `--date` both say when: leave one out")
    if on is not None:
        return said_date(on, today)
    if day is None:
        return ""
    if "\n" in day or not any(character.isdecimal() for character in day):
        raise click.UsageError(f"`{day}` is not a day; write it as 26")
    return f"day: {day.strip()}"


def _refuse_with_undo(texts: tuple[str, ...], when: str) -> None:
    if texts or when:
        raise click.UsageError("`--undo` takes an entry back: leave out what to write, and its day")


def _answers(root: Path, run: str, today: dt.date) -> tuple[str, ...]:
    """What is answered on a terminal; wrong usage where nobody can be asked."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise click.UsageError(f"say what was seen or done: {EXAMPLE}")
    from sitegen.app.log.questions import asked  # noqa: PLC0415 - only where somebody can be asked

    return asked(root, run, today)


def _nothing() -> int:
    click.echo("no answer: nothing was written", err=True)
    return Status.DONE


def _file(root: Path, run: str, when: str, texts: tuple[str, ...], today: dt.date, *, anyway: bool) -> int:
    from sitegen.pipeline.filing.entries import file_entry  # noqa: PLC0415 - `--help` does without

    filed = file_entry(root, run, when, texts, today, anyway=anyway)
    planned = filed.planned
    for said in (
        *planned.understood.said,
        *([f"note: {planned.understood.note}"] if planned.understood.note else []),
    ):
        click.echo(f"  {said}")
    _report(planned, root)
    place = planned.path.relative_to(root).as_posix()
    if filed.written:
        first = planned.after.count(b"\n", 0, planned.change.offset) + 1 if planned.change else 1
        undo = f"; `sitegen log {run} --undo` takes it back" if filed.kept else ""
        click.echo(f"{place}:{first}: written{undo}", err=True)
        return Status.DONE
    if planned.readable:
        click.echo(f"{place}: nothing was written; mend it, or write it with `--anyway`", err=True)
    else:
        click.echo(f"{place}: nothing was written, since it cannot be read as it is", err=True)
    return Status.ERRORS


def _report(planned: Planned, root: Path) -> None:
    """The findings, with lines of the file as it would be."""
    if not planned.findings:
        return
    import os  # noqa: PLC0415 - most entries bring none

    from sitegen.app.console.report import findings_text  # noqa: PLC0415 - as above

    colour = sys.stderr.isatty() and not os.environ.get("NO_COLOR")
    unsaved = {planned.path.relative_to(root).as_posix(): planned.after}
    click.echo(findings_text(planned.findings, root, colour=colour, unsaved=unsaved), err=True)


def _undo(root: Path, run: str) -> int:
    from sitegen.pipeline.filing.entries import undo_entry  # noqa: PLC0415 - only with `--undo`

    found = undo_entry(root, run)
    if found is None:
        click.echo(
            f"`{run}` does not end with an entry that this command wrote, or was changed since: nothing was taken back",
            err=True,
        )
        return Status.ERRORS
    click.echo("taken back:\n" + found.entry.strip("\r\n"))
    return Status.DONE


def _print_words() -> int:
    from sitegen.filing.words.rules.listing import rule_lines  # noqa: PLC0415 - only with `--words`

    for key, said in rule_lines():
        click.echo(f"{key}\n    {said}")
    return Status.DONE
