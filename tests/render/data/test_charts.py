"""Charts as files beside their page: the drawing alone, and its numbers."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree as ET

from sitegen.render.data.tables import PALETTE, Credit, chart_files, standalone
from tests.plot.builders import charts, cm, facts, point
from tests.render.builders import chart

CREDIT = Credit(
    title="Salt & light",
    source="https://example.org/attic/experiments/salt.html",
    site="Attic Trough",
    author="The attic",
    licence="CC-BY-4.0",
    licence_text="https://creativecommons.org/licenses/by/4.0/",
)
DRAWN = charts(facts(heights=(point(10, "P1", cm(4)), point(30, "P1", cm(9)))))["height"]


def test_each_chart_has_two_files() -> None:
    """Its drawing and its numbers, beside the other data of the experiment."""
    found = chart_files([chart()], "loft", CREDIT)["height"]

    assert found.drawing is not None
    assert (found.drawing.address, found.drawing.media) == ("data/loft/chart-height.svg", "image/svg+xml")
    assert (found.table.address, found.table.media) == ("data/loft/chart-height.csv", "text/csv")
    assert found.table.content == b"Day,P1\r\n30,23\r\n"


def test_what_is_told_has_its_numbers_alone() -> None:
    """A chart of too little to draw has no drawing among its files."""
    found = chart_files([replace(chart(), said="Height was 23 cm, read once, on day 30.")], "loft", CREDIT)

    assert [page.address for page in found["height"].pages] == ["data/loft/chart-height.csv"]


def test_a_drawing_alone_needs_no_page() -> None:
    """No variable of a theme is left, the ground is white, and it has a size."""
    drawn = standalone(DRAWN, CREDIT)
    root = ET.fromstring(drawn)  # noqa: S314 - our own
    ground = root.find("{http://www.w3.org/2000/svg}rect")

    assert "var(" not in drawn
    assert f'stroke="{PALETTE["growth"]}"' in drawn
    assert (root.get("width"), root.get("class")) == ("784", None)
    assert ground is not None
    assert ground.attrib == {"x": "-12", "width": "784", "height": root.get("height"), "fill": "#ffffff"}


def test_a_drawing_alone_has_real_text() -> None:
    """Its words can be read, searched and copied."""
    root = ET.fromstring(standalone(DRAWN, CREDIT))  # noqa: S314 - our own
    texts = {text.text for text in root.iter("{http://www.w3.org/2000/svg}text")}

    assert {"day 0", "P1", "cm"} <= texts


def test_a_drawing_alone_says_where_it_is_from() -> None:
    """Source and licence stand in its description, and as metadata."""
    root = ET.fromstring(standalone(DRAWN, CREDIT))  # noqa: S314 - our own
    said = {e.tag.split("}")[1]: e.text for e in root.iter() if "purl.org/dc" in e.tag}
    description = root.findtext("{http://www.w3.org/2000/svg}desc") or ""

    assert description.endswith(
        "Source: Salt & light, Attic Trough, https://example.org/attic/experiments/salt.html."
        " Licence: CC-BY-4.0."
    )
    assert said == {
        "title": "Height, cm",
        "creator": "The attic",
        "source": "https://example.org/attic/experiments/salt.html",
        "rights": "CC-BY-4.0 https://creativecommons.org/licenses/by/4.0/",
    }


def test_a_source_without_an_address_or_licence_is_said_without() -> None:
    """Nothing is invented for what the journal does not give."""
    drawn = standalone(DRAWN, Credit("Salt", "", "Attic"))

    assert "Source: Salt, Attic.</desc>" in drawn
    assert "<dc:source>Salt, Attic</dc:source>" in drawn
    assert "dc:rights" not in drawn
    assert "dc:creator" not in drawn
