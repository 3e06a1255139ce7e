"""Seeds and seedlings."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed, Event, Which
from sitegen.core.values.quantity import Quantity, counted, unknown
from sitegen.core.values.units import Dimension
from sitegen.judge.accounting.seeds import (
    seeds_disagree,
    sprouted_went_down,
    thinned_to_more,
    too_many_sprouted,
)
from tests.judge.builders import Row, by, checked, done, everyone, lost, named, place, run, sown, up


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
    made = run(sow(0, seeds(2, 3)), up(5, 12))

    assert by(too_many_sprouted, made) == []


def test_unknown_number_of_seeds() -> None:
    """Where the seeds were not counted, there is no finding."""
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
    """More seedlings than seeds are one finding, not a second one about the seeds."""
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


def test_fewer_in_all_than_in_single_spots() -> None:
    """A count of all spots is no lower than the counts of single ones before it together."""
    one, two = (up(5, 3, which=named(plant)) for plant in ("P1", "P2"))

    assert by(sprouted_went_down, run(sown(), one, two, up(7, 5))) == [
        (
            "e.yaml:107:5: error[count-went-down]: 6 had sprouted by day 5, counted by spots; it cannot be 5 on day 7 "
            "(write how many have sprouted since sowing, those lost since included)"
        )
    ]
    assert by(sprouted_went_down, run(sown(), one, two, up(7, 6))) == []
    assert by(sprouted_went_down, run(sown(), one, two, sown(6, 2, named("P2")), up(7, 5))) == []


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


def sow(when: int, seeds: Quantity | None, which: Which | None = None, *, each: bool = True) -> Event:
    """Seeds, counted or not, in each spot or in all."""
    return done(Deed.SOW, when, which or everyone(), amount=seeds, each=each)


def rise(when: int, number: Quantity | None, of: int | None = None, which: Which | None = None) -> Event:
    """Seedlings, counted or not."""
    return done(Deed.SPROUTED, when, which or everyone(), amount=number, out_of=of)


def seeds(least: int, most: int | None) -> Quantity:
    """A range of seeds."""
    return replace(counted(least), high=most, open=0 if most else 1)


def too_many(line: int, found: str, most: int, where: str = "") -> Finding:
    """More seedlings than seeds."""
    sown = f"{most} {'seed was' if most == 1 else 'seeds were'} sown"
    message = f"{found} sprouted{where} on day {line - 100}, but only {sown}"
    mend = "check the number sprouted, or correct `sow`"
    return Finding("too-many-sprouted", place(line), message, mend, found, f"at most {most}")


P1, LEFT = named("P1"), Which(("P1", "P2"), word="left")


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([sown(), up(5, 12)], []),
        ([sown(), up(5, 13)], [too_many(105, "13", 12)]),
        ([sow(0, counted(12), each=False), up(5, 12)], []),
        ([sow(0, counted(12), each=False), up(5, 13)], [too_many(105, "13", 12)]),
        ([sow(0, seeds(2, 3)), rise(5, seeds(12, 13))], []),
        ([sow(0, seeds(2, 3)), rise(5, seeds(13, 14))], [too_many(105, "13-14", 12)]),
        ([sow(0, seeds(2, None)), up(5, 99)], []),
        ([sown(), rise(5, seeds(13, None))], [too_many(105, "13 or more", 12)]),
        ([sown(), up(5, 3, which=P1)], []),
        ([sown(), up(5, 4, which=P1)], [too_many(105, "4", 3, " in `P1`")]),
        ([sown(), up(5, 7, which=named("P1", "P2"))], [too_many(105, "7", 6, " in `P1` and `P2`")]),
        ([sown(), up(5, 7, which=LEFT)], [too_many(105, "7", 6, " in `left`")]),
        ([sow(0, counted(1)), up(5, 2, which=P1)], [too_many(105, "2", 1, " in `P1`")]),
        ([sow(0, counted(1), P1), up(5, 2)], [too_many(105, "2", 1)]),
        ([sown(), sown(6, 1, P1), up(5, 13)], [too_many(105, "13", 12)]),
        ([sown(), sown(5, 1, P1), up(5, 13)], []),
        ([sown(), sown(4, 1, P1), up(5, 14)], [too_many(105, "14", 13)]),
        ([sown(0, 3, named("P2")), sown(1, 1, P1), up(5, 2, which=P1)], [too_many(105, "2", 1, " in `P1`")]),
        ([sow(0, counted(12), each=False), up(5, 12, which=P1)], []),
        (
            [sow(0, counted(12), each=False), up(5, 13, which=P1)],
            [too_many(105, "13", 12, " in `P1`")],
        ),
        ([sow(0, counted(5), LEFT, each=False), up(5, 6)], [too_many(105, "6", 5)]),
        (
            [sow(0, counted(5), LEFT, each=False), up(5, 6, which=P1)],
            [too_many(105, "6", 5, " in `P1`")],
        ),
        ([sow(0, None), up(5, 7, 12), sown(6, 1, P1), up(9, 13)], []),
        ([sow(0, None), up(5, 7, 12), sown(6, 1, P1), up(9, 14)], [too_many(109, "14", 13)]),
        ([sow(0, None), up(5, 7, 12), sow(6, None, P1), up(9, 14)], []),
        ([sow(0, None), up(5, 7, 12, which=LEFT), up(9, 14)], []),
        ([sow(0, None), up(5, 50)], []),
        ([sow(0, unknown(Dimension.COUNT)), up(5, 50)], []),
        ([sown(), sow(1, None, P1), up(5, 50)], []),
        ([up(5, 17, 16)], [too_many(105, "17", 16)]),
        ([up(5, 16, 16)], []),
        ([up(5, 17)], []),
        ([up(5, 4, 3), sown(), rise(6, None), rise(7, unknown(Dimension.COUNT)), up(8, 13), up(9, 12), up(10, 14)],
         [too_many(108, "13", 12), too_many(110, "14", 12)]),
    ],
)  # fmt: skip
def test_seedlings_and_seeds(rows: list[Row], expected: list[Finding]) -> None:
    """No more seedlings than all seeds sown in their spots by then, or than the seeds that they are counted out of."""
    assert checked(too_many_sprouted, run(*rows)) == expected


def disagree(line: int, share: str, seeds: str, mend: str, where: str = "") -> Finding:
    """Another number of seeds than were sown."""
    of = share.rpartition(" ")[2]
    message = f"`{share}` sprouted{where} on day {line - 100}, but {seeds} seeds were sown"
    return Finding("seeds-disagree", place(line), message, mend, f"{of} seeds", f"{seeds} seeds")


def write(share: str) -> str:
    """The help that offers another count."""
    return f"write `{share}`, or correct `sow`"


BOTH = "check both, and correct `sow`"


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([sown(), up(5, 8, 12)], []),
        ([sown(), up(5, 8, 11)], [disagree(105, "8 of 11", "12", write("8 of 12"))]),
        ([sown(), up(5, 8, 13)], [disagree(105, "8 of 13", "12", write("8 of 12"))]),
        ([sown(), up(5, 12, 13)], [disagree(105, "12 of 13", "12", write("12 of 12"))]),
        ([sown(), up(5, 13, 13)], []),
        ([sown(), up(5, 8)], []),
        ([up(5, 8, 13)], []),
        ([sow(0, seeds(2, 3)), up(5, 8, 8)], []),
        ([sow(0, seeds(2, 3)), up(5, 8, 12)], []),
        ([sow(0, seeds(2, 3)), up(5, 7, 7)], [disagree(105, "7 of 7", "8-12", BOTH)]),
        ([sow(0, seeds(2, 3)), up(5, 8, 13)], [disagree(105, "8 of 13", "8-12", BOTH)]),
        ([sow(0, seeds(2, None)), up(5, 8, 8)], []),
        ([sow(0, seeds(2, None)), up(5, 7, 7)], [disagree(105, "7 of 7", "8 or more", BOTH)]),
        ([sown(), up(5, 1, 2, which=P1)], [disagree(105, "1 of 2", "3", write("1 of 3"), " in `P1`")]),
        ([sown(), rise(5, seeds(8, 9), 11)], [disagree(105, "8-9 of 11", "12", write("8-9 of 12"))]),
        ([sown(), sown(4, 1, P1), up(5, 8, 13)], []),
        ([sown(), sown(4, 1, P1), up(5, 8, 10)], []),
        ([sown(), sown(4, 1, P1), up(5, 8, 12)], [disagree(105, "8 of 12", "13", write("8 of 13"))]),
        ([sown(), sown(3, 3), sown(4, 1, P1), up(5, 8, 10)], []),
        ([sown(), sown(3, 3), sown(4, 1, P1), up(5, 8, 25)], []),
        ([sow(0, counted(12), each=False), sown(4, 1, P1), up(5, 8, 10)], []),
        (
            [sown(), up(3, 8, 12), up(5, 8, 11), up(6, 13, 13), up(7, 8, 10)],
            [
                disagree(105, "8 of 11", "12", write("8 of 12")),
                disagree(107, "8 of 10", "12", write("8 of 12")),
            ],
        ),
    ],
)
def test_seeds_of_a_count(rows: list[Row], expected: list[Finding]) -> None:
    """The seeds of a count are those of the last sowing in each spot, or of all sowings there."""
    assert checked(seeds_disagree, run(*rows)) == expected


def fewer(line: int, found: str, before: str, day: int, where: str = "") -> Finding:
    """Fewer seedlings than before."""
    return Finding(
        "count-went-down",
        place(line),
        f"{before} had sprouted{where} on day {day}; it cannot be {found} on day {line - 100}",
        "write how many have sprouted since sowing, those lost since included",
        found,
        f"{before} or more",
    )


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([up(5, 8), up(7, 8)], []),
        ([up(5, 8), up(7, 7)], [fewer(107, "7", "8", 5)]),
        ([up(5, 8), rise(7, seeds(6, 7))], [fewer(107, "6-7", "8", 5)]),
        ([up(5, 8), rise(7, seeds(6, 8))], []),
        ([up(5, 8), rise(7, seeds(6, None))], []),
        ([rise(5, seeds(8, 9)), up(7, 8)], []),
        ([rise(5, seeds(8, 9)), up(7, 7)], [fewer(107, "7", "8-9", 5)]),
        ([up(5, 8), rise(6, None), up(7, 7)], [fewer(107, "7", "8", 5)]),
        ([up(5, 8), up(6, 7), up(7, 7), up(8, 6)], [fewer(106, "7", "8", 5), fewer(108, "6", "7", 7)]),
        (
            [up(5, 3, which=P1), up(6, 2, which=named("P2")), up(7, 2, which=P1)],
            [fewer(107, "2", "3", 5, " in `P1`")],
        ),
        ([up(5, 8), sown(6, 3, P1), up(7, 7)], []),
        ([up(5, 8), sown(5, 3, P1), up(7, 7)], [fewer(107, "7", "8", 5)]),
        ([up(5, 8), sown(7, 3, P1), up(7, 7)], []),
        ([up(5, 8), sown(8, 3, P1), up(7, 7)], [fewer(107, "7", "8", 5)]),
        (
            [up(5, 3, which=P1), sown(6, 3, named("P2")), up(7, 2, which=P1)],
            [fewer(107, "2", "3", 5, " in `P1`")],
        ),
        (
            [up(5, 8), sown(6, 3, P1), up(7, 7), up(8, 6)],
            [fewer(108, "6", "7", 7)],
        ),
    ],
)
def test_falling_count(rows: list[Row], expected: list[Finding]) -> None:
    """A count of seedlings is no less than the last one of its spots, unless one of them was sown in between."""
    assert checked(sprouted_went_down, run(sown(), *rows)) == expected


def thin(line: int, left: int, up: int, spot: str = "any spot") -> Finding:
    """Thinned to more than came up."""
    return Finding(
        "thinned-to-more",
        place(line),
        f"thinned to {left} in a spot on day {line - 100}, but no more than {up} came up in {spot}",
        f"write `thin_to: {up}` or fewer" if up else "remove `thin_to`",
        f"{left}",
        f"at most {up}",
    )


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([sown(), thinned(9, 3, everyone())], []),
        ([sown(), thinned(9, 4, everyone())], [thin(109, 4, 3)]),
        ([sown(), thinned(9, 4, P1)], [thin(109, 4, 3, "`P1`")]),
        ([sown(), thinned(9, 4, named("P1", "P2"))], [thin(109, 4, 3)]),
        ([sown(), thinned(9, 4, Which(("P1",), word="left"))], [thin(109, 4, 3)]),
        ([sown(), sown(0, 4, P1), thinned(9, 4, everyone())], []),
        ([sown(0, 3, P1), thinned(9, 4, everyone())], []),
        ([sow(0, seeds(2, 3)), thinned(9, 3, everyone())], []),
        ([sow(0, seeds(2, None)), thinned(9, 9, everyone())], []),
        ([sow(0, counted(12), each=False), thinned(9, 9, everyone())], []),
        ([thinned(9, 9, everyone())], []),
        ([up(0, 1, which=P1), thinned(9, 2, P1)], [thin(109, 2, 1, "`P1`")]),
        ([sown(), up(5, 2, which=P1), thinned(9, 2, P1)], []),
        ([sown(), up(5, 2, which=P1), thinned(9, 3, P1)], [thin(109, 3, 2, "`P1`")]),
        ([sown(), up(5, 0, which=P1), thinned(9, 1, P1)], [thin(109, 1, 0, "`P1`")]),
        ([sown(), up(5, 2), thinned(9, 3, P1)], [thin(109, 3, 2, "`P1`")]),
        ([sown(), up(10, 2, which=P1), thinned(9, 3, P1)], []),
        ([sown(), up(9, 2, which=P1), thinned(9, 3, P1)], [thin(109, 3, 2, "`P1`")]),
        ([sown(), up(5, 1, which=P1), up(6, 2, which=P1), thinned(9, 2, P1)], []),
        ([sown(), up(5, 2, which=P1), up(6, 4), thinned(9, 3, P1)], [thin(109, 3, 2, "`P1`")]),
        ([sown(), up(5, 1, which=P1), sown(6, 3, P1), thinned(9, 3, P1)], []),
        ([sown(), up(6, 1, which=P1), sown(6, 3, P1), thinned(9, 3, P1)], [thin(109, 3, 1, "`P1`")]),
        ([sown(), up(5, 1, which=P1), sown(10, 3, P1), thinned(9, 3, P1)], [thin(109, 3, 1, "`P1`")]),
        ([sown(), sown(6, 5, P1), thinned(9, 6, P1)], [thin(109, 6, 5, "`P1`")]),
        ([sown(), sown(10, 5, P1), thinned(9, 4, P1)], [thin(109, 4, 3, "`P1`")]),
        ([sown(), sown(9, 5, P1), thinned(9, 5, P1)], []),
        ([sown(), done(Deed.THIN, 7, P1), done(Deed.THIN, 7, P1, amount=unknown(Dimension.COUNT)),
          thinned(8, 4, P1), thinned(9, 3, P1), thinned(10, 5, P1)],
         [thin(108, 4, 3, "`P1`"), thin(110, 5, 3, "`P1`")]),
        ([sown(), done(Deed.THIN, 9, None, amount=counted(4))], [thin(109, 4, 3)]),
    ],
)  # fmt: skip
def test_thinning(rows: list[Row], expected: list[Finding]) -> None:
    """As many may be left in a spot as were last sown there, and as came up since, in at least one of the spots."""
    assert checked(thinned_to_more, run(*rows)) == expected


def test_seeds_of_other_spots_bound_nothing() -> None:
    """Of five seeds in two spots all may be in one; that nobody counted those of a third changes nothing of it."""
    together = done(Deed.SOW, 0, named("P1", "P2"), amount=counted(5))
    uncounted = done(Deed.SOW, 0, named("P3"), amount=unknown(Dimension.COUNT), each=True)
    found = [by(too_many_sprouted, run(together, uncounted, up(5, n, which=named("P1")))) for n in (5, 6)]

    assert [len(lines) for lines in found] == [0, 1]
