"""Growth stages: rows of plants that thicken, hatching between visits, arrows, losses, counts as steps."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Fate, MilestoneFacts
from sitegen.core.site.chart import Chart, Drawing
from sitegen.core.values.day import Day
from tests.plot.builders import (
    arrived,
    charts,
    extents,
    facts,
    hovers,
    layer,
    places,
    setup,
    stage,
    step,
    texts,
    waiting,
    whole_run,
)

FLOWERED = stage("first flower", (arrived("P1", 40, 33), arrived("P2", 43), waiting("P3", 50)))
BUDDED = stage("first bud", (arrived("P1", 20), arrived("P2", 20), arrived("P3", 22)))


def chart(*stages: MilestoneFacts, fates: dict[str, Fate] | None = None, last: int = 58) -> Chart:
    """A chart of stages alone."""
    return charts(facts(setup(3), milestones=stages, fates=fates, last=last))["milestones"]


def lengths(svg: Drawing, name: str) -> list[int]:
    """How many days the lying marks of a layer last, on an axis of 70 days."""
    return [round(length * 70 / 693.5) for length in extents(svg, name)]


def test_a_row_thickens_with_each_stage() -> None:
    """From sowing to the bud, from the bud to the last look without a flower, from the flower on."""
    (first, second, third) = layer(chart(BUDDED, FLOWERED).wide, "stages")[:3]
    widths = [float(mark.get("stroke-width", "")) for mark in (first, second, third)]

    assert lengths(chart(BUDDED, FLOWERED).wide, "stages")[:3] == [20, 13, 18]
    assert widths == sorted(widths)
    assert len(set(widths)) == 3


def test_a_stage_between_two_visits_is_hatched() -> None:
    """From the look that said not yet to the look that saw it; without an earlier look there is no hatching."""
    svg = chart(BUDDED, FLOWERED).wide

    assert lengths(svg, "between") == [7]
    assert layer(svg, "between")[0].get("stroke-dasharray")
    assert hovers(svg, "between") == ["P1: first flower, seen day 40, not yet on day 33"]


def test_a_plant_that_still_waits_has_an_open_arrow_and_is_dotted_after_its_last_look() -> None:
    """It is neither dropped nor drawn as if somebody had looked again."""
    svg = chart(BUDDED, FLOWERED).wide

    assert hovers(svg, "not-yet") == ["P3: not yet when last checked, day 50: first flower"]
    assert layer(svg, "not-yet")[0].get("fill") == "var(--paper)"
    assert lengths(svg, "unseen") == [8]
    assert (
        "First flower: 2 of 3 plants, seen from day 40 to day 43 (1 had not when last checked, on day 50)."
        in (chart(BUDDED, FLOWERED).description)
    )


def test_a_lost_plant_ends_in_a_cross_and_waits_no_more() -> None:
    """Its row ends on that day, and the description tells it from those that only waited."""
    (first, second, third) = FLOWERED.arrivals
    flowered = replace(FLOWERED, arrivals=(first, second, replace(third, lost=Day.on(45))))
    drawn = chart(BUDDED, flowered, fates={"P3": Fate("lost", Day.on(45), "stem rot")})

    assert hovers(drawn.wide, "losses") == ["P3: lost, day 45: stem rot"]
    assert "lost" in texts(drawn.wide, "labels")
    assert layer(drawn.wide, "not-yet") == []
    assert "(1 lost before that). Lost: P3 on day 45." in drawn.description
    assert drawn.table.rows[-1] == ("45", "45", "", "2025-10-29", "", "lost", "1", "", "", "P3", "stem rot")


def test_the_names_of_stages_say_how_many_got_there() -> None:
    """Each name stands where the first plant was seen; one that nobody reached stands over the last look."""
    nobody = stage("ripe fruit", (waiting("P1", 50), waiting("P2", 50), waiting("P3", 50)))
    svg = chart(BUDDED, FLOWERED, nobody).wide
    names = dict(zip(texts(svg, "labels"), places(svg, "labels"), strict=True))

    assert [name for name in names if name[0] != "P"] == [
        "first bud",
        "first flower, 2 of 3",
        "ripe fruit, 0 of 3",
    ]
    assert names["first bud"][0] == round(47.5 + 693.5 * 20 / 70, 2)


def test_half_the_plants_is_said_where_the_facts_have_it() -> None:
    """The median stands between the days and those that still waited."""
    known = replace(FLOWERED, median=Figure("milestones.first_flower.median", Day.on(43), ""))

    assert "seen from day 40 to day 43, half by day 43 (1 had" in chart(BUDDED, known).description


def test_half_without_a_look_before_is_said_with_its_end() -> None:
    """A median that only sowing bounds below is "by day 43", not "by days 0–43"."""
    known = replace(FLOWERED, median=Figure("m", Day(0, 43), "f"))
    assert "half by day 43 (1 had" in chart(BUDDED, known).description


def test_plants_not_told_apart_are_steps_with_their_counts() -> None:
    """Each look is a point with a label; a count of unknown many is open."""
    drawn = chart(stage("rosette", steps=(step(20, 1, None), step(27, 2, 6), step(35, 6, 6))))

    assert drawn.title == "Growth stages, by number of plants"
    assert {"at least 1", "2 of 6", "6 of 6", "rosette, counted"} <= set(texts(drawn.wide, "labels"))
    assert [mark.get("fill") for mark in layer(drawn.wide, "points")] == [
        "var(--paper)",
        "var(--growth)",
        "var(--growth)",
    ]
    assert drawn.description == (
        "Rosette: at least 1 by day 20, 2 of 6 by day 27 and 6 of 6 by day 35, without noting which plants."
    )


def test_a_count_between_two_days_lies_over_them() -> None:
    """A look that is dated to a span has a lying bar."""
    svg = chart(stage("rosette", steps=(step(Day(10, 20), 2, 6), step(35, 6, 6)))).wide

    assert lengths(svg, "spans") == [10]


def test_long_ids_stand_over_their_rows() -> None:
    """Where the margin of the narrowest drawing has no room for an id, the row is taller."""
    named = facts(setup(3), milestones=(BUDDED,))
    plants = tuple(replace(plant, id=f"bench-{n}") for n, plant in enumerate(named.run.setup.plants))
    arrivals = tuple(replace(a, plant=p.id) for a, p in zip(BUDDED.arrivals, plants, strict=True))
    run = replace(named.run, setup=replace(named.run.setup, plants=plants))
    tall = charts(replace(named, run=run, milestones=(replace(BUDDED, arrivals=arrivals),)))["milestones"]

    assert places(tall.narrow, "labels")[1:] != places(chart(BUDDED).narrow, "labels")[1:]
    assert all(
        x == 36.0
        for (x, _), text in zip(places(tall.narrow, "labels"), texts(tall.narrow, "labels"), strict=True)
        if text.startswith("bench")
    )


def test_the_table_names_plants_that_share_a_day() -> None:
    """A row a day and stage: how many of how many were counted, or which plants were seen in it."""
    assert [row[3:10] for row in charts(whole_run())["milestones"].table.rows[:4]] == [
        ("2025-09-18", "seed_leaves_open", "counted", "4", "6", "", ""),
        ("2025-09-20", "seed_leaves_open", "counted", "6", "6", "", ""),
        ("2025-10-08", "rosette", "seen", "1", "", "20", "P1"),
        ("2025-10-09", "rosette", "seen", "1", "", "20", "P2"),
    ]
