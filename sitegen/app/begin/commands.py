"""The commands `sitegen begin journal`, `season` and `experiment`.

In: names and options. Out: new files. An experiment that is like an earlier one, or has arms, is a planned run: `trial`.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sitegen.app.begin.files import clear_unfinished, commented, write_new
from sitegen.app.begin.start import checked_start
from sitegen.app.console.status import Status
from sitegen.app.options import journal_argument, quoted, refuse_outside, report, root_of
from sitegen.core.format import FORMAT
from sitegen.core.records.setup import Compared
from sitegen.core.site.addresses import slug

if TYPE_CHECKING:
    from sitegen.ingest import JournalFiles


# Help is given as text, not as a docstring: `python -OO` leaves docstrings out.
@click.group(
    "begin",
    help="Start a journal, a season or an experiment.",
    epilog="Example: sitegen begin experiment basil-wick --season 2026-spring my-bench",
)
def command() -> None:
    """The group of what can be begun."""


def _checked_id(_ctx: click.Context, _parameter: click.Parameter, value: str) -> str:
    if re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9-]*", value):
        return value
    raise click.BadParameter(f"`{value}` cannot be an id; write `{slug(value) or 'autumn-2026'}`")


@command.command(
    "journal",
    help="Start a journal in FOLDER, with a first tub, lamp and crop to change.",
    epilog="Example: sitegen begin journal my-bench --title 'My bench'",
)
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
@click.option("--title", default="My bench", help="The site's name.")
@click.option(
    "--units", type=click.Choice(["metric", "us"]), default="metric", help="Shown first on the pages."
)
def journal(folder: Path, title: str, units: str) -> None:
    """Write the files of a new journal."""
    name = "'" + title.replace("'", "''") + "'"
    given = {"format": str(FORMAT), "title": name, "units": units, "theme": "ledger"}
    write_new(folder / "journal.yaml", "# What holds for the whole journal.\n" + commented("journal", given))
    write_new(folder / "gear.yaml", _GEAR)
    write_new(folder / "crops.yaml", _CROPS)
    write_new(folder / "about.md", "# About\n\nWho grows here, what, and how it is weighed.\n")
    click.echo(f"next: sitegen begin season {dt.date.today().year}-first {quoted(folder)}", err=True)


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


@command.command(
    "season",
    help="Start the season SEASON in JOURNAL.",
    epilog="Example: sitegen begin season 2026-spring my-bench --title 'Spring 2026'",
)
@click.argument("season", callback=_checked_id)
@journal_argument
@click.option("--title", help="Its name on the pages.")
def season(season: str, journal: Path | None, title: str | None) -> None:
    """Write the file of a new season."""
    root = root_of(journal)
    name = (title or season).replace("'", "''")
    path = root / "seasons" / season / "season.yaml"
    refuse_outside(path, root)
    write_new(path, commented("season", {"title": f"'{name}'"}))
    click.echo(f"next: sitegen begin experiment my-first --season {season} {quoted(root)}", err=True)


def _checked_arms(_ctx: click.Context, _parameter: click.Parameter, value: str | None) -> tuple[str, ...]:
    arms = tuple(arm.strip() for arm in value.split(",")) if value is not None else ()
    if value is not None and len(arms) < 2:
        raise click.BadParameter(f"`{value}` is one arm; write two or more, such as `one,two`")
    if len(set(arms)) < len(arms) or not all(arms):
        raise click.BadParameter(f"`{value}` wants a name for each arm, each once")
    return arms


def _checked_answers(
    _ctx: click.Context, _parameter: click.Parameter, value: tuple[str, ...]
) -> dict[str, str]:
    pairs = [text.partition("=") for text in value]
    for key, sign, answer in pairs:
        if not key or not sign or not answer.strip():
            raise click.BadParameter(f"`{key}{sign}{answer}` is no answer; write it as `dates=day first`")
    return {key.strip(): answer.strip() for key, _, answer in pairs}


@command.command(
    "experiment",
    help="Start EXPERIMENT in a season of JOURNAL: set-up and an empty log; with --from, what an older record says.",
    epilog="Example: sitegen begin experiment basil-wick-2 --like basil-wick --arms early,late",
)
@click.argument("experiment", callback=_checked_id)
@journal_argument
@click.option(
    "--season", "season_id", help="The season it belongs to. Default: that of OLD, else the only one."
)
@click.option("--crop", help="An id of crops.yaml. Default: the only one.")
@click.option("--system", help="An id of gear.yaml. Default: the only one.")
@click.option(
    "--plants", type=click.IntRange(1, 2000), help="How many. Default: one in each spot of the system."
)
@click.option(
    "--start",
    default="",
    callback=checked_start,
    help="The day of sowing, a month, or `unknown`. Default: today.",
)
@click.option(
    "--from",
    "source",
    metavar="FILE",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="Draft it from a spreadsheet (.xlsx, .csv) or a diary (.txt).",
)
@click.option(
    "--answer",
    "answers",
    metavar="KEY=VALUE",
    multiple=True,
    callback=_checked_answers,
    help="What FILE leaves open, such as `dates=day first`; the draft names the keys.",
)
@click.option("--like", metavar="OLD", help="Plan it with the set-up of an earlier experiment.")
@click.option("--arms", metavar="A,B,…", callback=_checked_arms, help="Deal arms to the spots at random.")
@click.option(
    "--compare",
    type=click.Choice(["groups", "tubs", "varieties"]),
    help="What arms are. Default: as in OLD, else groups.",
)
@click.option("--spots", type=click.IntRange(2, 2000), help="How many. Default: a spot for each plant.")
@click.option("--seed", type=click.IntRange(0), help="The number that a layout comes from. Default: any.")
def experiment(
    experiment: str,
    journal: Path | None,
    season_id: str | None,
    crop: str | None,
    system: str | None,
    plants: int | None,
    start: str,
    source: Path | None,
    answers: dict[str, str],
    like: str | None,
    arms: tuple[str, ...],
    compare: Compared | None,
    spots: int | None,
    seed: int | None,
) -> int | None:
    """Write the file of a new experiment."""
    root = root_of(journal)
    dealt = bool(arms or compare)
    given = {"--crop": crop, "--system": system, "--plants": plants}
    _refuse_together(like, given, dealt, {"--spots": spots, "--seed": seed}, plants)
    _refuse_beside_source(source, answers, like, dealt)
    clear_unfinished(root, experiment)
    journal_files, findings = _journal_files(root)
    if journal_files is None:
        return findings
    from sitegen.app.begin import choosing, first  # noqa: PLC0415 - `--help` does without

    if like is None or season_id is not None:
        season_id = choosing.chosen_season(journal_files, season_id)
    if source is not None:
        from sitegen.app.begin.from_source import Source, begin_from  # noqa: PLC0415 - as above

        of = Source(source, experiment, str(season_id), crop, system, plants, start, answers)
        return begin_from(journal_files, of, dt.date.today())
    if like is None:
        crop = choosing.chosen_crop(journal_files, crop)
        system = choosing.chosen_system(journal_files, system)
        journal_files = choosing.read_again(journal_files)
    if like is not None or dealt:
        from sitegen.app.begin.trials.trial import Wanted, begin_trial  # noqa: PLC0415 - as above

        number = plants or spots or 0
        if like is None and not number:
            number = first.plants_of(journal_files, str(system), "plants")
        wanted = Wanted(
            experiment,
            season_id or "",
            start,
            like or "",
            crop or "",
            system or "",
            number,
            compare,
            arms,
            spots,
            seed,
        )
        return begin_trial(root, wanted, dt.date.today())
    folder = root / "seasons" / str(season_id) / experiment
    first.write_first(journal_files, folder, str(crop), str(system), plants, start)
    click.echo(f"next: sitegen validate {quoted(root)}", err=True)
    return None


def _journal_files(root: Path) -> tuple[JournalFiles | None, int]:
    """The journal without its experiments; None and the status where it has errors, which are reported."""
    from sitegen.ingest import read_journal  # noqa: PLC0415 - as above

    journal_files, findings = read_journal(root)
    errors = [finding for finding in findings if finding.is_error]
    if journal_files is None or errors:
        report(errors, root)
        return None, Status.ERRORS
    return journal_files, Status.DONE


def _refuse_beside_source(
    source: Path | None, answers: Mapping[str, str], like: str | None, dealt: bool
) -> None:
    """An earlier record is one thing, a plan another."""
    if source is None and answers:
        raise click.UsageError("`--answer` is about the file of `--from`; leave it out")
    if source is not None and (like is not None or dealt):
        raise click.UsageError(
            "`--from` drafts a run that was, `--like` and `--arms` plan one that is to come"
        )


def _refuse_together(
    like: str | None,
    given: Mapping[str, object],
    dealt: bool,
    of_layout: Mapping[str, int | None],
    plants: int | None,
) -> None:
    """Options that do not go together are wrong usage."""
    for option, value in given.items():
        if like is not None and value is not None:
            raise click.UsageError(
                f"`{option}` is that of `{like}`: leave it out, or change it in the new file"
            )
    for option, number in of_layout.items():
        if not dealt and number is not None:
            raise click.UsageError(f"`{option}` belongs to a layout: name its arms, such as `--arms one,two`")
    if plants is not None and of_layout["--spots"] not in (None, plants):
        raise click.UsageError("a spot holds one plant: `--plants` and `--spots` differ; give one of them")
