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

# Months; of more than `NARROW`, every second one is named where there is little room. The first one and each January have
# the year beside their name: of more than `BESIDE_YEAR`, the month after such a name has no room there.
YEAR_END, NARROW, BESIDE_YEAR = 12, 6, 4

Position = Callable[[date], float]


@dataclass(frozen=True, slots=True)
class Bar:
    """One run: where it begins and ends, where picking begins, and all of it in words.

    Where the day of the first pick or of the end is uncertain, it may be from `pick_from` or `end_from` on.
    """

    summary: RunSummary
    begin: float
    end: float
    pick: float | None
    words: str
    pick_from: float | None = None
    end_from: float | None = None


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
        (b for b in summaries if b.logged and b.axis.start.date_of(0)),
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

    def roomy(index: int) -> bool:
        if len(begins) > NARROW:
            return index % 2 == 1
        return len(begins) > BESIDE_YEAR and index > 0 and (index == 1 or begins[index - 1].month == 1)

    return [
        Month(
            wording.month_name(when) if index else wording.month(when, short=True),
            at(when),
            roomy=roomy(index),
        )
        for index, when in enumerate(begins)
    ]


def _bar(summary: RunSummary, at: Position, wording: Wording) -> Bar:
    start, pick, last = summary.started, summary.figures.first_pick.value, _last(summary)

    def place(day: float) -> float:
        return at(start + timedelta(days=round(min(day, summary.axis.last))))

    said = [tr("sown {date}", date=wording.calendar_day(start, short=True))]
    if isinstance(pick, Day):
        said.append(tr("first pick {date}", date=_dates(pick, start, wording)))
    day = _dates(last, start, wording)
    said.append(tr("last visit {date}", date=day) if summary.running else tr("ended {date}", date=day))
    return Bar(
        summary,
        at(start),
        at(start + timedelta(days=summary.axis.last)),
        place(pick.reach[1]) if isinstance(pick, Day) else None,
        f"{opening(', '.join(said))}.",
        place(pick.reach[0]) if isinstance(pick, Day) and not pick.exact else None,
        None if last.exact else place(last.reach[0]),
    )


def _last(summary: RunSummary) -> Day:
    """The day of the end, or of the last entry."""
    entry = summary.figures.last_entry.value
    day = summary.ended or (entry if isinstance(entry, Day) else None)
    return day if day is not None and day.last == summary.axis.last else Day.on(summary.axis.last)


def _dates(day: Day, start: date, wording: Wording) -> str:
    """The date of a day, or those between which it lies."""
    first, last = start + timedelta(days=day.first), start + timedelta(days=day.last)
    if day.before:
        return tr("before {day}", day=wording.calendar_day(last + timedelta(days=1), short=True))
    span = wording.calendar_day(last, short=True)
    if not day.single:
        span = tr("{first} to {last}", first=wording.calendar_day(first, short=True), last=span)
    return tr("about {when}", when=span) if day.about else span
