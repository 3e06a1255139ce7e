"""Pages that list experiments: home, a season, a crop, everything compared.

In: the context, and the briefs of what is listed. Out: pages. Runs are set on one scale of days, so that lengths can be
seen side by side.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from sitegen.core.language.catalogue import tr, tr_c, tr_n
from sitegen.core.language.text import in_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.setup import Crop, Season, System
from sitegen.core.reference.stages import PHASES
from sitegen.core.site.addresses import COMPARE, HOME, crop_page, season_page, system_page
from sitegen.core.site.page import Page
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.render.numbers.tables import compared
from sitegen.render.numbers.used import system_words
from sitegen.render.pages.summary import Brief
from sitegen.render.story.sentences import SHARED_WATER
from sitegen.render.story.strips import PhaseKey, Strip, Tick, phase_key, scale_ticks, strip
from sitegen.render.templates.context import Context, Head

LATEST = 6  # runs that the home page shows before the seasons


@dataclass(frozen=True, slots=True)
class Row:
    """An experiment in a list."""

    brief: Brief
    strip: Strip


@dataclass(frozen=True, slots=True)
class RunList:
    """Experiments under one heading, on one scale."""

    rows: tuple[Row, ...]
    ticks: tuple[Tick, ...]


def _latest_first(briefs: Iterable[Brief]) -> list[Brief]:
    """Newest sowing first; of one day, by title."""
    return sorted(
        sorted(briefs, key=lambda brief: brief.title), key=lambda brief: brief.started, reverse=True
    )


def _list(briefs: Iterable[Brief], end: int) -> RunList:
    rows = tuple(Row(brief, strip(brief, end)) for brief in briefs)
    return RunList(rows, scale_ticks(end))


def _end(briefs: Iterable[Brief]) -> int:
    return max((brief.axis.end for brief in briefs), default=14)


def _phases(briefs: Iterable[Brief]) -> tuple[PhaseKey, ...]:
    """The phases that the strips show, for their key."""
    shown = {phase.name for brief in briefs for phase in brief.phases}
    return tuple(phase_key(phase) for phase in PHASES if phase in shown)


def _crops(briefs: Iterable[Brief]) -> list[Crop]:
    crops = {brief.setup.crop.id: brief.setup.crop for brief in briefs}
    return sorted(crops.values(), key=lambda crop: crop.name)


def home(context: Context, of_all: Sequence[Brief]) -> tuple[Page, ...]:
    """The home page: what grows now, the latest results, every season, crop and system."""
    briefs = _latest_first(of_all)
    end = _end(briefs)
    running = [brief for brief in briefs if brief.running]
    done = [brief for brief in briefs if not brief.running]
    seasons = [(each, [b for b in done if b.setup.season == each.id]) for each in _seasons(context, briefs)]
    head = Head(HOME, context.journal.title, context.journal.tagline)
    return context.page(
        "home.html",
        head,
        context.book(HOME),
        running=_list(running, end),
        latest=_list(done[:LATEST], end),
        seasons=[(each, season_page(each.id), _list(runs, end)) for each, runs in seasons],
        crops=[(each, crop_page(each.id), _count(each, briefs)) for each in _crops(briefs)],
        systems=_system_doors(briefs),
        phases=_phases(briefs),
    )


def _seasons(context: Context, briefs: Sequence[Brief]) -> list[Season]:
    """Seasons with a page, newest first."""
    newest: dict[str, date] = {}
    for brief in briefs:
        newest.setdefault(brief.setup.season, brief.started)
    known = [season for season in context.seasons if season.id in newest]
    return sorted(known, key=lambda season: newest[season.id], reverse=True)


def _count(crop: Crop, briefs: Iterable[Brief]) -> str:
    return _runs_words(sum(brief.setup.crop.id == crop.id for brief in briefs))


def _runs_words(number: int) -> str:
    return tr_n("{number} run", "{number} runs", number, number=in_words(number))


def season(context: Context, season: Season, runs: Sequence[Brief]) -> tuple[Page, ...]:
    """The page of a season: its runs on one scale, and their numbers."""
    briefs = _latest_first(runs)
    address = season_page(season.id)
    book = context.book(address)
    head = Head(address, season.title, season.summary or _season_words(briefs))
    return context.page(
        "season.html",
        head,
        book,
        season=season,
        words=_season_words(briefs),
        calendar=calendar_of(briefs, context.wording),
        together=_together(briefs, context.wording),
        runs=_list(briefs, _end(briefs)),
        table=compared(briefs, book, crops=True),
        phases=_phases(briefs),
    )


def _together(briefs: Sequence[Brief], wording: Wording) -> str:
    """What was weighed in all runs together; what was picked and not weighed makes it a lower bound."""
    weights = [b.figures.total.value for b in briefs if isinstance(b.figures.total.value, Quantity)]
    if not weights:
        return ""
    weight = wording.say(total(weights, Dimension.MASS))
    return tr("Picked in all runs together: {weight}.", weight=weight)


def _number_of_runs(briefs: Sequence[Brief]) -> str:
    return tr_n("{n} run", "{n} runs", len(briefs))


def _side_by_side(name: str, words: str) -> str:
    return tr("{name}: {words}, side by side from the day of sowing.", name=name, words=words)


def _season_words(briefs: Sequence[Brief]) -> str:
    """`Five runs; one had not ended at the last entry`, as a sentence."""
    running = sum(brief.running for brief in briefs)
    runs = opening(_runs_words(len(briefs)))
    if not running:
        return f"{runs}."
    return tr("{runs}; {number} had not ended at the last entry.", runs=runs, number=in_words(running))


def crop(context: Context, crop: Crop, runs: Sequence[Brief]) -> tuple[Page, ...]:
    """The page of a crop: its runs side by side."""
    briefs = _latest_first(runs)
    address = crop_page(crop.id)
    book = context.book(address)
    varieties = {v for brief in briefs for v in brief.setup.variety_ids}
    systems = {tub.system.id for brief in briefs for tub in brief.setup.tubs}
    words = ", ".join(
        [
            _number_of_runs(briefs),
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
        runs=_list(briefs, _end(briefs)),
        table=compared(briefs, book),
        note=tr(SHARED_WATER),
        alone=len(briefs) < 2,
        phases=_phases(briefs),
    )


def _systems(briefs: Iterable[Brief]) -> list[System]:
    found = {tub.system.id: tub.system for brief in briefs for tub in brief.setup.tubs}
    return sorted(found.values(), key=lambda system: system.name)


def _system_doors(briefs: Sequence[Brief]) -> list[tuple[System, str, str]]:
    """Each system with its page, and how many runs it had."""
    return [
        (each, system_page(each.id), _runs_words(len(_runs_in(each, briefs)))) for each in _systems(briefs)
    ]


def _runs_in(system: System, briefs: Iterable[Brief]) -> list[Brief]:
    return [brief for brief in briefs if system.id in {tub.system.id for tub in brief.setup.tubs}]


def system(context: Context, system: System, runs: Sequence[Brief]) -> tuple[Page, ...]:
    """The page of a system: what was grown in it, side by side."""
    briefs = _latest_first(runs)
    address = system_page(system.id)
    book = context.book(address)
    crops = len(_crops(briefs))
    words = f"{_number_of_runs(briefs)}, {tr_n('{n} crop', '{n} crops', crops)}"
    return context.page(
        "system.html",
        Head(address, system.name, _side_by_side(system.name, words), COMPARE),
        book,
        system=system,
        about=system_words(system, context.wording),
        words=words,
        runs=_list(briefs, _end(briefs)),
        table=compared(briefs, book, crops=True),
        phases=_phases(briefs),
    )


def _by_crop(brief: Brief) -> tuple[str, int]:
    return brief.setup.crop.name, -brief.started.toordinal()


def compare(context: Context, of_all: Sequence[Brief]) -> tuple[Page, ...]:
    """Every run side by side, by crop."""
    briefs = sorted(of_all, key=_by_crop)
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
        table=compared(briefs, book, crops=True),
        crops=[(each, crop_page(each.id), _count(each, briefs)) for each in _crops(briefs)],
        systems=_system_doors(briefs),
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

    brief: Brief
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


def calendar_of(briefs: Sequence[Brief], wording: Wording) -> Calendar:
    """The calendar of some runs, in the order of their sowing."""
    dated = sorted(
        (b for b in briefs if b.axis.start.date_of(0)), key=lambda brief: (brief.started, brief.title)
    )
    if not dated:
        return Calendar()
    first = dated[0].started.replace(day=1)
    last = _next_month(max(brief.started + timedelta(days=brief.axis.last) for brief in dated))
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


def _bar(brief: Brief, at: Place, wording: Wording) -> Bar:
    start, pick = brief.started, brief.figures.first_pick.value
    end = start + timedelta(days=brief.axis.last)
    picked = start + timedelta(days=pick.first) if isinstance(pick, Day) else None
    said = [tr("sown {date}", date=wording.calendar_day(start, short=True))]
    if picked is not None:
        said.append(tr("first pick {date}", date=wording.calendar_day(picked, short=True)))
    day = wording.calendar_day(end, short=True)
    said.append(tr("last entry {date}", date=day) if brief.running else tr("ended {date}", date=day))
    return Bar(
        brief, at(start), at(end), None if picked is None else at(picked), f"{opening(', '.join(said))}."
    )
