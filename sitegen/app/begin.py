"""`sitegen begin`: start a journal, a season or an experiment, with keys of the format as comments.

In: names. Out: new files; an existing file is never changed.
"""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import click

from sitegen.app.options import journal_argument, root_of
from sitegen.core.format import FORMAT, TABLES
from sitegen.core.site.addresses import slug


@click.group("begin", epilog="Example: sitegen begin experiment basil-wick --season 2026-spring my-bench")
def command() -> None:
    """Start a journal, a season or an experiment."""


def _write(path: Path, text: str) -> None:
    """Write a new file; an existing one is never touched."""
    if path.exists():
        raise click.UsageError(f"`{path}` is already there; nothing was written over")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    click.echo(f"wrote {path}", err=True)


def _commented(table: str, given: dict[str, str]) -> str:
    """A file with some keys filled in, and the others as comments with their meaning and an example."""
    lines = []
    for field in TABLES[table].fields:
        if field.key in given:
            lines.append(f"{field.key}: {given[field.key]}".rstrip())
        elif field.example:
            lines.append(f"# {field.key}: {field.example}  # {field.about}")
    return "\n".join(lines) + "\n"


def _checked_id(_ctx: click.Context, _parameter: click.Parameter, value: str) -> str:
    if re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9-]*", value):
        return value
    raise click.BadParameter(f"`{value}` cannot be an id; write `{slug(value) or 'autumn-2026'}`")


@command.command("journal", epilog="Example: sitegen begin journal my-bench --title 'My bench'")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
@click.option("--title", default="My bench", help="The site's name.")
@click.option(
    "--units", type=click.Choice(["metric", "us"]), default="metric", help="Shown first on the pages."
)
def journal(folder: Path, title: str, units: str) -> None:
    """Start a journal in FOLDER, with a first tub, lamp and crop to change."""
    quoted = "'" + title.replace("'", "''") + "'"
    given = {"format": str(FORMAT), "title": quoted, "units": units, "theme": "ledger"}
    _write(folder / "journal.yaml", "# What holds for the whole journal.\n" + _commented("journal", given))
    _write(folder / "gear.yaml", _GEAR)
    _write(folder / "crops.yaml", _CROPS)
    _write(folder / "about.md", "# About\n\nWho grows here, what, and how it is weighed.\n")
    click.echo(f"next: sitegen begin season {dt.date.today().year}-first {folder}", err=True)


_GEAR = """\
# Systems, lamps and products that are used again and again. Change these to yours.
systems:
  tub-6: {name: Six-cup tub, kind: deep water culture, spots: 6, reservoir: 11 L, footprint: 60 x 40 cm, headroom: 45 cm}
lamps:
  bar-45: {name: 45 W bar, power: 45 W}
products:
  leaf-mix: {name: Leaf mix, kind: feed, dose: 2 ml/L}
  ph-down: {name: pH down, kind: acid}
"""

_CROPS = """\
# Crops and their varieties. Kinds: leafy, heading, flower head, fruiting, root, legume, herb.
lettuce:
  name: Lettuce
  kind: leafy
  varieties:
    first-green: {name: First Green}
"""


@command.command("season", epilog="Example: sitegen begin season 2026-spring my-bench --title 'Spring 2026'")
@click.argument("season", callback=_checked_id)
@journal_argument
@click.option("--title", help="Its name on the pages.")
def season(season: str, journal: Path | None, title: str | None) -> None:
    """Start the season SEASON in JOURNAL."""
    root = root_of(journal)
    name = (title or season).replace("'", "''")
    path = root / "seasons" / season / "season.yaml"
    _write(path, _commented("season", {"title": f"'{name}'"}))
    click.echo(f"next: sitegen begin experiment my-first --season {season} {root}", err=True)


@command.command("experiment", epilog="Example: sitegen begin experiment basil-wick --season 2026-spring")
@click.argument("experiment", callback=_checked_id)
@journal_argument
@click.option("--season", "season_id", required=True, help="The season it belongs to.")
@click.option("--crop", default="lettuce", help="An id of crops.yaml.")
@click.option("--system", default="tub-6", help="An id of gear.yaml.")
@click.option("--plants", default=6, type=click.IntRange(1, 2000), help="How many.")
@click.option("--start", default="", help="The day of sowing, a month, or `unknown`. Default: today.")
def experiment(
    experiment: str, journal: Path | None, season_id: str, crop: str, system: str, plants: int, start: str
) -> None:
    """Start EXPERIMENT in a season of JOURNAL."""
    root = root_of(journal)
    if not (root / "seasons" / season_id / "season.yaml").is_file():
        raise click.UsageError(f"there is no season `{season_id}`: sitegen begin season {season_id} {root}")
    given = {
        "format": str(FORMAT),
        "title": f"'{experiment}'",
        "question": "What is this run to show?",
        "crop": crop,
        "system": system,
        "start": start or dt.date.today().isoformat(),
        "plants": str(plants),
        "log": "\n  - day: 0\n    sow: 2 a spot\n    water: filled",
    }
    path = root / "seasons" / season_id / experiment / "experiment.yaml"
    _write(path, "# Set-up first, the log last.\n" + _commented("experiment", given) + _entry_comments())
    click.echo(f"next: sitegen validate {root}", err=True)


def _entry_comments() -> str:
    lines = [f"#   {field.key}: {field.example}  # {field.about}" for field in TABLES["entry"].fields]
    return "\n# Keys of an entry:\n" + "\n".join(lines) + "\n"
