"""Heights that fall without a reason."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Reading, Which
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.judge.plant_readings import shrunk, tenfold
from tests.judge.builders import (
    Row,
    by,
    checked,
    day,
    done,
    height,
    named,
    none,
    picked,
    place,
    run,
    some_of,
    sown,
)

SHORTENING = {Deed.PRUNE, Deed.TRAIN, Deed.TRANSPLANT, Deed.TROUBLE, Deed.LOST, Deed.SOW}


def test_shorter() -> None:
    """Plants that got shorter without a cut share a finding."""
    made = run(sown(), height(20, 24, "P1", "P2"), height(27, 19, "P1", "P2"))

    assert by(shrunk, made) == [
        (
            "e.yaml:127:5: warning[shrunk]: `P1` and `P2` got shorter: 24 cm on day 20, 19 cm on day 27 "
            "(check both heights, or write what was cut under `prune`)"
        )
    ]


@pytest.mark.parametrize(
    "row",
    [
        done(Deed.PRUNE, 24, named("P1")),
        done(Deed.PRUNE, 27, some_of(2, 4)),
        done(Deed.TRAIN, 24),
        done(Deed.TROUBLE, 24, named("P1")),
        picked(24, 20, named("P1")),
    ],
)
def test_shorter_after_a_cut(row: Row) -> None:
    """A cut, a bend, trouble or a pick that may be the plant's explains that it is shorter."""
    assert by(shrunk, run(sown(), height(20, 24, "P1"), row, height(27, 19, "P1"))) == []


def test_shorter_after_another_plants_cut() -> None:
    """A cut of another plant explains nothing."""
    made = run(sown(), height(20, 24, "P1"), picked(24, 20, named("P2")), height(27, 19, "P1"))

    assert len(by(shrunk, made)) == 1


@pytest.mark.parametrize("later", [24, 22, 23])
def test_about_as_tall(later: float) -> None:
    """Within a tenth a plant is as tall as before."""
    assert by(shrunk, run(sown(), height(20, 24, "P1"), height(27, later, "P1"))) == []


def test_small_plant_within_its_step() -> None:
    """A fall of one step says nothing, however small the plant."""
    assert by(shrunk, run(sown(), height(20, 4, "P1"), height(27, 3, "P1"))) == []


def test_measured_to_another_place() -> None:
    """Heights to the leaf and to the stem tip are two series."""
    made = run(sown(), height(20, 24, "P1"), height(27, 15, "P1", at="stem tip"))

    assert by(shrunk, made) == []


def shorter(line: int, plants: str, fall: str, found: str, least: str, to: str = "") -> Finding:
    """Plants that got shorter."""
    return Finding(
        "shrunk",
        place(line),
        f"{plants} got shorter{to}: {fall}",
        "check both heights, or write what was cut under `prune`",
        found,
        f"{least} or more",
    )


def tall(when: int | tuple[int, int], least: float, most: float | None, step: float = 1) -> Reading:
    """A height of P1, as a range."""
    on = day(when)
    value = Quantity(least, most, Dimension.LENGTH, step=step)
    return height(on.first, least, "P1")._replace(day=on, value=value)


def fall(found: str, least: str = "30 cm", since: str = "on day 20", until: str = "on day 27") -> Finding:
    """A fall of P1 to a reading on day 27."""
    return shorter(127, "`P1`", f"{least} {since}, {found} {until}", found, least)


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([tall(20, 30, 30), tall(27, 27, 27)], []),
        ([tall(20, 30, 30), tall(27, 26.9, 26.9)], [fall("26.9 cm")]),
        ([tall(20, 30, 30), tall(27, 20, 27)], []),
        ([tall(20, 30, 30), tall(27, 20, 26)], [fall("20-26 cm")]),
        ([tall(20, 30, 30), tall(27, 20, None)], []),
        ([tall(20, 30, 40), tall(27, 27, 27)], []),
        ([tall(20, 30, 40), tall(27, 26, 26)], [fall("26 cm", "30-40 cm")]),
        ([tall(20, 8, 8), tall(27, 7, 7)], []),
        ([tall(20, 8, 8, 0.1), tall(27, 7, 7, 0.1)], [fall("7 cm", "8 cm")]),
        ([tall(20, 8, 8, 0.1), tall(27, 7, 7, 1)], []),
        ([tall(20, 8, 8, 1), tall(27, 7, 7, 0.1)], []),
        ([tall((20, 26), 30, 30), tall(27, 20, 20)], [fall("20 cm", since="on days 20-26")]),
        ([tall((20, 27), 30, 30), tall(27, 20, 20)], []),
        ([tall(27, 30, 30), tall(27, 20, 20)], []),
        ([tall(20, 30, 30)._replace(together=True), tall(27, 20, 20)], []),
        ([tall(20, 30, 30), tall(27, 20, 20)._replace(together=True)], []),
        ([tall(20, 30, 30)._replace(name="spread"), tall(27, 20, 20)], []),
        ([tall(20, 30, 30), height(27, 20, "P2")], []),
    ],
)
def test_falls(rows: list[Row], expected: list[Finding]) -> None:
    """A fall is more than a tenth, more than both steps, certain whatever the ranges, and between two days."""
    assert checked(shrunk, run(sown(), *rows)) == expected


