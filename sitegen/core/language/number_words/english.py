"""Numbers in English words.

In: tokens. Out: the number that begins at one of them.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.language.number_words.cardinals import cardinal, ordinal
from sitegen.core.language.number_words.forms import Found, fraction, whole_step
from sitegen.core.language.number_words.tokens import Token

_SMALL = {cardinal(n, "en"): n for n in range(20)}
_TENS = {cardinal(n, "en"): n for n in range(20, 100, 10)} | {"fourty": 40}
_ORDINALS = {ordinal(n, "en"): n for n in (*range(1, 20), *range(20, 100, 10))}
_SCALES = {"hundred": 100, "thousand": 1000}
_DENOMINATORS = {
    "half": 2,
    "halves": 2,
    "quarter": 4,
    "quarters": 4,
    "third": 3,
    "thirds": 3,
    **{f"{ordinal(n, 'en')}{s}": n for n in (5, 6, 7, 8, 9, 10) for s in ("", "s")},
}
# Words that make a fraction of "a third": without them it may be the third of a row.
_OF_IT = frozenset(
    {"of", "more", "less", "as", "again", "bigger", "smaller", "longer", "shorter", "higher", "lower"}
)
_TIMES = {"once": 1, "twice": 2, "thrice": 3}
_NONE = frozenset({"none"})
_NOT_A = frozenset({"single", "plant", "seed", "seedling", "fruit", "pick"})


def read_english(tokens: Sequence[Token], at: int) -> Found | None:
    """The number that begins at a token; None where none does."""
    words = [token.word for token in tokens[at : at + 24]]
    found = _special(words) or _fraction(words) or _cardinal(words)
    if found is None:
        return None
    if found.form in ("cardinal", "article"):
        found = _mixed(words, found)
    return found._replace(after=at + found.after)


def _special(words: Sequence[str]) -> Found | None:
    first = words[0]
    if first in _TIMES:
        return Found(1, _TIMES[first], 1, "times")
    if first in _NONE:
        return Found(1, 0, 1)
    if first == "not" and (none := _not_one(words)):
        return none
    if first == "minus" and (found := _cardinal(words[1:])):
        return Found(found.after + 1, -found.value, found.step)
    return _ordinal(words)


def _not_one(words: Sequence[str]) -> Found | None:
    """`not one`, `not even one`, `not a plant`: none."""
    if words[1:3] == ["even", "one"]:
        return Found(3, 0, 1)
    one = words[1:2] == ["one"] or (words[1:2] == ["a"] and len(words) > 2 and words[2] in _NOT_A)
    return Found(2, 0, 1) if one else None


def _ordinal(words: Sequence[str]) -> Found | None:
    if words[0] in _ORDINALS:
        return Found(1, _ORDINALS[words[0]], 1, "ordinal")
    after, tens = 1, _TENS.get(words[0])
    if len(words) > after and words[after] == "-":
        after += 1
    unit = _ORDINALS.get(words[after], 10) if len(words) > after else 10
    return Found(after + 1, tens + unit, 1, "ordinal") if tens and unit < 10 else None


def _fraction(words: Sequence[str]) -> Found | None:
    """`half`, `a quarter`, `two thirds`."""
    if words[0] == "half":
        return fraction(1, 2, 1)
    if len(words) < 2:
        return None
    after = 2 if words[1] == "-" and len(words) > 2 else 1
    whole = _DENOMINATORS.get(words[after])
    if whole is None:
        return None
    if words[0] in ("a", "an", "one") and not words[after].endswith(("ds", "hs", "rs")):
        certain = whole in (2, 4) or (len(words) > after + 1 and words[after + 1] in _OF_IT)
        return fraction(1, whole, after + 1) if certain else None
    part = _SMALL.get(words[0], 0)
    many = words[after].endswith("s")
    return fraction(part, whole, after + 1) if many and 0 < part < whole else None


def _cardinal(words: Sequence[str]) -> Found | None:
    """A whole number, with decimals after "point"."""
    if words and words[0] in ("a", "an"):
        return _with_article(words)
    found = _whole(words)
    if found is None:
        return None
    return _decimals(words, found) or found


def _with_article(words: Sequence[str]) -> Found:
    """`a hundred and thirty`, `a dozen`; an article alone."""
    second = words[1] if len(words) > 1 else ""
    if second in _SCALES and (found := _whole(["one", *words[1:]])):
        return found
    if second == "dozen":
        return Found(2, 12, 1)
    return Found(1, 1, 1, "article")


def _whole(words: Sequence[str]) -> Found | None:
    """The longest whole number that some words begin with."""
    total, below, after, at = 0, -1, 0, 0
    while at < len(words):
        word = words[at]
        if word == "-" and 0 < at == after and _continues(words, at + 1, below):
            at += 1
            continue
        if word == "and":
            if not (at == after and at > 0 and _joins(words, at + 1, total, below)):
                break
            at += 1
            continue
        if word in _SMALL and _fits(_SMALL[word], below):
            below = max(below, 0) + _SMALL[word]
        elif word in _TENS and (below < 0 or (below >= 100 and below % 100 == 0)):
            below = max(below, 0) + _TENS[word]
        elif word == "hundred" and 0 < below < 100:
            below *= 100
        elif word == "thousand" and 0 < below < 1000 and total == 0:
            total, below = below * 1000, -1
        else:
            break
        at += 1
        after = at
    if after == 0:
        return None
    value = total + max(below, 0)
    return Found(after, value, whole_step(value))


def _fits(unit: int, below: int) -> bool:
    """Whether a number below twenty may follow what was read of this group."""
    if below < 0:
        return True
    return (below >= 100 and below % 100 == 0) or (0 < unit < 10 and below % 100 >= 20 and below % 10 == 0)


def _continues(words: Sequence[str], at: int, below: int) -> bool:
    """Whether a hyphen joins the next word: "ninety-eight", "two-hundred"."""
    if at >= len(words):
        return False
    return (words[at] in _SMALL and _fits(_SMALL[words[at]], below)) or words[at] in _SCALES


def _joins(words: Sequence[str], at: int, total: int, below: int) -> bool:
    """Whether "and" is inside a number: after hundreds or thousands, before what is below a hundred."""
    if at >= len(words) or words[at] not in {**_SMALL, **_TENS}:
        return False
    after_hundreds = below >= 100 and below % 100 == 0
    return after_hundreds or (below < 0 and total > 0)


def _decimals(words: Sequence[str], found: Found) -> Found | None:
    """`one point eight`, `zero point three three`."""
    if len(words) <= found.after + 1 or words[found.after] != "point":
        return None
    digits, at = "", found.after + 1
    while at < len(words) and (words[at] == "oh" or _SMALL.get(words[at], 10) < 10):
        digits += str(_SMALL.get(words[at], 0))
        at += 1
    if not digits:
        return None
    return Found(at, found.value + float(f"0.{digits}"), 10.0 ** -len(digits))


def _mixed(words: Sequence[str], found: Found) -> Found:
    """`two and a half`, `three and three quarters`."""
    if found.form == "article" or list(words[found.after : found.after + 1]) != ["and"]:
        return found
    rest = words[found.after + 1 :]
    part = _fraction(rest) if rest else None
    if part is None and rest[:1] == ["a"] and len(rest) > 1 and rest[1] in _DENOMINATORS:
        part = fraction(1, _DENOMINATORS[rest[1]], 2)
    if part is None:
        return found
    step = next(
        (
            1 / whole
            for whole in (2, 3, 4, 5, 8, 10)
            if abs(part.value * whole - round(part.value * whole)) < 1e-9
        ),
        part.step,
    )
    return Found(found.after + 1 + part.after, found.value + part.value, step)
