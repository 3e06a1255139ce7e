"""The picture formats that are read, and the findings about a picture.

In: an open file, or its name. Out: a Pillow image of which only the header was parsed, `PhotoError` for anything
else, and the finding about it. Opens no file, and imports Pillow only for a picture.
"""

from __future__ import annotations

import importlib
import importlib.util
import re
import warnings
from typing import IO, TYPE_CHECKING

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source

if TYPE_CHECKING:
    from PIL.Image import Image

MAX_PIXELS = 120_000_000  # 108 MP phones exist; beyond, a small file can ask for gigabytes

# Format, by its name in Pillow → endings, the usual one first. No other is tried: some decoders run programs.
ENDINGS: dict[str, tuple[str, ...]] = {
    "JPEG": (".jpg", ".jpeg"),
    "PNG": (".png",),
    "WEBP": (".webp",),
    "HEIF": (".heic", ".heif"),
    "AVIF": (".avif",),
    "GIF": (".gif",),
    "TIFF": (".tif", ".tiff"),
    "BMP": (".bmp",),
}
_OF_PILLOW = tuple(name for name in ENDINGS if name != "HEIF")
_NAMES = {"WEBP": "WebP", "HEIF": "HEIC"}
_HEIF_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}

# Code → message and mend.
_MESSAGES: dict[str, tuple[str, str]] = {
    "photo-unreadable": (
        "`{name}` cannot be read as a photo: {about}",
        "copy it from the camera again, or remove it",
    ),
    "photo-too-large": (
        "`{name}` has {about} megapixels; at most 120 are read",
        "save it smaller: at most 1600 pixels across are shown",
    ),
    "photo-needs-extra": (
        "`{name}` is a HEIC photo, which needs the extra `heic`",
        'install it with `pip install "sitegen[heic]"`, or save the photo as JPEG',
    ),
    "photo-mislabelled": ("`{name}` holds a {about} picture", "rename it to `{better}`"),
    "photo-animated": (
        "`{name}` moves; its first frame is shown",
        "save the frame that you mean as JPEG",
    ),
    "photo-converted": (
        "`{name}` has {about}; it is shown in 8 bits of sRGB",
        "save it as an ordinary JPEG, and look whether its colours are right",
    ),
    "photo-tiny": (
        "`{name}` is {about} pixels large: too small to show anything",
        "put the full photo in its place, or remove it",
    ),
    "photo-undated": (
        "no day is known of `{name}`{about}",
        "name it `2025-10-19-{name}` or `day-26-{name}`, or list it in the log",
    ),
}


class PhotoError(Exception):
    """A file that cannot be used as a photo: the code of a finding, and its details."""

    def __init__(self, code: str, about: str = "") -> None:
        super().__init__(code, about)
        self.code = code
        self.about = about


def photo_finding(code: str, name: str, source: Source, about: str = "", better: str = "") -> Finding:
    """The finding about one photo."""
    message, mend = _MESSAGES[code]
    values = {"name": name, "about": about, "better": better}
    return Finding(code, source, message.format(**values), mend.format(**values), about or name)


def format_name(image_format: str) -> str:
    """A format's name for a reader."""
    return _NAMES.get(image_format, image_format)


def open_header(file: IO[bytes]) -> Image:
    """A picture of which only the header was parsed: its size is checked before any pixel is decoded.

    Raises
    ------
    PhotoError
        Where it is not a picture, too large, or needs the extra.

    """
    head = file.read(64)
    file.seek(0)
    if not head:
        raise PhotoError("photo-unreadable", "it is empty")
    if not _is_heif(head):
        return _checked(_identified(file, _OF_PILLOW))
    _register_heif()
    return _checked(_identified(file, ("HEIF",)))


def _identified(file: IO[bytes], formats: tuple[str, ...]) -> Image:
    from PIL import Image, UnidentifiedImageError  # noqa: PLC0415 - 23 ms, only where there are photos

    _silence_library()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # about odd metadata, and about sizes, which are checked below
        try:
            return Image.open(file, formats=formats)
        except Image.DecompressionBombError as error:
            raise PhotoError("photo-too-large", _megapixels(str(error))) from error
        except UnidentifiedImageError as error:
            raise PhotoError("photo-unreadable", "it holds no picture") from error
        except Exception as error:  # decoders raise anything on broken files
            raise PhotoError("photo-unreadable", "it is cut short or broken") from error


def _silence_library() -> None:
    """Keep the library from printing what it logs about broken files: a finding says it."""
    import logging  # noqa: PLC0415 - loaded with the library

    log = logging.getLogger("PIL")
    if not log.handlers:
        log.addHandler(logging.NullHandler())


def _checked(image: Image) -> Image:
    if image.width * image.height > MAX_PIXELS:
        raise PhotoError("photo-too-large", f"{image.width * image.height / 1e6:.0f}")
    return image


def _megapixels(message: str) -> str:
    pixels = re.search(r"\((\d+) pixels\)", message)
    return f"{int(pixels[1]) / 1e6:.0f}" if pixels else "too many"


def _is_heif(head: bytes) -> bool:
    return head[4:8] == b"ftyp" and head[8:12] in _HEIF_BRANDS and b"avif" not in head


def _register_heif() -> None:
    if importlib.util.find_spec("pi_heif") is None:
        raise PhotoError("photo-needs-extra")
    importlib.import_module("pi_heif").register_heif_opener()
