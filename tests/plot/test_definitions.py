"""The specifications that are kept are those that the definitions give, and draw the same.

References
----------
vl-convert, given a definition as Altair has it: what it draws from that is held against what we draw.

"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree as ET

import pytest
import vl_convert

from sitegen.core.facts.tree import Facts
from sitegen.core.site.chart import FRAMES, Frame
from sitegen.plot import pictures
from sitegen.plot.definitions import DEFINITIONS, FOLDER, compiled
from sitegen.plot.drawing.drawing import drawn, filled
from tests.plot.builders import SVG, drawing, say, two_tubs, whole_run

KEPT = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.iterdir()}
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e-?\d+)?")


def test_kept_specifications_are_up_to_date() -> None:
    """`python -m sitegen.plot.definitions` would change nothing."""
    assert compiled() == KEPT


@pytest.mark.parametrize("name", sorted(KEPT))
def test_a_specification_is_clipped_nowhere_and_names_all_its_data(name: str) -> None:
    """Data come from outside under a name, scales are given, and the frame is fixed."""
    spec = json.loads(KEPT[name])

    assert spec["autosize"] == "none"
    assert all(set(data) == {"name"} for data in spec["data"])
    assert {scale["name"]: scale["domain"] for scale in spec["scales"]} == {
        "x": [0, {"signal": "day_end"}],
        "y": [{"signal": "value_start"}, {"signal": "value_end"}],
    }
    assert "isValid" not in KEPT[name]
    assert '"clip"' not in KEPT[name]


@pytest.mark.parametrize("frame", FRAMES, ids=lambda frame: frame.name)
@pytest.mark.parametrize("run", [whole_run(), two_tubs()], ids=["one tub", "two tubs"])
def test_texts_and_lines_are_where_the_whole_definition_has_them(run: Facts, frame: Frame) -> None:
    """Sizes set beside, and lines joined to one path, change nothing that is seen."""
    for picture in pictures(run, "metric", say):
        spec = filled(picture, run.axis, frame)
        plain: dict[str, Any] = DEFINITIONS[picture.definition or picture.name](frame).to_dict(validate=False)
        ends = {signal["name"]: signal["value"] for signal in spec["signals"]}
        plain["params"] = [{"name": name, "value": value} for name, value in ends.items()]
        rows = {data["name"]: [row for row in data["values"] if len(row) > 1] for data in spec["data"]}
        plain["layer"] = [layer for layer in plain["layer"] if layer["data"]["name"] in rows]
        whole = vl_convert.vegalite_to_svg({**plain, "datasets": rows, "height": picture.height})
        ours = drawn(picture, run.axis, frame)

        assert sorted(_texts(drawing(ours))) == sorted(_texts(drawing(whole))), picture.name
        assert sorted(_lines(drawing(ours))) == sorted(_lines(drawing(whole))), picture.name


def _texts(root: ET.Element) -> Iterator[tuple[str, str, str, str]]:
    """Each text with its place, its size and its side; the size may be said by the group."""
    for group in root.iter(f"{SVG}g"):
        for text in group.findall(f"{SVG}text"):
            size = text.get("font-size") or group.get("font-size", "")
            yield text.text or "", _rounded(text.get("transform", "")), size, text.get("text-anchor", "")


def _lines(root: ET.Element) -> Iterator[tuple[str, str]]:
    """Each piece of a line with its colour; a path of a layer may hold several."""
    for path in root.iter(f"{SVG}path"):
        if path.get("stroke-linejoin"):
            for piece in path.get("d", "").split("M"):
                if piece:
                    yield _rounded(piece), path.get("stroke", "")


def _rounded(text: str) -> str:
    """To a hundredth, as drawings are kept."""
    return _NUMBER.sub(lambda number: f"{round(float(number[0]), 2) + 0.0:.2f}", text)
