"""The rule of an exact figure: it rests on no open or fuzzy value, unless one is declared not to matter and does not.

In: a run and its facts. Out: figures with such values among the columns that their formula reads, in the rows that
they carry; `faults`, those of them that are exact against the rule.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import cast

import pytest

from sitegen.core.facts.figure import Figure, Money, Rate, Several, Share, figures
from sitegen.core.facts.tree import Facts
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.measure.methods import Column, reads_of
from tests.measure.loose_cells import LooseCell, loose_cells, looseness

__all__ = ["faults", "is_exact", "resting_on_loose"]

Measured = Callable[[Run], Facts]


def is_exact(value: object) -> bool:
    """Whether a value is shown as a number without an interval and without a flag."""
    if isinstance(value, Rate):
        return value.amount.exact
    if isinstance(value, Several):
        return all(map(is_exact, value.values))
    if isinstance(value, Money):
        return value.low == value.high and not value.about
    if isinstance(value, Quantity):
        return value.exact
    return not looseness(value) if isinstance(value, Day) else isinstance(value, Share)


def _same(one: object, other: object) -> bool:
    """Whether two values are the same number, whatever their flags."""
    if isinstance(one, Share) and isinstance(other, Share):
        return (one.part, one.whole) == (other.part, other.whole)
    if isinstance(one, Rate) and isinstance(other, Rate):
        return one.per == other.per and _same(one.amount, other.amount)
    if isinstance(one, Several) and isinstance(other, Several):
        return len(one.values) == len(other.values) and all(map(_same, one.values, other.values))
    if isinstance(one, (Quantity, Money)) and type(one) is type(other):
        return (one.low, one.high) == pytest.approx((other.low, other.high))  # type: ignore[attr-defined]
    return one == other


def resting_on_loose(run: Run, facts: Facts) -> Iterator[tuple[Figure, list[LooseCell]]]:
    """Each figure with the open and fuzzy cells of its rows that its formula reads, where there are any."""
    cells = list(loose_cells(run))
    for figure in figures(facts):
        columns = reads_of(figure.formula).columns
        read = [
            cell
            for cell in cells
            if cell.column in columns and (cell.source is None or cell.source in figure.rows)
        ]
        if figure.rows and read:
            yield figure, read


def faults(run: Run, measured: Measured) -> Iterator[str]:
    """Exact figures that rest on an open or fuzzy value."""
    known: dict[int, list[dict[str, Figure]]] = {}

    def with_known(cell: LooseCell) -> list[dict[str, Figure]]:
        if id(cell) not in known:
            runs = (measured(other) for other in cell.known())
            known[id(cell)] = [{each.name: each for each in figures(facts)} for facts in runs]
        return known[id(cell)]

    for figure, cells in resting_on_loose(run, measured(run)):
        for cell in cells if is_exact(figure.value) else ():
            condition = reads_of(figure.formula).condition(cast("Column", cell.column))
            if condition is None:
                yield f"{figure.name} is exact, and rests on {cell}"
                continue
            for other in with_known(cell):
                value = other[figure.name].value if figure.name in other else None
                if not _same(figure.value, value):
                    yield f"{figure.name} is exact, and another {cell} changes it: not so that {condition}"
                    break
