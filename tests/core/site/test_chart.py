"""Charts asked for by name."""

from __future__ import annotations

from sitegen.core.site.chart import Chart, NoChart, Table, chart_named

HEIGHT = Chart("height", "Height, cm", "", "", "", Table((), ()))


def test_a_chart_is_found_by_its_name() -> None:
    """The one that was drawn."""
    assert chart_named([HEIGHT], "height") is HEIGHT


def test_a_word_that_is_no_chart_gets_the_near_one() -> None:
    """What was drawn for the experiment is what can be meant."""
    assert chart_named([HEIGHT], "heigth") == NoChart("`heigth` is not a chart", "write `height`")


def test_a_chart_without_data_is_told_from_a_wrong_word() -> None:
    """The name is right, and nothing was recorded."""
    assert chart_named([HEIGHT], "ec") == NoChart(
        "nothing was recorded for the chart `ec`", "record it in the log, or remove the block"
    )
