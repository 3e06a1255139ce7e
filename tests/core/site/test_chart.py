"""Charts that a run does not have."""

from __future__ import annotations

from sitegen.core.site.chart import NO_DRAWING, Chart, Table, lead_of, missing_chart


def test_a_word_that_is_no_chart_gets_the_near_one() -> None:
    """A misspelt name gets the nearest of the charts that were drawn."""
    assert missing_chart("heigth", ["height"]) == ("`heigth` is not a chart", "write `height`")


def test_a_chart_without_data_is_told_from_a_wrong_word() -> None:
    """The name is right, and nothing was recorded."""
    assert missing_chart("ec", ["height"]) == (
        "nothing was recorded for the chart `ec`",
        "record it in the log, or remove the block",
    )


def named(*names: str, said: str = "") -> list[Chart]:
    """Charts that differ by name."""
    return [Chart(name, name, "", NO_DRAWING, NO_DRAWING, Table((), ()), said=said) for name in names]


def test_the_harvest_leads_where_it_is_drawn() -> None:
    """Else the stages, else the height; the rest never leads."""
    led = [
        lead_of(named("height", "milestones", "harvest", "ec"), "fruiting"),
        lead_of([*named("height", "milestones"), *named("harvest", said="Picked once.")], "leafy"),
        lead_of(named("ec", "height"), "root"),
        lead_of(named("ec"), "herb"),
    ]

    assert [each and each.name for each in led] == ["harvest", "milestones", "height", None]


def test_the_stages_lead_where_a_head_is_cut() -> None:
    """A head is cut once, so that the harvest has little to draw."""
    found = lead_of(named("height", "milestones", "harvest"), "heading")

    assert found is not None
    assert found.name == "milestones"
