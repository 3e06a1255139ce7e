"""The plants and arms that a sentence names: ids, groups, tubs, varieties, lamps.

In: a run, text. Out: `Names`, which finds each `Name` with its plants.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sitegen.core.language.number_words.in_text import SpokenNumber
from sitegen.core.language.number_words.tokens import Token
from sitegen.core.language.text import tub_words
from sitegen.core.records.arms import sets_of
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Setup, Tub

_SIDES = {
    "left": r"left(?:[- ]hand)? (?:tub|side|one)|(?:on|to|in) the left|link(?:en?|er) \w+|links",
    "right": r"right(?:[- ]hand)? (?:tub|side|one)|(?:on|to|in) the right|recht(?:en?|er) \w+|rechts",
    "front": r"front (?:tub|one)|(?:on|in|to) the front|vorder(?:en?|er) \w+|vorne",
    "back": r"back (?:tub|one)|(?:on|in|to) the back|hinter(?:en?|er) \w+|hinten",
}
_PLANT_WORDS = frozenset({"plant", "plants", "pflanze", "pflanzen", "number"})
_AND = frozenset({"and", "und", ",", "or", "oder", "&"})
_TO = frozenset({"to", "bis", "-", "–"})
_NUMBERED = re.compile(r"^\d+\s*\w*$")


@dataclass(frozen=True, slots=True)
class Name:
    """Plants by the words that name them; `begin` is their place in the sentence."""

    label: str
    plants: frozenset[str]
    begin: int = 0
    single: bool = False


@dataclass(frozen=True)
class Names:
    """All names of a run."""

    plants: tuple[str, ...]
    spots: dict[int, str]
    patterns: tuple[tuple[re.Pattern[str], Name], ...]

    @classmethod
    def of(cls, run: Run) -> Names:
        """The names of a run."""
        setup = run.setup
        spots = {_number_of(plant.id) or plant.spot: plant.id for plant in setup.plants}
        patterns = tuple(
            (re.compile(rf"\b(?:{words})\b", re.IGNORECASE), name) for words, name in _named(run) if words
        )
        return cls(setup.plant_ids, spots, patterns)

    def in_text(self, text: str) -> tuple[Name, ...]:
        """The names in a text, in order; each set of plants once."""
        found: dict[frozenset[str], Name] = {}
        for pattern, name in self.patterns:
            if match := pattern.search(text):
                known = found.get(name.plants)
                if known is None or match.start() < known.begin:
                    found[name.plants] = Name(name.label, name.plants, match.start(), name.single)
        return tuple(sorted(found.values(), key=lambda name: name.begin))

    def numbered(
        self, tokens: Sequence[Token], numbers: Sequence[SpokenNumber]
    ) -> tuple[tuple[Name, ...], frozenset[int]]:
        """Plants named by their number ("plant three", "plants 3 to 5"), and which of the numbers name them."""
        names: list[Name] = []
        taken: set[int] = set()
        last = -1
        for index, number in enumerate(numbers):
            before = tokens[number.first - 1].word if number.first else ""
            after_last = last == index - 1 and last in taken and before in _AND | _TO
            plant = self.spots.get(int(number.value)) if number.value == int(number.value) else None
            if (
                plant is None
                or not (before in _PLANT_WORDS or after_last)
                or number.form not in ("cardinal", "article")
            ):
                continue
            first = int(numbers[index - 1].value) + 1 if after_last and before in _TO else int(number.value)
            for spot in range(first, int(number.value) + 1):
                if spot in self.spots:
                    each = self.spots[spot]
                    names.append(Name(each, frozenset({each}), tokens[number.first].begin, single=True))
            taken.add(index)
            last = index
        return tuple(names), frozenset(taken)


def _number_of(plant: str) -> int | None:
    digits = re.sub(r"\D", "", plant)
    return int(digits) if digits and len(digits) < 4 else None


def _named(run: Run) -> Iterator[tuple[str, Name]]:
    """The words of each name as a pattern, with the name."""
    setup = run.setup
    for plant in setup.plants:
        yield re.escape(plant.id), Name(plant.id, frozenset({plant.id}), single=True)
    sets = sets_of(setup)
    for key, plants in sets.get("groups", {}).items():
        yield _words(key), Name(key, frozenset(plants))
    for key, plants in sets.get("varieties", {}).items():
        yield _words(setup.variety_name(key)), Name(setup.variety_name(key), frozenset(plants))
    if len(setup.tubs) > 1:
        for tub in setup.tubs:
            yield from _of_tub(tub, setup, run)


def _of_tub(tub: Tub, setup: Setup, run: Run) -> Iterator[tuple[str, Name]]:
    plants = frozenset(plant.id for plant in setup.plants if plant.tub == tub.id)
    if not plants:
        return
    label = tub_words(tub.id)
    yield _SIDES.get(tub.id, _words(tub.id)), Name(label, plants)
    if sum(other.system.name == tub.system.name for other in setup.tubs) == 1:
        yield _words(tub.system.name), Name(label, plants)
    lamps = lamp_names(run)
    mine = lamps.get(tub.id, "")
    if mine and list(lamps.values()).count(mine) == 1:
        yield _words(_NUMBERED.sub("", mine.rsplit(" ", 1)[-1])), Name(label, plants)


def lamp_names(run: Run) -> dict[str, str]:
    """The first lamp over each tub, by the set-up or the log."""
    found = {tub.id: tub.light.lamp.name for tub in run.setup.tubs if tub.light and tub.light.lamp}
    for light in run.rows.lights:
        for tub in run.setup.tubs:
            if light.use.lamp and light.tub in ("", tub.id):
                found.setdefault(tub.id, light.use.lamp.name)
    return found


def _words(name: str) -> str:
    """A name in singular or plural, with spaces or hyphens."""
    parts = [re.escape(part) for part in re.split(r"[\s-]+", name) if part]
    return r"[\s-]".join(parts) + r"(?:['’]?s)?" if parts else ""
