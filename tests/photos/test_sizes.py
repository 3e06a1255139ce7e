"""The sizes that a photo is published in."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.photos.encode import TALLEST, WIDTHS, sizes_of


@pytest.mark.parametrize(
    ("size", "wanted"),
    [
        ((4000, 3000), ((480, 360), (960, 720), (1600, 1200))),
        ((3000, 4000), ((480, 640), (960, 1280), (1600, 2133))),
        ((1600, 1200), ((480, 360), (960, 720), (1600, 1200))),
        ((1100, 700), ((480, 305), (1100, 700))),  # 960 would save nothing
        ((480, 480), ((480, 480),)),
        ((1, 1), ((1, 1),)),
        ((1080, 9600), ((360, 3200),)),
    ],
)
def test_sizes(size: tuple[int, int], wanted: tuple[tuple[int, int], ...]) -> None:
    """A few widths, none larger than the photo, and none absurdly tall."""
    assert sizes_of(size) == wanted


@given(st.integers(1, 30_000), st.integers(1, 30_000))
def test_sizes_are_sizes_of_the_photo(width: int, height: int) -> None:
    """Any photo has sizes that grow, stay within bounds, and keep its proportions to a pixel."""
    sizes = sizes_of((width, height))

    assert list(sizes) == sorted(set(sizes))
    for w, h in sizes:
        assert 1 <= w <= min(width, WIDTHS[-1])
        assert 1 <= h <= min(height, TALLEST)
        assert min(w, h) == 1 or abs(w / h - width / height) <= (width / height) * (1 / w + 1 / h)
