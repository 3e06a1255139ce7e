"""The line of a run and the day axis, as positions in per cent of the width.

In: summaries and facts. Out: `Strip` (a run as one line) and `DayScale` (the axis with its lanes). Templates draw;
nothing here knows colours or markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts, Phase
from sitegen.core.format.entry import key_of
from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.text import day_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.site.addresses import day_anchor
from sitegen.core.values.day import Day, DayAxis
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.run_sentences import span_words

# The lanes of the scale, from top to bottom: what a mark on it means, and its word.
LANES = {
    "harvest": tr_noop("picks"),
    "water": tr_noop("water"),
    "feed": tr_noop("feed"),
    "trouble": tr_noop("trouble"),
}
_PHOTO = "photo"
_KEY = {**LANES, _PHOTO: tr_noop("photo")}
NAME_WIDTH = 1.2  # per cent of the scale that a letter takes, measured on a serif face at 760 px
NARROW_LABELS = 4  # dates that have room on a telephone
LAST_DATE = 0.24  # the share of the scale that the last two dates need there, measured at 320 px
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
    minor: bool = False
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
    """Something that happened on a day, in its lane; on an uncertain one from `at` to `until`."""

    lane: str
    at: float
    anchor: str
    words: str
    until: float | None = None


@dataclass(frozen=True, slots=True)
class DayScale:
    """The scale of an experiment's page. `key` has each kind of mark drawn on it, with its word."""

    segments: tuple[Segment, ...]
    names: tuple[tuple[Segment, int], ...]
    phases_end: float
    end: float
    open: bool
    ticks: tuple[Tick, ...]
    marks: tuple[Mark, ...]
    photos: tuple[Mark, ...] = ()
    end_from: float | None = None

    @property
    def key(self) -> tuple[tuple[str, str], ...]:
        """The kinds of marks that are drawn, from top to bottom."""
        drawn = {mark.lane for mark in (*self.marks, *self.photos)}
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
    said = "; ".join(f"{opening(each.name)} {each.words}" for each in segments)
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
    facts: Facts, wording: Wording, said: dict[tuple[str, int], str], photos: Iterable[tuple[Day, str]] = ()
) -> DayScale:
    """The axis of a page.

    `said` holds the words of an entry's marks by lane and entry, `photos` the day of each picture and its anchor.
    """
    end = facts.axis.end
    phases = facts.timeline.phases
    segments = _segments(phases, end)
    phases_end, last = _ends(phases, facts.axis)
    return DayScale(
        segments=segments,
        names=tuple(_names(segments)),
        phases_end=_percent(phases_end, end),
        end=_percent(last, end),
        open=facts.running,
        ticks=tuple(_axis_ticks(facts.axis, wording)),
        marks=tuple(_marks(facts, wording, said)),
        photos=tuple(_photos(photos, end, wording)),
        end_from=_end_from(facts.run.ended.day if facts.run.ended else None, end),
    )


def _axis_ticks(axis: DayAxis, wording: Wording) -> Iterable[Tick]:
    step = axis.ticks[1] - axis.ticks[0] if len(axis.ticks) > 1 else 7
    narrow = step if axis.end / step <= NARROW_LABELS else step * 2
    for day in range(0, axis.end + 1, 7 if step <= 28 else 14):
        when = axis.start.date_of(day)
        date = wording.day_of_year(when, short=True) if when else ""
        # The last date ends at its tick, and needs more room before it than one that stands over its own.
        tight = day == axis.end and narrow < LAST_DATE * axis.end
        yield Tick(day, _percent(day, axis.end), date, day % narrow != 0, day % step != 0, tight)


def _names(segments: Iterable[Segment]) -> Iterable[tuple[Segment, int]]:
    """Phase names in two rows, the second where the first has no room; the list below the scale has all."""
    ends = [-9.0, -9.0]
    for segment in segments:
        row = next((row for row, end in enumerate(ends) if segment.begin >= end), None)
        if row is not None:
            ends[row] = segment.begin + NAME_WIDTH * len(segment.name)
            yield segment, row


def _marks(facts: Facts, wording: Wording, said: dict[tuple[str, int], str]) -> Iterable[Mark]:
    for lane, entry, day in sorted(_lane_days(facts), key=lambda each: (each[2].key[0], each[0], each[1])):
        lane_word = LANES[lane]
        words = said.get((lane, entry), tr(lane_word))
        text = f"{opening(wording.say(day))}: {words}"
        yield _mark(lane, day, day_anchor(day), text, facts.axis.end)


def _mark(lane: str, day: Day, anchor: str, text: str, end: int) -> Mark:
    """A mark on its day, or over the days that it can be."""
    at, until = _stretch(day, end)
    return Mark(lane, at, anchor, text, None if day.exact else until)


def _photos(photos: Iterable[tuple[Day, str]], end: int, wording: Wording) -> Iterable[Mark]:
    """One mark a day, which leads to the day's first picture."""
    by_day: dict[Day, list[str]] = {}
    for day, anchor in photos:
        by_day.setdefault(day, []).append(anchor)
    for day, anchors in sorted(by_day.items()):
        words = f"{opening(wording.say(day))}: {tr_n('{n} photo', '{n} photos', len(anchors))}"
        yield _mark(_PHOTO, day, anchors[0], words, end)


def _lane_days(facts: Facts) -> set[tuple[str, int, Day]]:
    """Each lane's entries, once an entry."""
    rows = facts.run.rows
    picks = {("harvest", pick.entry, pick.day) for pick in rows.picks}
    tallies = {("harvest", tally.entry, tally.day) for tally in rows.tallies}
    events = {(lane, event.entry, event.day) for event in rows.events if (lane := key_of(event.deed).lane)}
    return picks | tallies | events
