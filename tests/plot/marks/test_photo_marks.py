"""Days with photos, on the day axis of every chart."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.tree import Facts
from sitegen.core.records.files import PhotoFile
from sitegen.core.site.chart import Chart
from sitegen.core.values.day import Day
from tests.plot.builders import charts, cm, facts, hovers, layer, places, point


def with_photos(given: Facts, *days: int | None) -> Chart:
    """The chart of heights of a run with a photo on each day."""
    files = tuple(PhotoFile(f"{i}.jpg", None if day is None else Day.on(day)) for i, day in enumerate(days))
    return charts(replace(given, run=replace(given.run, photo_files=files)))["height"]


def test_each_day_with_photos_has_one_mark() -> None:
    """It says how many there are; a photo without a day has none."""
    drawn = with_photos(facts(heights=(point(10, "P1", cm(4)), point(28, "P1", cm(9)))), 28, 10, 28, None)

    for svg in (drawn.wide, drawn.narrow):
        assert hovers(svg, "photos") == ["Day 10: 1 photo", "Day 28: 2 photos"]
    assert [x for x, _ in places(drawn.wide, "photos")] == [x for x, _ in places(drawn.wide, "points")]


def test_a_run_without_photos_has_no_marks() -> None:
    """Nothing stands for what is not there."""
    assert layer(charts(facts(heights=(point(10, "P1", cm(4)),)))["height"].wide, "photos") == []
