"""Names of products and tubs, and values, as one experiment's entries say them.

In: facts and wording. Out: `Voice`, which the sentences and lines of entries are said with.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.facts import Facts, Figure, Value
from sitegen.core.quantity import Quantity
from sitegen.core.wording import Wording

__all__ = ["Voice"]


@dataclass(frozen=True, slots=True)
class Voice:
    """Says what rows of one experiment hold. `products` are names by id."""

    facts: Facts
    wording: Wording
    products: dict[str, str]

    def say(self, value: Value | Figure | int) -> str:
        """A value, in the units of the journal."""
        return self.wording.say(value)

    def product(self, product: str) -> str:
        """A product's name for a reader."""
        return self.products.get(product, product)

    def tub(self, tub: str) -> str:
        """A tub's name for a reader."""
        return next((each.label for each in self.facts.solution.tubs if each.key == tub), tub)

    def at_tub(self, tub: str) -> str:
        """` (left tub)`, where there are several."""
        several = len(self.facts.run.setup.tubs) > 1
        return f" ({self.tub(tub)})" if tub and several else ""

    def held(self, tub: str) -> Quantity | None:
        """What a tub holds when it is filled."""
        tubs = self.facts.run.setup.tubs
        own = tubs[0] if len(tubs) == 1 else next((each for each in tubs if each.id == tub), None)
        return own.system.reservoir if own else None
