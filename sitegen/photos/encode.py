"""Sizes and encoding of published photos.

In: the size of an upright photo, or the decoded photo. Out: the sizes, never larger than the photo; its encoded files.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from PIL import Image

# A column of text is some 700 px wide, a phone 360-430, each up to twice as dense.
WIDTHS = (480, 960, 1600)
TALLEST = 3200  # twice the widest; and WebP ends at 16,383, so that a long screenshot must shrink anyway
NEAR = 1.2  # a size so little smaller than the largest saves nothing worth a file

# The fallback is for readers of feeds, previews of links and old browsers: one file, not one a width.
FALLBACK = 960

# 78: no blocks in leaves beside the original at arm's length (by eye). Method 2: half the time of 4 for 3-7 % more
# bytes. On drawn and on noisy pictures of 1600 x 1200, 47-265 ms against 137-455.
WEBP: dict[str, int] = {"quality": 78, "method": 2}
# Progressive: 1-8 % smaller than baseline with its own tables, and shows something sooner.
JPEG: dict[str, int | bool] = {"quality": 80, "progressive": True}

PARAMETERS = {
    "widths": WIDTHS,
    "tallest": TALLEST,
    "near": NEAR,
    "fallback": FALLBACK,
    "webp": WEBP,
    "jpeg": JPEG,
}


def fitted(size: tuple[int, int], width: int) -> tuple[int, int]:
    """The size at most `width` wide and `TALLEST` high, in proportion; never larger than it was."""
    scale = min(1.0, width / size[0], TALLEST / size[1])
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


def sizes_of(size: tuple[int, int]) -> tuple[tuple[int, int], ...]:
    """The sizes to publish, from small to large."""
    largest = fitted(size, WIDTHS[-1])
    smaller = (fitted(size, width) for width in WIDTHS[:-1] if width * NEAR <= largest[0])
    return (*smaller, largest)


def planned(size: tuple[int, int]) -> tuple[tuple[str, tuple[int, int]], ...]:
    """Media type and size of each file of a photo of this size: from small to large, the fallback last."""
    sizes = sizes_of(size)
    fallback = next((each for each in sizes if each[0] >= FALLBACK), sizes[-1])
    return (*(("image/webp", each) for each in sizes), ("image/jpeg", fallback))


_FORMATS: dict[str, tuple[str, Mapping[str, int | bool]]] = {
    "image/webp": ("WEBP", WEBP),
    "image/jpeg": ("JPEG", JPEG),
}


@dataclass(frozen=True, slots=True)
class Encoded:
    """One file."""

    media: str
    width: int
    height: int
    body: bytes


def encoded(image: Image.Image) -> tuple[Encoded, ...]:
    """The files from small to large, the fallback last."""
    scaled = {each.size: each for each in _cascade(image)}
    return tuple(_file(scaled[size], media) for media, size in planned(image.size))


def average(image: Image.Image) -> str:
    """The average colour as `#rrggbb`."""
    red, green, blue = image.resize((1, 1), Image.Resampling.BOX).tobytes()
    return f"#{red:02x}{green:02x}{blue:02x}"


def _cascade(image: Image.Image) -> Iterator[Image.Image]:
    """The sizes from large to small; each reduced from the next larger, which costs a fraction of starting over."""
    for size in reversed(sizes_of(image.size)):
        image = image if image.size == size else image.resize(size, Image.Resampling.LANCZOS)
        yield image


def _file(image: Image.Image, media: str) -> Encoded:
    name, choices = _FORMATS[media]
    body = io.BytesIO()
    image.save(body, name, **choices)
    return Encoded(media, image.width, image.height, body.getvalue())
