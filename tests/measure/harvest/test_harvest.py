"""Totals carry what was not weighed, and never split what was weighed together."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.tree import Harvest
from sitegen.core.records.rows import Deed, Pick, Tally
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, total
from sitegen.core.values.units import Dimension
from sitegen.measure.harvest.harvest import harvest_of
from sitegen.measure.harvest.totals import HarvestRecords, total_weight
from sitegen.measure.ranges import share_of
from tests.measure.builders import (
    event,
    grams,
    joint,
    of,
    pick,
    remarks_of,
    run_of,
    setup_of,
    some,
    tally,
    unweighed,
)

P1, P2, P3, ALL = joint("P1"), joint("P2"), joint("P3"), joint("P1", "P2", "P3", "P4", word="all")


def harvest(*picks: Pick, tallies: tuple[Tally, ...] = ()) -> Harvest:
    """What four plants gave."""
    return harvest_of(run_of(picks=picks, tallies=tallies))


def value(quantity: Quantity | None) -> tuple[float, float | None] | None:
    """Lower and upper bound."""
    return None if quantity is None else (quantity.low, quantity.high)


def bounds(facts: Harvest) -> tuple[float, float | None]:
    """Of the total."""
    assert isinstance(facts.total.value, Quantity)
    return facts.total.value.low, facts.total.value.high


def by_plant(facts: Harvest) -> dict[str, tuple[float, float | None] | None]:
    """Bounds by plant; None where nothing was kept."""
    return {n.key: value(n.figure.value) for n in facts.by_plant}  # type: ignore[arg-type]


def test_unweighed_pick_opens_the_total() -> None:
    """Two weighed picks and one unweighed: at least 205 g, and the figure says why."""
    facts = harvest(pick(51, P1, grams(84)), pick(51, P2, grams(121), 8), pick(51, P3, unweighed(), 9))
    assert (bounds(facts), remarks_of(facts.total)) == ((205, None), "one pick was not weighed")


def test_flags_stick() -> None:
    """By eye, about and at least reach the total, counted in words."""
    facts = harvest(
        pick(50, P1, grams(80, by_eye=True)),
        pick(51, P1, grams(20, by_eye=True)),
        pick(52, P2, grams(10, high=None, open=1, about=True)),
    )
    assert facts.total.value == Quantity(110, None, Dimension.MASS, about=True, by_eye=True, open=1, step=1)
    assert (
        remarks_of(facts.total) == "two picks were judged by eye; for one pick the log says only “at least”"
    )


def test_weight_together_stays_together() -> None:
    """A plant gave its own picks, and up to all of what it shared; the figure says which pick that was."""
    facts = harvest(pick(50, P1, grams(80)), pick(51, joint("P1", "P2"), grams(47)))
    assert by_plant(facts) == {"P1": (80, 127), "P2": (0, 47), "P3": None, "P4": None}
    notes = [remarks_of(named.figure) for named in facts.by_plant]
    assert notes == [
        "one pick was weighed together with P2",
        "one pick was weighed together with P1",
        "nothing picked yet",
        "nothing picked yet",
    ]
    assert (facts.shared.value, remarks_of(facts.shared)) == (grams(47), "not recorded plant by plant")


def test_some_plants_could_be_any() -> None:
    """A pick of `2 of 4` or `some` may be of any plant."""
    facts = harvest(pick(50, of(2, 4), grams(60)), pick(51, some(), grams(5)))
    assert by_plant(facts) == dict.fromkeys(("P1", "P2", "P3", "P4"), (0, 65))
    assert remarks_of(facts.by_plant[0].figure) == "two picks were weighed together with other plants"


def test_included_weight_stands_for_earlier_ones() -> None:
    """A weight that holds earlier picks takes their place; a plant gave what is known of it, and perhaps of the rest."""
    facts = harvest(pick(50, P1, grams(84)), pick(60, ALL, grams(205), earlier="included"))
    assert (bounds(facts), by_plant(facts)["P1"]) == ((205, 205), (84, 205))
    assert facts.shared.value == grams(121)


def test_unclear_weight_widens_the_total() -> None:
    """From one holding the other to both side by side."""
    facts = harvest(pick(50, P1, grams(84)), pick(60, ALL, grams(205), earlier="unclear"))
    assert (bounds(facts), remarks_of(facts.total)) == ((205, 289), "one pick may include earlier ones")


def test_apart_adds() -> None:
    """A weight without the earlier picks adds to them."""
    facts = harvest(pick(50, P1, grams(84)), pick(60, ALL, grams(205), earlier="apart"))
    assert bounds(facts) == (289, 289)


def test_included_reaches_only_earlier_visits() -> None:
    """Picks of the same visit stand beside a weight that holds earlier ones."""
    facts = harvest(pick(60, P1, grams(10), 7), pick(60, ALL, grams(205), 8, earlier="included"))
    assert bounds(facts) == (215, 215)


def test_tally_and_later_picks() -> None:
    """A running tally stands for everything before it; later picks add."""
    facts = harvest(
        pick(40, P1, grams(900)),
        pick(45, P2, unweighed()),
        pick(52, P1, grams(50)),
        tallies=(tally(50, grams(1500), ALL),),
    )
    assert (bounds(facts), remarks_of(facts.total)) == ((1550, 1550), "")


def test_tally_counts_its_own_day() -> None:
    """Picks of a tally's visit are in it; a visit later that day is not."""
    tallies = (tally(50, grams(100), ALL, entry=5),)
    assert bounds(harvest(pick(50, P1, grams(30), entry=5), tallies=tallies)) == (100, 100)
    assert bounds(harvest(pick(50, P1, grams(30), entry=6), tallies=tallies)) == (130, 130)


