"""Charts that a run does not have."""

from __future__ import annotations

from sitegen.core.site.chart import missing_chart


def test_a_word_that_is_no_chart_gets_the_near_one() -> None:
    """A misspelt name gets the nearest of the charts that were drawn."""
    assert missing_chart("heigth", ["height"]) == ("`heigth` is not a chart", "write `height`")


def test_a_chart_without_data_is_told_from_a_wrong_word() -> None:
    """The name is right, and nothing was recorded."""
    assert missing_chart("ec", ["height"]) == (
        "nothing was recorded for the chart `ec`",
        "record it in the log, or remove the block",
    )
