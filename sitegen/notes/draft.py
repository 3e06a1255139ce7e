"""A draft of episode notes: sections of passages, in which every value stands by reference.

In: messages, values, places in the journal. Out: `Passage`, `Section`, `Draft`. The literal text of a passage holds no
number: each comes from a `Number` with the name of its figure, or of its column of the log, so that it can be traced and
said in words or in digits. A passage of which a value is missing is not made.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from string import Formatter
from typing import Literal

from sitegen.core.facts.figure import Figure, Remark, Value
from sitegen.core.findings.source import Source
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity

# How a value is said: in `both` systems of units or in the journal's `own`; `plain` without its unit; a day with its
# preposition (`on`, `by`, `from`) or without; a number as an `ordinal`.
# A day that was just said is `that` day, or `then` after "by", and the day after it the `next`.
Form = Literal["both", "own", "plain", "on", "by", "from", "day", "that", "then", "next", "date", "ordinal"]


@dataclass(frozen=True, slots=True)
class Number:
    """A value by reference: `name` is that of its figure, or `log.` or `setup.` and the column that it stands in.

    `noun` is what a count counts; in the form `plain` it is not said again.
    """

    name: str
    value: Value | Fraction | int
    form: Form = "both"
    noun: str = ""

    @property
    def known(self) -> bool:
        """Whether there is anything to say."""
        return self.value is not None and (not isinstance(self.value, Quantity) or self.value.known)


@dataclass(frozen=True, slots=True)
class AuthorWords:
    """Words of the author, said as they were written; `inside` a sentence, or as one of their own."""

    text: str
    inside: bool = False


@dataclass(frozen=True, slots=True)
class Plants:
    """Plants by their ids: `plant three`, `plants four and five`."""

    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Limits:
    """What limits a figure: its remarks, said as on the page."""

    name: str
    remarks: tuple[Remark, ...]


Part = str | Number | AuthorWords | Plants | Limits
Style = Literal["sentences", "list", "question", "lines", "paragraph"]  # of a section


@dataclass(frozen=True, slots=True)
class Passage:
    """One sentence in parts, with the places in the journal that it rests on.

    Without places it is a question, or a transition that claims nothing.
    """

    parts: tuple[Part, ...]
    sources: tuple[Source, ...] = ()

    @property
    def numbers(self) -> tuple[Number, ...]:
        """The values that it says."""
        return tuple(part for part in self.parts if isinstance(part, Number))

    @property
    def literal(self) -> str:
        """Its own text, without values and without words of the author."""
        return "".join(part if isinstance(part, str) else "…" for part in self.parts)


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a draft: its title, what to show with it, what is said.

    `days` are the days that it tells of, `score` that of the best thing in it.
    """

    title: Passage
    passages: tuple[Passage, ...] = ()
    shows: tuple[Passage, ...] = ()
    days: Day | None = None
    score: int | None = None
    style: Style = "sentences"


@dataclass(frozen=True, slots=True)
class Draft:
    """Notes of one kind about one experiment; `left_out` are sections for which there was no time.

    `careful` says what must not be claimed; it is read, not spoken.
    """

    kind: str
    experiment: str
    title: str
    sections: tuple[Section, ...]
    left_out: tuple[Section, ...] = ()
    careful: tuple[Passage, ...] = ()
    spoken: bool = False


def number(figure: Figure, form: Form = "both") -> Number:
    """A figure by reference."""
    return Number(figure.name, figure.value, form)


def passage(
    message: str, /, *sources: Source | Iterable[Source] | None, **places: Part | int | None
) -> Passage | None:
    """A message with its places filled; None where one of them has nothing to say.

    Parameters
    ----------
    message
        Already in the language of the draft.
    sources
        Places in the journal, or several at once: the rows of a figure.
    places
        By name: a `Number`, words of the author, plants, or text that is a message itself.

    """
    parts: list[Part] = []
    for text, name, _, _ in Formatter().parse(message):
        for part in (text, places[name]) if name is not None else (text,):
            if part is None or _says_nothing(part):
                return None
            if isinstance(part, int):
                raise TypeError(f"`{name}` is a number without a name: give a Number")
            _joined(parts, part)
    return Passage(tuple(parts), _places(sources))


def _says_nothing(part: Part | int) -> bool:
    """Whether a place would stay empty: a value that was not recorded, no words, no plants."""
    if isinstance(part, Number):
        return not part.known
    if isinstance(part, AuthorWords):
        return not part.text.strip()
    return isinstance(part, Plants) and not part.ids


def _joined(parts: list[Part], part: Part) -> None:
    if isinstance(part, str):
        if not part:
            return
        if parts and isinstance(parts[-1], str):
            parts[-1] += part
            return
    parts.append(part)


def _places(sources: Iterable[Source | Iterable[Source] | None]) -> tuple[Source, ...]:
    found: list[Source] = []
    for each in sources:
        if isinstance(each, Source):
            found.append(each)
        elif each is not None:
            found.extend(each)
    unique = {(place.file, place.line): place for place in reversed(found)}
    return tuple(sorted(unique.values()))


def clauses(parts: Iterable[Passage | None], between: str = ", ") -> Passage | None:
    """Passages as clauses of one, with the places of all; None where there are none."""
    found = told(*parts)
    if not found:
        return None
    said: list[Part] = []
    for place, each in enumerate(found):
        if place:
            _joined(said, between)
        for part in each.parts:
            _joined(said, part)
    return Passage(tuple(said), _places(each.sources for each in found))


def author(text: str, *sources: Source | Iterable[Source]) -> Passage | None:
    """A sentence of the author's, with a full stop; None where there is none."""
    said = " ".join(text.split())
    if not said:
        return None
    closed = said if said.endswith((".", "!", "?", "…")) else f"{said}."
    return Passage((AuthorWords(closed),), _places(sources))


def told(*passages: Passage | None) -> tuple[Passage, ...]:
    """Those passages that there are."""
    return tuple(each for each in passages if each is not None)
