"""Picks that do not add up."""

from __future__ import annotations

from dataclasses import replace

from sitegen.judge.accounting.picks import same_pick_twice, spoilt_exceeds, tally_below_picks
from tests.judge.builders import by, grams, named, picked, run, sown, tallied


def test_pick_written_twice() -> None:
    """Two picks of one day that are alike in everything are asked about, at the second."""
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
    """A whole pick may be spoilt; without a count nothing is said."""
    made = run(sown(), picked(60, 40, count=3, spoilt=3), picked(61, 40, spoilt=3))

    assert by(spoilt_exceeds, made) == []


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
