"""The files of one photo: each size made from the next larger one, as WebP, and one JPEG.

In: the photo, upright and in sRGB. Out: `Encoded` sizes with their bytes, which hold no metadata, and the average colour.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from PIL import Image

from sitegen.photos.sizes import JPEG, WEBP, planned, sizes_of

__all__ = ["Encoded", "average", "encoded"]

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
