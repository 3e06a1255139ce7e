"""Hours of light: steps as the lamp was set, gaps where nobody wrote them down."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.figure import Figure, Per, Rate, remark
from sitegen.core.facts.indices import TubClimate
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Rows
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.site.chart import Chart
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from tests.plot.builders import (
    EMPTY_CLIMATE,
    NOTHING,
    charts,
    facts,
    hours,
    hovers,
    lamp,
    layer,
    pieces,
    setup,
    texts,
)

OFF = LampUse(off=True)
UNSAID = LampUse()


def light(
    *settings: Light, tubs: tuple[str, ...] = ("tub",), dli: Figure = NOTHING, whole: Figure = NOTHING
) -> Chart:
    """A chart of light alone."""
    climate = replace(EMPTY_CLIMATE, tubs=(TubClimate("tub", "Slate tub", dli, whole, NOTHING, NOTHING),))
    return charts(facts(setup(tubs=tubs), rows=Rows(lights=settings), climate=climate))["light"]


def test_a_finding_in_words() -> None:
    """Each change with its day, and that hours were set and not measured."""
    assert light(lamp(0, LampUse(hours=hours(16))), lamp(28, LampUse(hours=hours(12)))).description == (
        "16 h a day from day 0, then 12 h a day from day 28, up to the last visit on day 58. Hours as set on "
        "the timer, not measured."
    )


def test_hours_that_nobody_wrote_down_are_a_gap() -> None:
    """The line stops and begins anew; the description says it."""
    drawn = light(lamp(0, LampUse(hours=hours(16))), lamp(14, UNSAID), lamp(28, LampUse(hours=hours(12))))

    assert len(pieces(drawn.wide, "steps")) == 2
    assert "16 h a day from day 0, hours not recorded from day 14, then 12 h a day" in drawn.description
    assert drawn.table.rows[1] == ("14", "14", "", "2025-09-28", "tub", "", "", "not recorded", "")


def test_a_lamp_that_is_off_is_a_line_on_the_ground() -> None:
    """Off is known to be 0 hours."""
    drawn = light(lamp(0, LampUse(hours=hours(16))), lamp(40, OFF))

    assert hovers(drawn.wide, "points") == ["from day 0: 16 h a day", "from day 40: off"]
    assert "off" in texts(drawn.wide, "labels")


def test_no_hours_no_chart() -> None:
    """A lamp of which nobody wrote the hours cannot be drawn."""
    assert charts(facts(rows=Rows(lights=(lamp(0, UNSAID),)))) == {}


def test_a_range_of_hours_has_two_lines() -> None:
    """Both bounds can be read off."""
    drawn = light(lamp(0, LampUse(hours=Quantity(14, 16, Dimension.DURATION))))

    assert (len(pieces(drawn.wide, "steps")), len(pieces(drawn.wide, "upper"))) == (1, 1)
    assert layer(drawn.wide, "points")[0].get("fill") == "var(--paper)"


def test_tubs_lit_alike_share_a_line_and_others_have_their_own() -> None:
    """A change of lamps that leaves the hours alone is no change of the line."""
    dim = LampUse(Lamp("dim", "Dim panel"), hours(15))
    alike = light(
        lamp(0, LampUse(hours=hours(15)), "left"),
        lamp(30, dim, "left"),
        lamp(0, dim, "right"),
        tubs=("left", "right"),
    )
    apart = light(
        lamp(0, LampUse(hours=hours(15)), "left"),
        lamp(0, LampUse(hours=hours(9)), "right"),
        tubs=("left", "right"),
    )

    assert texts(alike.wide, "labels") == ["15 h"]
    assert sorted(texts(apart.wide, "labels")) == ["Left tub: 15 h", "Right tub: 9 h"]


def test_the_sum_of_light_is_said_where_it_is_known() -> None:
    """With the lamp's strength; without it, why not."""
    setting = lamp(0, LampUse(hours=hours(16)))
    daily = Figure(
        "climate.tubs.tub.dli", Rate(exactly(14.4, Dimension.LIGHT_SUM), Per.DAY), "daily_light_integral"
    )
    whole = Figure("climate.tubs.tub.light_sum", exactly(835, Dimension.LIGHT_SUM), "daily_light_integral")
    why_not = Figure(
        "climate.tubs.tub.dli", None, "daily_light_integral", remarks=(remark("lamp_strength_not_recorded"),)
    )

    assert light(setting, dli=daily, whole=whole).description.endswith(
        "14.4 mol/m² a day, 835 mol/m² in all."
    )
    assert light(setting, dli=why_not).description.endswith(
        "Total light: not known (the lamp's strength was not recorded)."
    )
