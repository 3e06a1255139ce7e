"""Marks on the days of a chart: troubles and prunings over the heights of plants, and days with photos.

In: events and photos of a run, and the top of a scale. Out: rows for the chart's layers, labels, and a sentence. A
mark says that two things lie close in time, never that one made the other.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.text import day_words, listed
from sitegen.core.language.wording import opening
from sitegen.core.records.rows import Deed
from sitegen.core.values.day import Day
from sitegen.plot.chart_data import Bar, Layers, PointLabel, Symbol
from sitegen.plot.marks.point_marks import CROSS, RIM

_HEIGHT = 0.965  # of a mark's symbol, as a share of the scale
_STEP = 11.0  # between two marks of one day, in units of the drawing
_LONGEST = 26  # letters; a longer text is on hover and in the description
_STYLES = {  # layer, shape, fill, word
    Deed.TROUBLE: ("troubles", CROSS, "none", tr_noop("trouble")),
    Deed.PRUNE: ("prunings", "triangle-down", "var(--ink)", tr_noop("pruned")),
}


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


def event_marks(facts: Facts) -> tuple[EventMark, ...]:
    """The marks in the order of days; an event logged for several plants at once is one mark."""
    found = (EventMark(event.deed, event.day, event.what) for event in facts.run.rows.of(*_STYLES))
    return tuple(sorted(dict.fromkeys(found), key=lambda mark: mark.day.middle))


def layers(marks: Sequence[EventMark], top: float) -> Layers:
    """A symbol for each mark, and a thread down to the ground; marks of one day stand side by side, away from names."""
    found: dict[str, list[Symbol]] = {layer: [] for layer, *_ in _STYLES.values()}
    for mark in marks:
        layer, shape, fill, _ = _STYLES[mark.deed]
        title = tr("{day}: {what}", day=opening(day_words(mark.day)), what=mark.said)
        shift = -_STEP * [other for other in marks if other.day == mark.day].index(mark)
        found[layer].append(Symbol(mark.day.middle, top * _HEIGHT, shape, fill, title, shift))
    return {**found, "threads": tuple(Bar(mark.day.middle, 0.0, top * _HEIGHT, trim=RIM) for mark in marks)}


def names(marks: Sequence[EventMark], top: float) -> tuple[PointLabel, ...]:
    """The marks' names, where there is room."""
    return tuple(PointLabel(mark.day.middle, top * _HEIGHT, mark.name, short=mark.word) for mark in marks)


def sentence(marks: Sequence[EventMark]) -> str:
    """The marks in words; empty without marks."""
    said = [tr("{what} on {day}", what=mark.said, day=day_words(mark.day)) for mark in marks]
    return tr("Pinned on top: {things}.", things=listed(said)) if said else ""


# A frame with a hill in it.
_PHOTO = "M-1.1,-0.85L1.1,-0.85L1.1,0.85L-1.1,0.85L-1.1,-0.85M-1.1,0.6L-0.2,-0.3L0.4,0.3L0.7,0L1.1,0.4"


def photo_symbols(facts: Facts) -> tuple[Symbol, ...]:
    """A symbol for each day that has photos, in the order of days."""
    days = Counter(photo.day for photo in facts.run.photo_files if photo.day)
    said = {day: tr_n("{n} photo", "{n} photos", count) for day, count in sorted(days.items())}
    return tuple(
        Symbol(
            day.middle,
            0.0,
            _PHOTO,
            "var(--paper)",
            tr("{day}: {photos}", day=opening(day_words(day)), photos=photos),
        )
        for day, photos in said.items()
    )
