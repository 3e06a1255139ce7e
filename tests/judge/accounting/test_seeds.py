"""Seeds and seedlings."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.records.rows import Deed, Event, Which
from sitegen.core.values.quantity import counted
from sitegen.judge.accounting.seeds import (
    seeds_disagree,
    sprouted_went_down,
    thinned_to_more,
    too_many_sprouted,
)
from tests.judge.builders import by, done, everyone, lost, named, run, sown, up


def thinned(when: int, leave: int, which: Which) -> Event:
    """Thinned to so many in a spot."""
    return done(Deed.THIN, when, which, amount=counted(leave), each=True)


def test_more_up_than_sown() -> None:
    """More seedlings than seeds in all are an error."""
    assert by(too_many_sprouted, run(sown(), up(5, 13))) == [
        (
            "e.yaml:105:5: error[too-many-sprouted]: 13 sprouted on day 5, but only 12 seeds were sown "
            "(check the number sprouted, or correct `sow`)"
        )
    ]


def test_more_up_than_sown_in_a_spot() -> None:
    """More seedlings than seeds in one spot are an error."""
    assert by(too_many_sprouted, run(sown(seeds=1), up(5, 2, which=named("P1")))) == [
        (
            "e.yaml:105:5: error[too-many-sprouted]: 2 sprouted in `P1` on day 5, but only 1 seed was sown "
            "(check the number sprouted, or correct `sow`)"
        )
    ]


def test_all_up() -> None:
    """As many up as sown is right, and so is more after a second sowing."""
    made = run(sown(), up(5, 12), sown(10, 2, named("P1")), up(15, 14))

    assert by(too_many_sprouted, made) == []


def test_range_of_seeds() -> None:
    """Of two or three seeds a spot as many as three may come up."""
    seeds = replace(counted(2), high=3.0)
    made = run(done(Deed.SOW, 0, everyone(), amount=seeds, each=True), up(5, 12))

    assert by(too_many_sprouted, made) == []


def test_unknown_number_of_seeds() -> None:
    """Where nobody counted the seeds, nothing is said."""
    made = run(done(Deed.SOW, 0, everyone()), up(5, 50, 60))

    assert by(too_many_sprouted, made) + by(seeds_disagree, made) == []


def test_seeds_that_were_not_sown() -> None:
    """The seeds that seedlings are counted out of are the seeds sown."""
    assert by(seeds_disagree, run(sown(), up(5, 8, 16))) == [
        (
            "e.yaml:105:5: error[seeds-disagree]: `8 of 16` sprouted on day 5, but 12 seeds were sown "
            "(write `8 of 12`, or correct `sow`)"
        )
    ]


def test_more_up_than_either() -> None:
    """More seedlings than seeds are said once, not as wrong seeds as well."""
    assert by(seeds_disagree, run(sown(), up(5, 14, 16))) == []


def test_seeds_after_a_second_sowing() -> None:
    """After a second sowing, all seeds sown and those that count now are both right."""
    rows = sown(), sown(10, 5, named("P1"))

    assert by(seeds_disagree, run(*rows, up(15, 8, 17), up(16, 8, 14))) == []


def test_seeds_after_a_loss() -> None:
    """`all` still stands for every seed sown, once a plant is lost."""
    standing = Which(("P1", "P2", "P3"), word="all")

    assert by(seeds_disagree, run(sown(), lost(4, named("P4")), up(5, 8, 12, standing))) == []


def test_fewer_up_than_before() -> None:
    """Seedlings are counted from the start, and never become fewer."""
    assert by(sprouted_went_down, run(sown(), up(5, 8), up(7, 6))) == [
        (
            "e.yaml:107:5: error[count-went-down]: 8 had sprouted on day 5; it cannot be 6 on day 7 "
            "(write how many have sprouted since sowing, those lost since included)"
        )
    ]


def test_same_number_again() -> None:
    """Saying a count again is harmless, and a spot sown anew begins anew."""
    one = named("P1")
    made = run(sown(), up(5, 8), up(7, 8), up(8, 3, which=one), sown(10, 2, one), up(15, 1, which=one))

    assert by(sprouted_went_down, made) == []


def test_thinned_to_more_than_sown() -> None:
    """Nothing is thinned to more plants than seeds in a spot."""
    assert by(thinned_to_more, run(sown(), thinned(9, 4, everyone()))) == [
        (
            "e.yaml:109:5: error[thinned-to-more]: thinned to 4 in a spot on day 9, "
            "but no more than 3 came up in any spot (write `thin_to: 3` or fewer)"
        )
    ]


def test_thinned_to_more_than_came_up() -> None:
    """A spot is not thinned to more plants than came up in it."""
    made = run(sown(), up(5, 1, which=named("P1")), thinned(9, 2, named("P1")))

    assert by(thinned_to_more, made) == [
        (
            "e.yaml:109:5: error[thinned-to-more]: thinned to 2 in a spot on day 9, "
            "but no more than 1 came up in `P1` (write `thin_to: 1` or fewer)"
        )
    ]


def test_thinned_where_one_spot_has_fewer() -> None:
    """At most so many are left: one spot may hold fewer."""
    made = run(sown(), up(5, 1, which=named("P1")), thinned(9, 2, everyone()))

    assert by(thinned_to_more, made) == []
