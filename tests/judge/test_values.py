"""Values of a run that are compared with a range."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed, Which
from sitegen.core.records.setup import LampUse, Tub
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.judge.ranges import impossible_value, unusual_value
from tests.judge.builders import (
    TUB,
    Row,
    by,
    checked,
    day,
    done,
    everyone,
    height,
    lit,
    ph,
    picked,
    place,
    read,
    run,
    setup,
    some_of,
    sown,
    watered,
)

MEND = "check the number and its unit"


def test_lamp_setting_repeated() -> None:
    """A lamp setting that is repeated is one value."""
    assert len(by(unusual_value, run(sown(), lit(20, 20), lit(30, 20)))) == 1


def impossible(line: int, said: str, least: str, most: str, found: str, mend: str = MEND) -> Finding:
    """A value that cannot be."""
    message = f"{said} on day {line - 100} cannot be: it lies between {least} and {most}"
    return Finding("impossible-value", place(line), message, mend, found, f"{least}-{most}")


def test_lamps_too_far_away() -> None:
    """The distance of a lamp is a value; each setting of a lamp counts once, until it changes."""
    far, near = (LampUse(distance=exactly(cm, Dimension.LENGTH, 1)) for cm in (1001, 30))
    rows = [replace(lit(when, 14), use=use) for when, use in ((1, far), (2, far), (3, near), (4, far))]
    other = replace(lit(4, 14), use=far, tub="other")

    assert [f.source.line for f in checked(impossible_value, run(sown(), *rows, other))] == [101, 104, 104]
    assert checked(impossible_value, run(sown(), rows[0])) == [
        impossible(101, "lamp distance 1001 cm", "0", "1000 cm", "1001 cm")
    ]


def test_every_value() -> None:
    """Readings come first, then lamps, picks and water; each value outside is a finding."""
    rows = watered(20, 1001), picked(21, 60_000), lit(22, 25), ph(23, 15), ph(24, 6), ph(25, 15)
    more = (
        picked(26, 1),
        picked(27, 60_000),
        watered(28, 1),
        done(Deed.CHANGE, 29, tub="tub"),
        watered(30, 1001),
    )

    lines = [f.source.line for f in checked(impossible_value, run(sown(), *rows, *more))]
    assert lines == [123, 125, 122, 121, 127, 120, 130]
    odd = run(sown(), ph(23, 9), ph(24, 6), ph(25, 15), ph(26, 9))
    assert [f.source.line for f in checked(unusual_value, odd)] == [123, 126]


TWO_TUBS = (Tub("left", TUB), Tub("right", TUB))


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (ph(20, 15, tub="left"), "pH 15 of `left` on day 20"),
        (height(20, 1001, "P1", "P2"), "height 1001 cm of `P1` and `P2` on day 20"),
        (read("height", 20, exactly(1001, Dimension.LENGTH, 1), everyone()), "height 1001 cm of all plants on day 20"),
        (read("height", 20, exactly(1001, Dimension.LENGTH, 1), Which(("P1",), word="big")),
         "height 1001 cm of `big` on day 20"),
        (read("height", 20, exactly(1001, Dimension.LENGTH, 1), some_of(2, 4)), "height 1001 cm of `2 of 4` on day 20"),
        (picked(20, 60_000, some_of(2, 4)), "a pick of 60000 g from `2 of 4` on day 20"),
        (watered(20, 1001), "water added 1001000 ml on day 20"),
        (lit(20, 25), "daily light of 25 h on day 20"),
        (ph(20, 15, tub="left")._replace(day=day((20, 22))), "pH 15 of `left` on days 20-22"),
        (ph(20, 15, tub="left")._replace(day=Day(20, 20, about=True)), "pH 15 of `left` about day 20"),
    ],
)  # fmt: skip
def test_whose_value(row: Row, said: str) -> None:
    """A value is described by its name, amount, plants or tub, and day; a tub is named where there are several."""
    (finding,) = checked(impossible_value, run(sown(), row, head=setup(tubs=TWO_TUBS)))

    assert finding.message.partition(" cannot be")[0] == said
