"""Days to picks, against the packet, and by grade: spans, flags and rows."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.indices import HarvestTiming
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Pick
from sitegen.core.records.setup import Claims, Seed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.harvest.timing import claimed_day, days_against_claim, days_from, days_to_picks
from tests.measure.builders import event, grams, joint, milestone, pick, place, run_of, seeds, setup_of
from tests.measure.values import amount, lines

FOUR = ("P1", "P2", "P3", "P4")
P1, P2 = joint("P1"), joint("P2")
SOWN = seeds(0, 2, *FOUR)
PICKED = pick(80, P1, grams(9))


def days(low: int, high: int | None, *, about: bool = False) -> Quantity:
    """A time in whole days."""
    return Quantity(low, high, Dimension.DAYS, about=about, step=1)


def timing(*rows: Event | Pick | MilestoneRow, **head: Any) -> HarvestTiming:
    """The timing of a run."""
    return measure(
        run_of(
            replace(setup_of(), **head),
            events=[row for row in rows if isinstance(row, Event)],
            picks=[row for row in rows if isinstance(row, Pick)],
            milestones=[row for row in rows if isinstance(row, MilestoneRow)],
        )
    ).harvest.timing


def transplanted(day: int | Day, line: int = 0) -> Event:
    """Plants moved into the tub."""
    when = day if isinstance(day, Day) else Day.on(day)
    return event(Deed.TRANSPLANT, when.first, joint(*FOUR), line)._replace(day=when)


def packet(days_: Day, since: Literal["sowing", "transplant", ""]) -> dict[str, Any]:
    """A head with a packet."""
    seed = Seed(claims=Claims(days=days_, counted_from=since))
    return {"seed": seed, "spans": (("seed", place(7)),)}


def test_days_from() -> None:
    """The shortest time ends the span of the first day early, the longest begins it early; either may be about."""
    assert days_from(Day(10, 12), Day(20, 25)) == days(8, 15)
    assert days_from(Day.on(10, about=True), Day.on(20)) == days(10, 10, about=True)
    assert days_from(Day.on(10), Day.on(20, about=True)) == days(10, 10, about=True)


@pytest.mark.parametrize(
    ("taken", "claimed", "later"),
    [
        (days(80, 80), Day.on(60), days(20, 20)),
        (days(80, 90), Day(55, 60), days(20, 35)),
        (days(50, 50), Day(55, 60), days(-10, -5)),
        (days(80, None), Day(55, 60), days(20, 25)),
        (days(80, 80, about=True), Day.on(60), days(20, 20, about=True)),
        (days(80, 80), Day.on(60, about=True), days(20, 20, about=True)),
    ],
)
def test_days_against_a_claim(taken: Quantity, claimed: Day, later: Quantity) -> None:
    """At least the shortest time less the longest claim, at most the longest less the shortest."""
    assert days_against_claim(taken, claimed) == later


def test_the_packet_s_day() -> None:
    """First to first and last to last; about where either is."""
    assert claimed_day(Day(20, 22), Day(55, 60)) == Day(75, 82)
    assert claimed_day(Day.on(20, about=True), Day.on(60)) == Day.on(80, about=True)
    assert claimed_day(Day.on(20), Day.on(60, about=True)) == Day.on(80, about=True)


def test_days_to_picks() -> None:
    """From the shortest to the longest of all pairs, never below 0, about where any day is."""
    assert days_to_picks([Day.on(60), Day(70, 72)], [Day.on(75), Day(79, 80)]) == days(7, 15)
    assert days_to_picks([Day(60, 64)], [Day(62, 63)]) == days(0, 3)
    assert days_to_picks([Day(60, 64)], [Day(58, 59)]) == days(0, 0)
    assert days_to_picks([Day.on(60), Day.on(60, about=True)], [Day.on(75)] * 2) == days(15, 15, about=True)


def test_days_to_the_first_pick() -> None:
    """From sowing and from all transplantings, with the rows of both ends."""
    found = timing(SOWN, transplanted(21), transplanted(Day(25, 26, about=True), 9), PICKED)
    assert (found.from_sowing.value, lines(found.from_sowing)) == (days(80, 80), [1000, 2080])
    assert (found.from_transplant.value, lines(found.from_transplant)) == (
        days(54, 59, about=True),
        [9, 1021, 2080],
    )
    assert [f.name for f in (found.from_sowing, found.from_transplant, found.picking, found.claim)] == [
        f"harvest.timing.{name}" for name in ("from_sowing", "from_transplant", "picking", "claim")
    ]


def test_the_first_sowing_is_the_row() -> None:
    """Days count from day 0; of several sowings the earliest is the row, whatever their order."""
    found = timing(seeds(9, 1, "P1"), SOWN, PICKED).from_sowing
    assert (found.value, lines(found)) == (days(80, 80), [1000, 2080])
    assert lines(timing(PICKED).from_sowing) == [2080]


def test_nothing_picked_or_not_transplanted() -> None:
    """Without a pick there are no days; without a transplanting none from it; and no rows."""
    bare = timing(SOWN, transplanted(21))
    for figure in (bare.from_sowing, bare.from_transplant, bare.picking, bare.claim, bare.expected):
        assert (figure.value, lines(figure)) == (None, [])
    found = timing(SOWN, PICKED).from_transplant
    assert (found.value, lines(found), found.formula) == (None, [], "days_from")


def test_the_packet() -> None:
    """Later than the packet says, with the rows of the days and of the packet; and the day it meant."""
    found = timing(SOWN, transplanted(21), PICKED, **packet(Day(55, 60), "transplant"))
    assert (found.claim.value, lines(found.claim)) == (days(-1, 4), [7, 1021, 2080])
    assert (found.expected.value, lines(found.expected)) == (Day(76, 81), [7, 1021])
    sowing = timing(SOWN, transplanted(21), PICKED, **packet(Day(55, 60), "sowing"))
    assert (sowing.claim.value, lines(sowing.claim)) == (days(20, 25), [7, 1000, 2080])
    assert (sowing.expected.value, lines(sowing.expected)) == (Day(55, 60), [7, 1000])
    assert [f.formula for f in (found.claim, found.expected)] == ["days_against_claim", "claimed_day"]
    assert found.expected.name == "harvest.timing.expected"


@pytest.mark.parametrize(
    "seed",
    [None, Seed(), Seed(claims=Claims(days=Day.on(60))), Seed(claims=Claims(counted_from="sowing"))],
)
def test_no_packet(seed: Seed | None) -> None:
    """A packet without days, or that does not say from when, is compared with nothing."""
    found = timing(SOWN, PICKED, seed=seed)
    assert (found.claim.value, found.expected.value) == (None, None)
    assert (lines(found.claim), lines(found.expected)) == ([], [])


def test_the_length_of_picking() -> None:
    """From the first pick to the last with the rows of both; one day, even an uncertain one, is no time at all."""
    found = timing(pick(94, P2, grams(4)), PICKED, pick(85, P1, grams(1)))
    assert (found.picking.value, lines(found.picking)) == (days(14, 14), [2080, 2094])
    span = replace(PICKED, day=Day(78, 82))
    assert timing(span).picking.value == days(0, 0)
    assert timing(span, pick(90, P1, grams(1))).picking.value == days(8, 12)


def fruit(day: int, *ids: str, line: int = 0) -> MilestoneRow:
    """First fruit of some plants."""
    return milestone("first_fruit", day, joint(*ids), line=line)


def window(*rows: Pick | MilestoneRow) -> list[tuple[str, object, list[int]]]:
    """The window of each grade, and its rows."""
    return [(n.key, n.figure.value, lines(n.figure)) for n in timing(SOWN, *rows).window]


def test_windows_of_grades() -> None:
    """Days from each plant's own stage to its own picks, by grade in the order of the picks, with both rows."""
    rows = (
        fruit(60, "P1"),
        fruit(66, "P2"),
        pick(74, P1, grams(9), grade="Good!"),
        pick(75, P2, grams(9), grade="Good!"),
        pick(90, P2, grams(9)),
    )
    assert window(*rows) == [
        ("good", days(9, 14), [2074, 2075, 4060, 4066]),
        ("not-said", days(24, 24), [2090, 4066]),
    ]
    (good, _) = timing(SOWN, *rows).window
    assert (good.figure.name, good.figure.formula) == ("harvest.timing.window.good", "days_to_picks")


