"""Figures with their working: the formula by name, the rows by place, remarks by their code.

In: a value, the documented function that gave it, the rows that went in. Out: `Figure`. Never computes a
value.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

from sitegen.core.facts.figure import Figure, Value
from sitegen.core.facts.remark import Remark
from sitegen.core.findings.finding import Source
from sitegen.core.values.day import Day

STEP_SLACK = 1e-9  # an exact power of ten stays one


def figure(
    name: str,
    value: Value,
    formula: Callable[..., object],
    rows: Iterable[Source] = (),
    *remarks: Remark | None,
) -> Figure:
    """A figure whose formula is named by the function itself, with its rows in file order, each row and remark once."""
    said = tuple(dict.fromkeys(each for each in remarks if each is not None))
    return Figure(name, value, formula.__name__, tuple(sorted(set(rows))), said)


def coarse(step: float, value: float) -> float:
    """A step of a quotient as the power of ten that is not below it: 0.25 as 1, 0.003 as 0.01.

    Two digits of the value are always left: it went through a division, not through a coarser scale.
    """
    if step <= 0 or value == 0:
        return step
    two_digits = math.floor(math.log10(abs(value)) + STEP_SLACK) - 1
    return 10.0 ** min(math.ceil(math.log10(step) - STEP_SLACK), two_digits)


def day_key(day: Day) -> tuple[int, int]:
    """The sort key of days: the first possible day, then the last."""
    return day.first, day.last
