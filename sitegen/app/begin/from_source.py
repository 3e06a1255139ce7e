"""An experiment drafted from a spreadsheet or a diary.

In: the file, the options of the command, answers. Out: experiment.yaml and copies of what it reads; on stderr,
everything that was assumed, and the findings of the draft.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click

from sitegen.app.begin.asking import asked, on_terminal
from sitegen.app.begin.choosing import chosen_crop, chosen_system, read_again
from sitegen.app.begin.files import held
from sitegen.app.begin.first import plants_of
from sitegen.app.console.status import Status
from sitegen.app.options import ARCHIVES, quoted, refuse_outside, report
from sitegen.core.language.text import plural
from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.diary import plants_named, read_diary
from sitegen.filing.drafting.draft import SetUp, all_plants, draft_text
from sitegen.filing.drafting.records import Found
from sitegen.filing.drafting.sheets.columns import Around
from sitegen.filing.drafting.sheets.drafted_sheet import read_file
from sitegen.filing.drafting.sheets.sheet_files import MAX_BYTES, UnreadableError, decoded, read_sheets
from sitegen.filing.safe_file import replace_file
from sitegen.filing.words.known import Known
from sitegen.filing.words.understanding import understood
from sitegen.ingest import ExperimentFolder, JournalFiles, read_experiment
from sitegen.judge import judge

_SHEETS = (".csv", ".tsv", ".xlsx", ".xlsm", ".xls", ".xlsb", ".ods")
_TEXTS = (".txt", ".md", ".text")


@dataclass(frozen=True, slots=True)
class Source:
    """The options: the file, where the run belongs, what is known of it; empty or None where one was not given."""

    path: Path
    experiment: str
    season: str
    crop: str | None
    system: str | None
    plants: int | None
    start: str
    answers: Mapping[str, str]


def begin_from(journal_files: JournalFiles, source: Source, today: date) -> int:
    """Write the draft."""
    content = _content(source.path)
    folder = journal_files.root / "seasons" / source.season / source.experiment
    refuse_outside(folder / "experiment.yaml", journal_files.root)
    if (folder / "experiment.yaml").exists():
        raise click.UsageError(f"`{folder / 'experiment.yaml'}` is already there; nothing was written over")
    found, choices = _read(journal_files, source, content, today)
    if not (found.records or found.entries or found.readings or any(each.when for each in found.kept)):
        raise click.UsageError(
            f"`{source.path.name}` has no table with a column of days or dates, and no line that begins with one"
        )
    crop, journal_files = _crop(journal_files, source, found, choices)
    system = chosen_system(journal_files, source.system)
    journal_files = read_again(journal_files)
    if source.system is None:
        choices.say(f"system: {system}, the only one of gear.yaml")
    plants = _plants(journal_files, source, found, system, choices)
    setup = SetUp(found.title or source.experiment, crop, system, _start(source, found, choices), plants)
    text = draft_text(source.path.name, setup, found, choices.assumed)
    with held(journal_files.root):
        _write(folder, text, found)
    return _say(journal_files, source, folder, found, choices, today)


def _content(path: Path) -> bytes:
    if path.suffix.lower() in ARCHIVES:
        raise click.UsageError(
            f"`{path}` is an archive, which is not opened: unpack it, and name the spreadsheet or the diary that is in it"
        )
    try:
        if path.stat().st_size > MAX_BYTES:
            raise click.UsageError(f"`{path}` has more than {MAX_BYTES // 1_000_000} MB; split it")
        return path.read_bytes()
    except OSError as error:
        raise click.UsageError(f"`{path}` cannot be opened: {error.strerror or error}") from error


def _read(journal_files: JournalFiles, source: Source, content: bytes, today: date) -> tuple[Found, Choices]:
    """What the file says; on a terminal, what it leaves open is asked for."""
    answers = dict(source.answers)
    found, choices = _found(journal_files, source, content, answers, today.year)
    if choices.open and on_terminal():
        for question in choices.open:
            answers[question.key] = asked(question.asked, question.options, question.default)
        found, choices = _found(journal_files, source, content, answers, today.year)
    elif found.first is not None and found.first > today and any(each.key == "year" for each in choices.open):
        found, choices = _found(journal_files, source, content, answers, today.year - 1)
    unknown = sorted(set(answers) - choices.used)
    if unknown:
        raise click.UsageError(f"nothing was asked that `--answer {unknown[0]}=…` answers; leave it out")
    return found, choices


def _found(
    journal_files: JournalFiles, source: Source, content: bytes, answers: Mapping[str, str], year: int
) -> tuple[Found, Choices]:
    choices, units = Choices(answers), journal_files.journal.units
    name, ending = source.path.name, source.path.suffix.lower()
    if source.start[:4].isdigit():
        year = int(source.start[:4])
    try:
        if ending in _SHEETS or (ending not in _TEXTS and content.startswith(b"PK")):
            around = Around((source.path.stem, source.experiment), units)
            return read_file(read_sheets(name, content), content, around, year, choices), choices
        text, encoding = decoded(content)
        if encoding:
            choices.say(f"the file is not UTF-8: read as {encoding}")
        known = _known(journal_files, source, text)
        found = read_diary(
            text, lambda line: understood(line, known), choices, year=year, month_first=units == "us"
        )
    except UnreadableError as error:
        raise click.UsageError(
            f"`{name}` is no table that can be read: {error}; save it as .xlsx or .csv"
        ) from error
    for number in range(1, plants_named(text) + 1):
        found.name_plant(f"P{number}")
    return found, choices


def _known(journal_files: JournalFiles, source: Source, text: str) -> Known:
    library = journal_files.library
    crop = next((each for each in library.crops if each.id == source.crop), None)
    crop = crop or (library.crops[0] if len(library.crops) == 1 else None)
    number = source.plants or plants_named(text) or 1
    return Known(
        plants=tuple(f"P{each}" for each in range(1, number + 1)),
        products=tuple((each.id, each.name, each.kind or "") for each in library.products),
        crop_kind=crop.kind or "" if crop else "",
        crop=crop.name if crop else "",
        language=journal_files.journal.language,
        units=journal_files.journal.units,
    )


def _crop(
    journal_files: JournalFiles, source: Source, found: Found, choices: Choices
) -> tuple[str, JournalFiles]:
    """The crop: the one given, else one that the source names, else the only one."""
    if source.crop is None:
        texts = [source.experiment, source.path.stem, *(text for _, text in found.titles), *found.plants]
        for crop in journal_files.library.crops:
            names = "|".join(re.escape(name) for name in (crop.id, crop.name))
            by = next(
                (
                    text
                    for text in texts
                    if re.search(rf"(?<![a-z])(?:{names})(?![a-z])", text, re.IGNORECASE)
                ),
                None,
            )
            if by is not None:
                choices.say(f"crop: {crop.id}, since `{by}` names it")
                return crop.id, journal_files
    chosen = chosen_crop(journal_files, source.crop)
    if source.crop is None:
        choices.say(f"crop: {chosen}, the only one of crops.yaml")
    return chosen, read_again(journal_files)


def _plants(
    journal_files: JournalFiles, source: Source, found: Found, system: str, choices: Choices
) -> list[str] | int:
    named = all_plants(found)
    if source.plants is not None:
        own = [f"P{number}" for number in range(1, source.plants + 1)]
        if set(named) - set(own):
            extra = ", ".join(plant for plant in named if plant not in own)
            raise click.UsageError(
                f"`--plants {source.plants}` leaves out plants that the source names: {extra}"
            )
        return source.plants
    if named:
        choices.say(f"plants: {', '.join(named)}, those that the source names")
        return named
    number = plants_of(journal_files, system, "plants")
    choices.say(f"plants: {number}, one in each spot of {system}, since the source names none")
    return number


def _start(source: Source, found: Found, choices: Choices) -> str:
    """Day 0: the one given, else what the source says of it, else its first date."""
    if source.start:
        return source.start
    days = list(dict.fromkeys(day for day, _ in found.starts))
    if days:
        place = found.starts[0][1]
        choices.say(f"start: {days[0]}, by {place}")
        if len(days) > 1:
            others = ", ".join(
                f"{day} by {next(p for d, p in found.starts if d == day)}" for day in days[1:4]
            )
            choices.say(f"start: other places of the source give {others}")
        return days[0].isoformat()
    if found.first is None:
        choices.say("start: unknown, since the source has day numbers only")
        return "unknown"
    choices.say(
        f"start: {found.first}, the first date of the source, since nothing says when it was sown; if it was earlier, "
        "change `start`"
    )
    return found.first.isoformat()


def _write(folder: Path, text: str, found: Found) -> None:
    """The copies first: an experiment.yaml never names a file that is not there."""
    folder.mkdir(parents=True, exist_ok=True)
    for copy in found.copies:
        path = folder / copy.name
        if path.exists() and path.read_bytes() != copy.content:
            raise click.UsageError(f"`{path}` is already there; nothing was written over")
        replace_file(path, copy.content)
        click.echo(f"wrote {path}", err=True)
    replace_file(folder / "experiment.yaml", text.encode())
    click.echo(f"wrote {folder / 'experiment.yaml'}", err=True)


def _say(
    journal_files: JournalFiles, source: Source, folder: Path, found: Found, choices: Choices, today: date
) -> int:
    """What was assumed, what was kept as comments, the findings of the draft."""
    if choices.assumed:
        click.echo("assumed, as the head of the file says:", err=True)
    for line in choices.assumed:
        click.echo(f"  {line}", err=True)
    kept = [each for each in found.kept if not (found.entries and each.when is not None)]
    if kept or found.titles:
        count = plural(len(kept) + len(found.titles), "place")
        click.echo(f"above the tables, or not read, kept as comments with their places: {count}", err=True)
        for place, text in [*found.titles, *((each.place, each.text) for each in kept)][:5]:
            click.echo(f"  {place}: {text}", err=True)
    run, findings = read_experiment(ExperimentFolder(source.experiment, source.season, folder), journal_files)
    if run is not None:
        findings = (*findings, *judge(run, today))
    report(findings, journal_files.root)
    click.echo(
        f"next: read {folder / 'experiment.yaml'}, then: sitegen validate {quoted(journal_files.root)}",
        err=True,
    )
    return Status.DONE
