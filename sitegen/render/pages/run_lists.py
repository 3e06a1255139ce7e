"""Pages that list experiments: home, a season, a crop, everything compared.

In: the context, which has the summaries of the runs. Out: pages. Runs share one scale of days, so that their lengths can
be compared.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from sitegen.core.language.catalogue import tr, tr_c, tr_n
from sitegen.core.language.text import in_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.setup import Crop, Season, System
from sitegen.core.reference.milestones import PHASES
from sitegen.core.site.addresses import COMPARE, HOME, crop_page, season_page, system_page
from sitegen.core.site.page import Page
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.render.metadata.head import Head
from sitegen.render.numbers.tables import compared
from sitegen.render.numbers.used import system_words
from sitegen.render.pages.calendar import calendar_of
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.day_scale import PhaseKey, Strip, Tick, phase_key, scale_ticks, strip
from sitegen.render.story.run_sentences import SHARED_WATER
from sitegen.render.templates.context import Context

LATEST = 6  # runs that the home page shows before the seasons


@dataclass(frozen=True, slots=True)
class Row:
    """An experiment in a list."""

    summary: RunSummary
    strip: Strip


@dataclass(frozen=True, slots=True)
class RunList:
    """Experiments under one heading, on one scale."""

    rows: tuple[Row, ...]
    ticks: tuple[Tick, ...]


def _latest_first(summaries: Iterable[RunSummary]) -> list[RunSummary]:
    """Newest sowing first; of one day, by title."""
    by_title = sorted(summaries, key=lambda summary: summary.title)
    return sorted(by_title, key=lambda summary: summary.started, reverse=True)


def _list(summaries: Iterable[RunSummary], end: int) -> RunList:
    rows = tuple(Row(summary, strip(summary, end)) for summary in summaries)
    return RunList(rows, scale_ticks(end))


def _end(summaries: Iterable[RunSummary]) -> int:
    return max((summary.axis.end for summary in summaries), default=14)


def _phases(summaries: Iterable[RunSummary]) -> tuple[PhaseKey, ...]:
    """The phases that the strips show, for their key."""
    shown = {phase.name for summary in summaries for phase in summary.phases}
    return tuple(phase_key(phase) for phase in PHASES if phase in shown)


def home(context: Context) -> tuple[Page, ...]:
    """The home page: running experiments, the latest results, every season, crop and system."""
    summaries = _latest_first(context.others.summaries())
    end = _end(summaries)
    done = [summary for summary in summaries if not summary.running]
    return context.page(
        "home.html",
        Head(HOME, context.journal.title, context.journal.tagline),
        running=_list([summary for summary in summaries if summary.running], end),
        latest=_list(done[:LATEST], end),
        seasons=[
            (each, season_page(each.id), _list([b for b in done if b.setup.season == each.id], end))
            for each in _seasons(context, summaries)
        ],
        crops=_crop_links(summaries),
        systems=_system_links(summaries),
        phases=_phases(summaries),
    )


def _crop_links(summaries: Iterable[RunSummary]) -> list[tuple[Crop | System, str, str]]:
    crops = (summary.setup.crop for summary in summaries)
    return _with_runs((crop, crop_page(crop.id)) for crop in crops)


def _system_links(summaries: Iterable[RunSummary]) -> list[tuple[Crop | System, str, str]]:
    systems = (system for summary in summaries for system in _systems_of(summary))
    return _with_runs((system, system_page(system.id)) for system in systems)


def _with_runs(links: Iterable[tuple[Crop | System, str]]) -> list[tuple[Crop | System, str, str]]:
    """Each crop or system once, by name, with its page and its number of runs in words."""
    links = tuple(links)
    counts = Counter(address for _, address in links)
    found = {address: named for named, address in links}
    ordered = sorted(found.items(), key=lambda item: item[1].name)
    return [(each, address, _runs_words(counts[address])) for address, each in ordered]


def _systems_of(summary: RunSummary) -> list[System]:
    return list({tub.system.id: tub.system for tub in summary.setup.tubs}.values())


def _seasons(context: Context, summaries: Sequence[RunSummary]) -> list[Season]:
    """Seasons with a page, newest first."""
    newest: dict[str, date] = {}
    for summary in summaries:
        newest.setdefault(summary.setup.season, summary.started)
    known = [season for season in context.seasons if season.id in newest]
    return sorted(known, key=lambda season: newest[season.id], reverse=True)


def _runs_words(number: int) -> str:
    return tr_n("{number} run", "{number} runs", number, number=in_words(number))


def season(context: Context, name: str) -> tuple[Page, ...]:
    """The page of a season: its runs on one scale, and their numbers."""
    found = next(each for each in context.seasons if each.id == name)
    summaries = _latest_first(context.others.summaries("season", name))
    address, words = season_page(name), _season_words(summaries)
    return _comparison(
        context,
        "season.html",
        Head(address, found.title, found.summary or words),
        summaries,
        crops=True,
        season=found,
        words=words,
        calendar=calendar_of(summaries, context.wording),
        together=_together(summaries, context.wording),
    )


def _comparison(
    context: Context,
    template: str,
    head: Head,
    summaries: Sequence[RunSummary],
    *,
    crops: bool,
    **view: object,
) -> tuple[Page, ...]:
    """A page with runs on one scale of days, and a table of their numbers."""
    book = context.book(head.address)
    return context.page(
        template,
        head,
        book,
        runs=_list(summaries, _end(summaries)),
        table=compared(summaries, book, crops=crops),
        phases=_phases(summaries),
        **view,
    )


def _together(summaries: Sequence[RunSummary], wording: Wording) -> str:
    """The weight of all runs together; picks that were not weighed make it a lower bound."""
    weights = [b.figures.total.value for b in summaries if isinstance(b.figures.total.value, Quantity)]
    if not weights:
        return ""
    weight = wording.say_in_sentence(total(weights, Dimension.MASS))
    return tr("Picked in all runs together: {weight}.", weight=weight)


def _number_of_runs(summaries: Sequence[RunSummary]) -> str:
    return tr_n("{n} run", "{n} runs", len(summaries))


def _side_by_side(name: str, words: str) -> str:
    return tr("{name}: {words}, side by side from the day of sowing.", name=name, words=words)


def _season_words(summaries: Sequence[RunSummary]) -> str:
    """`Five runs; one had not ended at the last entry`, as a sentence."""
    running = sum(summary.running for summary in summaries)
    runs = opening(_runs_words(len(summaries)))
    if not running:
        return f"{runs}."
    return tr("{runs}; {number} had not ended at the last entry.", runs=runs, number=in_words(running))


def crop(context: Context, name: str) -> tuple[Page, ...]:
    """The page of a crop: its runs side by side."""
    runs = context.others.summaries("crop", name)
    summaries, found = _latest_first(runs), runs[-1].setup.crop
    varieties = {v for summary in summaries for v in summary.setup.variety_ids}
    systems = {system.id for summary in summaries for system in _systems_of(summary)}
    words = ", ".join(
        [
            _number_of_runs(summaries),
            tr_n("{n} variety", "{n} varieties", len(varieties)),
            tr_n("{n} system", "{n} systems", len(systems)),
        ]
    )
    return _comparison(
        context,
        "crop.html",
        Head(crop_page(name), found.name, _side_by_side(found.name, words), COMPARE),
        summaries,
        crops=False,
        crop=found,
        kind=tr_c("kind of crop", found.kind),
        words=words,
        grown=[variety for variety in found.varieties if variety.id in varieties],
        note=tr(SHARED_WATER),
        alone=len(summaries) < 2,
    )


def system(context: Context, name: str) -> tuple[Page, ...]:
    """The page of a system: its runs side by side."""
    runs = context.others.summaries("system", name)
    summaries = _latest_first(runs)
    found = next(each for each in _systems_of(runs[-1]) if each.id == name)
    crops = len({summary.setup.crop.id for summary in summaries})
    words = f"{_number_of_runs(summaries)}, {tr_n('{n} crop', '{n} crops', crops)}"
    return _comparison(
        context,
        "system.html",
        Head(system_page(name), found.name, _side_by_side(found.name, words), COMPARE),
        summaries,
        crops=True,
        system=found,
        about=system_words(found, context.wording),
        words=words,
    )


def _by_crop(summary: RunSummary) -> tuple[str, int]:
    return summary.setup.crop.name, -summary.started.toordinal()


def compare(context: Context) -> tuple[Page, ...]:
    """Every run side by side, by crop."""
    summaries = sorted(context.others.summaries(), key=_by_crop)
    book = context.book(COMPARE)
    description = tr("Every run side by side: what was recorded, no more.")
    return context.page(
        "compare.html",
        Head(COMPARE, tr("Everything compared"), description, COMPARE),
        book,
        table=compared(summaries, book, crops=True),
        crops=_crop_links(summaries),
        systems=_system_links(summaries),
        note=tr(SHARED_WATER),
    )
