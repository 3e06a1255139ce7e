"""What a picture for links says.

In: nothing. Out: `Card`, settled by `preview` and drawn by `drawing`. Never computes.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Card", "Stretch"]


@dataclass(frozen=True, slots=True)
class Stretch:
    """One phase on the run's line, in shares of the width."""

    kind: str
    begin: float
    end: float
    hollow: bool


@dataclass(frozen=True, slots=True)
class Card:
    """What one picture says. `open` ends the line with a ring: the run goes on."""

    above: str
    title: str
    text: str
    below: str
    line: tuple[Stretch, ...] = ()
    open: bool = False
