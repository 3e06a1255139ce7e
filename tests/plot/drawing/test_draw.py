"""Drawings as a whole: which charts there are, one axis for all, and bytes that depend on nothing but the data."""

from __future__ import annotations

import gzip
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.core.site.chart import CHARTS, NARROW, WIDE, Drawing, Frame
from sitegen.core.values.day import Start
from sitegen.plot import charts_with_data
from tests.plot.builders import (
    charts,
    drawing,
    facts,
    g,
    layer,
    picks,
    places,
    say,
    texts,
    two_tubs,
    whole_run,
)

ROOT = Path(__file__).parents[3]
DRAW = """
import hashlib, sys
from tests.plot.builders import charts, whole_run
drawn = "".join(chart.wide.elements() + chart.narrow.elements() for chart in charts(whole_run()).values())
print(hashlib.sha256(drawn.encode()).hexdigest(), "altair" in sys.modules, "pandas" in sys.modules)
"""


def every_drawing() -> list[Drawing]:
    """All drawings of two runs."""
    return [
        svg
        for run in (whole_run(), two_tubs())
        for chart in charts(run).values()
        for svg in (chart.wide, chart.narrow)
    ]


def drawn_elsewhere(**environment: str) -> list[str]:
    """A digest of the drawings made in another process, and whether libraries for definitions were imported."""
    done = subprocess.run(
        [sys.executable, "-c", DRAW],
        cwd=ROOT,
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout.split()


def test_a_chart_stands_where_there_are_data() -> None:
    """No data, no chart; the others keep their order."""
    assert list(charts(facts())) == []
    assert list(charts(facts(harvest=picks((31, "", g(46)))))) == ["harvest"]
    assert tuple(charts(whole_run())) == CHARTS


BEGINS = {"harvest": 28}  # the first pick is on day 31


@pytest.mark.parametrize("frame", [WIDE, NARROW], ids=lambda frame: frame.name)
def test_a_day_stands_at_the_same_place_in_every_chart(frame: Frame) -> None:
    """Day labels and week lines stand where the frame says, in each chart alike."""
    run = whole_run()
    drawn = charts(run)
    for chart, data in charts_with_data(run, "metric", say):
        svg = getattr(drawn[chart.name], frame.name)
        days = [int(text.removeprefix("day ")) for text in texts(svg, "days")]
        axis = replace(run.axis, begin=data.begins, end=data.ends or run.axis.end)
        expected = [round(frame.x(axis, day), 2) for day in days]

        assert expected == [x for x, _ in places(svg, "days")]
        assert expected == [x for x, _ in places(svg, "weeks")]


def test_marks_stand_at_their_day() -> None:
    """Symbols of four charts stand at the day they were recorded on."""
    run = whole_run()
    drawn = charts(run)

    def days(name: str) -> list[float]:
        begin = BEGINS.get(name, 0)
        each = (run.axis.end - begin) / WIDE.inner
        return sorted(
            {round(begin + (x - WIDE.left) * each, 1) for x, _ in places(drawn[name].wide, "points")}
        )

    assert days("height") == [12, 24, 31, 40, 47, 54]
    assert days("harvest") == [31, 38, 45, 52, 58]
    assert days("water") == [0, 17, 24, 29, 36, 49, 52]
    assert days("feed") == [7, 29, 42, 50]


@pytest.mark.parametrize("name", ["height", "harvest", "water", "feed", "light", "vpd"])
def test_scales_begin_at_zero(name: str) -> None:
    """The lowest tick is 0 and lies on the ground line."""
    svg = charts(whole_run())[name].wide

    assert "0" in texts(svg, "numbers")
    assert max(y for _, y in places(svg, "scale")) == places(svg, "ground")[0][1]


def test_the_frames_give_what_html_needs() -> None:
    """The shares of the width that are exported are those that are drawn."""
    chart = charts(whole_run())["height"]

    assert (WIDE.left, WIDE.right) == (47.5, 19.0)
    assert chart.wide.left == WIDE.width * 0.0625
    assert chart.narrow.left == NARROW.width * 0.1


def test_a_drawing_is_one_image() -> None:
    """Its marks have titles, and neither ids nor roles of their own."""
    for drawn in every_drawing():
        names = {name for element in drawing(drawn).iter() for name in element.attrib}

        assert not [name for name in names if name in ("id", "role") or "aria" in name]


def test_a_drawing_is_as_wide_as_its_frame() -> None:
    """The page decides how wide it is shown."""
    for chart in charts(whole_run()).values():
        assert (chart.wide.width, chart.narrow.width) == (760, 360)


def test_colours_and_font_are_the_themes() -> None:
    """Every paint is a variable of the page or nothing at all, and so is the font."""
    for drawn in every_drawing():
        svg = drawn.elements()
        paints = set(re.findall(r'(?:fill|stroke)="([^"]+)"', svg))
        colours = (
            "growth",
            "water",
            "feed",
            "harvest",
            "light",
            "trouble",
            "line",
            "ink",
            "ink-soft",
            "paper",
        )
        known = {f"var(--{name})" for name in colours}

        assert paints <= known | {"none"}
        assert set(re.findall(r'font-family="([^"]+)"', svg)) == {"var(--chart-font)"}


def test_nothing_is_fetched() -> None:
    """There is no address in a drawing."""
    for drawn in every_drawing():
        assert not re.findall(r"https?:|href|url\(", drawn.elements())


def test_no_text_is_cut_off() -> None:
    """Every text lies inside the drawing, by the widest estimate."""
    for svg in every_drawing():
        for name in ("days", "dates", "numbers", "unit", "labels"):
            for mark, (x, _) in zip(layer(svg, name), places(svg, name), strict=True):
                reach = len("".join(mark.itertext())) * float(mark.get("font-size", "0").strip("px")) * 0.5
                before = {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.get("text-anchor", "start")]
                assert x - before * reach > -4
                assert x + (1 - before) * reach < svg.width + 4


def test_the_same_data_give_the_same_bytes() -> None:
    """Drawing twice changes nothing."""
    assert charts(whole_run()) == charts(whole_run())


def test_zone_language_and_hash_seed_change_nothing_and_definitions_stay_unread() -> None:
    """Other processes under other settings draw the same, without the library that definitions are written in."""
    here = drawn_elsewhere(TZ="UTC", LANG="C", PYTHONHASHSEED="1")
    there = drawn_elsewhere(TZ="Pacific/Apia", LANG="de_AT.UTF-8", LC_ALL="de_AT.UTF-8", PYTHONHASHSEED="2")

    assert here == there
    assert here[1:] == ["False", "False"]


def test_all_charts_together_stay_small() -> None:
    """Both widths of every chart, three of them of a sensor, add less than 30 KB to a compressed page."""
    page = "".join(chart.wide.elements() + chart.narrow.elements() for chart in charts(whole_run()).values())

    assert len(gzip.compress(page.encode())) < 30_000


def test_dates_ride_along_where_the_start_is_dated() -> None:
    """Dates stand over the axis and in the table; a start without a day gives neither."""
    dated, undated = charts(whole_run())["water"], charts(whole_run(Start()))["water"]

    assert texts(dated.wide, "dates") == ["14 Sep 2025", "28 Sep", "12 Oct", "26 Oct", "9 Nov", "23 Nov"]
    assert dated.table.rows[0][:4] == ("0", "0", "", "2025-09-14")
    assert texts(undated.wide, "dates") == []
    assert undated.table.rows[0][:4] == ("0", "0", "", "")


def test_us_units_are_shown_where_they_come_first() -> None:
    """Titles and scales change; positions are those of the same quantities."""
    titles = [chart.title for chart in charts(whole_run(), "us").values()]

    assert titles == [
        "Height, in",
        "Growth stages by plant",
        "Harvest so far, oz",
        "Water added, gal",
        "Feed, tsp",
        "EC, mS/cm",
        "pH",
        "Light, h a day",
        "Light at the plants, µmol/m²/s",
        "Temperature, °F",
        "Humidity, %",
        "Vapour pressure deficit, kPa",
    ]
    assert texts(charts(whole_run(), "us")["height"].wide, "numbers") == ["0", "2", "4", "6", "8"]


def test_an_authors_text_cannot_break_a_drawing() -> None:
    """Markup in a name stays text."""
    svg = charts(facts(harvest=picks((31, 'leaf <b> & "stem"', g(46)))))["harvest"].wide

    assert texts(svg, "labels") == ['leaf <b> & "stem": 46 g']
