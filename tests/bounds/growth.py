"""How the time of a regular expression grows with the length of a text made to keep it trying.

In: a compiled pattern. Out: `Growth` of the worst text found: steps of time as the text doubles. Texts come from the
pattern's own parse tree: each repeated part is pumped behind what must come before it, and what follows fails.
"""

from __future__ import annotations

import itertools
import re
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from re import _constants as names  # type: ignore[attr-defined]
from re import _parser as tree  # type: ignore[attr-defined]
from typing import Any

__all__ = ["Growth", "attacks", "growth"]

FIRST = (
    12,
    16,
    20,
    22,
    24,
    28,
)  # characters: what grows with a power of two is seen before it takes for ever
START = 300
SHORT = 100  # what grows with the fourth power is seen here
MOST = 0.25  # seconds of processor time for the longest text that is read
_REPEATS = {names.MAX_REPEAT, names.MIN_REPEAT, names.POSSESSIVE_REPEAT}
_SAMPLES = "a1 .-,:\"'<{[(/A\n=*#_é½\u2009"
_OF_CATEGORY = {
    names.CATEGORY_DIGIT: "1",
    names.CATEGORY_SPACE: " ",
    names.CATEGORY_WORD: "a",
    names.CATEGORY_NOT_DIGIT: "a",
    names.CATEGORY_NOT_SPACE: "a",
    names.CATEGORY_NOT_WORD: " ",
}


@dataclass(frozen=True, slots=True)
class Growth:
    """The times of one text at doubled lengths [s]."""

    attack: tuple[str, str, str]
    seconds: tuple[float, ...]

    @property
    def is_too_slow(self) -> bool:
        """Whether the longest text takes more time than it may, or some shorter one does already."""
        return self.seconds[-1] > MOST


def attacks(pattern: re.Pattern[str]) -> list[tuple[str, str, str]]:
    """Texts as (before, pumped, after); each pumped part once."""
    parsed = tree.parse(pattern.pattern, pattern.flags & ~re.UNICODE | pattern.flags & re.UNICODE)
    found: list[tuple[str, str, str]] = []
    for before, body in _repeats(parsed, ""):
        for pumped in body:
            for after in ("\x00", "", "!\n"):
                found += [(before, pumped, after), ("", pumped, after)]
    return list(dict.fromkeys(each for each in found if each[1]))


