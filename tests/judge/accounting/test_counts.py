"""Numbers of plants."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Photo, Which
from sitegen.core.records.setup import Plant, Setup, Tub
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.judge.accounting.plants import (
    count_of_plants,
    milestone_went_down,
    more_at_later_stage,
    tally_went_down,
)
from tests.judge.builders import (
    TUB,
    Row,
    by,
    checked,
    day,
    done,
    everyone,
    grams,
    lost,
    named,
    none,
    ph,
    picked,
    place,
    run,
    seen,
    setup,
    some_of,
    sown,
    tallied,
)


def tip_burn(when: int, count: int, of: int) -> Event:
    """Trouble with some of the plants."""
    return done(Deed.TROUBLE, when, some_of(count, of), what="tip burn")


def test_more_plants_than_stand() -> None:
    """A count of more plants than stand is an error."""
    made = run(sown(), lost(20, named("P1")), tip_burn(30, 2, 4))

    assert by(count_of_plants, made) == [
        "e.yaml:130:5: error[count-of-plants]: `2 of 4` plants on day 30, but 3 were standing (write `2 of 3`)"
    ]


def test_fewer_plants_than_stand() -> None:
    """A count of fewer plants than stand may be a loss that was not written."""
    assert by(count_of_plants, run(sown(), tip_burn(30, 2, 3))) == [
        (
            "e.yaml:130:5: error[count-of-plants]: `2 of 3` plants on day 30, but 4 were standing "
            "(write `2 of 4`, or write before it what was `lost`)"
        )
    ]


def test_more_than_there_are() -> None:
    """Five plants of four cannot be mended by another total."""
    assert by(count_of_plants, run(sown(), tip_burn(30, 5, 6))) == [
        (
            "e.yaml:130:5: error[count-of-plants]: `5 of 6` plants on day 30, but 4 were standing "
            "(check both numbers)"
        )
    ]


@pytest.mark.parametrize("of", [3, 4])
def test_plants_on_the_day_of_a_loss(of: int) -> None:
    """On the day of a loss the plant may still be counted, or not."""
    assert by(count_of_plants, run(sown(), lost(30, named("P1")), tip_burn(30, 2, of))) == []


def test_plants_after_an_unnamed_loss() -> None:
    """Plants lost without being named are not standing."""
    assert by(count_of_plants, run(sown(), lost(20, some_of(1, 4)), tip_burn(30, 2, 3))) == []


def test_plants_sown_anew() -> None:
    """A plant sown anew after its loss stands again."""
    made = run(sown(), lost(20, named("P1")), sown(25, which=named("P1")), tip_burn(30, 2, 4))

    assert by(count_of_plants, made) == []


def test_milestone_of_those_that_began() -> None:
    """Milestones count from the start: those lost since may be among the plants."""
    made = run(sown(), lost(20, named("P1")), seen("first_flower", 30, some_of(2, 4)))

    assert by(count_of_plants, made) == []


def test_fewer_at_a_milestone() -> None:
    """Fewer plants at a milestone than before are an error."""
    made = run(sown(), seen("first_flower", 40, some_of(3, 4)), seen("first_flower", 45, some_of(2, 4)))

    assert by(milestone_went_down, made) == [
        (
            "e.yaml:145:5: error[count-went-down]: `first_flower` counted 3 on day 40; it cannot be 2 on day 45 "
            "(write how many have reached it since the start)"
        )
    ]


def test_fewer_than_were_named() -> None:
    """A count below the plants named before is an error."""
    rows = seen("first_flower", 40, named("P1", "P2")), seen("first_flower", 45, some_of(1, 4))

    assert by(milestone_went_down, run(sown(), *rows)) == [
        (
            "e.yaml:145:5: error[count-went-down]: `first_flower` counted 2 on day 40; it cannot be 1 on day 45 "
            "(write how many have reached it since the start)"
        )
    ]


def test_fewer_after_a_loss() -> None:
    """A count at a milestone may fall by the plants lost in between."""
    rows = seen("first_flower", 40, some_of(3, 4)), seen("first_flower", 45, some_of(2, 3))

    assert by(milestone_went_down, run(sown(), *rows, lost(42, named("P1")))) == []


def test_plants_named_one_after_another() -> None:
    """Plants named at one visit join those named before."""
    rows = seen("first_flower", 40, named("P1", "P2")), seen("first_flower", 45, named("P3"))

    assert by(milestone_went_down, run(sown(), *rows)) == []


def test_tally_falls() -> None:
    """A running tally never falls."""
    assert by(tally_went_down, run(sown(), tallied(40, grams(60)), tallied(50, grams(50)))) == [
        (
            "e.yaml:150:5: error[count-went-down]: 60 g had been picked on day 40; it cannot be 50 g on day 50 "
            "(write everything picked since the start)"
        )
    ]


def test_tally_grows() -> None:
    """A running tally grows or stays."""
    made = run(sown(), tallied(40, grams(60)), tallied(50, grams(60)), tallied(60, grams(90)))

    assert by(tally_went_down, made) == []


def unfit(line: int, count: str, standing: str, mend: str) -> Finding:
    """A number of plants that does not fit those standing."""
    number = standing.split(maxsplit=1)[0]
    message = f"`{count}` plants on day {line - 100}, but {standing} standing"
    return Finding("count-of-plants", place(line), message, mend, count, f"{number} standing")


CHECK = "check both numbers"


@pytest.mark.parametrize(
    ("which", "expected"),
    [
        (some_of(4, 4), []),
        (some_of(4), []),
        (some_of(5), [unfit(130, "5", "4 were", CHECK)]),
        (some_of(5, 4), [unfit(130, "5 of 4", "4 were", CHECK)]),
        (some_of(4, 5), [unfit(130, "4 of 5", "4 were", "write `4 of 4`")]),
        (
            some_of(3, 3),
            [unfit(130, "3 of 3", "4 were", "write `3 of 4`, or write before it what was `lost`")],
        ),
        (some_of(5, 3), [unfit(130, "5 of 3", "4 were", CHECK)]),
        (Which(word="some"), []),
        (none(), []),
        (named("P1"), []),
        (everyone(), []),
    ],
)
def test_number_of_plants(which: Which, expected: list[Finding]) -> None:
    """A number of plants is at most, and a total exactly, the number that stands."""
    assert checked(count_of_plants, run(sown(), done(Deed.PRUNE, 30, which))) == expected


@pytest.mark.parametrize(
    "row",
    [
        done(Deed.TROUBLE, 30, some_of(5), what="tip burn"),
        ph(30, 6)._replace(which=some_of(5)),
        picked(30, 20, some_of(5)),
        Photo("a.jpg", day(30), 30, place(130), which=some_of(5)),
        seen("first_flower", 30, some_of(5)),
        tallied(30, grams(20), some_of(5)),
    ],
)
def test_numbers_of_every_table(row: Row) -> None:
    """Events, readings, picks, photos, milestones and tallies are held to the number that stands."""
    assert checked(count_of_plants, run(sown(), row)) == [unfit(130, "5", "4 were", CHECK)]


@pytest.mark.parametrize("deed", [Deed.SOW, Deed.SPROUTED])
def test_numbers_of_seeds(deed: Deed) -> None:
    """Numbers of seeds and seedlings are no numbers of plants."""
    assert checked(count_of_plants, run(done(deed, 0, some_of(12)))) == []


def test_several_numbers_of_plants() -> None:
    """Every number is checked; the message about one plant is in the singular."""
    lonely = setup(plants=setup().plants[:1])
    rows = tip_burn(30, 1, 1), tip_burn(31, 2, 2), tip_burn(32, 1, 1), tip_burn(33, 2, 2)

    assert checked(count_of_plants, run(sown(), *rows, head=lonely)) == [
        unfit(131, "2 of 2", "1 was", CHECK),
        unfit(133, "2 of 2", "1 was", CHECK),
    ]


@pytest.mark.parametrize(
    ("of", "when", "fits"),
    [
        (4, 29, True),
        (3, 29, False),
        (4, 30, True),
        (3, 30, True),
        (4, 31, False),
        (3, 31, True),
        (2, 31, False),
    ],
)
def test_total_around_a_loss(of: int, when: int, fits: bool) -> None:
    """A total counts the loss of its own day or not, and no loss before or after it."""
    made = run(sown(), lost(30, named("P1")), tip_burn(when, 1, of))

    assert (checked(count_of_plants, made) == []) is fits


@pytest.mark.parametrize(("of", "fits"), [(4, True), (3, True), (2, True), (1, False)])
def test_total_within_a_span(of: int, fits: bool) -> None:
    """In a span of days a total may be that of any of its days."""
    burnt = tip_burn(29, 1, of)._replace(day=day((29, 31)))
    made = run(sown(), lost(30, named("P1")), lost(31, named("P2")), lost(32, named("P3")), burnt)

    assert (checked(count_of_plants, made) == []) is fits


@pytest.mark.parametrize(("of", "fits"), [(2, False), (3, True), (4, True), (5, False)])
@pytest.mark.parametrize("kind", ["milestone", "tally"])
def test_total_from_the_start(kind: str, of: int, fits: bool) -> None:
    """A total counted from the start lies between those standing and those of the set-up."""
    which = some_of(2, of)
    row: Row = seen("first_flower", 40, which) if kind == "milestone" else tallied(40, grams(20), which)
    made = run(sown(), lost(20, named("P1")), row)

    assert (checked(count_of_plants, made) == []) is fits


def two_tubs() -> Setup:
    """P1 and P2 stand left, P3 and P4 right."""
    plants = tuple(Plant(f"P{n}", n, "left" if n < 3 else "right", "", (), place(7)) for n in range(1, 5))
    return setup(plants=plants, tubs=(Tub("left", TUB), Tub("right", TUB)))


@pytest.mark.parametrize(
    ("row", "fits"),
    [
        (done(Deed.TROUBLE, 30, some_of(1, 2), tub="left"), True),
        (done(Deed.TROUBLE, 30, some_of(1, 3), tub="right"), True),
        (done(Deed.TROUBLE, 30, some_of(1, 1), tub="left"), True),
        (done(Deed.TROUBLE, 30, some_of(1, 1), tub="right"), False),
        (done(Deed.TROUBLE, 30, some_of(1, 4), tub="left"), True),
        (done(Deed.TROUBLE, 30, some_of(1, 2)), False),
        (done(Deed.TROUBLE, 29, some_of(1, 1), tub="left"), False),
        (done(Deed.TROUBLE, 31, some_of(1, 2), tub="left"), False),
        (replace(picked(30, 20, some_of(1, 2)), tubs=("left",)), True),
        (replace(picked(30, 20, some_of(1, 2)), tubs=("left", "right")), False),
        (replace(picked(30, 20, some_of(1, 2)), tubs=()), False),
        (ph(30, 6, tub="left")._replace(which=some_of(1, 2)), True),
        (ph(30, 6, tub="right")._replace(which=some_of(1, 1)), False),
    ],
)
def test_total_of_a_tub(row: Row, fits: bool) -> None:
    """A total may be that of the tub, before or after a move of the day."""
    made = run(sown(), done(Deed.MOVE, 30, named("P2"), tub="right"), row, head=two_tubs())

    assert (checked(count_of_plants, made) == []) is fits


def fell(line: int, number: int, most: int, before: int) -> Finding:
    """Fewer plants at first flower than before."""
    return Finding(
        "count-went-down",
        place(line),
        f"`first_flower` counted {most} on day {before}; it cannot be {number} on day {line - 100}",
        "write how many have reached it since the start",
        f"{number}",
        f"{most} or more",
    )


def flower(when: int, which: Which, **more: bool) -> MilestoneRow:
    """Plants in flower."""
    return seen("first_flower", when, which, **more)


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([flower(40, some_of(3)), flower(45, some_of(3))], []),
        ([flower(40, some_of(3)), flower(45, some_of(2))], [fell(145, 2, 3, 40)]),
        ([flower(40, some_of(3)), flower(41, some_of(3)), flower(45, some_of(2))], [fell(145, 2, 3, 41)]),
        (
            [flower(40, some_of(3)), flower(45, some_of(2)), flower(46, some_of(1))],
            [fell(145, 2, 3, 40), fell(146, 1, 3, 40)],
        ),
        ([flower(40, some_of(3)), flower(45, some_of(4)), flower(46, some_of(3))], [fell(146, 3, 4, 45)]),
        ([flower(40, some_of(3)), flower(45, none()), flower(46, some_of(2))], [fell(146, 2, 3, 40)]),
        (
            [flower(40, some_of(3)), flower(45, Which(word="some")), flower(46, some_of(2))],
            [fell(146, 2, 3, 40)],
        ),
        ([flower(40, some_of(3)), flower(45, some_of(2), reached=False), flower(46, some_of(3))], []),
        ([flower(40, some_of(3)), flower(45, named("P1"))], []),
        (
            [flower(40, named("P1")), flower(41, named("P1", "P2")), flower(45, some_of(1))],
            [fell(145, 1, 2, 41)],
        ),
        ([flower(40, named("P1")), flower(41, named("P2")), flower(45, some_of(2))], []),
        ([flower(40, some_of(3)), seen("ripe", 45, some_of(1))], []),
        ([flower(40, some_of(3)), lost(42, named("P1")), flower(45, some_of(2))], []),
        ([flower(40, some_of(3)), lost(42, named("P1")), flower(45, some_of(1))], [fell(145, 1, 3, 40)]),
        ([flower(40, some_of(3)), lost(42, some_of(2)), flower(45, some_of(1))], []),
        ([flower(40, some_of(3)), sown(42, which=named("P1")), flower(45, some_of(2))], []),
    ],
)
def test_falling_milestone(rows: list[Row], expected: list[Finding]) -> None:
    """A count at a milestone falls by no more than the plants lost or sown again since the largest one."""
    assert checked(milestone_went_down, run(sown(), *rows)) == expected


def less(line: int, found: str, before: str) -> Finding:
    """A tally that fell."""
    return Finding(
        "count-went-down",
        place(line),
        f"{before} had been picked on day 40; it cannot be {found} on day {line - 100}",
        "write everything picked since the start",
        found,
        f"{before} or more",
    )


@pytest.mark.parametrize(
    ("later", "which", "expected"),
    [
        (grams(59), everyone(), [less(150, "59 g", "60 g")]),
        (grams(60), everyone(), []),
        (Quantity(50, 59, Dimension.MASS, step=1), everyone(), [less(150, "50-59 g", "60 g")]),
        (Quantity(50, 60, Dimension.MASS, step=1), everyone(), []),
        (Quantity(50, None, Dimension.MASS, open=1), everyone(), []),
        (grams(10), named("P1"), []),
        (grams(59), some_of(2), [less(150, "59 g", "60 g")]),
    ],
)
def test_falling_tally(later: Quantity, which: Which, expected: list[Finding]) -> None:
    """A tally is no less than the one before it of the same plants; a range may reach it."""
    assert (
        checked(tally_went_down, run(sown(), tallied(40, grams(60)), tallied(50, later, which))) == expected
    )


def test_tally_against_the_one_before() -> None:
    """A tally is compared with the last one of its plants; each fall is a finding."""
    amounts = [(30, 20), (40, 60), (50, 50), (55, 55), (60, 40)]
    made = run(sown(), *(tallied(when, grams(amount)) for when, amount in amounts))

    assert [(f.source.line, f.found, f.expected) for f in checked(tally_went_down, made)] == [
        (150, "50 g", "60 g or more"),
        (160, "40 g", "55 g or more"),
    ]


def test_more_plants_at_a_later_stage() -> None:
    """More plants with a fruit than with a flower is a warning, at the flowers."""
    made = run(sown(), seen("first_fruit", 40, some_of(3)), flower(45, some_of(2)))

    assert by(more_at_later_stage, made) == [
        (
            "e.yaml:145:5: warning[more-at-later-stage]: 3 had set a fruit on day 40, but 2 plants had flowered "
            "on day 45 (check `first_flower` and `first_fruit`: each counts all plants since the start)"
        )
    ]


def fruit(when: int, which: Which) -> MilestoneRow:
    """Plants with a fruit."""
    return seen("first_fruit", when, which)


@pytest.mark.parametrize(
    ("rows", "found"),
    [
        ([fruit(45, some_of(3)), flower(45, some_of(2))], [("first_flower: 2", "3 or more")]),
        ([fruit(45, some_of(3)), flower(45, some_of(3))], []),
        ([flower(40, some_of(2)), fruit(45, some_of(3))], []),  # more may have flowered since
        ([fruit(40, named("P1", "P2")), flower(45, some_of(1))], [("first_flower: 1", "2 or more")]),
        ([fruit(40, some_of(2)), flower(45, named("P1"))], [("first_flower: 1", "2 or more")]),
        (
            [fruit(40, named("P1")), fruit(42, named("P2")), flower(45, some_of(1))],
            [("first_flower: 1", "2 or more")],
        ),
        ([fruit(40, named("P1", "P2")), flower(45, named("P1"))], []),  # a matter of their order
        ([fruit(40, some_of(2)), flower(45, everyone(), reached=False)], [("first_flower: 0", "2 or more")]),
        ([fruit(40, some_of(2)), flower(45, named("P1"), reached=False)], []),
        ([fruit(40, some_of(2)), flower(45, Which(word="some"))], []),
        ([fruit(40, Which(word="some")), flower(45, some_of(1))], []),
        ([fruit(40, some_of(3)), lost(42, named("P1")), flower(45, some_of(2))], []),
        (
            [fruit(40, some_of(3)), lost(42, named("P1")), flower(45, some_of(1))],
            [("first_flower: 1", "3 or more")],
        ),
        ([fruit(40, some_of(3)), sown(42, which=named("P1")), flower(45, some_of(2))], []),
        ([seen("side_shoots", 40, some_of(3)), flower(45, some_of(2))], []),
    ],
)
def test_later_and_earlier_stages(rows: list[Row], found: list[tuple[str, str]]) -> None:
    """An earlier stage counted no earlier has at least as many plants, but for those lost or sown again."""
    assert [(f.found, f.expected) for f in checked(more_at_later_stage, run(sown(), *rows))] == found
