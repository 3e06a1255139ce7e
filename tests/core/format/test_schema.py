"""The JSON Schema that editors read, against an independent validator."""

from __future__ import annotations

from typing import Any

import pytest
from jsonschema import Draft202012Validator

from sitegen.core.format.schema import reference, schema

PICK = {"$ref": "#/$defs/pick", "$defs": schema("experiment.yaml")["$defs"]}


@pytest.mark.parametrize(
    ("spoilt", "valid"),
    [
        (2, True),
        ({"count": 2, "weight": "30 g"}, True),
        ({"weight": "unweighed"}, True),
        ({"count": 2}, True),
        (-1, False),
        ("some", True),
        ({"count": "some"}, True),
        ({"number": 2}, False),
        ([2], False),
    ],
)
def test_spoilt_pieces(spoilt: Any, valid: bool) -> None:
    """What was spoilt is a number, or a mapping with a number, a weight or both."""
    assert Draft202012Validator(PICK).is_valid({"weight": "84 g", "spoilt": spoilt}) is valid


EXPERIMENT = Draft202012Validator(schema("experiment.yaml"))
SET_UP: dict[str, Any] = {
    "format": 1,
    "title": "Sorrel in a crate",
    "crop": "Garden sorrel",  # a name for its id
    "variety": "Red-veined",
    "system": "Wooden crate",
    "start": "2025-3-1",
    "plants": "four",
    "publish": "12 April 2026",
}
ENTRIES: list[dict[str, Any]] = [
    {"Day": "~20", "Total so far": "some"},
    {"date": "2025-4-12", "milestone": {"First true leaf": "p1", "full-rosette": "1/4"}},
    {"day": 3, "sow": "3 per spot", "sprouted": "11/12", "thin_to": "one", "water-temperature": "70F"},
    {"day": 3, "light": "14 h", "water": "topped up", "taste": "sweet and crisp", "tell": "Never"},
    {"day": 3, "feed": {"Beet syrup": "3 drops"}, "treat": {"product": "Soft soap", "plants": "p1"}},
    {"day": 3, "from_now": {"light": "14 h", "at": "06:00"}},
    {
        "day": 3,
        "harvest": [{"plants": "P1", "weight": "38 g"}, {"plants": ["P2", "P3"], "weight": "unweighed"}],
    },
    {"day": 3, "harvest": {"Weight": "38 g", "Part": "Side Shoots", "count": "some"}},
    {"day": 3, "end": {"why": "slow", "plants": "Kept"}},
]


@pytest.mark.parametrize("entry", ENTRIES, ids=str)
def test_other_spellings(entry: dict[str, Any]) -> None:
    """What is read in another spelling is valid in an editor too."""
    assert [error.message for error in EXPERIMENT.iter_errors({**SET_UP, "log": [entry]})] == []


@pytest.mark.parametrize(
    "entry",
    [
        {"day": 3, "harvset": "8 g"},
        {"day": 3, "milestone": {"first leaf": "P1"}},
        {"day": 3, "harvest": [["8 g"]]},
        {"day": 3, "tell": "seldom"},
    ],
    ids=str,
)
def test_error_other_words(entry: dict[str, Any]) -> None:
    """A key, a stage and a choice that no spelling makes known stay invalid."""
    assert not EXPERIMENT.is_valid({**SET_UP, "log": [entry]})


def test_reference_names_the_spellings() -> None:
    """The reference shows a harvest as a list of picks, open amounts and other spellings."""
    text = reference()

    assert "several picks as a list, `[{plants: P1, weight: 38 g}, {plants: P2-P3, count: 9}]`" in text
    assert "`3 drops` stays as said" in text
    assert "or only words" in text
    assert "| some (of an amount or a number)" in text
    assert "the name of a product, lamp, system or variety for its id" in text
