"""Which plants a record is about, in words.

In: a selection of the log. Out: `all`, `P1–P3`, `2 of 6`, `some, not noted which`.
"""

from __future__ import annotations

import re
from itertools import pairwise

from sitegen.core.rows import Which
from sitegen.core.text import listed
from sitegen.core.tongue import tr, tr_c

__all__ = ["plants_in_words", "who"]

_NUMBERED = re.compile(r"(.*?)(\d+)")
_EVERYONE = ("all", "each", "together", "every spot")


def plants_in_words(ids: tuple[str, ...]) -> str:
    """`P1–P3 and P5`: neighbours are drawn together."""
    runs: list[list[str]] = []
    for before, plant in pairwise(("", *ids)):
        if runs and _follows(before, plant):
            runs[-1].append(plant)
        else:
            runs.append([plant])
    words: list[str] = []
    for run in runs:
        words += [f"{run[0]}–{run[-1]}"] if len(run) > 2 else run
    return listed(words)


def _follows(before: str, plant: str) -> bool:
    one, two = _NUMBERED.fullmatch(before), _NUMBERED.fullmatch(plant)
    return bool(one and two and one[1] == two[1] and int(two[2]) == int(one[2]) + 1)


def who(which: Which | None, everyone: str | None = None) -> str:
    """The plants of a record; `everyone` is said where it is about all of them."""
    if which is None or which.word in _EVERYONE:
        return tr_c("plants", "all") if everyone is None else everyone
    if which.nobody:
        return tr_c("plants", "none")
    if which.ids and (which.ids[0] in which.word or not which.word):
        return plants_in_words(which.ids)
    if which.word and which.word != "some" and not which.word[:1].isdigit():
        return tr("group {group}", group=which.word)
    return _counted(which)


def _counted(which: Which) -> str:
    if which.count is None:
        return tr("some plants, not noted which")
    if which.of is None:
        return str(which.count)
    return tr("{part} of {whole}", part=which.count, whole=which.of)
