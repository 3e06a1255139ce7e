"""Pages that list experiments: home, a season, a crop, everything compared.

In: the context, and the summaries of the runs listed. Out: pages. Runs share one scale of days, so that their lengths
can be compared.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from sitegen.core.language.catalogue import tr, tr_c, tr_n
from sitegen.core.language.text import in_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.setup import Crop, Season, System
from sitegen.core.reference.milestones import PHASES
from sitegen.core.site.addresses import COMPARE, HOME, crop_page, season_page, system_page
from sitegen.core.site.page import Page
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.render.numbers.tables import compared
from sitegen.render.numbers.used import system_words
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.day_scale import PhaseKey, Strip, Tick, phase_key, scale_ticks, strip
from sitegen.render.story.run_sentences import SHARED_WATER
from sitegen.render.templates.context import Context, Head

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
    return sorted(
        sorted(summaries, key=lambda summary: summary.title),
        key=lambda summary: summary.started,
        reverse=True,
    )


def _list(summaries: Iterable[RunSummary], end: int) -> RunList:
    rows = tuple(Row(summary, strip(summary, end)) for summary in summaries)
    return RunList(rows, scale_ticks(end))


def _end(summaries: Iterable[RunSummary]) -> int:
    return max((summary.axis.end for summary in summaries), default=14)


def _phases(summaries: Iterable[RunSummary]) -> tuple[PhaseKey, ...]:
    """The phases that the strips show, for their key."""
    shown = {phase.name for summary in summaries for phase in summary.phases}
    return tuple(phase_key(phase) for phase in PHASES if phase in shown)


def _crops(summaries: Iterable[RunSummary]) -> list[Crop]:
    crops = {summary.setup.crop.id: summary.setup.crop for summary in summaries}
    return sorted(crops.values(), key=lambda crop: crop.name)


def home(context: Context, of_all: Sequence[RunSummary]) -> tuple[Page, ...]:
    """The home page: what grows now, the latest results, every season, crop and system."""
    summaries = _latest_first(of_all)
    end = _end(summaries)
    running = [summary for summary in summaries if summary.running]
    done = [summary for summary in summaries if not summary.running]
    seasons = [
        (each, [b for b in done if b.setup.season == each.id]) for each in _seasons(context, summaries)
    ]
    head = Head(HOME, context.journal.title, context.journal.tagline)
    return context.page(
        "home.html",
        head,
        context.book(HOME),
        running=_list(running, end),
        latest=_list(done[:LATEST], end),
        seasons=[(each, season_page(each.id), _list(runs, end)) for each, runs in seasons],
        crops=[(each, crop_page(each.id), _count(each, summaries)) for each in _crops(summaries)],
        systems=_system_links(summaries),
        phases=_phases(summaries),
    )


def _seasons(context: Context, summaries: Sequence[RunSummary]) -> list[Season]:
    """Seasons with a page, newest first."""
    newest: dict[str, date] = {}
    for summary in summaries:
        newest.setdefault(summary.setup.season, summary.started)
    known = [season for season in context.seasons if season.id in newest]
    return sorted(known, key=lambda season: newest[season.id], reverse=True)


def _count(crop: Crop, summaries: Iterable[RunSummary]) -> str:
    return _runs_words(sum(summary.setup.crop.id == crop.id for summary in summaries))


def _runs_words(number: int) -> str:
    return tr_n("{number} run", "{number} runs", number, number=in_words(number))


def season(context: Context, season: Season, runs: Sequence[RunSummary]) -> tuple[Page, ...]:
    """The page of a season: its runs on one scale, and their numbers."""
    summaries = _latest_first(runs)
    address = season_page(season.id)
    book = context.book(address)
    head = Head(address, season.title, season.summary or _season_words(summaries))
    return context.page(
        "season.html",
        head,
        book,
        season=season,
        words=_season_words(summaries),
        calendar=calendar_of(summaries, context.wording),
        together=_together(summaries, context.wording),
        runs=_list(summaries, _end(summaries)),
        table=compared(summaries, book, crops=True),
        phases=_phases(summaries),
    )


def _together(summaries: Sequence[RunSummary], wording: Wording) -> str:
    """What was weighed in all runs together; what was picked and not weighed makes it a lower bound."""
    weights = [b.figures.total.value for b in summaries if isinstance(b.figures.total.value, Quantity)]
    if not weights:
        return ""
    weight = wording.say(total(weights, Dimension.MASS))
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


def crop(context: Context, crop: Crop, runs: Sequence[RunSummary]) -> tuple[Page, ...]:
    """The page of a crop: its runs side by side."""
    summaries = _latest_first(runs)
    address = crop_page(crop.id)
    book = context.book(address)
    varieties = {v for summary in summaries for v in summary.setup.variety_ids}
    systems = {tub.system.id for summary in summaries for tub in summary.setup.tubs}
    words = ", ".join(
        [
            _number_of_runs(summaries),
            tr_n("{n} variety", "{n} varieties", len(varieties)),
            tr_n("{n} system", "{n} systems", len(systems)),
        ]
    )
    return context.page(
        "crop.html",
        Head(address, crop.name, _side_by_side(crop.name, words), COMPARE),
        book,
        crop=crop,
        kind=tr_c("kind of crop", crop.kind),
        words=words,
        grown=[variety for variety in crop.varieties if variety.id in varieties],
        runs=_list(summaries, _end(summaries)),
        table=compared(summaries, book),
        note=tr(SHARED_WATER),
        alone=len(summaries) < 2,
        phases=_phases(summaries),
    )


def _systems(summaries: Iterable[RunSummary]) -> list[System]:
    found = {tub.system.id: tub.system for summary in summaries for tub in summary.setup.tubs}
    return sorted(found.values(), key=lambda system: system.name)


def _system_links(summaries: Sequence[RunSummary]) -> list[tuple[System, str, str]]:
    """Each system with its page, and how many runs it had."""
    return [
        (each, system_page(each.id), _runs_words(len(_runs_in(each, summaries))))
        for each in _systems(summaries)
    ]


def _runs_in(system: System, summaries: Iterable[RunSummary]) -> list[RunSummary]:
    return [summary for summary in summaries if system.id in {tub.system.id for tub in summary.setup.tubs}]


def system(context: Context, system: System, runs: Sequence[RunSummary]) -> tuple[Page, ...]:
    """The page of a system: what was grown in it, side by side."""
    summaries = _latest_first(runs)
    address = system_page(system.id)
    book = context.book(address)
    crops = len(_crops(summaries))
    words = f"{_number_of_runs(summaries)}, {tr_n('{n} crop', '{n} crops', crops)}"
    return context.page(
        "system.html",
        Head(address, system.name, _side_by_side(system.name, words), COMPARE),
        book,
        system=system,
        about=system_words(system, context.wording),
        words=words,
        runs=_list(summaries, _end(summaries)),
        table=compared(summaries, book, crops=True),
        phases=_phases(summaries),
    )


def _by_crop(summary: RunSummary) -> tuple[str, int]:
    return summary.setup.crop.name, -summary.started.toordinal()


def compare(context: Context, of_all: Sequence[RunSummary]) -> tuple[Page, ...]:
    """Every run side by side, by crop."""
    summaries = sorted(of_all, key=_by_crop)
    book = context.book(COMPARE)
    head = Head(
        COMPARE,
        tr("Everything compared"),
        tr("Every run side by side: what was recorded, no more."),
        COMPARE,
    )
    return context.page(
        "compare.html",
        head,
        book,
        table=compared(summaries, book, crops=True),
        crops=[(each, crop_page(each.id), _count(each, summaries)) for each in _crops(summaries)],
        systems=_system_links(summaries),
        note=tr(SHARED_WATER),
    )


YEAR_END, NARROW = (
    12,
    6,
)  # months; of more than `NARROW`, every second one is named where there is little room

Place = Callable[[date], float]


@dataclass(frozen=True, slots=True)
class Bar:
    """One run: where it begins and ends, where picking begins, and all of it in words."""

    summary: RunSummary
    begin: float
    end: float
    pick: float | None
    words: str


@dataclass(frozen=True, slots=True)
class Month:
    """The first of a month on the calendar."""

    name: str
    at: float
    roomy: bool


@dataclass(frozen=True, slots=True)
class Calendar:
    """Whole months from the first sowing to the last day recorded; nothing where no run is dated."""

    months: tuple[Month, ...] = ()
    bars: tuple[Bar, ...] = ()


def calendar_of(summaries: Sequence[RunSummary], wording: Wording) -> Calendar:
    """The calendar of some runs, in the order of their sowing."""
    dated = sorted(
        (b for b in summaries if b.axis.start.date_of(0)),
        key=lambda summary: (summary.started, summary.title),
    )
    if not dated:
        return Calendar()
    first = dated[0].started.replace(day=1)
    last = _next_month(max(summary.started + timedelta(days=summary.axis.last) for summary in dated))
    span = (last - first).days

    def at(when: date) -> float:
        return round(100 * (when - first).days / span, 3)

    return Calendar(tuple(_months(first, last, at, wording)), tuple(_bar(b, at, wording) for b in dated))


def _next_month(when: date) -> date:
    return date(when.year + when.month // YEAR_END, when.month % YEAR_END + 1, 1)


def _months(first: date, last: date, at: Place, wording: Wording) -> list[Month]:
    begins = [first]
    while (following := _next_month(begins[-1])) < last:
        begins.append(following)
    crowded = len(begins) > NARROW
    return [
        Month(wording.month_name(when), at(when), roomy=crowded and index % 2 == 1)
        for index, when in enumerate(begins)
    ]


def _bar(summary: RunSummary, at: Place, wording: Wording) -> Bar:
    start, pick = summary.started, summary.figures.first_pick.value
    end = start + timedelta(days=summary.axis.last)
    picked = start + timedelta(days=pick.first) if isinstance(pick, Day) else None
    said = [tr("sown {date}", date=wording.calendar_day(start, short=True))]
    if picked is not None:
        said.append(tr("first pick {date}", date=wording.calendar_day(picked, short=True)))
    day = wording.calendar_day(end, short=True)
    said.append(tr("last entry {date}", date=day) if summary.running else tr("ended {date}", date=day))
    return Bar(
        summary, at(start), at(end), None if picked is None else at(picked), f"{opening(', '.join(said))}."
    )
