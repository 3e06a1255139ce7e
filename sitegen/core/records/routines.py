"""Records that hold from a day on until the next of their kind: routines, and how lamps are set.

In: nothing. Out: `Routine`, which tells how often it was done and whether its doses can be counted; `Light`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from sitegen.core.findings.source import Source
from sitegen.core.records.setup import LampUse
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Light:
    """How a tub's lamp is set from a day on, until the next setting."""

    day: Day
    entry: int | None  # None: set up so from the start
    source: Source
    tub: str
    use: LampUse


EVERY_LOGGED_REFILL = "every logged refill"
# Words of a frequency that say that water was added too, in the languages that the site's own words are there in.
_TOPPING_UP = re.compile(r"fill|top[- ]?up|topping|water|füll|fuell|wasser|gieß|giess")
_EACH_FILLING = re.compile(
    r"(?:(?:at|with|on) )?(?:each|every) (?:logged )?(?:re-?fill|filling|fill|top[- ]?up|topping(?:[- ]up)?)"
    r"|(?:(?:bei|mit|zu) )?jede[mnrs]? (?:nach|auf|be)?f(?:ü|ue)ll(?:en|ung)"
)


def given_at_each_filling(often: str) -> bool:
    """Whether the frequency of a routine is every filling: not every second, nor every week."""
    return bool(_EACH_FILLING.fullmatch(often.strip().lower()))


@dataclass(frozen=True, slots=True)
class Routine:
    """A routine from a day on, not logged each time: doses are counted only at refills that were logged."""

    what: str
    day: Day
    entry: int
    source: Source
    tub: str = ""
    product: str = ""
    amount: Quantity | None = None
    as_labelled: bool = False
    often: str = ""
    until: Day | None = None  # the day that the next routine or a stop ended it
    said: str = ""  # an amount that no unit measures, in its words: `3 drops`

    @property
    def counts_refills(self) -> bool:
        """Whether each logged refill stands for one dose, and no other is given."""
        return self.often == EVERY_LOGGED_REFILL

    @property
    def at_each_filling(self) -> bool:
        """Whether each logged refill stands for one dose; refills that were not logged may have had one too."""
        return given_at_each_filling(self.often)

    @property
    def tops_up(self) -> bool:
        """Whether it added water that was not logged."""
        fills = bool(_TOPPING_UP.search(self.often.lower()))
        return not self.counts_refills and (self.what == "water" or (self.what == "feed" and fills))
