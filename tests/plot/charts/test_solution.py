"""EC and pH: lines by tub, the two readings of a visit, and the band of the crop with its source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.facts.figure import Figure, Share
from sitegen.core.facts.tree import Facts
from sitegen.core.records.setup import Crop
from sitegen.core.reference.reading_ranges import solution_of
from sitegen.core.values.quantity import Quantity, unknown
from sitegen.core.values.units import Dimension
from tests.plot.builders import (
    acid,
    charts,
    facts,
    hovers,
    layer,
    ms,
    pieces,
    places,
    read,
    setup,
    texts,
    whole_run,
)

SOURCE = "Singh and Dunn, Oklahoma State University Extension, HLA-6722, Table 2"


def counted(run: Facts, part: int, whole: int) -> Facts:
    """The same facts with how many readings of EC lay in the band."""
    (tub,) = run.solution.tubs
    share = Figure("solution.tubs.tub.trend.ec_within", Share(part, whole, 0.0, 1.0), "wilson_interval")
    known = replace(tub, trend=replace(tub.trend, ec_within=share))
    return replace(run, solution=replace(run.solution, tubs=(known,)))


def test_a_finding_in_words() -> None:
    """Ends, number of readings, the band with crop, source and standing, and how many lay within."""
    run = counted(facts(ec=(read(20, "", ms(1.1)), read(30, "", ms(1.9)))), 1, 2)

    assert charts(run)["ec"].description == (
        "EC: lowest 1.1 mS/cm on day 20, highest 1.9 mS/cm on day 30; 2 readings on 2 days. The lines only join "
        "the readings. "
        f"Shaded: 0.8-1.8 mS/cm, the usual range for lettuce ({SOURCE}; read in a transcription of the source; "
        "widened to take in other sources). In that range: 1 of 2 readings. "
        "The scale begins at 0.5 mS/cm, not at 0. Only days 0 to 42 are drawn; there are no readings outside them."
    )


def test_readings_of_one_day_are_listed() -> None:
    """Neither is called the lowest on a day on which the other was the highest."""
    run = facts(ec=(read(20, "", ms(1.1)), read(20, "", ms(1.9))))
    assert charts(run)["ec"].description.startswith("EC, measured on day 20: 1.1 mS/cm and 1.9 mS/cm. ")


def test_the_band_is_the_published_one() -> None:
    """It is drawn from bound to bound over the whole axis, and named."""
    svg = charts(facts(ec=(read(20, "", ms(1.1)), read(30, "", ms(1.9)))))["ec"].wide
    ends = sorted(y for _, y in places(svg, "usual-ends"))
    half = places(svg, "ground")[0][1]  # the scale begins at 0.5
    two = min(y for _, y in places(svg, "scale"))
    band = solution_of(Crop("lettuce", "Lettuce", "leafy"))

    assert band is not None
    assert [round(0.5 + (half - y) / (half - two) * 1.5, 1) for y in ends] == sorted(
        band.usual_ec, reverse=True
    )
    assert "usual: 0.8-1.8 mS/cm" in texts(svg, "labels")


def test_a_crop_without_a_band_says_so() -> None:
    """Nothing is shaded, and no other crop's band is borrowed."""
    run = facts(ec=(read(20, "", ms(1.1)),))
    sorrel = replace(run.run.setup, crop=Crop("sorrel", "Sorrel", "leafy"))
    drawn = charts(replace(run, run=replace(run.run, setup=sorrel)))["ec"]

    assert layer(drawn.wide, "usual") == []
    assert drawn.description == (
        "EC 1.1 mS/cm: measured once, on day 20. No source here gives a usual range of EC for sorrel. "
        "The scale begins at 0.6 mS/cm, not at 0. Only days 0 to 28 are drawn; there are no readings outside them."
    )


def test_the_two_readings_of_a_visit_are_joined_by_a_broad_bar() -> None:
    """Before and after on one day; readings of two days are not."""
    drawn = charts(whole_run())["ec"]

    assert len(layer(drawn.wide, "visits")) == 1
    assert hovers(drawn.wide, "points")[1:] == [
        "day 30 (before): EC 1.9 mS/cm",
        "day 30 (after): EC 1.4 mS/cm",
    ]
    assert "1 reading was taken after an adjustment; a thick bar joins before and after." in drawn.description
    assert drawn.table.columns == (
        *("day_first", "day_last", "day_flag", "date", "tub", "moment"),
        *("ec_mS_per_cm_low", "ec_mS_per_cm_high", "ec_flag"),
    )
    assert drawn.table.rows[1] == ("30", "30", "", "2025-10-14", "tub", "before", "1.9", "1.9", "")


def test_ph_stands_on_a_scale_around_its_readings() -> None:
    """A scale from 0 would flatten it; the scale holds readings and band, and has no unit."""
    drawn = charts(whole_run())["ph"]

    assert drawn.title == "pH"
    assert texts(drawn.wide, "numbers") == ["5.5", "6", "6.5", "7"]
    assert texts(drawn.wide, "unit") == [""]


def test_a_gap_of_more_than_three_weeks_is_dotted() -> None:
    """As with heights."""
    assert len(layer(charts(whole_run())["ph"].wide, "gaps")) == 1
    assert layer(charts(whole_run())["ph"].wide, "lines") == []


def test_a_lower_bound_has_an_arrow() -> None:
    """A meter at the end of its scale gives at least so much."""
    off_the_scale = Quantity(2.0, None, Dimension.CONDUCTIVITY, open=1)
    svg = charts(facts(ec=(read(20, "", off_the_scale),)))["ec"].wide

    assert len(layer(svg, "arrows")) == 1
    assert layer(svg, "points")[0].get("fill") == "var(--paper)"


def test_two_tubs_have_lines_of_their_own_with_names() -> None:
    """Symbol, stroke and name tell them apart."""
    run = facts(
        setup(tubs=("left", "right")),
        ec=tuple(
            read(day, "", ms(1 + day / 100 + (tub == "left")), tub)
            for day in (20, 30)
            for tub in ("left", "right")
        ),
    )
    svg = charts(run)["ec"].wide

    assert {"Left tub", "Right tub"} <= set(texts(svg, "labels"))
    assert (len(pieces(svg, "lines")), len(pieces(svg, "more-lines"))) == (1, 1)
    assert len({mark.get("d") for mark in layer(svg, "points")}) == 2


@pytest.mark.parametrize(
    ("name", "value"), [("ec", unknown(Dimension.CONDUCTIVITY)), ("ph", unknown(Dimension.ACIDITY))]
)
def test_readings_of_unknown_size_alone_make_no_chart(name: str, value: Quantity) -> None:
    """There is nothing to draw."""
    none = facts(ec=(read(20, "", value),)) if name == "ec" else facts(ph=(read(20, "", value),))

    assert charts(none) == {}


def test_few_readings_take_less_room() -> None:
    """One or two readings do not fill a chart."""
    low, high = (
        charts(facts(ph=tuple(read(d, "", acid(6)) for d in days)))["ph"] for days in ((9,), (9, 12, 15))
    )

    assert (low.wide.height, high.wide.height) == (178, 242)
