"""Numbers in German words: a whole number is one word.

In: tokens. Out: the number that begins at one of them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache

from sitegen.core.language.number_words.cardinals import cardinal, ordinal
from sitegen.core.language.number_words.forms import Found, fraction, whole_step
from sitegen.core.language.number_words.tokens import Token

_SMALL = {cardinal(n, "de"): n for n in range(20)} | {"ein": 1, "zwo": 2}
_TENS = {cardinal(n, "de"): n for n in range(20, 100, 10)}
_ARTICLES = frozenset({"ein", "eine", "einen", "einem", "einer", "eines"})
_DENOMINATORS = {"drittel": 3, "viertel": 4, "fünftel": 5, "sechstel": 6, "achtel": 8, "zehntel": 10}
_HALVES = frozenset({"halb", "halbe", "halber", "halbes", "halben", "halbem", "hälfte"})
_LONGEST = 80  # letters of a number that is read


def read_german(tokens: Sequence[Token], at: int) -> Found | None:
    """The number that begins at a token; None where none does."""
    words = [_plain(token.word) for token in tokens[at : at + 16]]
    found = _special(words) or _fraction(words) or _number(words)
    return None if found is None else found._replace(after=at + found.after)


def _plain(word: str) -> str:
    """With umlauts and sharp s where they belong, as some keyboards do not have them."""
    for plain, letter in (
        ("dreissig", "dreißig"),
        ("fuenf", "fünf"),
        ("zwoelf", "zwölf"),
        ("haelfte", "hälfte"),
    ):
        word = word.replace(plain, letter)
    return word


def _special(words: Sequence[str]) -> Found | None:
    first = words[0]
    if first.startswith("kein") and len(words) > 1 and words[1].startswith("einzig"):
        return Found(2, 0, 1)
    if first == "minus" and len(words) > 1 and (found := _number(words[1:])):
        return Found(found.after + 1, -found.value, found.step)
    if first.endswith("mal") and (value := german_value(first[:-3])) is not None:
        return Found(1, value, 1, "times")
    if first == "doppelt":
        return Found(1, 2, 1, "times")
    day = _ordinals().get(first)
    return None if day is None else Found(1, day, 1, "ordinal")


@cache
def _ordinals() -> dict[str, int]:
    """Ordinals up to 199 in all their endings."""
    stems = {ordinal(n, "de"): n for n in range(1, 200)}
    return {f"{stem}{end}": n for stem, n in stems.items() for end in ("", "r", "n", "s", "m")}


def _fraction(words: Sequence[str]) -> Found | None:
    """`halb`, `ein Drittel`, `zwei Drittel`, `dreiviertel`."""
    first, second = words[0], words[1] if len(words) > 1 else ""
    if first in _HALVES:
        return fraction(1, 2, 1)
    if first in _ARTICLES and second in _HALVES:
        return fraction(1, 2, 2)
    if first == "dreiviertel":
        return fraction(3, 4, 1)
    if second in _DENOMINATORS:
        part = 1 if first in _ARTICLES else german_value(first) or 0
        if 0 < part < _DENOMINATORS[second]:
            return fraction(int(part), _DENOMINATORS[second], 2)
    return None


def _number(words: Sequence[str]) -> Found | None:
    first = words[0] if words else ""
    if first in _ARTICLES:
        return _decimals(words, 1) or Found(1, 1, 1, "article")
    if first.startswith("anderthalb"):
        return Found(1, 1.5, 0.5)
    if first.endswith("einhalb") and (value := german_value(first.removesuffix("einhalb"))) is not None:
        return Found(1, value + 0.5, 0.5)
    value = german_value(first)
    if value is None:
        return None
    return _decimals(words, value) or Found(1, value, whole_step(value))


def _decimals(words: Sequence[str], whole: int) -> Found | None:
    """`eins Komma acht`."""
    if len(words) < 3 or words[1] != "komma":
        return None
    digits, at = "", 2
    while at < len(words) and 0 <= _SMALL.get(words[at], 10) < 10:
        digits += str(_SMALL[words[at]])
        at += 1
    return Found(at, whole + float(f"0.{digits}"), 10.0 ** -len(digits)) if digits else None


def german_value(word: str) -> int | None:
    """The value of a whole number in one word; None where it is none."""
    if not word or len(word) > _LONGEST:
        return None
    if "tausend" in word:
        before, _, rest = word.partition("tausend")
        thousands = 1 if not before else _below_thousand(before)
        below = _rest(rest, _below_thousand)
        return None if thousands is None or below is None else thousands * 1000 + below
    return _below_thousand(word)


def _below_thousand(word: str) -> int | None:
    if "hundert" not in word:
        return _below_hundred(word)
    before, _, rest = word.partition("hundert")
    hundreds = 1 if not before else _SMALL.get(before)
    below = _rest(rest, _below_hundred)
    if hundreds is None or below is None or not 0 < hundreds < 20:
        return None
    return hundreds * 100 + below


def _rest(word: str, read: Callable[[str], int | None]) -> int | None:
    """What follows hundreds or thousands, with or without "und"; 0 where nothing does."""
    if not word:
        return 0
    found = read(word)
    return read(word.removeprefix("und")) if found is None and word.startswith("und") else found


def _below_hundred(word: str) -> int | None:
    if word in _SMALL:
        return _SMALL[word]
    if word in _TENS:
        return _TENS[word]
    unit, joint, tens = word.partition("und")
    if joint and tens in _TENS and 0 < _SMALL.get(unit, 0) < 10:
        return _TENS[tens] + _SMALL[unit]
    return None
