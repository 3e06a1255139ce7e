"""The table of what may be said, as the methods page shows it, held against what is said."""

from __future__ import annotations

import pytest

from sitegen.core.facts.across import RunArms
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.render.story.evidence.evidence_rows import evidence_rows
from tests.measure.across.builders import grown
from tests.render.story.test_evidence_words import APART, SIX, apart, said, within

OPEN = Quantity(30, None, Dimension.MASS, unweighed=1, step=1)


@pytest.mark.parametrize(
    ("row", "runs", "begins"),
    [
        ("one run with both", within((10, 12)), "In this one tub, this one time: "),
        (
            "two to five runs with both",
            within(*SIX[:5]),
            "Beryl gave more per spot than Amber, in five of five",
        ),
        ("six or more runs with both", within(*SIX), "Evidence that "),
        (
            "six or more runs with both",
            within(*SIX[:5], (20, 10)),
            "Harvest per spot: no evidence either way.",
        ),
        ("runs with only one of the two, fewer than four of one of them", apart([1, 2, 3], [4, 5, 6]), APART),
        (
            "runs with only one of the two, four or more of each",
            apart([1, 2, 3, 4], [14, 15, 16, 17]),
            "Evidence that ",
        ),
        (
            "a harvest not weighed in full, a value by eye, a day that was not reached",
            [grown(1, {"a": 40, "b": OPEN})],
            "Harvest per spot: not clear in these tubs, because what was recorded overlaps.",
        ),
    ],
)
def test_each_row_is_what_is_said(row: str, runs: list[RunArms], begins: str) -> None:
    """Each row of the methods page stands in the table, and runs of its kind are told so."""
    assert row in [each.there_is for each in evidence_rows()]
    assert said(*runs)[0].startswith(begins)


def test_every_row_is_tested() -> None:
    """The table has six rows, all with something to say."""
    assert len({each.there_is for each in evidence_rows()}) == len(evidence_rows()) == 6
    assert all(each.said for each in evidence_rows())
