"""Picks that do not add up."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.values.quantity import Quantity, counted, unknown
from sitegen.core.values.units import Dimension
from sitegen.judge.accounting.picks import (
    same_pick_twice,
    spoilt_disagrees,
    spoilt_exceeds,
    spoilt_heavier,
    tally_below_earlier,
    tally_below_picks,
)
from tests.judge.builders import (
    Row,
    by,
    checked,
    day,
    everyone,
    grams,
    named,
    picked,
    place,
    run,
    some_of,
    sown,
    tallied,
)


def test_pick_written_twice() -> None:
    """Two equal picks of one day are a warning, at the second."""
    made = run(sown(), picked(60, 40, named("P1")), picked(60, 40, named("P1"), line=180))

    assert by(same_pick_twice, made) == [
        (
            "e.yaml:180:5: warning[same-pick-twice]: the pick from `P1` on day 60, 40 g, is written twice "
            "(remove one of the two if it is the same pick as on line 160)"
        )
    ]


def test_two_picks_of_one_day() -> None:
    """Picks of one day that differ in plants, weight or part are two picks."""
    rows = picked(60, 40, named("P1")), picked(60, 40, named("P2")), picked(60, 41, named("P1"))

    assert by(same_pick_twice, run(sown(), *rows, picked(60, 40, named("P1"), part="leaf"))) == []


def test_more_spoilt_than_picked() -> None:
    """No more can be spoilt than were picked."""
    assert by(spoilt_exceeds, run(sown(), picked(60, 40, count=2, spoilt=3))) == [
        (
            "e.yaml:160:5: error[spoilt-exceeds]: 3 of the pick on day 60 were spoilt, but only 2 were picked "
            "(check `spoilt` and `count`)"
        )
    ]


def test_all_spoilt() -> None:
    """A whole pick may be spoilt; without a count there is no finding."""
    made = run(sown(), picked(60, 40, count=3, spoilt=3), picked(61, 40, spoilt=3))

    assert by(spoilt_exceeds, made) == []


def test_spoilt_part_heavier_than_the_pick() -> None:
    """No more can be spoilt than was picked, by weight: rounding and an estimate aside, and with any upper bound."""
    rows = (
        picked(60, 40, spoilt_weight=grams(41)),
        picked(61, 40, spoilt_weight=grams(43)),
        picked(62, 40, spoilt_weight=replace(grams(43), about=True)),
        picked(63, 40, spoilt_weight=unknown(Dimension.MASS)),
        picked(64, 40, spoilt_weight=replace(grams(43), high=None, open=1)),
    )
    assert by(spoilt_heavier, run(sown(), *rows)) == [
        (
            f"e.yaml:{line}:5: error[spoilt-heavier]: {weight} of the pick on day {line - 100} was spoilt, "
            "but all of it weighed 40 g (check both weights: that of the pick includes what is spoilt)"
        )
        for line, weight in ((161, "43 g"), (164, "at least 43 g"))
    ]


def test_weight_and_number_of_spoilt_pieces() -> None:
    """No piece weighs nothing, and all pieces weigh as much as the pick; any other number may have any weight."""
    rows = (
        picked(60, 40, count=3, spoilt=0, spoilt_weight=grams(9)),
        picked(61, 40, count=3, spoilt=3, spoilt_weight=grams(9)),
        picked(62, 40, count=3, spoilt=3, spoilt_weight=grams(40)),
        picked(63, 40, count=3, spoilt=2, spoilt_weight=grams(9)),
        picked(64, 40, count=3, spoilt=0, spoilt_weight=grams(0)),
        picked(65, 40, spoilt=3, spoilt_weight=grams(9)),
    )
    mend = "(check `count` and `weight` of what is spoilt)"
    assert by(spoilt_disagrees, run(sown(), *rows)) == [
        (
            "e.yaml:160:5: error[spoilt-disagrees]: none of the pick on day 60 was spoilt, "
            f"but 9 g of it was {mend}"
        ),
        (
            "e.yaml:161:5: error[spoilt-disagrees]: all 3 of the pick on day 61 were spoilt, "
            f"but only 9 g of its 40 g {mend}"
        ),
    ]


def test_tally_below_picks() -> None:
    """A running tally below the picks it covers is an error, the picks of its own visit included."""
    made = run(sown(), picked(60, 40), picked(75, 40), tallied(75, grams(60)))

    assert by(tally_below_picks, made) == [
        (
            "e.yaml:175:5: error[tally-below-picks]: 60 g had been picked on day 75, "
            "but the picks up to then come to 80 g (check `total_so_far` and the picks before it)"
        )
    ]


def test_tally_of_picks() -> None:
    """A tally may be above its picks, and below by their rounding; later picks are not its own."""
    made = run(sown(), picked(60, 40), picked(70, 40), picked(80, 40), tallied(75, grams(79)))

    assert by(tally_below_picks, made) == []


def test_estimated_tally() -> None:
    """A tally that says about may be out by a tenth."""
    about = replace(grams(74), about=True)

    assert by(tally_below_picks, run(sown(), picked(60, 80), tallied(75, about))) == []


def test_pick_that_holds_earlier_picks() -> None:
    """A pick that includes earlier ones is not added to them."""
    made = run(sown(), picked(60, 40), picked(70, 60, earlier="included"), tallied(75, grams(60)))

    assert by(tally_below_picks, made) == []


def test_tally_of_other_plants() -> None:
    """A tally of one plant does not cover the picks of another."""
    made = run(sown(), picked(60, 40, named("P1")), tallied(75, grams(10), named("P2")))

    assert by(tally_below_picks, made) == []


def twice(line: int, subject: str, size: str, first: int, when: str = "on day 60") -> Finding:
    """A pick written twice."""
    return Finding(
        "same-pick-twice",
        place(line),
        f"the pick from {subject} {when}, {size}, is written twice",
        f"remove one of the two if it is the same pick as on line {first}",
        size,
    )


def test_picks_written_again_and_again() -> None:
    """Every repetition is a finding that names the first, whatever stands between them."""
    one, all_ = named("P1"), everyone()
    rows = (
        picked(60, 40, one, line=11),
        picked(60, 40, all_, line=12),
        picked(60, 40, one, line=13),
        picked(60, 41, one, line=14),
        picked(60, 40, one, line=15),
        picked(60, 40, all_, line=16),
    )

    assert checked(same_pick_twice, run(sown(), *rows)) == [
        twice(13, "`P1`", "40 g", 11),
        twice(15, "`P1`", "40 g", 11),
        twice(16, "all plants", "40 g", 12),
    ]


def test_unweighed_pick_written_twice() -> None:
    """A pick that was not weighed may be written twice as well."""
    pick = replace(picked(60, 0), weight=unknown(Dimension.MASS))
    again = replace(pick, source=place(180))

    assert checked(same_pick_twice, run(sown(), pick, again)) == [
        twice(180, "all plants", "not weighed", 160)
    ]


@pytest.mark.parametrize(
    "other",
    [
        {"count": 3},
        {"grade": "good"},
        {"flush": 2},
        {"tubs": ("other",)},
        {"weight": replace(grams(40), about=True)},
        {"day": day((60, 61))},
        {"earlier": "apart"},
        {"spoilt": 1},
    ],
)
def test_picks_that_differ(other: dict[str, Any]) -> None:
    """Picks that differ in anything written are two."""
    pick = picked(60, 40)

    assert checked(same_pick_twice, run(sown(), pick, replace(pick, source=place(180), **other))) == []


def test_spoilt_of_several_picks() -> None:
    """Every pick is looked at; one without a count, or with none spoilt, is right."""
    rows = (
        picked(60, 40, count=2, spoilt=3),
        picked(61, 40, count=3, spoilt=3),
        picked(62, 40, spoilt=3),
        picked(63, 40, count=3),
        picked(64, 40, count=0, spoilt=1),
    )

    def spoilt(line: int, number: int, of: int) -> Finding:
        message = f"{number} of the pick on day {line - 100} were spoilt, but only {of} were picked"
        return Finding(
            "spoilt-exceeds",
            place(line),
            message,
            "check `spoilt` and `count`",
            f"spoilt: {number}",
            f"at most {of}",
        )

    assert checked(spoilt_exceeds, run(sown(), *rows)) == [spoilt(160, 3, 2), spoilt(164, 1, 0)]


def low(line: int, tally: str, picks: str) -> Finding:
    """A tally below its picks."""
    return Finding(
        "tally-below-picks",
        place(line),
        f"{tally} had been picked on day {line - 100}, but the picks up to then come to {picks}",
        "check `total_so_far` and the picks before it",
        tally,
        f"{picks} or more",
    )


def mass(least: float, most: float | None, **flags: Any) -> Quantity:
    """A weight to the gram."""
    return Quantity(least, most, Dimension.MASS, step=1, **flags)


ONE_PICK = [picked(60, 100)]


@pytest.mark.parametrize(
    ("picks", "tally", "expected"),
    [
        (ONE_PICK, tallied(75, mass(99, 99)), []),
        (ONE_PICK, tallied(75, mass(98.9, 98.9)), [low(175, "98.9 g", "100 g")]),
        (ONE_PICK, tallied(75, mass(50, 98)), [low(175, "50-98 g", "100 g")]),
        (ONE_PICK, tallied(75, mass(50, 99)), []),
        (ONE_PICK, tallied(75, mass(50, None, open=1)), []),
        (ONE_PICK, tallied(75, mass(90, 90, about=True)), []),
        (ONE_PICK, tallied(75, mass(89, 89, about=True)), [low(175, "about 89 g", "100 g")]),
        (ONE_PICK, tallied(75, mass(90, 90, by_eye=True)), []),
        (ONE_PICK, tallied(75, mass(89, 89, by_eye=True)), [low(175, "89 g", "100 g")]),
        (ONE_PICK, tallied(60, mass(50, 50)), [low(160, "50 g", "100 g")]),
        (ONE_PICK, tallied(59, mass(50, 50)), []),
        ([*ONE_PICK, picked(61, 100)], tallied(75, mass(198.5, 198.5)), []),
        ([*ONE_PICK, picked(61, 100)], tallied(75, mass(198.4, 198.4)), [low(175, "198 g", "200 g")]),
        ([replace(ONE_PICK[0], weight=mass(80, 120))], tallied(75, mass(79, 79)), []),
        ([replace(ONE_PICK[0], weight=mass(80, 120))], tallied(75, mass(78, 78)), [low(175, "78 g", "80 g")]),
        ([replace(ONE_PICK[0], day=day((60, 75)))], tallied(75, mass(50, 50)), [low(175, "50 g", "100 g")]),
        ([replace(ONE_PICK[0], day=day((60, 76)))], tallied(75, mass(50, 50)), []),
        ([picked(60, 100, named("P1"))], tallied(75, mass(50, 50)), [low(175, "50 g", "100 g")]),
        (
            [picked(60, 100, named("P1"))],
            tallied(75, mass(50, 50), named("P1", "P2")),
            [low(175, "50 g", "100 g")],
        ),
        ([picked(60, 100, named("P1"))], tallied(75, mass(50, 50), named("P1")), [low(175, "50 g", "100 g")]),
        ([picked(60, 100, named("P1", "P3"))], tallied(75, mass(50, 50), named("P1", "P2")), []),
        ([picked(60, 100, some_of(1, 4))], tallied(75, mass(50, 50), named("P1", "P2")), []),
        (
            [picked(60, 100, some_of(1, 4))],
            tallied(75, mass(50, 50), some_of(2, 4)),
            [low(175, "50 g", "100 g")],
        ),
        ([*ONE_PICK, picked(70, 80, earlier="included")], tallied(75, mass(99, 99)), []),
        ([*ONE_PICK, picked(70, 80, earlier="unclear")], tallied(75, mass(99, 99)), []),
        (
            [*ONE_PICK, picked(70, 80, earlier="apart")],
            tallied(75, mass(99, 99)),
            [low(175, "99 g", "180 g")],
        ),
        (
            [*ONE_PICK, picked(70, 120, earlier="included")],
            tallied(75, mass(99, 99)),
            [low(175, "99 g", "120 g")],
        ),
        ([], tallied(75, mass(0, 0)), []),
        (ONE_PICK, tallied(75, counted(3)), []),
    ],
)
def test_tally_and_its_picks(picks: list[Row], tally: Row, expected: list[Finding]) -> None:
    """A tally covers the certain picks of its plants up to its day, but for rounding, estimates and ranges."""
    assert checked(tally_below_picks, run(sown(), *picks, tally)) == expected


def test_several_tallies() -> None:
    """Every tally is looked at."""
    tallies = (
        tallied(61, counted(3)),
        tallied(62, grams(100)),
        tallied(63, grams(60)),
        tallied(64, grams(100)),
        tallied(65, grams(70)),
    )

    assert checked(tally_below_picks, run(sown(), *ONE_PICK, *tallies)) == [
        low(163, "60 g", "100 g"),
        low(165, "70 g", "100 g"),
    ]


def test_tally_below_an_earlier_one() -> None:
    """A running tally covers the tally before it and the picks after that."""
    made = run(sown(), tallied(50, grams(60)), picked(55, 30), tallied(60, grams(80)))

    assert by(tally_below_earlier, made) == [
        (
            "e.yaml:160:5: error[tally-below-earlier]: 80 g had been picked on day 60, but 60 g on day 50 and the picks "
            "after it come to 90 g (check `total_so_far` on both days and the picks between them)"
        )
    ]


P1, PAIR = named("P1"), named("P1", "P2")


@pytest.mark.parametrize(
    ("rows", "found"),
    [
        ([tallied(50, grams(60)), picked(55, 30), tallied(60, grams(90))], []),
        ([tallied(50, grams(60)), picked(55, 30), tallied(60, grams(89))], []),  # within rounding
        ([tallied(50, grams(60)), picked(55, 30), tallied(60, grams(87))], ["90 g or more"]),
        ([tallied(50, grams(60)), picked(50, 30), tallied(60, grams(60))], []),  # of the tally's own visit
        ([tallied(50, grams(60)), picked(55, 30, earlier="included"), tallied(60, grams(60))], []),
        ([tallied(50, replace(grams(60), about=True)), picked(55, 30), tallied(60, grams(84))], []),
        ([tallied(50, grams(60)), picked(55, 30), tallied(60, replace(grams(70), high=None))], []),
        ([tallied(50, grams(60)), picked(55, 30), tallied(60, counted(9))], []),
        ([tallied(50, grams(60)), tallied(60, grams(50))], []),  # a tally that fell
        ([tallied(50, grams(60)), picked(55, 90), tallied(60, grams(80))], []),  # below its picks
        ([tallied(50, grams(60), P1), tallied(60, grams(50))], ["60 g or more"]),
        (
            [tallied(50, grams(60), P1), picked(55, 30, named("P2")), tallied(60, grams(80), PAIR)],
            ["90 g or more"],
        ),
        ([tallied(50, grams(60)), picked(55, 30), tallied(60, grams(80), P1)], []),
        ([tallied(50, grams(60), P1), picked(55, 30, named("P3")), tallied(60, grams(80), PAIR)], []),
        ([tallied(50, grams(60)), picked((48, 55), 30), tallied(60, grams(80))], []),
    ],
)
def test_tally_and_an_earlier_one(rows: list[Row], found: list[str]) -> None:
    """Only certain picks after the earlier tally are added to it, but for rounding and estimates."""
    assert [finding.expected for finding in checked(tally_below_earlier, run(sown(), *rows))] == found