def test_pick_between_tallies() -> None:
    """A pick that nobody weighed is no more than what is left between two tallies, which may hold others."""
    tallies = (tally(40, grams(400), ALL), tally(50, grams(700), ALL))
    first = pick(30, P3, grams(400))
    one = harvest(first, pick(45, P1, grams(200)), pick(46, P2, unweighed()), tallies=tallies)
    assert (by_plant(one)["P2"], remarks_of(one.by_plant[1].figure)) == (
        (0, 100),
        "one pick is worked out from totals so far; one total so far covers other plants too",
    )
    two = harvest(first, pick(45, P1, unweighed()), pick(46, P2, unweighed()), tallies=tallies)
    assert by_plant(two) == {"P1": (0, 300), "P2": (0, 300), "P3": (400, 700), "P4": (0, 300)}


def test_tally_beyond_the_picks_belongs_to_no_plant() -> None:
    """What a tally holds beyond the picks in the log may be of any plant; it stands as a row of its own."""
    facts = harvest(pick(40, P1, grams(9)), tallies=(tally(50, grams(20), ALL),))
    assert by_plant(facts) == {"P1": (9, 20), "P2": (0, 11), "P3": (0, 11), "P4": (0, 11)}
    assert facts.shared.value == grams(11)
    assert remarks_of(facts.by_plant[1].figure) == "one total so far covers other plants too"
    assert [named.figure.value for named in (*facts.by_variety, *facts.by_tub)] == [grams(20)] * 2
    assert by_plant(harvest(pick(40, P1, grams(20)), tallies=(tally(50, grams(20), ALL),)))["P2"] is None


def test_tally_of_all_holds_what_lost_plants_gave() -> None:
    """`all` leaves out lost plants; what they gave before is in a running total all the same."""
    standing = joint("P1", "P2", "P3", word="all")
    facts = harvest(pick(40, joint("P4"), grams(30)), tallies=(tally(50, grams(90), standing),))
    assert bounds(facts) == (90, 90)
    included = pick(50, standing, grams(90), earlier="included")
    assert bounds(harvest(pick(40, joint("P4"), grams(30)), included)) == (90, 90)


def test_tally_of_some_plants() -> None:
    """A tally of two plants counts for their group, and belongs to neither of them."""
    setup = setup_of(groups=(("left", ("P1", "P2")),))
    rows = {"picks": (pick(40, P1, grams(9)), pick(60, P3, grams(5)))}
    facts = harvest_of(run_of(setup, tallies=(tally(50, grams(20), joint("P1", "P2")),), **rows))
    assert (facts.by_group[0].figure.value, facts.total.value) == (grams(20), grams(25))
    assert by_plant(facts) == {"P1": (9, 20), "P2": (0, 11), "P3": (5, 5), "P4": None}
    assert [named.figure.value for named in (*facts.by_variety, *facts.by_tub)] == [grams(25)] * 2


