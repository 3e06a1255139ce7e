"""Names of a run found among tokens: plants, groups, tubs, products; and the words that mean several plants.

In: tokens, numbers, `Known`. Out: the atom that begins at a token. A name that no plant has becomes a doubt.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from sitegen.core.language.number_words.tokens import tokens_of
from sitegen.filing.words.amounts import Numbers
from sitegen.filing.words.atoms import Atom, Kind, Which
from sitegen.filing.words.known import Known
from sitegen.filing.words.phrases import Phrases

_ALL = (
    "all|all of them|all the plants|all plants|all of the plants|every plant|everything|each plant|every one|"
    "all the seeds|all seeds|alle|alle pflanzen|allen pflanzen|allen|jede pflanze|alle samen|all three|all four|all six"
)
_SOME = "some plants|some of them|some of the plants|a few plants|a few of them|some|einige|einige pflanzen|manche"
_BOTH = "both|both plants|both of them|beide|beiden|beide pflanzen|beiden pflanzen"
_WORDS = Phrases(
    [*((each, "all") for each in _ALL.split("|")), *((each, "some") for each in _SOME.split("|"))]
    + [(each, "both") for each in _BOTH.split("|")]
)
_PLANT = frozenset({"plant", "plants", "pflanze", "pflanzen"})
_GROUP = frozenset({"group", "gruppe"})
_TUB = frozenset(
    {"tub", "tubs", "side", "jar", "bucket", "box", "tray", "tank", "becken", "seite", "eimer", "glas"}
)
_OF = (("out", "of", "the"), ("of", "the"), ("out", "of"), ("of",), ("von", "den"), ("von",), ("/",))
_NUMBERED = re.compile(r"p\d+")
_SINGULAR = frozenset({"has", "is", "hat", "ist", "was", "died"})


class Names:
    """The names of a run, as tokens."""

    def __init__(self, known: Known, numbers: Numbers, reserved: Sequence[Phrases[object]]) -> None:
        self.known = known
        self.numbers = numbers
        self.words = numbers.words
        self._plants = _spelled((plant, plant) for plant in known.plants)
        self._groups = _spelled((group, group) for group, _ in known.groups)
        self._tubs = _spelled((tub, tub) for tub in known.tubs)
        named = [(each[at], (each[0], each[2])) for each in known.products for at in (0, 1)]
        self._products = _spelled(named)
        self._reserved = reserved

    def at(self, at: int) -> Atom | None:
        """The name that begins at a token."""
        return self._product(at) or self._share(at) or self._tub(at) or self._which(at)

    def _word(self, at: int) -> str:
        return self.words[at] if at < len(self.words) else ""

    def _product(self, at: int) -> Atom | None:
        found = self._products.at(self.words, at)
        if found is None:
            return None
        after, (name, kind) = found
        return Atom(Kind.PRODUCT, at, after, name=name, value=kind)

    def _tub(self, at: int) -> Atom | None:
        """A tub by its name, with or without `tub` after it; `both tubs` are all."""
        if self.known.tubs and (both := _WORDS.at(self.words, at)) and self._word(both[0]) in _TUB:
            return Atom(Kind.TUB, at, both[0] + 1, name="", value="all")
        found = self._tubs.at(self.words, at)
        if found is None:
            return None
        after = found[0]
        strong = self._word(after) in _TUB
        return Atom(Kind.TUB, at, after + strong, name=found[1], value="named" if strong else "")

    def _share(self, at: int) -> Atom | None:
        """`two of six`, `3/8`: so many of so many; `none of four` too."""
        part = self.numbers.plain(at) if not self._slashed(at) else None
        if self._slashed(at):
            a, b = int(self.words[at]), int(self.words[at + 2])
            return Atom(Kind.SHARE, at, at + 3, share=(a, b)) if a <= b else None
        if part is None or not part[1].whole:
            return None
        after = part[0]
        for of in _OF:
            if tuple(self.words[after : after + len(of)]) == of:
                begin = after + len(of)
                whole = self.numbers.plain(begin) if begin < len(self.words) else None
                if whole and whole[1].whole and part[1].value <= whole[1].value:
                    end = whole[0] + (self._word(whole[0]) in _PLANT)
                    return Atom(Kind.SHARE, at, end, share=(int(part[1].value), int(whole[1].value)))
        return None

    def _slashed(self, at: int) -> bool:
        words = self.words[at : at + 3]
        short = len(words) == 3 and words[1] == "/" and all(w.isdecimal() and len(w) < 4 for w in words[::2])
        from_unit = short and self.numbers.amount(at)
        return bool(short and not (from_unit and from_unit[1].unit))

    # plants

    def _which(self, at: int) -> Atom | None:
        first = self._one(at)
        if first is None:
            return self._several(at)
        after, ids = first
        found = list(ids)
        if self._word(after) in ("-", "–", "to", "bis", "through") and (last := self._one(after + 1)):
            span = self._span(ids[0], last[1][0])
            if span:
                return Atom(Kind.WHICH, at, last[0], which=Which(span, f"{ids[0]}-{last[1][0]}"))
        while self._word(after) in ("and", "und", "&", ","):
            step = after + 1
            if self._word(after) == "," and self._word(step) in ("and", "und"):
                step += 1
            more = self._one(step, bare=self._word(at) in _PLANT)
            if more is None or not self._continues(more[0], comma=self._word(after) == ","):
                break
            after = more[0]
            found += more[1]
        ids = tuple(dict.fromkeys(found))
        return Atom(Kind.WHICH, at, after, which=Which(ids)) if ids else None

    def _continues(self, after: int, *, comma: bool) -> bool:
        """Whether a plant after `and` or a comma is one more of a row, and no subject of what follows."""
        if self._word(after) in _SINGULAR:
            return False
        if not comma:
            return True
        joint = self._word(after) in ("and", "und", "&")
        return joint and self._one(after + 1) is not None

    def _span(self, first: str, last: str) -> tuple[str, ...]:
        plants = self.known.plants
        if first not in plants or last not in plants:
            return ()
        return plants[plants.index(first) : plants.index(last) + 1]

    def _one(self, at: int, *, bare: bool = False) -> tuple[int, tuple[str, ...]] | None:
        """One plant: its id, `P one`, `plant one`; `bare` where a number alone is one more."""
        if at >= len(self.words):
            return None
        found = self._plants.at(self.words, at)
        if found is not None:
            return found[0], (found[1],)
        named = self.words[at] in ("p", *_PLANT)
        if not (named or bare):
            return None
        number = self.numbers.plain(at + named) if at + named < len(self.words) else None
        if number is None or not number[1].whole or number[1].article:
            return None
        plant = f"P{int(number[1].value)}"
        return (number[0], (plant,)) if plant in self.known.plants else None

    def _several(self, at: int) -> Atom | None:
        if _NUMBERED.fullmatch(self.words[at]):
            return Atom(Kind.DOUBT, at, at + 1)  # a plant that is not there
        group = self._groups.at(self.words, at)
        if group is not None:
            after = group[0] + (self._word(group[0]) in _GROUP)
            if after > group[0] or not any(words.knows(self.words[at]) for words in self._reserved):
                return Atom(Kind.WHICH, at, after, which=Which((), group[1]))
        if self.words[at] in _GROUP and (group := self._groups.at(self.words, at + 1)):
            return Atom(Kind.WHICH, at, group[0], which=Which((), group[1]))
        return self._counted(at) or self._in_words(at)

    def _in_words(self, at: int) -> Atom | None:
        found = _WORDS.at(self.words, at)
        if found is None:
            return None
        after, word = found
        if word == "both" and len(self.known.plants) != 2:
            return Atom(Kind.DOUBT, at, after) if not self.known.tubs else None
        return Atom(Kind.WHICH, at, after, which=Which((), "all" if word == "both" else word))

    def _counted(self, at: int) -> Atom | None:
        """`two plants`: so many of all."""
        number = self.numbers.plain(at)
        if number is None or not number[1].whole or self._word(number[0]) not in _PLANT:
            return None
        count, whole = int(number[1].value), len(self.known.plants)
        if number[1].article or count > whole or self._word(number[0] + 1) in ("per", "pro", "in", "a"):
            return None
        word = "all" if count == whole else f"{count} of {whole}"
        return Atom(Kind.WHICH, at, number[0] + 1, which=Which((), word))


def _spelled(names: Iterator[tuple[str, object]] | list[tuple[str, object]]) -> Phrases:  # type: ignore[type-arg]
    """Names by their words: `basil-a` is also said without its hyphen."""
    said = []
    for name, value in names:
        words = [token.word for token in tokens_of(name)]
        said += [(" ".join(words), value), (" ".join(word for word in words if word not in "-–"), value)]
    return Phrases(said)
