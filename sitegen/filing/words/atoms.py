"""The smallest parts that a spoken line is made of: a plant, an amount, a word that a rule knows.

In: nothing. Out: `Atom`, `Which`, `Amount`, `Rule`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sitegen.core.values.units import Dimension


class Kind(StrEnum):
    """What an atom is."""

    CUE = "a word of a rule"
    WHICH = "plants"
    TUB = "a tub"
    PRODUCT = "a product"
    AMOUNT = "a number with a unit"
    NUMBER = "a number"
    SHARE = "so many of so many"
    MARK = "a word that says how another is meant"
    DENIAL = "not, no, none"
    DOUBT = "a word that makes it no record of this visit"
    BREAK = "a comma, and, then"
    FILLER = "a word that says nothing"
    WORD = "any other word"


@dataclass(frozen=True, slots=True)
class Rule:
    """The words for a key of an entry, in English and German; a `*` stands for any ending.

    `value` is what the words alone give, or the name of a stage or part. A `weak` rule counts only where what it wants
    stands beside it.
    """

    key: str
    english: tuple[str, ...]
    german: tuple[str, ...] = ()
    value: str = ""
    weak: bool = False


@dataclass(frozen=True, slots=True)
class Which:
    """The plants that are meant: ids, a group, or a number or word of the format (`2 of 6`, `some`, `all`)."""

    ids: tuple[str, ...] = ()
    word: str = ""

    @property
    def text(self) -> str:
        """As YAML text."""
        if self.word:
            return self.word
        return self.ids[0] if len(self.ids) == 1 else f"[{', '.join(self.ids)}]"

    @property
    def text_or_ids(self) -> str:
        """As text; empty where no plants are named."""
        return self.word or ", ".join(self.ids)

    @property
    def everyone(self) -> bool:
        """Whether all plants are meant, which a plain value says too."""
        return self.word == "all"


@dataclass(frozen=True, slots=True)
class Amount:
    """A number as text, with a unit of the format; `flag` and `eye` are words of the format around it."""

    number: str
    unit: str = ""
    dimension: Dimension | None = None
    flag: str = ""
    eye: bool = False
    value: float = 0.0
    article: bool = False

    @property
    def text(self) -> str:
        """As it is written in a file."""
        parts = (self.flag, self.number, self.unit, "by eye" if self.eye else "")
        return " ".join(part for part in parts if part)

    @property
    def whole(self) -> bool:
        """Whether it is one whole number without a unit."""
        return not self.unit and self.number.isdecimal()


@dataclass(frozen=True, slots=True)
class Atom:
    """One part of a line, from token `first` to before `after`."""

    kind: Kind
    first: int
    after: int
    rule: Rule | None = None
    which: Which | None = None
    amount: Amount | None = None
    name: str = ""  # of a tub, a product (with its kind in `value`), a mark
    value: str = ""
    share: tuple[int, int] = (0, 0)


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of a sentence as one rule has it: its word, its atoms; `text` is the part without its plants and tub."""

    cue: Atom | None
    atoms: tuple[Atom, ...]
    denied: bool = False
    text: str = ""

    def which(self) -> tuple[Which, ...]:
        """The plants that are named."""
        return tuple(atom.which for atom in self.atoms if atom.which is not None)

    def amounts(self, *dimensions: Dimension) -> tuple[Amount, ...]:
        """The amounts of some dimensions."""
        found = (atom.amount for atom in self.atoms if atom.kind is Kind.AMOUNT)
        return tuple(each for each in found if each is not None and each.dimension in dimensions)

    def numbers(self) -> tuple[Amount, ...]:
        """The bare numbers."""
        return tuple(a.amount for a in self.atoms if a.kind is Kind.NUMBER and a.amount is not None)

    def shares(self) -> tuple[tuple[int, int], ...]:
        """What is so many of so many."""
        return tuple(atom.share for atom in self.atoms if atom.kind is Kind.SHARE)

    def marked(self, name: str) -> bool:
        """Whether a mark of a name is there."""
        return any(atom.kind is Kind.MARK and atom.name == name for atom in self.atoms)

    @property
    def value(self) -> str:
        """What the word of the rule gives alone."""
        return self.cue.rule.value if self.cue is not None and self.cue.rule is not None else ""


def one_or_none(items: tuple[Which, ...]) -> Which | None:
    """The one that is there; None where there is none. Two are refused before."""
    return items[0] if items else None