def test_groups_and_varieties() -> None:
    """A weight counts for a group when all its plants belong to it, else perhaps."""
    setup = setup_of(groups=(("left", ("P1", "P2")),), varieties=("amber", "rust"))
    picks = (pick(50, joint("P1", "P2"), grams(40)), pick(51, joint("P2", "P3"), grams(30)))
    facts = harvest_of(run_of(setup, picks=picks))
    assert [(n.label.name, value(n.figure.value)) for n in facts.by_group] == [  # type: ignore[arg-type]
        ("left", (40, 70)),
        ("together", (30, 30)),
    ]
    assert [(n.label.name, value(n.figure.value)) for n in facts.by_variety] == [  # type: ignore[arg-type]
        ("Amber", (40, 70)),
        ("Rust", (0, 30)),
        ("together", (30, 30)),
    ]
    assert remarks_of(facts.by_variety[1].figure) == "one pick was weighed together with P2"


def test_a_plant_that_moved_counts_for_no_tub() -> None:
    """What a plant gave before its move counts for the tub it stood in; later picks count for neither."""
    setup = setup_of(tubs=("left", "right"))
    moved = event(Deed.MOVE, 45, P1, tub="right")
    picks = (pick(40, P1, grams(10)), pick(50, P1, grams(7)), pick(51, ALL, grams(90)))
    facts = harvest_of(run_of(setup, picks=picks, events=(moved,)))
    assert [(named.key, value(named.figure.value)) for named in facts.by_tub] == [  # type: ignore[arg-type]
        ("left", (10, 100)),
        ("right", (0, 90)),
        ("not-said", (97, 97)),
    ]
    assert remarks_of(facts.by_tub[0].figure).endswith("P1 counted only until the move, day 45")


def test_parts_grades_and_pieces() -> None:
    """Parts and grades are told apart, a pick without one is `not said`; uncounted picks open the count."""
    facts = harvest(
        pick(50, P1, grams(30), part="side shoot", count=3, grade="good"), pick(52, P1, grams(9), part="leaf")
    )
    assert [(n.key, n.figure.value) for n in facts.by_part] == [("side-shoot", grams(30)), ("leaf", grams(9))]
    assert [(n.key, n.figure.value) for n in facts.by_grade] == [("good", grams(30)), ("not-said", grams(9))]
    assert isinstance(facts.pieces.value, Quantity)
    assert (value(facts.pieces.value), remarks_of(facts.pieces)) == ((3, None), "one pick was not counted")


def test_spoilt_share() -> None:
    """Spoilt pieces are a share where every pick says how many; else at least so many of all pieces."""
    whole = harvest(pick(50, P1, grams(30), count=7, spoilt=1), pick(52, P1, grams(9), count=3, spoilt=0))
    assert (whole.spoilt.value, remarks_of(whole.spoilt)) == (share_of(1, 10), "")
    facts = harvest(pick(50, P1, grams(30), count=7, spoilt=1), pick(52, P1, grams(9), count=3))
    assert (facts.spoilt.value, remarks_of(facts.spoilt)) == (
        Quantity(1, None, Dimension.COUNT, unweighed=1, step=1),
        "of 10 pieces; spoilt pieces were not counted in one pick",
    )


def test_none_spoilt_in_the_picks_that_say() -> None:
    """None spoilt in one pick, and nothing said of another, is no number at all."""
    facts = harvest(pick(50, P1, grams(30), count=7, spoilt=0), pick(52, P1, grams(9), count=3))
    assert (facts.spoilt.value, remarks_of(facts.spoilt)) == (
        None,
        "spoilt pieces were not counted in one pick",
    )


def test_flushes() -> None:
    """A rest of two weeks with a prune begins a flush; a number in the log wins."""
    picks = (pick(50, P1, grams(1)), pick(63, P1, grams(2)), pick(77, P1, grams(4)))
    facts = harvest_of(run_of(picks=picks, events=(event(Deed.PRUNE, 65, P1),)))
    assert [(n.key, n.figure.value) for n in facts.by_flush] == [("1", grams(3)), ("2", grams(4))]
    told = harvest(pick(50, P1, grams(1)), pick(52, P1, grams(2), flush=2), pick(55, P1, grams(4)))
    assert [(n.key, n.figure.value) for n in told.by_flush] == [("1", grams(1)), ("2", grams(6))]