def growth(pattern: re.Pattern[str], methods: frozenset[str], longest: int) -> Growth | None:
    """The growth of the slowest text up to a length; None where a pattern repeats nothing without end."""
    worst: Growth | None = None
    for before, pumped, after in attacks(pattern):
        seconds: list[float] = []
        lengths = [
            *FIRST,
            SHORT,
            *itertools.takewhile(lambda each: each < longest, (START << n for n in itertools.count())),
            longest,
        ]
        for length in lengths:
            text = before + pumped * (length // len(pumped)) + after
            seconds.append(_taken(pattern, text, methods))
            if MOST < seconds[-1] < 4 * MOST:  # perhaps only because other processes took the cache's lines
                seconds[-1] = min(seconds[-1], _taken(pattern, text, methods))
            if seconds[-1] > MOST:
                break
        if worst is None or seconds[-1] > worst.seconds[-1]:
            worst = Growth((before, pumped, after), tuple(seconds))
        if worst.is_too_slow:
            return worst
    return worst


def slowest_short(pattern: re.Pattern[str], methods: frozenset[str]) -> float:
    """The time of the slowest text of 300 characters [s], or of a shorter one that takes long already."""
    worst = 0.0
    for before, pumped, after in attacks(pattern):
        for length in (24, START):
            text = before + pumped * (length // len(pumped)) + after
            worst = max(worst, _taken(pattern, text, methods))
            if worst > MOST:
                return worst
    return worst


def _taken(pattern: re.Pattern[str], text: str, methods: frozenset[str]) -> float:
    begin = time.process_time()
    for method in methods:
        getattr(pattern, method)(text)
    return time.process_time() - begin


def _repeats(items: Iterable[Any], before: str) -> Iterator[tuple[str, list[str]]]:
    """Each unbounded repetition: a text that leads to it, and texts of which it takes many."""
    items = list(items)
    for place, (kind, value) in enumerate(items):
        if kind in _REPEATS:
            low, high, body = value
            sample = _sample(body)
            if high is names.MAXREPEAT or high > 100:
                rest = _sample(items[place + 1 : place + 3])
                yield (
                    before,
                    [sample, *_each_branch(body), sample + rest, before + sample, *_common(items[place:])],
                )
            yield from _repeats(body, before)
            before += sample * max(low, 1 if low else 0)
        elif kind is names.BRANCH:
            for branch in value[1]:
                yield from _repeats(branch, before)
            before += _sample([(kind, value)])
        elif kind in (names.SUBPATTERN, names.ATOMIC_GROUP, names.ASSERT, names.ASSERT_NOT):
            body = value if kind is names.ATOMIC_GROUP else value[-1]
            yield from _repeats(body, before)
            before += "" if kind in (names.ASSERT, names.ASSERT_NOT) else _sample(body)
        elif kind is names.GROUPREF_EXISTS:
            yield from _repeats(value[1], before)
            yield from _repeats(value[2] or [], before)
        else:
            before += _sample([(kind, value)])


def _each_branch(body: Any) -> list[str]:
    """A text of each alternative of a body."""
    found: list[str] = []
    for kind, value in body:
        if kind is names.BRANCH:
            found += [_sample(branch) for branch in value[1]]
        elif kind is names.SUBPATTERN:
            found += _each_branch(value[-1])
    return found


def _common(items: list[Any]) -> list[str]:
    """Characters that a repetition takes and so does another one after it: the classical slow pair."""
    sets = [_taken_by(item) for item in items if item[0] in _REPEATS]
    return [sign for later in sets[1:] for sign in sorted(sets[0] & later)[:3]] if sets else []


def _taken_by(item: Any) -> set[str]:
    (_, (_, _, body)) = item
    return {sign for sign in _SAMPLES if any(_takes(each, sign) for each in body)}


def _takes(item: Any, sign: str) -> bool:  # noqa: PLR0911 - a kind of item a line
    kind, value = item
    if kind is names.ANY:
        return sign != "\n"
    if kind is names.LITERAL:
        return chr(value) == sign
    if kind is names.NOT_LITERAL:
        return chr(value) != sign
    if kind is names.IN:
        return _in(value, sign)
    if kind is names.SUBPATTERN:
        return any(_takes(each, sign) for each in value[-1])
    if kind is names.BRANCH:
        return any(_takes(each, sign) for branch in value[1] for each in branch)
    return False


def _in(items: Any, sign: str) -> bool:
    negated = items[0][0] is names.NEGATE
    found = False
    for kind, value in items:
        if kind is names.LITERAL:
            found |= chr(value) == sign
        elif kind is names.RANGE:
            found |= value[0] <= ord(sign) <= value[1]
        elif kind is names.CATEGORY:
            found |= _in_category(value, sign)
    return found is not negated


def _in_category(category: Any, sign: str) -> bool:
    own = {"DIGIT": str.isdigit, "SPACE": str.isspace, "WORD": lambda s: s.isalnum() or s == "_"}
    name = str(category).removeprefix("CATEGORY_").removeprefix("UNI_")
    inside = own[name.removeprefix("NOT_")](sign)
    return not inside if name.startswith("NOT_") else bool(inside)


def _sample(items: Iterable[Any]) -> str:
    """A short text that some items take."""
    return "".join(map(_sample_of, items))


def _sample_of(item: Any) -> str:  # noqa: PLR0911 - a kind of item a line
    kind, value = item
    if kind is names.LITERAL:
        return chr(value)
    if kind in (names.ANY, names.NOT_LITERAL, names.IN):
        return next(
            (sign for sign in _SAMPLES if _takes(item, sign)), _first_of(value) if kind is names.IN else "a"
        )
    if kind in _REPEATS:
        return _sample(value[2]) * max(1, value[0])
    if kind is names.SUBPATTERN:
        return _sample(value[-1])
    if kind is names.ATOMIC_GROUP:
        return _sample(value)
    if kind is names.BRANCH:
        return _sample(value[1][0])
    if kind is names.GROUPREF_EXISTS:
        return _sample(value[1])
    return ""


def _first_of(items: Any) -> str:
    for kind, value in items:
        if kind is names.LITERAL:
            return chr(value)
        if kind is names.RANGE:
            return chr(value[0])
        if kind is names.CATEGORY:
            return _OF_CATEGORY[value]
    return "a"
