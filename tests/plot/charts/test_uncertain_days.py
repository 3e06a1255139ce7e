"""Every chart of a log without one certain day: spans, "about" and "before" are never drawn as a mark on a day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from itertools import chain
from typing import Any

import pytest
from hypothesis import given

from sitegen.core.facts.tree import Arrival, CumulativePoint, Fate
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.rows import Deed, Entry, Rows, Run
from sitegen.core.records.setup import LampUse
from sitegen.core.values.day import ABOUT, Day
from sitegen.core.values.quantity import Quantity, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.plot import charts_with_data
from sitegen.plot.chart_data import Area, Bar, ChartData, Row, Span, Symbol, Vertex
from tests.measure.builders import place
from tests.measure.test_random_runs import FEWER, PRICES, RUNS
from tests.plot.builders import (
    HERE,
    charts,
    cm,
    event,
    facts,
    g,
    hours,
    hovers,
    lamp,
    layer,
    pieces,
    plant_facts,
    point,
    setup,
    stage,
    waiting,
)
from tests.plot.builders import say as words

END = Day(80, 90)


def blurred(day: Day) -> Day:
    """A day as a span, as "about" it or as "before" a later one."""
    if not day.exact or day.before:
        return day
    forms = (
        Day(day.first, day.first + 1 + day.first % 5),
        Day.on(day.first, about=True),
        Day(0, day.first + 1, before=True),
    )
    return forms[day.first % len(forms)]


def uncertain(run: Run) -> Run:
    """The same run with every day of every row blurred, photos, and a last entry after everything."""
    tables: dict[str, tuple[Any, ...]] = {}
    for table in (each.name for each in fields(Rows) if each.init):
        tables[table] = tuple(_blurred_row(row) for row in getattr(run.rows, table))
    tables["entries"] = (*tables["entries"], Entry(99, END, place(9999)))
    photos = (PhotoFile("one.jpg", Day(20, 24)), PhotoFile("two.jpg", Day.on(31, about=True)))
    return replace(run, rows=Rows(**tables), photo_files=photos)


def _blurred_row(row: Any) -> Any:
    days = {
        name: blurred(value)
        for name in ("day", "until")
        if isinstance(value := getattr(row, name, None), Day)
    }
    return row._replace(**days) if hasattr(row, "_replace") else replace(row, **days)


def bounds(run: Run) -> set[float]:
    """Every first and last day that a row of the run can have been on, as drawn."""
    rows = chain.from_iterable(getattr(run.rows, each.name) for each in fields(Rows) if each.init)
    days = [
        value
        for row in (*rows, *run.photo_files)
        for name in ("day", "until")
        if isinstance(value := getattr(row, name, None), Day)
    ]
    assert all(not day.exact for day in days)
    found = {end for day in days for end in (day.first, day.last, day.last + ABOUT)}
    return {float(end) for end in (*found, *(max(day.first - ABOUT, 0) for day in days))}


def drawn(data: ChartData) -> Iterator[tuple[str, Row]]:
    """Every row of every layer of a chart, those of its frames included."""
    for named in (data.layers, *data.frame_layers.values()):
        for name, rows in named.items():
            for row in rows:
                yield name, row


@FEWER
@given(RUNS)
def test_no_mark_stands_on_a_day_that_is_uncertain(run: Run) -> None:
    """Symbols stand at the end of the log alone, upright bars at both ends of a day, lines turn at such ends."""
    run = uncertain(run)
    found = measure(run, PRICES)
    ends = bounds(run) | {0.0, float(found.axis.last), float(found.axis.end)}
    assert found.axis.last == END.last
    for chart, data in charts_with_data(found, "metric", words):
        rows = list(drawn(data))
        upright = [(name, row) for name, row in rows if isinstance(row, Bar) and row.day != END.last]
        for name, row in rows:
            if isinstance(row, Symbol):
                assert row.day == END.last, (chart.name, name, row)
            if isinstance(row, Vertex | Bar):
                assert row.day in ends, (chart.name, name, row)
            if isinstance(row, Span | Area):
                assert {row.day, row.until} <= ends, (chart.name, name, row)
                assert row.day < row.until, (chart.name, name, row)
        for name, row in upright:
            twins = [
                other
                for layer_name, other in upright
                if layer_name == name and other.day != row.day and replace(other, day=row.day) == row
            ]
            assert twins, (chart.name, name, row)


@FEWER
@given(RUNS)
def test_every_uncertain_reading_is_drawn_over_its_days(run: Run) -> None:
    """A height or an EC that has a size has a bar or a box over all the days that it can be, which says them."""
    run = uncertain(run)
    found = measure(run, PRICES)
    given_charts = {chart.name: data for chart, data in charts_with_data(found, "metric", words)}
    for name, points in (("height", found.growth.heights), ("ec", found.solution.ec)):
        for each in (p for p in points if p.value.known):
            spans = [
                row for _, row in drawn(given_charts[name]) if isinstance(row, Span | Area) and row.title
            ]
            assert any((row.day, row.until) == each.day.reach for row in spans), each


def test_a_reading_on_a_span_of_days_is_a_level_bar() -> None:
    """It has no symbol; a size that is uncertain too breaks the bar, a range is a box, a lower bound has two arrows."""
    svg = charts(
        facts(
            heights=(
                point(Day(10, 14), "P1", cm(5)),
                point(Day(20, 26), "P1", cm(7, about=True)),
                point(Day(30, 34), "P1", Quantity(8, 10, Dimension.LENGTH)),
                point(Day(40, 46), "P1", Quantity(12, None, Dimension.LENGTH, open=1)),
            )
        )
    )["height"].wide

    assert layer(svg, "points") == []
    assert hovers(svg, "spans") == ["P1, days 10–14: 5 cm"]
    assert hovers(svg, "open-spans") == ["P1, days 20–26: about 7 cm", "P1, days 40–46: at least 12 cm"]
    assert hovers(svg, "boxes") == ["P1, days 30–34: 8-10 cm"]
    assert len(layer(svg, "arrows")) == 2


def test_the_caption_says_how_uncertain_days_are_drawn() -> None:
    """A level bar lies over the days; of "about" a day the log gives no bounds."""
    span = charts(facts(heights=(point(Day(10, 14), "P1", cm(5)),)))["height"]
    about = charts(facts(heights=(point(Day.on(10, about=True), "P1", cm(5)),)))["height"]
    exact = charts(facts(heights=(point(10, "P1", cm(5)),)))["height"]

    assert span.description.endswith("A flat bar: the day is not certain.")
    assert about.description.endswith(
        "A flat bar: the day is not certain; for “about” a day it reaches 2 days to both sides."
    )
    assert "level bar" not in exact.description


def picked(day: Day, weight: Quantity, so_far: Quantity) -> CumulativePoint:
    """A pick of leaf with the total so far."""
    return CumulativePoint(day, weight, so_far, "leaf", HERE)


def test_a_pick_on_a_span_of_days_is_a_band() -> None:
    """The least that was picked rises on the last day that it can be, the most on the first, and a band lies between."""
    drawing = charts(facts(last=28, harvest=(picked(Day(7, 14), g(50), g(50)),)))["harvest"]
    corners = [line.split("L") for name in ("steps", "upper") for line in pieces(drawing.wide, name)]
    days = [[round(float(c.split(",")[0]) / 693.5 * 28) for c in line] for line in corners]

    assert days == [[14, 14, 28], [7, 7, 28]]
    assert layer(drawing.wide, "points") == []
    assert hovers(drawing.wide, "spans") == ["Days 7–14: leaf 50 g"]
    assert len(layer(drawing.wide, "bands")) == 1


def test_an_unweighed_pick_on_a_span_ends_the_most_where_it_may_have_been() -> None:
    """From the first day that it can be nothing bounds the total from above."""
    drawing = charts(
        facts(
            last=28,
            harvest=(
                picked(Day(4, 7), g(50), g(50)),
                picked(Day(14, 21), unknown(Dimension.MASS), Quantity(50, None, Dimension.MASS, unweighed=1)),
            ),
        )
    )["harvest"]
    (upper,) = pieces(drawing.wide, "upper")

    assert round(float(upper.split("L")[-1].split(",")[0]) / 693.5 * 28) == 14
    assert hovers(drawing.wide, "open-spans") == ["Days 14–21: leaf not measured"]
    assert len(layer(drawing.wide, "open-ends")) == 1


def test_a_change_of_hours_on_a_span_of_days_is_a_band_between_both_levels() -> None:
    """Both levels end there, each goes on dashed or as a level bar, and nothing is drawn at the middle."""
    change = replace(lamp(10, LampUse(hours=hours(12))), day=Day(10, 30))
    drawing = charts(facts(rows=Rows(lights=(lamp(0, LampUse(hours=hours(16))), change))))["light"]
    ends = [
        [round(float(corner.split(",")[0]) / 693.5 * 70) for corner in line.split("L")]
        for line in pieces(drawing.wide, "steps")
    ]

    assert ends == [[0, 10], [30, 58]]
    assert hovers(drawing.wide, "points") == ["from day 0: 16 h a day"]
    assert hovers(drawing.wide, "spans") == ["from days 10–30: 12 h a day"]
    assert (len(layer(drawing.wide, "changes")), len(layer(drawing.wide, "or-levels"))) == (1, 1)
    assert drawing.description.startswith(
        "16 h a day from day 0, then 12 h a day from days 10–30, up to the last visit on day 58."
    )
    assert drawing.table.rows[1][:2] == ("10", "30")


def test_a_trouble_before_a_day_is_a_bar_that_ends_there() -> None:
    """It has neither a cross nor a thread."""
    trouble = event(Deed.TROUBLE, 39, "thrips")._replace(day=Day(0, 39, before=True))
    svg = charts(facts(heights=(point(10, "P1", cm(4)),), rows=Rows(events=(trouble,))))["height"].wide

    assert (layer(svg, "troubles"), layer(svg, "threads")) == ([], [])
    assert hovers(svg, "trouble-spans") == ["Before day 40: trouble: thrips"]


def test_stages_losses_and_looks_of_uncertain_days_lie_over_them() -> None:
    """No stroke, no cross and no arrow; each has a bar with its words."""
    run = facts(
        setup(3),
        milestones=(
            stage(
                "rosette",
                (
                    Arrival("P1", Day(20, 24), Day(12, 15), Day(20, 24), HERE),
                    replace(waiting("P2", 30), last_look=Day(30, 33)),
                ),
            ),
        ),
        fates={"P1": Fate("lost", Day(40, 45), "rot")},
    )
    svg = charts(run)["milestones"].wide

    assert [layer(svg, name) for name in ("seen", "losses", "not-yet", "leaders")] == [[], [], [], []]
    assert hovers(svg, "between") == ["P1: rosette, seen days 20–24, not yet on days 12–15"]
    assert hovers(svg, "loss-spans") == ["P1: lost, days 40–45: rot"]
    assert hovers(svg, "not-yet-spans") == ["P2: not yet when last checked, days 30–33: rosette"]
    assert len(layer(svg, "leader-bands")) == 1
    assert plant_facts("P1", Fate("lost", Day(40, 45))).fate.day == Day(40, 45)


@pytest.mark.parametrize("amount", [exactly(9, Dimension.VOLUME), Quantity(5, 9, Dimension.VOLUME)])
def test_water_and_feed_of_uncertain_days_are_boxes(amount: Quantity) -> None:
    """No bar stands anywhere; the box is as broad as the days."""
    given_ = (point(Day(10, 14), "tub", amount),)
    found = charts(facts(water=given_, feed=given_))

    for name in ("water", "feed"):
        assert layer(found[name].wide, "bars") == []
        assert len(layer(found[name].wide, "bar-boxes")) == 1
