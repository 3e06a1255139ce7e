"""Pages that list experiments: home, a season.

In: the context, which has the summaries of the runs. Out: pages. Runs share one scale of days, so that their lengths can
be compared.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import in_words, listed
from sitegen.core.language.wording import Wording, mid_sentence, opening
from sitegen.core.records.setup import Crop, Season, System
from sitegen.core.reference.milestones import PHASES
from sitegen.core.site.addresses import HOME, crop_page, season_page, system_page
from sitegen.core.site.page import Page
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.render.metadata.head import Head
from sitegen.render.numbers.arms_table import arms_table
from sitegen.render.pages.calendar import calendar_of
from sitegen.render.pages.compared.outlook import outlook_of
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.days.day_scale import PhaseKey, Strip, Tick, phase_key, scale_ticks, strip
from sitegen.render.story.stage_words import counted_runs, runs_in_words
from sitegen.render.templates.context import Context

MOST_LINES = 24  # runs on one scale of days: more than two screens of a phone
LATEST = 6  # runs that the home page shows before the seasons


@dataclass(frozen=True, slots=True)
class Row:
    """An experiment in a list; `outlook` says what is to come in it, where it still grows.

    One without a log has no line.
    """

    summary: RunSummary
    strip: Strip | None
    outlook: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RunList:
    """Experiments under one heading, on one scale."""

    rows: tuple[Row, ...]
    ticks: tuple[Tick, ...]
    left_out: int = 0


def latest_first(summaries: Iterable[RunSummary]) -> list[RunSummary]:
    """Newest sowing first; of one day, by title."""
    by_title = sorted(summaries, key=lambda summary: summary.title)
    return sorted(by_title, key=lambda summary: summary.started, reverse=True)


def begun_first(summaries: Iterable[RunSummary]) -> list[RunSummary]:
    """Newest sowing first, those to come last."""
    return sorted(latest_first(summaries), key=lambda summary: summary.stage == "planned")


def list_of(summaries: Iterable[RunSummary], end: int) -> RunList:
    """Runs as lines on a scale of days that ends with `end`."""
    rows = tuple(Row(summary, strip(summary, end) if summary.logged else None) for summary in summaries)
    return RunList(rows, scale_ticks(end) if any(row.strip for row in rows) else ())


def _with_outlook(runs: RunList, context: Context) -> RunList:
    """The same with what is to come in each."""
    rows = tuple(replace(row, outlook=outlook_of(context, row.summary, brief=True)) for row in runs.rows)
    return replace(runs, rows=rows)


def days_of_runs(summaries: Sequence[RunSummary]) -> RunList:
    """The latest runs as lines on a scale of days; `left_out` counts the others."""
    shown = summaries[:MOST_LINES]
    return replace(list_of(shown, _end(shown)), left_out=len(summaries) - len(shown))


def _end(summaries: Iterable[RunSummary]) -> int:
    return max((summary.axis.end for summary in summaries), default=14)


def phases_of(summaries: Iterable[RunSummary]) -> tuple[PhaseKey, ...]:
    """The phases that the strips show, for their key."""
    shown = {phase.name for summary in summaries if summary.logged for phase in summary.phases}
    return tuple(phase_key(phase) for phase in PHASES if phase in shown)


def home(context: Context) -> tuple[Page, ...]:
    """The home page: what still grows, the latest results, what is planned, then every run by season, crop and system."""
    summaries = latest_first(context.others.summaries())
    end = _end(summaries)
    latest = [summary for summary in summaries if summary.stage == "ended"][:LATEST]
    begun = [summary for summary in summaries if summary.stage != "planned"]
    seasons = _seasons(context, summaries)
    return context.page(
        "home.html",
        Head(HOME, context.journal.title, context.journal.tagline),
        running=_with_outlook(list_of([summary for summary in summaries if summary.running], end), context),
        latest=list_of(latest, end),
        planned=[summary for summary in reversed(summaries) if summary.stage == "planned"],
        seasons=[
            (each, season_page(each.id), list_of([b for b in begun if b.setup.season == each.id], end))
            for each in seasons
        ],
        season_titles={each.id: each.title for each in seasons},
        above=[summary.id for summary in summaries if summary.running or summary in latest],
        all_runs=runs_in_words(each.stage for each in summaries),
        crops=crop_links(summaries),
        systems=system_links(summaries),
        phases=phases_of(summary for summary in summaries if summary.running),
    )


def crop_links(summaries: Iterable[RunSummary]) -> list[tuple[Crop | System, str, str]]:
    """The crops of runs, as links with their number of runs."""
    return _with_runs((each.setup.crop, crop_page(each.setup.crop.id), each) for each in summaries)


def system_links(summaries: Iterable[RunSummary]) -> list[tuple[Crop | System, str, str]]:
    """The systems of runs, as links with their number of runs."""
    return _with_runs(
        (system, system_page(system.id), each) for each in summaries for system in systems_of(each)
    )


def _with_runs(
    links: Iterable[tuple[Crop | System, str, RunSummary]],
) -> list[tuple[Crop | System, str, str]]:
    """Each crop or system once, by name, with its page and its number of runs in words."""
    found: dict[str, Crop | System] = {}
    runs: dict[str, list[RunSummary]] = {}
    for named, address, summary in links:
        found[address] = named
        runs.setdefault(address, []).append(summary)
    ordered = sorted(found.items(), key=lambda item: item[1].name)
    return [(each, address, runs_in_words(each.stage for each in runs[address])) for address, each in ordered]


def systems_of(summary: RunSummary) -> list[System]:
    """The systems that a run used, each once."""
    return list({tub.system.id: tub.system for tub in summary.setup.tubs}.values())


def _seasons(context: Context, summaries: Sequence[RunSummary]) -> list[Season]:
    """Seasons with a page, newest first."""
    newest: dict[str, date] = {}
    for summary in summaries:
        newest.setdefault(summary.setup.season, summary.started)
    known = [season for season in context.seasons if season.id in newest]
    return sorted(known, key=lambda season: newest[season.id], reverse=True)


def season(context: Context, name: str) -> tuple[Page, ...]:
    """The page of a season: its runs on one scale, and their numbers."""
    found = next(each for each in context.seasons if each.id == name)
    summaries = begun_first(context.others.summaries("season", name))
    words, book = _season_words(summaries), context.book(season_page(name))
    return context.page(
        "season.html",
        Head(book.page, found.title, found.summary or words),
        book,
        runs=list_of(summaries, _end(summaries)),
        table=arms_table(summaries, book, crops=True),
        phases=phases_of(summaries),
        season=found,
        words=words,
        grown=_grown(summaries),
        calendar=calendar_of(summaries, context.wording),
        together=_together(summaries, context.wording),
    )


def _grown(summaries: Sequence[RunSummary]) -> str:
    """The crops of runs, and the systems that they stood in: `Grown: carrot and lettuce. In: flood tray.`."""
    crops = sorted({summary.setup.crop.name for summary in summaries})
    systems = sorted({mid_sentence(system.name) for run in summaries for system in systems_of(run)})
    said = listed([mid_sentence(name) for name in crops])
    if not systems:
        return tr("Grown: {crops}.", crops=said)
    return tr("Grown: {crops}. In: {systems}.", crops=said, systems=listed(systems))


def _together(summaries: Sequence[RunSummary], wording: Wording) -> str:
    """The weight of all runs together; picks that were not weighed make it a lower bound."""
    weights = [b.figures.total.value for b in summaries if isinstance(b.figures.total.value, Quantity)]
    if not weights:
        return ""
    weight = wording.say_in_sentence(total(weights, Dimension.MASS))
    return tr("Picked in all runs together: {weight}.", weight=weight)


def number_of_runs(summaries: Sequence[RunSummary]) -> str:
    """How many runs were begun and how many are to come, in digits."""
    return ", ".join(counted_runs(each.stage for each in summaries))


def _season_words(summaries: Sequence[RunSummary]) -> str:
    """`Five runs and one planned; one had not ended at the last entry`, as a sentence."""
    running = sum(summary.running for summary in summaries)
    runs = opening(runs_in_words(each.stage for each in summaries))
    if not running:
        return f"{runs}."
    return tr_n(
        "{runs}; one still growing at the last visit.",
        "{runs}; {number} still growing at the last visit.",
        running,
        runs=runs,
        number=in_words(running),
    )
