"""The words of one experiment's entries: names of products and tubs, plants, values.

In: facts, and the wording of values. Out: `EntryWording`, `which_words`, `plants_in_words`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from sitegen.core.facts.figure import Figure, Value
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.language.text import listed
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Which
from sitegen.core.values.quantity import Quantity


@dataclass(frozen=True, slots=True)
class EntryWording:
    """Names and values of one experiment in words; `products` are names by id."""

    facts: Facts
    values: Wording
    products: dict[str, str]

    def say(self, value: Value | Figure | int) -> str:
        """A value, in the units of the journal."""
        return self.values.say(value)

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
        """The volume of a full tub."""
        tubs = self.facts.run.setup.tubs
        own = tubs[0] if len(tubs) == 1 else next((each for each in tubs if each.id == tub), None)
        return own.system.reservoir if own else None


_NUMBERED = re.compile(r"(.*?)(\d+)")
_EVERYONE = ("all", "each", "together", "every spot")


def plants_in_words(ids: tuple[str, ...]) -> str:
    """Plants by name, neighbours as a range: `P1–P3 and P5`."""
    runs: list[list[str]] = []
    for before, plant in pairwise(("", *ids)):
        if runs and _follows(before, plant):
            runs[-1].append(plant)
        else:
            runs.append([plant])
    words: list[str] = []
    for run in runs:
        words += [f"{run[0]}–{run[-1]}"] if len(run) > 2 else run
    return listed(words)


def _follows(before: str, plant: str) -> bool:
    one, two = _NUMBERED.fullmatch(before), _NUMBERED.fullmatch(plant)
    return bool(one and two and one[1] == two[1] and int(two[2]) == int(one[2]) + 1)


def which_words(which: Which | None, everyone: str | None = None) -> str:
    """The plants of a record in words; `everyone` are those for all of them."""
    if which is None or which.word in _EVERYONE:
        return tr_c("plants", "all") if everyone is None else everyone
    if which.nobody:
        return tr_c("plants", "none")
    if which.ids and (which.ids[0] in which.word or not which.word):
        return plants_in_words(which.ids)
    if which.word and which.word != "some" and not which.word[:1].isdigit():
        return tr("group {group}", group=which.word)
    return _counted(which)


def _counted(which: Which) -> str:
    if which.count is None:
        return tr("some plants, not noted which")
    if which.of is None:
        return str(which.count)
    return tr("{part} of {whole}", part=which.count, whole=which.of)
