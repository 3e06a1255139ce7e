"""The specifications that are kept are those that the definitions give."""

from __future__ import annotations

import json

import pytest

from sitegen.plot.definitions import FOLDER, compiled


def test_kept_specifications_are_up_to_date() -> None:
    """`python -m sitegen.plot.definitions` would change nothing."""
    kept = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.iterdir()}

    assert compiled() == kept


@pytest.mark.parametrize("name", sorted(compiled()))
def test_a_specification_is_clipped_nowhere_and_names_all_its_data(name: str) -> None:
    """Data come from outside under a name, scales are given, and the frame is fixed."""
    spec = json.loads(compiled()[name])

    assert spec["autosize"] == "none"
    assert all(set(data) == {"name"} for data in spec["data"])
    assert {scale["name"]: scale["domain"] for scale in spec["scales"]} == {
        "x": [0, {"signal": "day_end"}],
        "y": [{"signal": "value_start"}, {"signal": "value_end"}],
    }
    assert "isValid" not in compiled()[name]
    assert '"clip"' not in compiled()[name]
