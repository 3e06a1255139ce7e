"""The line of a run and the day axis, as positions in per cent of the width.

In: summaries, facts and visits. Out: `Strip` (a run as one line) and `DayScale` (the axis of a page with its visits).
Templates draw; nothing here knows colours or markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts, Phase
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.text import day_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.values.day import Day, DayAxis, Start
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.days.day_visits import DayVisit
from sitegen.render.story.run_sentences import span_words

# What a mark on the scale stands for, and its word.
_KEY = {"trouble": tr_noop("trouble"), "harvest": tr_noop("picks"), "growth": tr_noop("a new stage")}
STEPS = (7, 14, 28, 56, 112)  # days between labels
LABELS = 6  # labels that a phone has room for
# The share of the scale that a label takes, measured at 320 px and at 760 px with the longest dates of six languages.
NARROW, WIDE = 0.19, 0.09
FIRST = 1.5  # the first date has its year
_HOLLOW = ("flowering", "heading")


@dataclass(frozen=True, slots=True)
class Segment:
    """One phase on the line: from `begin` to `end` it certainly was, from `earliest` to `latest` it may have been."""

    kind: str
    name: str
    words: str
    begin: float
    end: float
    hollow: bool
    earliest: float | None = None
    latest: float | None = None

    @property
    def maybe(self) -> tuple[tuple[float, float], ...]:
        """The stretches on which it may have begun or ended."""
        before = () if self.earliest is None else ((self.earliest, self.begin),)
        after = () if self.latest is None else ((self.end, self.latest),)
        return (*before, *after)

    @property
    def until(self) -> float:
        """The last place that it takes."""
        return self.end if self.latest is None else self.latest


@dataclass(frozen=True, slots=True)
class Tick:
    """A day on a scale; `roomy` ones are left out where there is little room, of a `tight` one the date."""

    day: int
    at: float
    date: str = ""
    roomy: bool = False
    tight: bool = False


@dataclass(frozen=True, slots=True)
class Strip:
    """A run as one line, with its description in words; the log goes on from `phases_end` to `end`.

    A run that ended on an uncertain day may have ended from `end_from` on.
    """

    segments: tuple[Segment, ...]
    phases_end: float
    end: float
    open: bool
    label: str
    ticks: tuple[Tick, ...]
    end_from: float | None = None


@dataclass(frozen=True, slots=True)
class Mark:
    """A day with a visit; an uncertain one reaches from `at` to `until`. `kind` is what happened, empty for less."""

    anchor: str
    at: float
    kind: str
    words: str
    until: float | None = None


@dataclass(frozen=True, slots=True)
class DayScale:
    """The day axis of a run from day 0 to its last day, `days` of them, with `visits` and what a script says of them.

    `key` has each kind of mark that is drawn, with its word; `label` describes the axis, `start` is the day shown first.
    """

    days: int
    segments: tuple[Segment, ...]
    phases_end: float
    end: float
    open: bool
    ticks: tuple[Tick, ...]
    visits: tuple[Mark, ...]
    rows: tuple[list[object], ...]
    label: str
    start: int
    end_from: float | None = None

    @property
    def key(self) -> tuple[tuple[str, str], ...]:
        """The kinds of marks that are drawn."""
        drawn = {visit.kind for visit in self.visits}
        return tuple((kind, tr(word)) for kind, word in _KEY.items() if kind in drawn)


@dataclass(frozen=True, slots=True)
class PhaseKey:
    """The drawing style and the name of a phase."""

    kind: str
    name: str
    hollow: bool


def phase_key(phase: str) -> PhaseKey:
    """A phase for the key of a list of runs."""
    return PhaseKey(phase.replace(" ", "-"), tr(phase), phase in _HOLLOW)


def _percent(day: float, end: int) -> float:
    return round(100 * min(1.0, max(0.0, day / end)), 3)


def _segment(phase: Phase, end: int) -> Segment:
    earliest, begin = _stretch(phase.begins, end)
    finish, latest = _stretch(phase.ends, end)
    begin = min(begin, latest)
    return Segment(
        kind=phase.name.replace(" ", "-"),
        name=tr(phase.name),
        words=_phase_words(phase),
        begin=begin,
        end=max(begin, finish),
        hollow=phase.name in _HOLLOW,
        earliest=None if phase.begins.exact else earliest,
        latest=None if phase.ends.exact else latest,
    )


def _stretch(day: Day, end: int) -> tuple[float, float]:
    """The places between which a day lies."""
    first, last = day.reach
    return _percent(first, end), _percent(last, end)


def _phase_words(phase: Phase) -> str:
    if phase.begins.exact and phase.ends.exact:
        return span_words(phase.begins.first, phase.ends.first)
    if phase.begins == phase.ends:
        return day_words(phase.begins)
    # It may have begun on the very day that ended it.
    if phase.begins.before and phase.begins.last >= phase.ends.first:
        return tr("by {day}", day=day_words(Day.on(phase.begins.last)))
    return tr("from {first} to {last}", first=day_words(phase.begins), last=day_words(phase.ends))


def _end_from(ended: Day | None, end: int) -> float | None:
    """The first place at which a run can have ended; None where its end is certain."""
    return None if ended is None or ended.exact else _stretch(ended, end)[0]


def _segments(phases: Sequence[Phase], end: int) -> tuple[Segment, ...]:
    return tuple(_segment(phase, end) for phase in phases)


def scale_ticks(end: int) -> tuple[Tick, ...]:
    """The days over a column of strips: every 14, every second one only where there is room."""
    step = 14 if end <= 168 else 28
    narrow = step * 2 if end > 70 else step
    return tuple(Tick(day, _percent(day, end), roomy=day % narrow != 0) for day in range(0, end + 1, step))


def strip(summary: RunSummary, end: int) -> Strip:
    """A run on a scale of days that ends with `end`."""
    segments = _segments(summary.phases, end)
    said = _label(segments, running=False)
    phases_end, last = _ends(summary.phases, summary.axis)
    more = (
        "; " + tr("the log goes on to day\u00a0{day}", day=round(last))
        if round(last) > round(phases_end)
        else ""
    )
    state = "; " + tr("still growing at the last visit") if summary.running else ""
    ticks = tuple(Tick(day, _percent(day, end)) for day in range(0, end + 1, 14))
    ends = (_percent(phases_end, end), _percent(last, end))
    since = _end_from(summary.ended, end)
    return Strip(segments, *ends, summary.running, said + more + state, ticks, since)


def _ends(phases: Sequence[Phase], axis: DayAxis) -> tuple[float, float]:
    """The day on which the last phase ends, and the last day of the log: picking ends with the last pick."""
    phases_end = float(phases[-1].ends.last if phases else axis.last)
    return phases_end, max(phases_end, float(axis.last))


def day_scale(
    facts: Facts, wording: Wording, visits: Sequence[DayVisit], photos: Iterable[Day] = ()
) -> DayScale:
    """The axis of a page with its visits; it opens on the last day that has a photo, else on the last visit."""
    end = max(1, facts.axis.last)
    segments = _segments(facts.timeline.phases, end)
    phases_end, last = _ends(facts.timeline.phases, facts.axis)
    days = [round(day.middle) for day in photos] or [visit.number for visit in visits]
    return DayScale(
        days=end,
        segments=segments,
        phases_end=_percent(phases_end, end),
        end=_percent(last, end),
        open=facts.running,
        ticks=axis_ticks(end, facts.axis.start, wording),
        visits=tuple(_mark(visit, end) for visit in visits),
        rows=tuple(visit.row for visit in visits),
        label=_label(segments, running=facts.running),
        start=min(end, max(days, default=end)),
        end_from=_end_from(facts.run.ended.day if facts.run.ended else None, end),
    )


def _mark(visit: DayVisit, end: int) -> Mark:
    at, until = _stretch(visit.day, end)
    return Mark(visit.anchor, at, visit.kind, visit.words, None if visit.day.exact else until)


def _label(segments: Sequence[Segment], *, running: bool) -> str:
    """The axis in words."""
    said = "; ".join(f"{opening(each.name)} {each.words}" for each in segments)
    state = tr("still growing at the last entry") if running else ""
    return "; ".join(part for part in (said, state) if part)


def axis_ticks(end: int, start: Start, wording: Wording) -> tuple[Tick, ...]:
    """The labelled days of an axis: day 0, the last day, and even steps between, as many as have room."""
    step = next((step for step in STEPS if end / step < LABELS), STEPS[-1] * -(-end // (STEPS[-1] * LABELS)))
    days = [*range(0, end, step), end]
    # A number takes half of what a date takes.
    numbers = {width: _fitting(days, end, width / 2, 1) for width in (NARROW, WIDE)}
    dates = {width: _fitting(days, end, width, FIRST) for width in (NARROW, WIDE)}
    return tuple(
        Tick(
            day,
            _percent(day, end),
            _date(day, start, wording) if day in dates[WIDE] else "",
            roomy=day not in numbers[NARROW],
            tight=day not in dates[NARROW],
        )
        for day in days
        if day in numbers[WIDE]
    )


def _fitting(days: Sequence[int], end: int, width: float, first: float) -> set[int]:
    """The days whose labels keep apart: the first begins at its tick, the last ends there, others stand over theirs."""
    begin, kept = 1 - width, {days[0], days[-1]}
    taken = width * first
    for day in days[1:-1]:
        left = day / end - width / 2
        if left >= taken and left + width <= begin:
            kept.add(day)
            taken = left + width
    return kept


def _date(day: int, start: Start, wording: Wording) -> str:
    when = start.date_of(day)
    if when is None:
        return ""
    return wording.calendar_day(when, short=True) if day == 0 else wording.day_of_year(when, short=True)
