"""Pictures of a look lose what cameras and editors wrote into them, and nothing else."""

from __future__ import annotations

import io
import struct
from pathlib import Path
from typing import Any

import pytest
from PIL import Image, features

from sitegen.render.templates.plain_pictures import plain_picture
from sitegen.render.templates.themes import Theme
from tests.canaries import pictures
from tests.canaries.marks import Planted
from tests.canaries.walk import pictures_inside, seen_in
from tests.photos.pictures import jpeg, picture
from tests.photos.segments import jpeg_segments, webp_chunks

MAKERS = {"jpeg": pictures.jpeg, "png": pictures.png, "webp": pictures.webp}


def pixels(body: bytes) -> tuple[str, tuple[int, int], bytes]:
    """Mode, size and pixels of a picture, as it is stored."""
    with Image.open(io.BytesIO(body)) as image:
        return image.mode, image.size, image.tobytes()


def saved(kind: str, image: Image.Image | None = None, **options: Any) -> bytes:
    """A picture as a library writes it."""
    file = io.BytesIO()
    (image or picture()).save(file, kind, **options)
    return file.getvalue()


@pytest.mark.filterwarnings("ignore")  # Pillow warns of odd metadata, which is what the pictures are for
@pytest.mark.parametrize("kind", MAKERS)
def test_metadata(kind: str) -> None:
    """Whatever is planted beside the pixels is gone, and the pixels are the same."""
    planted = Planted()
    pictures.hide_place_and_time(planted)
    body = MAKERS[kind](planted, "one")
    plain = plain_picture(body)

    assert len(seen_in(body, planted.canaries)) == len(planted.canaries)
    assert seen_in(plain, planted.canaries) == []
    assert pictures_inside(plain) == 0
    assert pixels(plain) == pixels(body)


def test_parts_that_are_kept() -> None:
    """A JPEG keeps what decoding it needs, a WebP says no longer that it has a profile, Exif and XMP."""
    planted = Planted()
    kept = {marker for marker, _ in jpeg_segments(plain_picture(pictures.jpeg(planted, "one")))}
    chunks = dict(webp_chunks(plain_picture(pictures.webp(planted, "two"))))

    assert kept == {0xD8, 0xE0, 0xDB, 0xC0, 0xC4, 0xDA, 0xD9}  # ITU-T T.81, table B.1
    assert sorted(chunks) == [b"VP8 ", b"VP8X"]
    assert chunks[b"VP8X"][0] == 0  # RFC 9649, 2.7.1: no flag is set


@pytest.mark.parametrize(
    ("kind", "options"),
    [
        ("JPEG", {"progressive": True}),
        ("JPEG", {"restart_marker_rows": 1}),
        ("PNG", {}),
        ("PNG", {"bits": 4}),
        ("WEBP", {"lossless": True}),
        ("GIF", {}),
        ("ICO", {}),
    ],
)
def test_plain_pictures_stay(kind: str, options: dict[str, Any]) -> None:
    """A picture without metadata comes back byte for byte."""
    body = saved(kind, **options)

    assert plain_picture(body) == body


def test_a_profile_of_inks_stays_decodable() -> None:
    """A JPEG in printing colours keeps the segment that says how they are stored."""
    body = saved("JPEG", picture().convert("CMYK"))

    assert pixels(plain_picture(body)) == pixels(body)


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("order", ["<", ">"])
def test_orientation(orientation: int, order: str) -> None:
    """A JPEG that lies on its side says so still, and nothing else."""
    mark = b"II*\0" if order == "<" else b"MM\0*"
    entry = struct.pack(f"{order}HHIHH", 0x0112, 3, 1, orientation, 0)
    exif = b"Exif\0\0" + mark + struct.pack(f"{order}IH", 8, 1) + entry + b"\0\0\0\0"
    body = saved("JPEG")
    segment = b"\xff\xe1" + struct.pack(">H", len(exif) + 2) + exif
    with Image.open(io.BytesIO(plain_picture(body[:2] + segment + body[2:]))) as image:
        found = dict(image.getexif())

    assert found == ({} if orientation == 1 else {0x0112: orientation})


def test_moving_pictures() -> None:
    """The frames of a moving PNG and WebP stay."""
    frames = [picture(), picture().transpose(Image.Transpose.FLIP_LEFT_RIGHT)]
    kinds = ["PNG", *(["WEBP"] if features.check("webp") else [])]
    bodies = [saved(kind, frames[0], save_all=True, append_images=frames[1:], duration=100) for kind in kinds]

    assert [plain_picture(body) for body in bodies] == bodies


@pytest.mark.parametrize("kind", MAKERS)
def test_cut_short(kind: str) -> None:
    """A file that cannot be followed to its end is the author's own, as it is."""
    body = MAKERS[kind](Planted(), "one")

    for length in (2, 3, 9, 13, 40, 100):
        assert plain_picture(body[:length]) == body[:length]


@pytest.mark.parametrize(
    "body", [b"", b"RIFF", b"plain text", b"\xff\xd8\xff", b"\xff\xd8\xff\xff\xff\xff", b"\x89PNG\r\n\x1a\n"]
)
def test_no_picture(body: bytes) -> None:
    """Any other content is left alone."""
    assert plain_picture(body) == body


def test_assets_of_a_look(tmp_path: Path) -> None:
    """Hidden files and what editors leave behind are no assets, at any depth; pictures are plain."""
    home = tmp_path / "assets"
    for place in ("look.css", ".todo.txt", ".drafts/plan.txt", "old/.plan.txt", "old/plan.txt", "#look.css"):
        (home / place).parent.mkdir(parents=True, exist_ok=True)
        (home / place).write_text("a", "utf-8")
    (home / "banner.jpg").write_bytes(jpeg())
    found = Theme("own", (tmp_path,)).assets()

    assert sorted(found) == ["banner.jpg", "look.css", "old/plan.txt"]
    assert found["banner.jpg"].content == plain_picture(jpeg()) != jpeg()
