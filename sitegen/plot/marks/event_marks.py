"""Marks on the days of a chart: troubles and prunings over the heights of plants.

In: events of a run, and the top of a scale. Out: rows for the chart's layers, labels, and a sentence. A
mark says that two things lie close in time, never that one made the other. A day that is not certain has a level bar
over the days that it can be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.text import day_words, listed
from sitegen.core.language.wording import opening
from sitegen.core.records.rows import Deed
from sitegen.core.values.day import Day
from sitegen.plot.chart_data import Bar, Layers, PointLabel, Row, Span, Symbol
from sitegen.plot.chart_type import Layer
from sitegen.plot.marks.point_marks import CROSS, RIM

_HEIGHT = 0.965  # of a mark's symbol, as a share of the scale
_STEP = 11.0  # between two marks of one day, in units of the drawing
_DOWN = 0.07  # between the level bars of two marks, as a share of the scale
_ROWS = 3  # of such bars
_LONGEST = 26  # letters; a longer text is on hover and in the description
_STYLES = {  # layer, shape, fill, word
    Deed.TROUBLE: ("troubles", CROSS, "none", tr_noop("trouble")),
    Deed.PRUNE: ("prunings", "triangle-down", "var(--ink)", tr_noop("pruned")),
}
# Below what a chart draws.
THREADS = Layer("bar", "threads", "var(--ink-soft)", width=1, opacity=0.6, dash=(1, 3))
EVENT_LAYERS = (
    Layer("span", "pruning-spans", "var(--ink)", width=4, opacity=0.6),
    Layer("span", "trouble-spans", "var(--trouble)", width=4, opacity=0.7, dash=(6, 2)),
    Layer("symbol", "prunings", "var(--ink)", size=50),
    Layer("symbol", "troubles", "var(--trouble)", size=60),
)
_SPANS = {Deed.TROUBLE: "trouble-spans", Deed.PRUNE: "pruning-spans"}


@dataclass(frozen=True, slots=True)
class EventMark:
    """One trouble or pruning."""

    deed: Deed
    day: Day
    what: str

    @property
    def word(self) -> str:
        """Its kind."""
        return tr(_STYLES[self.deed][3])

    @property
    def name(self) -> str:
        """Its name in the drawing."""
        return self.what if self.deed is Deed.TROUBLE and 0 < len(self.what) <= _LONGEST else self.word

    @property
    def said(self) -> str:
        """Its full text."""
        return tr("{word}: {what}", word=self.word, what=self.what) if self.what else self.word

    @property
    def title(self) -> str:
        """Its text on hover."""
        return tr("{day}: {what}", day=opening(day_words(self.day)), what=self.said)


def event_marks(facts: Facts) -> tuple[EventMark, ...]:
    """The marks in the order of days; an event logged for several plants at once is one mark."""
    found = (EventMark(event.deed, event.day, event.what) for event in facts.run.rows.of(*_STYLES))
    return tuple(sorted(dict.fromkeys(found), key=lambda mark: mark.day.key))


def layers(marks: Sequence[EventMark], top: float) -> Layers:
    """A symbol for each mark, and a thread down to the ground; marks of one day stand side by side, away from names.

    Of an uncertain day there is a level bar instead; such bars lie in rows.
    """
    found: dict[str, list[Row]] = {layer.name: [] for layer in EVENT_LAYERS}
    certain = [mark for mark in marks if mark.day.exact]
    for mark in certain:
        layer, shape, fill, _ = _STYLES[mark.deed]
        shift = -_STEP * [other for other in certain if other.day == mark.day].index(mark)
        found[layer].append(Symbol(mark.day.first, top * _HEIGHT, shape, fill, mark.title, shift))
    for mark, height in _heights(marks, top):
        found[_SPANS[mark.deed]].append(Span(*mark.day.reach, height, mark.title))
    return {**found, "threads": tuple(Bar(mark.day.first, 0.0, top * _HEIGHT, trim=RIM) for mark in certain)}


def _heights(marks: Sequence[EventMark], top: float) -> list[tuple[EventMark, float]]:
    """The marks of uncertain days, each with the height of its level bar."""
    uncertain = [mark for mark in marks if not mark.day.exact]
    return [(mark, top * (_HEIGHT - _DOWN * (number % _ROWS))) for number, mark in enumerate(uncertain)]


def names(marks: Sequence[EventMark], top: float) -> tuple[PointLabel, ...]:
    """The marks' names, where there is room."""
    certain = ((mark, mark.day.first, top * _HEIGHT) for mark in marks if mark.day.exact)
    uncertain = ((mark, mark.day.reach[1], height) for mark, height in _heights(marks, top))
    return tuple(
        PointLabel(day, height, mark.name, short=mark.word) for mark, day, height in (*certain, *uncertain)
    )


def sentence(marks: Sequence[EventMark]) -> str:
    """The marks in words; empty without marks."""
    said = [on_day(mark.said, mark.day) for mark in marks]
    return tr("Marked along the top: {things}.", things=listed(said)) if said else ""


def on_day(what: str, day: Day) -> str:
    """Something with its day: `thrips on day 26`, `thrips, before day 26`."""
    message = tr_noop("{what}, {day}") if day.before else tr_noop("{what} on {day}")
    return tr(message, what=what, day=day_words(day))
