"""Counts of things: `eleven of the twelve seeds` is made from words for each number with its noun.

In: a count and the name of what is counted. Out: words, or digits. The word for one stands in the message, since its form
depends on the noun in some languages.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.language.catalogue import tr_c, tr_c_noop, tr_cn, tr_cn_noop, tr_n, tr_n_noop
from sitegen.core.language.number_words.cardinals import cardinal


@dataclass(frozen=True, slots=True)
class _Noun:
    """What is counted: spoken, written, and one of it without the noun."""

    spoken: tuple[str, str]
    written: tuple[str, str]
    alone: tuple[str, str]  # its context and the message


NOUNS = {
    "plant": _Noun(
        tr_cn_noop("spoken", "one plant", "{number} plants"),
        tr_n_noop("{n} plant", "{n} plants"),
        ("a plant", tr_c_noop("a plant", "one")),
    ),
    "seed": _Noun(
        tr_cn_noop("spoken", "one seed", "{number} seeds"),
        tr_n_noop("{n} seed", "{n} seeds"),
        ("a seed", tr_c_noop("a seed", "one")),
    ),
    "spot": _Noun(
        tr_cn_noop("spoken", "one spot", "{number} spots"),
        tr_n_noop("{n} spot", "{n} spots"),
        ("a spot", tr_c_noop("a spot", "one")),
    ),
    "tub": _Noun(
        tr_cn_noop("spoken", "one tub", "{number} tubs"),
        tr_n_noop("{n} tub", "{n} tubs"),
        ("a tub", tr_c_noop("a tub", "one")),
    ),
    "pick": _Noun(
        tr_cn_noop("spoken", "one pick", "{number} picks"),
        tr_n_noop("{n} pick", "{n} picks"),
        ("a pick", tr_c_noop("a pick", "one")),
    ),
    "piece": _Noun(
        tr_cn_noop("spoken", "one piece", "{number} pieces"),
        tr_n_noop("{n} piece", "{n} pieces"),
        ("a piece", tr_c_noop("a piece", "one")),
    ),
    "run": _Noun(
        tr_cn_noop("spoken", "one run", "{number} runs"),
        tr_n_noop("{n} run", "{n} runs"),
        ("a run", tr_c_noop("a run", "one")),
    ),
    "day": _Noun(
        tr_cn_noop("spoken", "one day", "{number} days"),
        tr_n_noop("{n} day", "{n} days"),
        ("a day", tr_c_noop("a day", "one")),
    ),
    "visit": _Noun(
        tr_cn_noop("spoken", "one visit", "{number} visits"),
        tr_n_noop("{n} visit", "{n} visits"),
        ("a visit", tr_c_noop("a visit", "one")),
    ),
    "week": _Noun(
        tr_cn_noop("spoken", "one week", "{number} weeks"),
        tr_n_noop("{n} week", "{n} weeks"),
        ("a week", tr_c_noop("a week", "one")),
    ),
}


def counted_words(n: int, noun: str, language: str) -> str:
    """`eleven seeds`, `one plant`."""
    one, many = NOUNS[noun].spoken
    return tr_cn("spoken", one, many, n, number=cardinal(n, language))


def counted_digits(n: int, noun: str, digits: str) -> str:
    """`11 seeds`, `1 plant`."""
    return tr_n(*NOUNS[noun].written, n, n=digits)


def count_alone(n: int, noun: str, language: str) -> str:
    """`eleven`, `one`: of things that were named before."""
    context, one = NOUNS[noun].alone
    return tr_c(context, one) if n == 1 else cardinal(n, language)