def test_what_is_in_no_window() -> None:
    """Picks before the stage, of several plants, or of plants that had not reached it, are in no window."""
    good: dict[str, Any] = {"grade": "good"}
    assert window(fruit(60, "P1"), pick(59, P1, grams(9), **good)) == []
    assert window(fruit(60, "P1"), pick(60, P1, grams(9), **good)) == [("good", days(0, 0), [2060, 4060])]
    assert window(fruit(60, "P1", "P2"), pick(70, joint("P1", "P2"), grams(9), **good)) == []
    assert window(fruit(60, "P1"), pick(70, P2, grams(9), **good)) == []
    assert window(milestone("first_fruit", 60, P1, reached=False), pick(70, P1, grams(9), **good)) == []
    assert window(fruit(60, "P1"), pick(70, P1, grams(9))) == []
    assert window(pick(70, P1, grams(9), **good)) == []


def test_a_pick_on_a_span_of_days_counts_where_it_may_be_after_the_stage() -> None:
    """A pick at some time around the day of the stage is taken to be after it."""
    row = replace(pick(58, P1, grams(9), grade="good"), day=Day(58, 60))
    assert window(fruit(60, "P1"), row) == [("good", days(0, 0), [2058, 4060])]
    assert window(fruit(61, "P1"), row) == []