@pytest.mark.parametrize(
    ("row", "explained"),
    [
        *((done(deed, 24, named("P1")), deed in SHORTENING) for deed in sorted(Deed)),
        (done(Deed.PRUNE, 19, named("P1")), False),
        (done(Deed.PRUNE, 20, named("P1")), True),
        (done(Deed.PRUNE, 27, named("P1")), True),
        (done(Deed.PRUNE, 28, named("P1")), False),
        (done(Deed.PRUNE, (18, 20), named("P1")), True),
        (done(Deed.PRUNE, (27, 30), named("P1")), True),
        (done(Deed.PRUNE, 24, named("P2")), False),
        (done(Deed.PRUNE, 24, some_of(1, 4)), True),
        (done(Deed.PRUNE, 24, Which(word="some")), True),
        (done(Deed.PRUNE, 24, none()), False),
        (done(Deed.PRUNE, 24, None), True),
        (picked(20, 9, named("P1")), True),
        (picked(19, 9, named("P1")), False),
        (picked(24, 9, named("P2")), False),
        (picked(24, 9, some_of(1, 4)), True),
        (Routine("prune", day(24), 24, place(124)), True),
        (Routine("prune", day(28), 28, place(128)), False),
        (Routine("feed", day(24), 24, place(124)), False),
        (done(Deed.TROUBLE, 10, named("P1"), until=day(19)), False),
        (done(Deed.TROUBLE, 10, named("P1"), until=day(20)), True),
        (done(Deed.TROUBLE, 10, named("P2"), until=day(20)), False),
        (done(Deed.TROUBLE, 28, named("P1"), until=day(30)), False),
        (done(Deed.TROUBLE, 10, named("P1")), False),
    ],
)
def test_explanations(row: Row, explained: bool) -> None:
    """A fall is explained by an event that shortens plants, from the day of one reading to that of the other."""
    made = run(sown(), height(20, 30, "P1"), row, height(27, 20, "P1"))

    assert checked(shrunk, made) == ([] if explained else [fall("20 cm")])


def test_several_falls() -> None:
    """Each reading is compared with the last one to the same place; plants of the same two readings share a finding."""
    rows = (
        height(20, 30, "P1", "P2", "P3"),
        height(21, 50, "P1", at="stem tip"),
        height(27, 20, "P1", "P2"),
        height(28, 30, "P1"),
        height(29, 25, "P3"),
        height(30, 20, "P1", at="stem tip"),
        height(31, 20, "P1"),
    )

    first = "30 cm on day 20, "
    assert checked(shrunk, run(sown(), *rows)) == [
        shorter(127, "`P1` and `P2`", first + "20 cm on day 27", "20 cm", "30 cm"),
        shorter(131, "`P1`", "30 cm on day 28, 20 cm on day 31", "20 cm", "30 cm"),
        shorter(130, "`P1`", "50 cm on day 21, 20 cm on day 30", "20 cm", "50 cm", " to the stem tip"),
        shorter(129, "`P3`", first + "25 cm on day 29", "25 cm", "30 cm"),
    ]


def test_tenfold() -> None:
    """A height ten times that of the other plants, and of its own before, is a warning with a tenth of it."""
    before = [height(20, 3, plant) for plant in ("P1", "P2", "P3")]
    made = run(sown(), *before, height(27, 4, "P1"), height(27, 38, "P2"), height(27, 4.5, "P3"))

    assert by(tenfold, made) == [
        (
            "e.yaml:127:5: warning[tenfold]: height 38 cm of `P2` on day 27, and 4-4.5 cm of the others: is it 3.8 cm? "
            "(check the number: its decimal sign may be missing)"
        )
    ]


def test_tenfold_of_seedlings() -> None:
    """A few millimetres are told as well, of plants that were not measured before."""
    made = run(sown(), height(9, 0.4, "P1"), height(9, 3.8, "P2"), height(9, 0.45, "P3"))

    assert [line.partition(" (")[0] for line in by(tenfold, made)] == [
        "e.yaml:109:5: warning[tenfold]: height 3.8 cm of `P2` on day 9, and 0.4-0.45 cm of the others: is it 0.38 cm?"
    ]


@pytest.mark.parametrize(
    "rows",
    [
        [height(27, 4, "P1"), height(27, 38, "P2")],  # of two plants either may be the odd one
        [
            height(20, 30, "P2"),
            height(27, 4, "P1"),
            height(27, 38, "P2"),
            height(27, 4.5, "P3"),
        ],  # it was tall
        [height(27, 4, "P1"), height(27, 18, "P2"), height(27, 4.5, "P3")],  # a tenth of it is too small
    ],
)
def test_taller_than_the_others(rows: list[Row]) -> None:
    """A plant that is taller than others, and not ten times as tall at once, is none."""
    assert by(tenfold, run(sown(), *rows)) == []
