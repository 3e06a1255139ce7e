"""The runs of a season on a calendar.

In: the summaries of the runs. Out: `Calendar`: months and one bar for each dated run, in per cent of the width.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from sitegen.core.language.catalogue import tr
from sitegen.core.language.wording import Wording, opening
from sitegen.core.values.day import Day
from sitegen.render.pages.summary import RunSummary

# Months; of more than `NARROW`, every second one is named where there is little room.
YEAR_END, NARROW = 12, 6

Position = Callable[[date], float]


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


def _months(first: date, last: date, at: Position, wording: Wording) -> list[Month]:
    begins = [first]
    while (following := _next_month(begins[-1])) < last:
        begins.append(following)
    crowded = len(begins) > NARROW
    return [
        Month(wording.month_name(when), at(when), roomy=crowded and index % 2 == 1)
        for index, when in enumerate(begins)
    ]


def _bar(summary: RunSummary, at: Position, wording: Wording) -> Bar:
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
