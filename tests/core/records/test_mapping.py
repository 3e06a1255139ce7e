"""Records as mappings with names, and back."""

from __future__ import annotations

import datetime as dt
import json
import re
from typing import Any

import pytest

from sitegen.core.records.codec import from_mapping, to_mapping
from sitegen.core.records.setup import Answer, Author, Correction, System
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension

RECORDS: list[tuple[Any, Any]] = [
    (Author(), {}),
    (Start(dt.date(2025, 9, 14), "day"), {"date": "2025-09-14", "precision": "day"}),
    (Correction(dt.date(2025, 9, 21), "x"), {"date": "2025-09-21", "text": "x"}),
    (
        System("t", "Tub", footprint=(exactly(60.0, Dimension.LENGTH), exactly(4.0, Dimension.LENGTH))),
        {
            "id": "t",
            "name": "Tub",
            "footprint": [
                {"low": 60, "high": 60, "dimension": "length"},
                {"low": 4, "high": 4, "dimension": "length"},
            ],
        },
    ),
]


@pytest.mark.parametrize(("record", "data"), RECORDS, ids=[type(r).__name__ for r, _ in RECORDS])
def test_there_and_back(record: Any, data: Any) -> None:
    """Fields stand by name, defaults are left out, and the record comes back equal."""
    assert json.dumps(to_mapping(record)) == json.dumps(data)
    assert from_mapping(type(record), data) == record


BAD: list[tuple[type, Any, str]] = [
    (Author, [], "`author` is not a mapping"),
    (Author, {"nmae": "x"}, "`author` has no `nmae`"),
    (Author, {"name": 5}, "`author.name` is not of the type str"),
    (Correction, {"text": "x"}, "`correction` lacks `date`"),
    (Correction, {"date": "soon", "text": ""}, "`correction.date`: Invalid isoformat string: 'soon'"),
    (Answer, {"verdict": "maybe"}, "`answer.verdict` is none of 'again', 'not again', 'undecided'"),
    (System, {"id": "t", "name": "T", "footprint": [{}]}, "`system.footprint` has 1 items, not 2"),
    (System, {"id": "t", "name": "T", "spots": True}, "`system.spots` is not of the type int"),
    (System, {"id": "t", "name": "T", "reservoir": 5}, "`system.reservoir` is not a mapping"),
]


@pytest.mark.parametrize(("kind", "data", "said"), BAD, ids=[said for _, _, said in BAD])
def test_what_does_not_fit(kind: type, data: Any, said: str) -> None:
    """What does not fit is refused, with its place."""
    with pytest.raises(ValueError, match=re.escape(said)):
        from_mapping(kind, data)
