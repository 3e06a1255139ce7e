"""Heights that fall without a reason."""

from __future__ import annotations

import pytest

from sitegen.core.records.rows import Deed
from sitegen.judge.readings.heights import shrunk
from tests.judge.builders import Row, by, done, height, named, picked, run, some_of, sown


def test_shorter() -> None:
    """Plants that got shorter without a cut are said together."""
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
