"""The files of one photo: each size made from the next larger one, as WebP, and one JPEG.

In: the photo, upright and in sRGB. Out: `Encoded` sizes with their bytes, which hold no metadata, and the average colour.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass

from PIL import Image

from sitegen.photos.sizes import FALLBACK, JPEG, WEBP, sizes_of

__all__ = ["Encoded", "average", "encoded"]


@dataclass(frozen=True, slots=True)
class Encoded:
    """One file."""

    media: str
    width: int
    height: int
    body: bytes


def encoded(image: Image.Image) -> tuple[Encoded, ...]:
    """The files from small to large, the fallback last."""
    scaled = tuple(_cascade(image))
    fallback = next((s for s in scaled if s.width >= FALLBACK), scaled[-1])
    return (
        *(_file(size, "image/webp", "WEBP", WEBP) for size in scaled),
        _file(fallback, "image/jpeg", "JPEG", JPEG),
    )


def average(image: Image.Image) -> str:
    """The average colour as `#rrggbb`."""
    red, green, blue = image.resize((1, 1), Image.Resampling.BOX).tobytes()
    return f"#{red:02x}{green:02x}{blue:02x}"


def _cascade(image: Image.Image) -> Iterator[Image.Image]:
    """The sizes from small to large; each reduced from the next larger, which costs a fraction of starting over."""
    made: list[Image.Image] = []
    for size in reversed(sizes_of(image.size)):
        image = image if image.size == size else image.resize(size, Image.Resampling.LANCZOS)
        made.append(image)
    return reversed(made)


def _file(
    image: Image.Image, media: str, name: str, choices: dict[str, int] | dict[str, int | bool]
) -> Encoded:
    body = io.BytesIO()
    image.save(body, name, **choices)
    return Encoded(media, image.width, image.height, body.getvalue())
