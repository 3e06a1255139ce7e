"""Small text helpers that stages share: did-you-mean, lists and days in words.

In: words and numbers. Out: texts. Lists, days and numbers in words are in the active language, all else is English.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Literal

from sitegen.core.language.catalogue import tr, tr_c, tr_c_noop
from sitegen.core.values.day import Day

# fmt: off
_NUMBER_WORDS = [
    tr_c_noop("how many", "no"), tr_c_noop("how many", "one"), tr_c_noop("how many", "two"),
    tr_c_noop("how many", "three"), tr_c_noop("how many", "four"), tr_c_noop("how many", "five"),
    tr_c_noop("how many", "six"), tr_c_noop("how many", "seven"), tr_c_noop("how many", "eight"),
    tr_c_noop("how many", "nine"), tr_c_noop("how many", "ten"), tr_c_noop("how many", "eleven"),
    tr_c_noop("how many", "twelve"),
]
# fmt: on
# By the id of a tub, as most growers tell two tubs apart: in a list, and inside a sentence.
_TUBS = {
    "left": (tr_c_noop("a tub", "left tub"), tr_c_noop("a tub", "in the left tub")),
    "right": (tr_c_noop("a tub", "right tub"), tr_c_noop("a tub", "in the right tub")),
    "front": (tr_c_noop("a tub", "front tub"), tr_c_noop("a tub", "in the front tub")),
    "back": (tr_c_noop("a tub", "back tub"), tr_c_noop("a tub", "in the back tub")),
}
_ANY_TUB = (tr_c_noop("a tub", "tub {name}"), tr_c_noop("a tub", "in tub {name}"))
_LAST = {
    "and": tr_c_noop("end of a list", "{before} and {last}"),
    "or": tr_c_noop("end of a list", "{before} or {last}"),
    "then": tr_c_noop("end of a list", "{before}, then {last}"),
}


def closest(word: str, known: Iterable[str]) -> str:
    """The known word most like `word`, or an empty text where none is near."""
    by_lower = {name.lower(): name for name in known}
    lower = word.lower()
    if lower in by_lower:
        return by_lower[lower]
    import difflib  # noqa: PLC0415 - needed only for a finding

    near = difflib.get_close_matches(lower, by_lower, n=1, cutoff=0.6)
    return by_lower[near[0]] if near else ""


_ALIKE = 0.1  # of similarity: names that are no further apart may each be meant
_SLIP = 0.8  # the least similarity of a slip of the pen
_DIGITS = re.compile(r"\d+")


def near_words(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """The known words that `word` may be a slip or a part of, the nearest first; none where nothing is near."""
    names = tuple(dict.fromkeys(known))
    lower = word.lower()
    if same := [name for name in names if name.lower() == lower]:
        return (same[0],)
    import difflib  # noqa: PLC0415 - needed only for a finding

    ratio = {name: difflib.SequenceMatcher(None, name.lower(), lower).ratio() for name in names}
    near = difflib.get_close_matches(lower, [name.lower() for name in names], n=3, cutoff=0.6)
    best = max((ratio[name] for name in names), default=0.0)
    of_parts = [name for name in names if len(word) > 2 and lower in re.split("[_-]", name.lower())]
    like = [name for name in names if name.lower() in near and ratio[name] > best - _ALIKE]
    return tuple(sorted({*of_parts, *like}, key=lambda name: (-ratio[name], name)))


def is_slip(word: str, name: str) -> bool:
    """Whether a word can only be a name misspelt: nearly all of its letters, and the same numbers."""
    if _DIGITS.findall(word) != _DIGITS.findall(name):
        return False
    import difflib  # noqa: PLC0415 - needed only for a finding

    return difflib.SequenceMatcher(None, name.lower(), word.lower()).ratio() >= _SLIP


def did_you_mean(word: str, known: Iterable[str], *, most: int = 12) -> str:
    """The advice for an unknown word: the nearest known words, or the known words."""
    names = tuple(dict.fromkeys(known))
    if near := near_words(word, names):
        return f"write {listed([f'`{name}`' for name in near], 'or')}"
    if not names:
        return "remove it"
    shown = ", ".join(f"`{name}`" for name in names[:most])
    more = " …" if len(names) > most else ""
    return f"write one of {shown}{more}" if len(names) > 1 else f"write {shown}"


def time_of_day(minutes: int) -> str:
    """`06:00`, of the minutes after midnight."""
    return f"{minutes // 60:02}:{minutes % 60:02}"


def clock(seconds: int) -> str:
    """A time in an episode: `12:30`, or `1:02:30` from an hour on."""
    hours, minutes = divmod(seconds // 60, 60)
    return f"{hours}:{minutes:02}:{seconds % 60:02}" if hours else f"{minutes}:{seconds % 60:02}"


def listed(words: Sequence[str], last: Literal["and", "or", "then"] = "and") -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    before = words[0]
    for word in words[1:-1]:
        before = tr_c("inside a list", "{before}, {next}", before=before, next=word)
    return tr_c("end of a list", _LAST[last], before=before, last=words[-1])


def name_in_text(name: str) -> str:
    """A name of the author's inside a sentence: `P1`, `basil-a`, `Amber`, and in quotes `“picked”`.

    One of lower-case letters alone, two or more, could be read as a word of the sentence: it stands in quotes. A capital,
    a digit, a hyphen shows that it is a name. One that begins a line or a heading has a capital, and needs neither.
    """
    plain = len(name) > 1 and name.replace(" ", "").isalpha() and name.islower()
    return tr("“{label}”", label=name) if plain else name


def tub_words(name: str) -> str:
    """A tub in a list: `left tub`, `tub b`, `deep-tub`."""
    if _is_tub(name):
        return name
    return tr_c("a tub", _TUBS.get(name, _ANY_TUB)[0], name=name)


def in_tub_words(name: str) -> str:
    """The place of something inside a sentence: `in the left tub`, `in tub b`, `in deep-tub`."""
    if _is_tub(name):
        return tr_c("a tub", "in {name}", name=name)
    return tr_c("a tub", _TUBS.get(name, _ANY_TUB)[1], name=name)


def _is_tub(name: str) -> bool:
    """Whether a name says itself that it is one."""
    return "tub" in name.lower()


def in_words(number: int) -> str:
    """Small numbers as words, larger ones as digits."""
    return tr_c("how many", _NUMBER_WORDS[number]) if 0 <= number < len(_NUMBER_WORDS) else str(number)


def day_words(day: Day) -> str:
    """`day 26`, `days 33–38`, `about day 36`, `before day 40`: for a sentence."""
    if day.before:
        return tr("before day {n}", n=day.last + 1)
    span = {"first": day.first, "last": day.last}
    said = tr("day {n}", n=day.first) if day.single else tr("days {first}–{last}", **span)
    return tr("about {what}", what=said) if day.about else said


def plural(number: int, one: str, many: str = "") -> str:
    """`1 pick`, `2 picks`: English, for findings and commands; pages use `tr_n`."""
    return f"{number} {one if number == 1 else many or one + 's'}"
