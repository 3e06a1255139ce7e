"""No exact figure rests on an open or fuzzy input: the columns that a formula reads against the flags of its figures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.facts.tree import Facts
from sitegen.core.records.rows import Run
from sitegen.core.values import quantity
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.harvest import totals
from sitegen.measure.methods import formulas, reads_of
from tests.measure.builders import grams, joint, pick, run_of
from tests.measure.exactness import faults
from tests.measure.test_random_runs import PRICES


def measured(run: Run) -> Facts:
    """The facts of a run with prices."""
    return measure(run, PRICES)


def test_every_formula_says_what_it_reads() -> None:
    """Each formula names the columns that it reads, but counts of records and what is made of samples alone."""
    without = [each.__name__ for each in formulas() if not reads_of(each.__name__).columns]
    assert without == ["pick_count", "change_count", "daily_range", "sensor_gaps", "plants_in"]


def test_a_condition_is_of_columns_that_are_read() -> None:
    """Each condition of a formula is about a column that it reads."""
    for each in formulas():
        reads = reads_of(each.__name__)
        assert all({*columns} & {*reads.columns} for columns in reads.exact_if.values()), each


@pytest.mark.parametrize("flags", [{"about": False}, {"by_eye": False}], ids=lambda flags: next(iter(flags)))
def test_a_formula_that_drops_a_flag_is_found(flags: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    """A total that loses a flag of its weights is named, with the weight."""
    (flag,) = flags
    run = run_of(picks=[pick(9, joint("P1"), grams(20, **{flag: True}))])

    def dropping(parts: Iterable[Quantity], dimension: Dimension) -> Quantity:
        return replace(quantity.total(parts, dimension), **flags)

    assert list(faults(run, measured)) == []
    monkeypatch.setattr(totals, "total", dropping)
    said = [fault for fault in faults(run, measured) if fault.startswith("harvest.total ")]
    cell = f"picks.weight ({flag.replace('_', ' ')})"
    assert said == [
        f"harvest.total is exact, and another {cell} changes it: not so that a later weight holds it"
    ]
