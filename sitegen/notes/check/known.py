"""What the log knows: a value, of which plants, on which day, by which words it is spoken of.

In: nothing. Out: `Known`, and `Knowledge`, all that is known of one run.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.facts.figure import Money
from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import Kind


@dataclass(frozen=True, slots=True)
class Known:
    """One value of the log, the set-up or the facts; `high` is None where nothing bounds it.

    `what` names it, `who` the plants where it is not of all. A count holds from `day` until before `until`. `wholes` are
    the numbers that a part can be out of. A `constant` is of no day. `flaw` says what is wrong with a sum that looks
    right; `least` why the value is a lower bound; `seen` is the look before the one that saw it first (-1: none).
    `parts` is what else than a part of the plants is in a sum. `sooner` tells apart what lies before and
    after. A `quote` is a number in the author's own words.
    """

    kind: Kind
    low: float
    high: float | None
    what: str
    topics: frozenset[str]
    dimension: Dimension | None = None
    value: Quantity | Money | Day | str | None = None
    day: Day | None = None
    until: int | None = None
    series: bool = False
    plants: frozenset[str] | None = None
    other: frozenset[str] | None = None
    who: str = ""
    ranks: frozenset[str] = frozenset()
    noun: str = ""
    wholes: tuple[int, ...] = ()
    words: frozenset[str] = frozenset()
    sources: tuple[Source, ...] = ()
    constant: bool = False
    least: str = ""
    flaw: str = ""
    seen: int | None = None
    parts: str = ""
    sooner: bool = False
    quote: bool = False

    @property
    def bounded(self) -> bool:
        """Whether it is one number."""
        return self.high is not None and self.high == self.low
