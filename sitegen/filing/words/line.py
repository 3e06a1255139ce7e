"""A line as atoms.

In: the text of a line, `Known`. Out: `Line`: its tokens and its atoms, each token in one of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import NamedTuple

from sitegen.core.language.number_words.tokens import Token, tokens_of
from sitegen.filing.words import common_words as common
from sitegen.filing.words.amounts import Numbers
from sitegen.filing.words.atoms import Atom, Kind, Rule
from sitegen.filing.words.known import Known
from sitegen.filing.words.names import Names
from sitegen.filing.words.phrases import Phrases
from sitegen.filing.words.rules.listing import RULES

MOST = 2000  # tokens of a line; what is longer is no line


class Line(NamedTuple):
    """A line with its tokens and atoms, in order."""

    text: str
    tokens: tuple[Token, ...]
    atoms: tuple[Atom, ...]

    def between(self, first: int, after: int) -> str:
        """The text of some tokens, as it was written."""
        return self.text[self.tokens[first].begin : self.tokens[after - 1].end] if after > first else ""

    def words(self, first: int, after: int) -> list[str]:
        """Some tokens in lower case."""
        return [token.word for token in self.tokens[first:after]]


@cache
def _phrases(*, weak: bool) -> Phrases[Rule]:
    return Phrases(
        (phrase, rule) for rule in RULES if rule.weak is weak for phrase in (*rule.english, *rule.german)
    )


def line_of(text: str, known: Known) -> Line:
    """A line, read."""
    tokens = tokens_of(text)[:MOST]
    language = _language([token.word for token in tokens], known.language)
    return Line(text, tokens, tuple(_atoms(tokens, language, known)))


def _language(words: Sequence[str], usual: str) -> str:
    """The language of a line by its most usual words; that of the journal where they do not tell."""
    german, english = (
        sum(word in words_of for word in words) for words_of in (common.GERMAN, common.ENGLISH)
    )
    if german == english:
        return usual.partition("-")[0].lower()
    return "de" if german > english else "en"


def _atoms(tokens: Sequence[Token], language: str, known: Known) -> Iterator[Atom]:
    numbers = Numbers(tokens, language)
    names = Names(known, numbers, (_phrases(weak=False), _phrases(weak=True)))
    at = 0
    while at < len(tokens):
        atom = _atom(at, numbers, names)
        yield atom
        at = atom.after


def _atom(at: int, numbers: Numbers, names: Names) -> Atom:
    """The atom that begins at a token: the longest of those that fit, a name before a rule before a number."""
    words = numbers.words
    found = [
        atom for atom in (names.at(at), _cue(words, at), _amount(numbers, at), _common(words, at)) if atom
    ]
    if not found:
        return Atom(Kind.WORD, at, at + 1)
    longest = max(atom.after for atom in found)
    return next(atom for atom in found if atom.after == longest)


def _cue(words: Sequence[str], at: int) -> Atom | None:
    strong, weak = (_phrases(weak=weak).at(words, at) for weak in (False, True))
    best = max((found for found in (strong, weak) if found), key=lambda found: found[0], default=None)
    if best is None:
        return None
    # A word that also counts pieces keeps that reading: what stands before it decides.
    other = weak[1] if weak and strong and weak[0] == strong[0] else None
    return Atom(
        Kind.CUE,
        at,
        best[0],
        rule=best[1],
        name=other.key if other else "",
        value=other.value if other else "",
    )


def _amount(numbers: Numbers, at: int) -> Atom | None:
    word = numbers.words[at]
    if word[0].isdecimal() and numbers.two_readings(at):
        return Atom(Kind.DOUBT, at, at + 1)
    found = numbers.amount(at)
    if found is None or (found[1].article and not found[1].unit):
        return None
    after, amount = found
    if amount.unit:
        return Atom(Kind.AMOUNT, at, after, amount=amount)
    return Atom(Kind.NUMBER, at, after, amount=amount)


def _common(words: Sequence[str], at: int) -> Atom | None:
    """A word of no subject."""
    kinds = (
        (Kind.MARK, common.MARKS.at(words, at)),
        (Kind.DENIAL, common.DENIALS.at(words, at)),
        (Kind.DOUBT, common.DOUBTS.at(words, at)),
    )
    best: Atom | None = None
    for kind, found in kinds:
        if found is not None and (best is None or found[0] > best.after):
            best = Atom(kind, at, found[0], name=found[1])
    if best is not None and best.after > at + 1:
        return best
    if words[at] in common.BREAKS:
        return Atom(Kind.BREAK, at, at + 1)
    if best is None and words[at] in common.FILLERS:
        return Atom(Kind.FILLER, at, at + 1)
    return best
