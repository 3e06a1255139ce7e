"""Charts as files beside their page: the drawing alone, and its numbers."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree as ET

from sitegen.core.site.chart import Table
from sitegen.render.data.tables import LONG, PALETTE, Credit, chart_files, standalone
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

    assert (found.drawing.address, found.drawing.media) == ("data/loft/chart-height.svg", "image/svg+xml")
    assert (found.table.address, found.table.media) == ("data/loft/chart-height.csv", "text/csv")
    assert found.table.content == b"Day,P1\r\n30,23\r\n"
    assert not found.long


def test_a_long_table_stands_in_its_file_alone() -> None:
    """All its rows and cells stand in it."""
    rows = tuple((f"day {day}", '21, "mild"') for day in range(LONG + 1))
    found = chart_files([replace(chart(), table=Table(("Day", "Air"), rows))], "loft", CREDIT)["height"]

    lines = found.table.content.decode().split("\r\n")
    assert found.long
    assert lines[:2] == ["Day,Air", 'day 0,"21, ""mild"""']
    assert len(lines) == LONG + 3


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
