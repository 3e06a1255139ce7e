"""The sizes that a photo is published in."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from sitegen.photos.encode import JPEG, TALLEST, WEBP, WIDTHS, average, encoded, fitted, planned, sizes_of
from tests.photos.pictures import picture


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


@pytest.mark.parametrize(
    ("size", "width", "wanted"),
    [
        ((1000, 500), 1000, (1000, 500)),
        ((1000, 500), 999, (999, 500)),
        ((1000, 500), 2000, (1000, 500)),
        ((1000, 3200), 1000, (1000, 3200)),
        ((1000, 6400), 1000, (500, 3200)),
        ((30_000, 10), 480, (480, 1)),
        ((10, 30_000), 480, (1, 3200)),
    ],
)
def test_fitted(size: tuple[int, int], width: int, wanted: tuple[int, int]) -> None:
    """A size shrinks to the width and to the greatest height, and to no less than a pixel."""
    assert fitted(size, width) == wanted


@pytest.mark.parametrize(
    ("width", "widths"), [(575, (575,)), (576, (480, 576)), (1151, (480, 1151)), (1152, (480, 960, 1152))]
)
def test_sizes_near_the_largest(width: int, widths: tuple[int, ...]) -> None:
    """A size is made where the largest is a fifth wider at least."""
    assert tuple(w for w, _ in sizes_of((width, 100))) == widths


@pytest.mark.parametrize(("width", "fallback"), [(400, 400), (959, 959), (1152, 960), (4000, 960)])
def test_fallback(width: int, fallback: int) -> None:
    """The one JPEG is the smallest file of 960 pixels and more, else the largest there is, and comes last."""
    *files, last = planned((width, 100))

    assert [media for media, _ in files] == ["image/webp"] * len(sizes_of((width, 100)))
    assert (last[0], last[1][0]) == ("image/jpeg", fallback)


def test_encoded_files() -> None:
    """Each planned file is encoded in its format and size, with the qualities that were chosen by eye."""
    files = encoded(picture((1152, 100)))

    assert [(f.media, (f.width, f.height)) for f in files] == list(planned((1152, 100)))
    for file in files:
        image = Image.open(io.BytesIO(file.body))
        assert (f"image/{(image.format or '').lower()}", image.size) == (
            file.media,
            (file.width, file.height),
        )
    assert ("progressive" in Image.open(io.BytesIO(files[-1].body)).info, WEBP, JPEG) == (
        True,
        {"quality": 78, "method": 2},
        {"quality": 80, "progressive": True},
    )


@pytest.mark.parametrize(("colour", "code"), [((0, 9, 255), "#0009ff"), ((16, 171, 205), "#10abcd")])
def test_average(colour: tuple[int, int, int], code: str) -> None:
    """The average colour is in hexadecimal digits."""
    assert average(Image.new("RGB", (9, 7), colour)) == code
