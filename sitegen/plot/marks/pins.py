"""Troubles and prunings pinned over the heights of plants: what was done or went wrong, on its day.

In: events of the log, and the top of a scale. Out: rows for the chart's layers, labels, and a sentence. A pin says that
two things lie close in time, never that one made the other.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.text import listed
from sitegen.core.language.wording import opening
from sitegen.core.records.rows import Deed
from sitegen.core.values.day import Day
from sitegen.plot.drawing.picture import Bar, Ending, Mark, Row

_HIGH = 0.965  # how high a pin's head stands, as a share of the scale
_STEP = 11.0  # between two pins of one day, in units of the drawing
_LONGEST = 26  # letters; a longer text is on hover and in the description


@dataclass(frozen=True, slots=True)
class _Look:
    """How one kind of pin is drawn: its layer, its symbol, the colour inside it, and its word."""

    layer: str
    shape: str
    fill: str
    word: str


_LOOKS = {
    Deed.TROUBLE: _Look("troubles", "M-1,-1L1,1M-1,1L1,-1", "none", tr_noop("trouble")),
    Deed.PRUNE: _Look("prunings", "triangle-down", "var(--ink)", tr_noop("pruned")),
}


@dataclass(frozen=True, slots=True)
class Pin:
    """One trouble or pruning."""

    deed: Deed
    day: Day
    what: str

    @property
    def text(self) -> str:
        """Its name in the drawing."""
        word = tr(_LOOKS[self.deed].word)
        own = self.what if self.deed is Deed.TROUBLE else ""
        return own if 0 < len(own) <= _LONGEST else word

    @property
    def said(self) -> str:
        """What it was, in full."""
        word = tr(_LOOKS[self.deed].word)
        return tr("{word}: {what}", word=word, what=self.what) if self.what else word


def pins_of(facts: Facts) -> tuple[Pin, ...]:
    """The pins in the order of days; what was logged for several plants at once is one."""
    found = (Pin(event.deed, event.day, event.what) for event in facts.run.rows.of(*_LOOKS))
    return tuple(sorted(dict.fromkeys(found), key=lambda pin: pin.day.middle))


def layers(pins: Iterable[Pin], top: float) -> dict[str, tuple[Row, ...]]:
    """A head for each pin, and a thread down to the ground."""
    pins = tuple(pins)
    drawn: dict[str, tuple[Row, ...]] = {
        "threads": tuple(Bar(pin.day.middle, 0.0, top * _HIGH, trim=4.0) for pin in pins)
    }
    for deed, look in _LOOKS.items():
        drawn[look.layer] = tuple(
            Mark(
                pin.day.middle,
                top * _HIGH,
                look.shape,
                look.fill,
                tr("{day}: {what}", day=opening(pin.day.words), what=pin.said),
                _aside(pin, pins),
            )
            for pin in pins
            if pin.deed is deed
        )
    return drawn


def _aside(pin: Pin, pins: tuple[Pin, ...]) -> float:
    """How far a pin steps aside for those before it on its day, to the side that has no name."""
    return -_STEP * [other for other in pins if other.day == pin.day].index(pin)


def endings(pins: Iterable[Pin], top: float) -> tuple[Ending, ...]:
    """The pins' names, where there is room."""
    return tuple(
        Ending(pin.day.middle, top * _HIGH, pin.text, brief=tr(_LOOKS[pin.deed].word)) for pin in pins
    )


def sentence(pins: Iterable[Pin]) -> str:
    """What was pinned, in words; empty without pins."""
    said = [tr("{what} on {day}", what=pin.said, day=pin.day.words) for pin in pins]
    return tr("Pinned on top: {things}.", things=listed(said)) if said else ""
