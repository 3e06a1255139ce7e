"""How a figure keeps its working: the formula by name, the rows by place, the remark in words.

In: a value, the documented function that gave it, the rows that went in. Out: `Figure`. Never computes a
value.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

from sitegen.core.facts.figure import Figure, Value
from sitegen.core.findings.finding import Source
from sitegen.core.language.catalogue import tr_n
from sitegen.core.language.text import in_words
from sitegen.core.values.day import Day

STEP_SLACK = 1e-9  # what is a power of ten on paper stays one


def figure(
    name: str,
    value: Value,
    formula: Callable[..., object],
    rows: Iterable[Source] = (),
    note: str = "",
) -> Figure:
    """A figure whose formula is named by the function itself, with its rows in file order, each once."""
    return Figure(name, value, formula.__name__, tuple(sorted(set(rows))), note)


def said(one: str, many: str, number: int, /, **values: object) -> str:
    """`one pick was not weighed`, `two picks were not weighed`, with `{number}` in words; nothing where there is none."""
    return tr_n(one, many, number, number=in_words(number), **values) if number else ""


def remarks(*parts: str) -> str:
    """Remarks in one line, the empty ones left out."""
    return "; ".join(part for part in parts if part)


def coarse(step: float, value: float) -> float:
    """A step of a quotient as the power of ten that is not below it: 0.25 as 1, 0.003 as 0.01.

    Two digits of the value are always left: it went through a division, not through a coarser scale.
    """
    if step <= 0 or value == 0:
        return step
    two_digits = math.floor(math.log10(abs(value)) + STEP_SLACK) - 1
    return 10.0 ** min(math.ceil(math.log10(step) - STEP_SLACK), two_digits)


def day_key(day: Day) -> tuple[int, int]:
    """What days are sorted by: the first possible day, then the last."""
    return day.first, day.last