def test_the_last_stage_with_picks_counts() -> None:
    """Of several stages the last one in the order of growth that has picks after it is meant."""
    rows = (
        fruit(60, "P1"),
        milestone("ripe", 70, P1, line=1),
        milestone("first_flower", 40, P1, line=2),
        pick(74, P1, grams(9), grade="good"),
    )
    assert window(*rows) == [("good", days(4, 4), [1, 2074])]
    late = (fruit(60, "P1"), milestone("ripe", 80, P1, line=1), pick(74, P1, grams(9), grade="good"))
    assert window(*late) == [("good", days(14, 14), [2074, 4060])]


SPANS = st.tuples(st.integers(0, 40), st.integers(0, 9)).map(lambda ends: Day(ends[0], ends[0] + ends[1]))


@given(SPANS, SPANS, st.integers(0, 9), st.integers(0, 9))
def test_exact_days_lie_within_spans(begin: Day, until: Day, at: int, where: int) -> None:
    """Any day within each span gives a time within the span of times, and a day within the packet's."""
    exact = (Day.on(min(begin.first + at, begin.last)), Day.on(min(until.first + where, until.last)))
    wide, narrow = days_from(begin, until), days_from(*exact)
    assert wide.high is not None
    assert wide.low <= narrow.low <= wide.high
    meant, one = claimed_day(begin, until), claimed_day(*exact)
    assert meant.first <= one.first <= meant.last
    against = days_against_claim(wide, until)
    assert against.high is not None
    assert against.low <= days_against_claim(narrow, exact[1]).low <= against.high


@given(st.lists(st.integers(1, 90), min_size=2, max_size=6, unique=True))
def test_times_add_up(found: list[int]) -> None:
    """Days to the first pick and the length of picking add up to the day of the last pick."""
    rows = [pick(day, P1, grams(1)) for day in found]
    times = timing(SOWN, *rows)
    assert amount(times.from_sowing).low + amount(times.picking).low == max(found)
