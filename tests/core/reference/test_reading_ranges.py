"""Published bands of readings."""

from __future__ import annotations

import pytest

from sitegen.core.records.setup import Crop
from sitegen.core.reference.reading_ranges import PHYSICAL, SOLUTIONS, USUAL, Evidence, solution_of


def test_usual_lies_inside_physical() -> None:
    """What is usual can be, and is measured in the same dimension."""
    for name, band in USUAL.items():
        outer = PHYSICAL[name]
        assert (outer.dimension, outer.low <= band.low < band.high <= outer.high) == (band.dimension, True)


def test_errors_rest_on_no_memory() -> None:
    """What is from memory, or was read second-hand, never makes an error."""
    weak = {Evidence.MEMORY, Evidence.SECOND_HAND}

    assert [band.reading for band in PHYSICAL.values() if band.evidence in weak] == []


@pytest.mark.parametrize("row", SOLUTIONS, ids=lambda row: row.crop)
def test_bands_of_crops_are_possible(row: object) -> None:
    """Every crop's band lies inside what is usual with any crop, and is wider than nothing."""
    assert isinstance(row, type(SOLUTIONS[0]))
    for band, (low, high) in ((USUAL["ec"], row.usual_ec), (USUAL["ph"], row.usual_ph)):
        assert band.low <= low < high <= band.high


@pytest.mark.parametrize(
    ("crop", "row"),
    [
        (Crop("x", "Something", "leafy", "Lactuca sativa var. crispa"), "lettuce"),
        (Crop("x", "Something", "fruiting", "Capsicum annuum"), "pepper"),
        (Crop("bush-beans", "Bush beans", "legume"), "bean"),
        (Crop("x", "Cherry tomato", "fruiting"), "tomato"),
        (Crop("bok-choy", "Bok choy", "leafy"), "pak-choi"),
    ],
)
def test_crop_with_a_row(crop: Crop, row: str) -> None:
    """A crop is found by its botanical name, or by the last word of its id or name."""
    found = solution_of(crop)

    assert found is not None
    assert found.crop == row


@pytest.mark.parametrize(
    "crop",
    [
        Crop("x", "Tomato leaf mint", "herb"),
        Crop("lettuce", "Lettuce", "leafy", "Lactuca indica"),
        Crop("x", "Beanstalk", "legume"),
    ],
)
def test_crop_without_a_row(crop: Crop) -> None:
    """A crop that only resembles a row has none; the botanical name decides where there is one."""
    assert solution_of(crop) is None


def test_single_ph() -> None:
    """One pH in the table stands for half a unit either way, and what suits most crops is usual with all."""
    marrow = next(row for row in SOLUTIONS if row.crop == "marrow")
    pak_choi = next(row for row in SOLUTIONS if row.crop == "pak-choi")

    assert (marrow.usual_ph, pak_choi.usual_ph) == ((5.5, 6.5), (5.5, 7.5))


def test_sources_that_disagree() -> None:
    """Where another source gives another band, both are usual."""
    lettuce = next(row for row in SOLUTIONS if row.crop == "lettuce")

    assert lettuce.usual_ec == (0.8, 1.8)
