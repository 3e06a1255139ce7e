"""A new experiment: its set-up, and an empty log. Nothing stands in it that the author has not given.

In: the options of the command. Out: experiment.yaml, with every other key as a comment.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from sitegen.app.begin.asking import asked, on_terminal
from sitegen.app.begin.files import commented, entry_comments, write_new
from sitegen.core.format import FORMAT
from sitegen.ingest import JournalFiles

_FIRST_ENTRY = """\

# The first entry, on the day of sowing: remove the signs of a comment and the brackets after `log:`.
#  - day: 0
#    sow: 3 a spot
#    water: filled
"""


def write_first(
    journal_files: JournalFiles, folder: Path, crop: str, system: str, plants: int | None, start: str
) -> None:
    """Write the new experiment."""
    number = plants or plants_of(journal_files, system, "plants")
    if not start:
        start = dt.date.today().isoformat()
        click.echo(f"start: {start}, today; change it where you sow on another day", err=True)
    given = {
        "format": str(FORMAT),
        "title": f"'{folder.name}'",
        "crop": crop,
        "system": system,
        "start": start,
        "plants": str(number),
        "log": "[]",
    }
    text = (
        "# Set-up first, the log last.\n" + commented("experiment", given) + _FIRST_ENTRY + entry_comments()
    )
    write_new(folder / "experiment.yaml", text)


def plants_of(journal_files: JournalFiles, system: str, what: str) -> int:
    """The number of plants where none is given: a plant in each spot of the system, which is said."""
    found = next((each for each in journal_files.library.systems if each.id == system), None)
    if found is not None and found.spots:
        click.echo(f"{what}: {found.spots}, one in each spot of {system}", err=True)
        return found.spots
    if on_terminal():
        answer = asked("How many plants?")
        if answer.isdigit() and int(answer) > 0:
            return int(answer)
    raise click.UsageError(
        f"how many plants? give `--plants`: gear.yaml does not say how many spots {system} has"
    )
