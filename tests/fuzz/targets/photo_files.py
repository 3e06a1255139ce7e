"""Files that call themselves photos: their headers, and small ones decoded and encoded."""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from dataclasses import astuple
from functools import cache
from pathlib import Path

from PIL import Image

from sitegen.core.files.photo_formats import PhotoError
from sitegen.ingest.photos import date_taken, read_header
from sitegen.photos.decode import decoded, thumbnail, upright_size
from sitegen.photos.encode import encoded, planned
from tests.fuzz.target import Run, Target, hold
from tests.photos.pictures import HEIC, MARK, exif, huge_png, jpeg, picture, png, webp

_SMALL = 40_000  # pixels that are decoded here; what is larger takes the same ways, and longer


@cache
def _pictures() -> tuple[bytes, ...]:
    small = picture((16, 12))
    return tuple(_seeds(small))


def _seeds(small: Image.Image) -> Iterator[bytes]:
    yield jpeg(small)
    yield jpeg(small, metadata=exif("2025:02:30 25:61:61", "+99:99", 6))
    yield jpeg(small.convert("CMYK"), metadata=exif("", place=False))
    yield png(small)
    yield png(small.convert("P"))
    yield png(small.convert("I;16") if small.mode == "I" else small.convert("LA"))
    yield webp(small)
    yield HEIC.read_bytes()
    yield huge_png(60_000, 60_000)
    frames = [small, picture((16, 12)).rotate(90)]
    for kind in ("GIF", "PNG", "WEBP", "TIFF", "BMP", "AVIF", "MPO"):
        buffer = io.BytesIO()
        try:
            small.save(
                buffer,
                kind,
                **(
                    {"save_all": True, "append_images": frames[1:]}
                    if kind in ("GIF", "PNG", "WEBP", "MPO")
                    else {}
                ),
            )
        except (KeyError, OSError, ValueError):  # this Pillow has no encoder for it
            continue
        yield buffer.getvalue()


def _header(folder: Path) -> Run:
    path = folder / "photo.jpg"

    def run(data: bytes) -> object:
        path.write_bytes(data)
        header = read_header(path)
        hold(
            header.fault or (header.width > 0 and header.height > 0), f"neither a size nor a fault: {header}"
        )
        date_taken(header, "Europe/Berlin")
        try:
            with warnings.catch_warnings():  # as the pool that decodes them does
                warnings.simplefilter("ignore")
                size = upright_size(io.BytesIO(data))
            hold(size[0] > 0 and size[1] > 0, f"no size: {size}")
            planned(size)
        except PhotoError:
            size = (0, 0)
        return astuple(header), size

    return run


def _decoded(_folder: Path) -> Run:
    def run(data: bytes) -> object:
        with warnings.catch_warnings():  # as the pool that decodes them does
            warnings.simplefilter("ignore")
            return decode(data)

    def decode(data: bytes) -> object:
        try:
            size = upright_size(io.BytesIO(data))
            if size[0] * size[1] > _SMALL:
                return None
            small = thumbnail(io.BytesIO(data))
            image = decoded(io.BytesIO(data))
        except PhotoError as fault:
            return fault.code, fault.about
        hold(image.size[0] > 0 and image.size[1] > 0, f"no size: {image.size}")
        hold(not image.info, f"what is left of a header: {sorted(image.info)}")
        if len(data) % 8 == 0 and image.size[0] * image.size[1] < 2500:  # slow
            for each in encoded(image):
                _without_metadata(each.body)
        return image.size, image.mode, small and small[0]

    return run


def _without_metadata(body: bytes) -> None:
    hold(MARK.encode() not in body, "a published photo tells a secret")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        image = Image.open(io.BytesIO(body))
        hold(not dict(image.getexif()), "a published photo has Exif")
        hold("icc_profile" not in image.info and "xmp" not in image.info, "a published photo has metadata")


_TAGS = (b"Exif\0\0", b"MM\0*", b"II*\0", b"\xff\xe1", b"\xff\xd8", b"\xff\xd9", b"\xff\xda", b"\x87\x69", b"\x88\x25", b"\x01\x12", b"\0\0\0\0", b"\xff\xff\xff\xff", b"\x80\0\0\0",
         b"2025:10:19 14:30:00", b"+02:00", b"eXIf", b"acTL", b"iCCP", b"tRNS", b"PLTE", b"IEND", b"VP8X", b"VP8L", b"EXIF", b"XMP ", b"ANIM", b"ftyp", b"heic", b"mif1", b"avif", b"iloc", b"ispe", b"GPSLatitude")  # fmt: skip

TARGETS = (
    Target("photo-header", _header, _pictures, ("ingest/photos.py", "core/files/photo_formats.py"), "sitegen.ingest.photos:_has_end", "picture", _TAGS, 20_000),
    Target("photo", _decoded, _pictures, ("photos/decode.py", "photos/encode.py"), "sitegen.photos.decode:_turned", "picture", _TAGS, 20_000),
)  # fmt: skip