def test_yield_of_a_spot() -> None:
    """The total over every spot sown, to the resolution of the scale."""
    facts = harvest(pick(50, P1, grams(30)), pick(52, P2, grams(9)))
    assert facts.per_spot.value == grams(9.75)


def test_days_of_picking() -> None:
    """First and last pick, and how many there were."""
    facts = harvest(pick(63, P1, grams(9)), pick(50, P1, grams(30)))
    assert (facts.first_pick.value, facts.last_pick.value, facts.picks.value) == (
        Day.on(50),
        Day.on(63),
        counted(2),
    )


def test_cumulative() -> None:
    """The running total after each pick, a tally bringing it to its own amount."""
    facts = harvest(pick(40, P1, grams(9)), pick(52, P1, grams(5)), tallies=(tally(50, grams(20), ALL),))
    assert [point.total.low for point in facts.cumulative] == [9, 20, 25]
    assert [point.picked.low for point in facts.cumulative] == [9, 0, 5]


def test_nothing_picked() -> None:
    """Without picks there is no total, not a total of 0."""
    facts = harvest()
    assert (facts.total.value, remarks_of(facts.total), facts.by_plant) == (None, "no harvest was logged", ())


WEIGHTS = st.integers(0, 2000).map(grams) | st.just(unweighed())
PLANTS = st.lists(st.sampled_from(("P1", "P2", "P3", "P4")), min_size=1, unique=True).map(
    lambda ids: joint(*sorted(ids))
)
PICKS = st.lists(
    st.builds(
        lambda day, which, weight, earlier: pick(day, which, weight, earlier=earlier),
        st.integers(30, 90),
        PLANTS,
        WEIGHTS,
        st.sampled_from(("", "", "apart", "included", "unclear")),
    ),
    max_size=8,
).map(lambda picks: [replace(p, source=p.source.part(n, 1), entry=p.day.first) for n, p in enumerate(picks)])


def summed(picks: list[Pick]) -> Quantity:
    """The total of picks."""
    return total_weight(HarvestRecords.of(run_of(picks=picks)).everything)


@given(PICKS, st.randoms(use_true_random=False))
def test_order_of_rows_does_not_matter(picks: list[Pick], random: object) -> None:
    """Rows handed over in any order give the same facts."""
    shuffled = list(picks)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert harvest_of(run_of(picks=shuffled)) == harvest_of(run_of(picks=picks))


@given(PICKS, st.sampled_from((0.5, 2, 8)))
def test_scaling_weights_scales_the_total(picks: list[Pick], factor: float) -> None:
    """Weights twice as large give a total twice as large."""
    scaled = [replace(p, weight=p.weight.times(factor)) for p in picks]
    assert summed(scaled) == summed(picks).times(factor)


@given(PICKS)
def test_unweighed_pick_never_lowers_a_bound(picks: list[Pick]) -> None:
    """One more pick that nobody weighed keeps the lower bound and leaves no upper one."""
    before = summed(picks)
    after = summed([*picks, pick(99, P1, unweighed())])
    assert (after.low, after.high, after.unweighed) == (before.low, None, before.unweighed + 1)


@given(PICKS, st.integers(0, 500), st.integers(0, 500))
def test_split_of_a_joint_pick_keeps_the_total(picks: list[Pick], one: int, other: int) -> None:
    """A weight for two plants and the two weights apart give the same total."""
    joint_pick = [*picks, pick(95, joint("P1", "P2"), grams(one + other))]
    split = [*picks, pick(95, P1, grams(one), 1), pick(95, P2, grams(other), 2)]
    assert summed(joint_pick) == summed(split)


@given(PICKS.map(lambda picks: [replace(p, earlier="") for p in picks]))
def test_plants_and_shared_make_the_total(picks: list[Pick]) -> None:
    """What was kept by plant and what was not add up to the total."""
    facts = harvest_of(run_of(picks=picks))
    singles = [item.weight for item in picks if len(item.which.ids) == 1]
    if picks:
        assert isinstance(facts.shared.value, Quantity)
        assert value(total([*singles, facts.shared.value], Dimension.MASS)) == value(summed(picks))
