"""Decoding: an upright image in sRGB, no larger than it is published, without metadata.

In: an open file. Out: a Pillow image; `PhotoError` where the file cannot be decoded.
"""

from __future__ import annotations

import io
import math
import threading
from typing import IO

from PIL import Image, ImageCms

from sitegen.core.files.photo_formats import PhotoError, open_header
from sitegen.photos.encode import WIDTHS, fitted

ORIENTATION = 0x0112  # Exif 3.0 (CIPA DC-008); 5 to 8 lie on their side
LARGE = 40_000_000  # pixels; of such photos one at a time is in memory
WHITE = (255, 255, 255, 255)
CLEAR = ("RGBA", "LA", "PA", "RGBa", "La")

_large = threading.Lock()


def decoded(file: IO[bytes]) -> Image.Image:
    """The upright photo in sRGB, at most as large as the largest size published."""
    image = open_header(file)
    try:
        _draft(image)
        if image.width * image.height <= LARGE:
            return _published(image)
        with _large:
            return _published(image)
    except MemoryError:
        raise
    except Exception as error:  # decoders raise anything on broken files
        raise PhotoError("photo-unreadable", "it is cut short or broken") from error


def thumbnail(file: IO[bytes]) -> tuple[tuple[int, int], Image.Image] | None:
    """The size at which a JPEG will be published, and the smallest image that its decoder can give.

    It takes a twentieth of the time of `decoded`. None for other formats, which cannot be decoded in part.
    """
    image = open_header(file)
    if image.format != "JPEG":
        return None
    try:
        size = fitted(_turned(image, image.size), WIDTHS[-1])
        image.draft("RGB", (1, 1))
        return size, image.convert("RGB")
    except Exception as error:  # as above
        raise PhotoError("photo-unreadable", "it is cut short or broken") from error


def upright_size(file: IO[bytes]) -> tuple[int, int]:
    """The size of a photo as it will be shown, from its header alone."""
    image = open_header(file)
    return _turned(image, image.size)


def _draft(image: Image.Image) -> None:
    """Let a JPEG be decoded at a half, a quarter or an eighth, where that is still large enough."""
    width, height = _target(image)
    scale = max(width / image.width, height / image.height)
    image.draft(None, (math.ceil(image.width * scale), math.ceil(image.height * scale)))


def _target(image: Image.Image) -> tuple[int, int]:
    """The largest size published, as the image is stored."""
    return _turned(image, fitted(_turned(image, image.size), WIDTHS[-1]))


def _turned(image: Image.Image, size: tuple[int, int]) -> tuple[int, int]:
    """A size with width and height exchanged where the image lies on its side."""
    return (size[1], size[0]) if _orientation(image) >= 5 else size


def _orientation(image: Image.Image) -> int:
    try:
        return int(Image.Image.getexif(image).get(ORIENTATION, 1))
    except Exception:  # broken Exif: as it is stored
        return 1


def _published(image: Image.Image) -> Image.Image:
    image.load()
    profile = image.info.get("icc_profile")
    small = eight_bits(image).resize(_target(image), Image.Resampling.LANCZOS, reducing_gap=2.0)
    turn = _TURNS.get(_orientation(image))
    upright = small if turn is None else small.transpose(turn)
    plain = _in_srgb(_opaque(upright), profile)
    plain.info.clear()  # comments and profiles would be written along
    return plain


def eight_bits(image: Image.Image) -> Image.Image:
    """An image in a mode that can be resized: 16 bits scaled down, palettes resolved."""
    if image.mode.startswith("I;16") or image.mode == "I":
        return image.convert("I").point(lambda value: value * (1 / 257)).convert("L")
    if image.mode == "F":
        return image.convert("L")
    if image.mode in ("P", "PA"):
        return image.convert("RGBA" if image.mode == "PA" or "transparency" in image.info else "RGB")
    if image.mode in ("RGB", "L", "1") and "transparency" in image.info:
        return image.convert("RGBA")
    return image.convert("L") if image.mode == "1" else image


def _opaque(image: Image.Image) -> Image.Image:
    if image.mode not in CLEAR:
        return image
    ground = Image.new("RGBA", image.size, WHITE)
    ground.alpha_composite(image.convert("RGBA"))
    return ground.convert("RGB")


def _in_srgb(image: Image.Image, profile: object) -> Image.Image:
    """An image in sRGB, without a profile: without one, sRGB is assumed (CSS Color 4, section 4.1)."""
    if not isinstance(profile, bytes) or not profile:
        return image.convert("RGB")
    try:
        return _converted(image, ImageCms.ImageCmsProfile(io.BytesIO(profile)))
    except (ImageCms.PyCMSError, OSError, ValueError):  # a profile of other channels than the picture has
        return image.convert("RGB")


def _converted(image: Image.Image, profile: ImageCms.ImageCmsProfile) -> Image.Image:
    if "sRGB" in ImageCms.getProfileDescription(profile) and image.mode == "RGB":
        return image
    converted = ImageCms.profileToProfile(image, profile, ImageCms.createProfile("sRGB"), outputMode="RGB")
    return image.convert("RGB") if converted is None else converted


_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
