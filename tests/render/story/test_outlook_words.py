"""What is to come in a run, in sentences, and on which pages they stand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sitegen.core.facts.across import Expected, Outlook
from sitegen.core.facts.figure import Label
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.render.story.evidence.outlook_words import outlook_sentences

PICK = Expected("first_pick", Label("first_pick", "site"), None, None, 0)
SPOT = Expected("per_spot", Label("per_spot", "site"), None, None, 0)
FLOWER = Expected("first_flower", Label("first_flower", "stage"), None, None, 0)
WINDOW = replace(PICK, window=Day(58, 71), chance=Fraction(1, 2), runs=3)
WEIGHT = replace(SPOT, window=Quantity(120, 200, Dimension.MASS, step=1), chance=Fraction(3, 5), runs=4)


def said(*expected: Expected, once: bool = False) -> list[str]:
    """The sentences of day 50, with plain spaces."""
    found = outlook_sentences(Outlook(50, expected, once), "Tomato", Wording())
    return [sentence.replace(NBSP, " ") for sentence in found]


@pytest.mark.parametrize(
    ("expected", "sentences"),
    [
        pytest.param(
            WINDOW,
            [
                (
                    "First pick: days 58–71, as in the three tomato runs before (a chance of one in two if grown the "
                    "same way)."
                )
            ],
            id="window",
        ),
        pytest.param(
            replace(WINDOW, passed=2),
            [
                (
                    "First pick: days 58–71, as in the three tomato runs before that were no further on day 50 (a chance "
                    "of one in two if grown the same way)."
                )
            ],
            id="past some",
        ),
        pytest.param(
            replace(WINDOW, open=1, chance=Fraction(2, 5), at_least=True),
            [
                (
                    "First pick: days 58–71, as in the three tomato runs before (a chance of at least two in five if "
                    "grown the same way)."
                ),
                "One more run was not there yet when last checked.",
            ],
            id="one without it",
        ),
        pytest.param(
            WEIGHT,
            [
                (
                    "Harvest per spot: 120–200 g (4.23–7.05 oz), as in the four tomato runs before (a chance of three in "
                    "five if grown the same way)."
                )
            ],
            id="weight",
        ),
        pytest.param(
            replace(WEIGHT, passed=1, open=2),
            [
                (
                    "Harvest per spot: 120–200 g (4.23–7.05 oz), as in the four tomato runs before that gave more than "
                    "this one so far (a chance of three in five if grown the same way)."
                ),
                "In two more runs not everything was weighed.",
            ],
            id="weight so far",
        ),
        pytest.param(
            replace(PICK, runs=2),
            ["First pick: two earlier runs are too few to go by."],
            id="two runs",
        ),
        pytest.param(
            replace(SPOT, open=3),
            ["Harvest per spot: not enough runs to say.", "In three more runs not everything was weighed."],
            id="none weighed",
        ),
        pytest.param(
            replace(PICK, passed=5), ["First pick: later than in all five before it."], id="past all"
        ),
        pytest.param(
            replace(SPOT, passed=2), ["Harvest per spot: more than in both runs before it."], id="past both"
        ),
        pytest.param(
            replace(PICK, passed=1), ["First pick: later than in the one run before it."], id="past the one"
        ),
        pytest.param(
            replace(PICK, passed=3, runs=2),
            [
                (
                    "First pick: later than in three of the five runs before it; "
                    "the others are too few to say more."
                )
            ],
            id="two left",
        ),
    ],
)
def test_sentences(expected: Expected, sentences: list[str]) -> None:
    """A window with the runs behind it and its chance, or that runs are too few, or that this one is past them."""
    assert said(expected) == sentences


def test_too_few_are_said_once() -> None:
    """Things with as few runs share a sentence; a window stands before it."""
    assert said(replace(FLOWER, runs=2), WINDOW, replace(SPOT, runs=2)) == [
        (
            "First pick: days 58–71, as in the three tomato runs before (a chance of one in two if grown the "
            "same way)."
        ),
        "First flower and harvest per spot: two earlier runs are too few to go by.",
    ]


def test_in_brief() -> None:
    """In brief, what runs are too few for is said only where nothing else is."""

    def brief(*expected: Expected) -> int:
        return len(outlook_sentences(Outlook(50, expected), "Tomato", Wording(), brief=True))

    assert brief(WINDOW, replace(SPOT, runs=2)) == brief(WINDOW) == brief(replace(SPOT, runs=2)) == 1


def test_shared_tubs_are_said() -> None:
    """Where runs that shared a tub counted as one, it is said."""
    assert said(WINDOW, once=True)[-1] == "Runs that shared a tub at the same time count once."


def test_nothing_to_say() -> None:
    """Without an earlier run there is no sentence."""
    assert said() == []
