"""A line in parts, and what each rule takes of a part.

In: a `Line`. Out: `Part`s between commas and `and`; for a rule, the atoms that it wants, and the text without them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

from sitegen.core.values.units import Dimension
from sitegen.filing.words import common_words as common
from sitegen.filing.words.atoms import Atom, Kind
from sitegen.filing.words.line import Line
from sitegen.filing.words.phrases import words_in
from sitegen.filing.words.rules.readings import OF_PLANTS, OF_TUBS

D = Dimension


class Part(NamedTuple):
    """A part of a sentence; `opens` where a sentence begins with it, `joint` is what stands before it."""

    number: int
    atoms: tuple[Atom, ...]
    opens: bool
    joint: str

    @property
    def first(self) -> int:
        """Its first token."""
        return self.atoms[0].first

    @property
    def after(self) -> int:
        """The token after its last."""
        return self.atoms[-1].after

    def has(self, kind: Kind) -> bool:
        """Whether an atom of a kind is in it."""
        return any(atom.kind is kind for atom in self.atoms)

    def amounts(self, *dimensions: Dimension) -> bool:
        """Whether an amount of some dimensions is in it."""
        return any(atom.amount is not None and atom.amount.dimension in dimensions for atom in self.atoms)

    def before(self, atom: Atom) -> Atom | None:
        """The atom before another."""
        at = self.atoms.index(atom)
        return self.atoms[at - 1] if at else None

    def behind(self, atom: Atom) -> tuple[Atom, ...]:
        """The atoms after another that say something."""
        at = self.atoms.index(atom)
        return tuple(each for each in self.atoms[at + 1 :] if each.kind is not Kind.FILLER)


def parts_of(line: Line) -> tuple[Part, ...]:
    """The parts of a line, in order."""
    found: list[Part] = []
    inside: list[Atom] = []
    opens, joint = True, ""
    for atom in (*line.atoms, None):
        if atom is not None and atom.kind is not Kind.BREAK:
            inside.append(atom)
            continue
        if opens and atom is not None and line.tokens[atom.first].word == "," and _only_named(inside):
            continue  # `P one, nine grams`: whose it is, and a pause
        if inside:
            found.append(Part(len(found), tuple(inside), opens, joint))
            inside, opens, joint = [], False, ""
        if atom is not None:
            word = line.tokens[atom.first].word
            opens = opens or word in common.SENTENCE_ENDS
            joint = "," if word not in ("and", "und", "but", "aber", "&") or joint == "," else word
    return tuple(found)


def _only_named(atoms: Sequence[Atom]) -> bool:
    """Whether nothing but plants is said."""
    return any(a.kind is Kind.WHICH for a in atoms) and all(
        a.kind in (Kind.WHICH, Kind.FILLER) for a in atoms
    )


# What each key takes of a part, beside its own words.
def _kinds(*kinds: Kind, of: Sequence[Dimension] = (), marks: Sequence[str] = ()) -> Callable[[Atom], bool]:
    def wanted(atom: Atom) -> bool:
        if atom.kind is Kind.AMOUNT:
            return atom.amount is not None and atom.amount.dimension in of
        return atom.kind in kinds or (atom.kind is Kind.MARK and atom.name in marks)

    return wanted


_DOSES = (D.VOLUME, D.VOLUME_DOSE, D.MASS)
_PLANTS_AND_NUMBER = (Kind.WHICH, Kind.NUMBER)
WANTED: Mapping[str, Callable[[Atom], bool]] = {
    **{
        key: _kinds(*_PLANTS_AND_NUMBER, of=(dimension,), marks=("each",))
        for key, dimension in OF_PLANTS.items()
    },
    **{
        key: _kinds(Kind.TUB, Kind.NUMBER, of=(dimension,), marks=("order",))
        for key, dimension in OF_TUBS.items()
    },
    "water": _kinds(Kind.TUB, of=(D.VOLUME,)),
    "feed": _kinds(Kind.TUB, Kind.PRODUCT, of=_DOSES, marks=("each", "as labelled")),
    "adjust": _kinds(Kind.TUB, Kind.PRODUCT, of=_DOSES, marks=("each", "as labelled")),
    "sow": _kinds(*_PLANTS_AND_NUMBER, marks=("a spot", "in all")),
    "sprouted": _kinds(*_PLANTS_AND_NUMBER, Kind.SHARE, marks=("every spot",)),
    "thin_to": _kinds(*_PLANTS_AND_NUMBER, marks=("a spot", "each")),
    "transplant": _kinds(Kind.WHICH),
    "move": _kinds(Kind.WHICH, Kind.TUB),
    "milestone": _kinds(Kind.WHICH, Kind.SHARE),
    "harvest": _kinds(
        *_PLANTS_AND_NUMBER, of=(D.MASS,), marks=("each", "together", "unweighed", "count", "part")
    ),
    "total_so_far": _kinds(Kind.WHICH, of=(D.MASS,)),
    "light": _kinds(Kind.TUB, of=(D.DURATION, D.LENGTH), marks=("a day",)),
    "treat": _kinds(Kind.WHICH, Kind.PRODUCT),
    "lost": _kinds(Kind.WHICH),
    "end": _kinds(),
    "taste": _kinds(Kind.SHARE),
    "trouble": _kinds(Kind.WHICH, Kind.TUB),
    **dict.fromkeys(("prune", "train", "pollinate", "clean"), _kinds(Kind.WHICH)),
}
_EDGES = words_in(
    "is are was were has have had it them they been ist sind war waren hat haben wurde wurden es sie i we "
    "ich wir got"
)
_AFTER_ALL = words_in("with by using to again today mit per heute an auf zum")


def rest(line: Line, part: Part, taken: Sequence[Atom]) -> str:
    """The text of a part without some atoms and what belongs to them, as it was written."""
    pieces = " ".join(line.between(*span) for span in runs(line, part, taken)).split(" ")
    while pieces and pieces[0].lower() in _EDGES:
        pieces = pieces[1:]
    while pieces and pieces[-1].lower() in _EDGES:
        pieces = pieces[:-1]
    return " ".join(pieces).strip(" :")


def runs(line: Line, part: Part, taken: Sequence[Atom]) -> Iterator[tuple[int, int]]:
    """The stretches of a part that hold none of some atoms; a preposition before plants goes with them."""
    gone = {at for atom in taken for at in range(atom.first, atom.after)}
    for atom in taken:
        at = atom.first - 1
        named = atom.kind in (Kind.WHICH, Kind.TUB, Kind.PRODUCT)
        while named and at >= part.first and line.tokens[at].word in common.PREPOSITIONS:
            gone.add(at)
            at -= 1
    first: int | None = None
    for at in range(part.first, part.after + 1):
        if at < part.after and at not in gone:
            first = at if first is None else first
        elif first is not None:
            yield first, at
            first = None


def is_of_plants(line: Line, part: Part, atom: Atom) -> bool:
    """Whether `all` and `some` mean plants, and not the word that follows."""
    if atom.after - atom.first > 1 or atom.which is None or atom.which.word not in ("all", "some"):
        return True
    return atom.after >= part.after or line.tokens[atom.after].word in _AFTER_ALL
