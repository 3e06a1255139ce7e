"""The JSON Schema that editors read, against an independent validator."""

from __future__ import annotations

from typing import Any

import pytest
from jsonschema import Draft202012Validator

from sitegen.core.format.schema import schema

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
