"""The specifications that are kept are those that the definitions give, and draw the same.

References
----------
vl-convert, given a definition as Altair has it: what it draws from that is held against what we draw.

"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree as ET

import pytest
import vl_convert
from PIL import Image, ImageChops

from sitegen.core.facts.tree import Facts
from sitegen.core.site.chart import FRAMES, Frame
from sitegen.plot import charts_with_data
from sitegen.plot.definitions import FOLDER, compiled
from sitegen.plot.definitions.layers import definition
from sitegen.plot.drawing.draw import ToDraw, drawn, filled
from sitegen.render.data.tables import PALETTE
from tests.plot.builders import SVG, document, say, two_tubs, whole_run

KEPT = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.iterdir()}
_LAYER = re.compile(r"role-mark (\w+)_marks")
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
        "x": [{"signal": "day_start"}, {"signal": "day_end"}],
        "y": [{"signal": "value_start"}, {"signal": "value_end"}],
    }
    assert "isValid" not in KEPT[name]
    assert '"clip"' not in KEPT[name]


@pytest.mark.parametrize("frame", FRAMES, ids=lambda frame: frame.name)
@pytest.mark.parametrize(
    "run", [pytest.param(whole_run(), marks=pytest.mark.full), two_tubs()], ids=["one tub", "two tubs"]
)
def test_a_drawing_looks_as_the_library_draws_the_whole_definition(run: Facts, frame: Frame) -> None:
    """What is left out of specifications and elements changes nothing that is seen."""
    for chart, data in charts_with_data(run, "metric", say):
        spec = filled(chart.specification, data, run.axis, frame)
        plain: dict[str, Any] = definition(chart.layers, frame).to_dict(validate=False)
        ends = {signal["name"]: signal["value"] for signal in spec["signals"]}
        plain["params"] = [{"name": name, "value": value} for name, value in ends.items()]
        rows = {data["name"]: [row for row in data["values"] if len(row) > 1] for data in spec["data"]}
        plain["layer"] = [layer for layer in plain["layer"] if layer["data"]["name"] in rows]
        theirs = vl_convert.vegalite_to_svg({**plain, "datasets": rows, "height": data.height})
        ((drawing,),) = drawn([ToDraw(chart.specification, data, run.axis)], [frame])
        ours = document(drawing)
        names = dict.fromkeys(name.replace("_", "-") for name in _LAYER.findall(theirs))
        difference = ImageChops.difference(_painted(ours), _painted(theirs)).convert("L")

        assert list(names) == list(drawing.layers), chart.name
        for (words, place), (expected, there) in zip(
            sorted(_texts(ours)), sorted(_texts(theirs)), strict=True
        ):
            assert words == expected, chart.name
            assert place == pytest.approx(there, abs=0.011), words
        assert sorted(_titles(ours)) == sorted(_titles(theirs)), chart.name
        assert difference.getextrema()[1] <= SEEN, chart.name


# Of 255, in blocks of four pixels by four. The library paints the rim of a circle otherwise where it is said as two arcs,
# and pale lines of one layer, which are one path here, become no darker where they cross.
SEEN = 24


def _painted(svg: str) -> Image.Image:
    """A drawing without its texts in blocks of pixels, on white, with a colour for each of the page's variables."""
    svg = re.sub("<text(?:[^>]*/>|.*?</text>)", "", svg)
    for name, colour in PALETTE.items():
        svg = svg.replace(f"var(--{name})", colour)
    painted = Image.open(io.BytesIO(vl_convert.svg_to_png(svg))).convert("RGBA")
    return Image.alpha_composite(Image.new("RGBA", painted.size, "white"), painted).convert("RGB").reduce(4)


def _texts(svg: str) -> Iterator[tuple[tuple[str, str, str], tuple[float, float]]]:
    """Each text with its size and its side, which its group may say, and its place."""
    for group in ET.fromstring(svg).iter():  # noqa: S314 - our own drawing
        for text in group.findall(f"{SVG}text"):
            said = {**group.attrib, **text.attrib}
            x, y = _NUMBER.findall(said["transform"]) if "x" not in said else (said["x"], said["y"])
            yield (text.text or "", said["font-size"], said["text-anchor"]), (float(x), float(y))


def _titles(svg: str) -> Iterator[str]:
    """What is said of marks on hover, which the library says in labels."""
    for element in ET.fromstring(svg).iter():  # noqa: S314 - our own drawing
        title = element.get("aria-label") or element.findtext(f"{SVG}title", "")
        if title:
            yield title
