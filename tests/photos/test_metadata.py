"""Nothing but pixels is published."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.records.files import PhotoFile
from sitegen.memo import Memo
from sitegen.photos import process_all
from tests.photos.builders import album
from tests.photos.pictures import HEIC, MARK, exif, jpeg, picture, png, webp, wide_profile
from tests.photos.segments import jpeg_segments, webp_chunks

LARGE = (700, 500)
PROFILE = wide_profile()
SOURCES = {
    "a.jpg": jpeg(picture(LARGE), profile=PROFILE),
    "a.png": png(picture(LARGE), profile=PROFILE),
    "a.webp": webp(picture(LARGE), profile=PROFILE),
    "a.heic": HEIC.read_bytes(),
}
# ITU-T T.81, table B.1: start, JFIF, quantisation, progressive frame, Huffman, scan, end
PLAIN_JPEG = {0xD8, 0xE0, 0xDB, 0xC2, 0xC4, 0xDA, 0xD9}


def bodies(folder: Path, name: str, body: bytes) -> dict[str, list[bytes]]:
    """The files made of one photo, by media type."""
    with Memo(folder / "memo") as memo:
        made, faults = process_all(*album(folder / "photos", {name: body}, (PhotoFile(name),)), memo)
        assert faults == ()
        found: dict[str, list[bytes]] = {}
        for page in made.pages:
            found.setdefault(page.media, []).append(page.content)
        return found


@pytest.mark.parametrize("name", SOURCES)
def test_sources_say_where_they_were_taken(name: str) -> None:
    """What goes in holds the secret, so that its absence afterwards means something."""
    assert MARK.encode() in SOURCES[name]


@pytest.mark.parametrize("name", SOURCES)
def test_jpeg_holds_only_a_picture(name: str, tmp_path: Path) -> None:
    """A JPEG has no Exif, XMP, IPTC, comment, profile or preview, whatever it was made from."""
    if name.endswith("heic"):
        pytest.importorskip("pi_heif")
    made = bodies(tmp_path, name, SOURCES[name])["image/jpeg"]

    for body in made:
        segments = jpeg_segments(body)
        assert {marker for marker, _ in segments} == PLAIN_JPEG
        (jfif,) = (payload for marker, payload in segments if marker == 0xE0)
        assert jfif == b"JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"  # no density, no preview
        assert MARK.encode() not in body


@pytest.mark.parametrize("name", SOURCES)
def test_webp_holds_only_a_picture(name: str, tmp_path: Path) -> None:
    """A WebP is one lossy frame: no EXIF, XMP or ICCP chunk, whatever it was made from."""
    if name.endswith("heic"):
        pytest.importorskip("pi_heif")
    made = bodies(tmp_path, name, SOURCES[name])["image/webp"]

    for body in made:
        assert [chunk for chunk, _ in webp_chunks(body)] == [b"VP8 "]
        assert MARK.encode() not in body


def test_the_parsers_see_metadata() -> None:
    """The parsers of these tests find what the sources hold."""
    assert {0xE1, 0xE2, 0xED, 0xFE} <= {marker for marker, _ in jpeg_segments(SOURCES["a.jpg"])}
    assert {b"EXIF", b"XMP ", b"ICCP"} <= {chunk for chunk, _ in webp_chunks(SOURCES["a.webp"])}


def test_names_of_files_are_not_published(tmp_path: Path) -> None:
    """Addresses are made of the day, width and content alone."""
    body = jpeg(picture(LARGE), metadata=exif("2025:10:19 14:30:00"))
    with Memo(tmp_path / "memo") as memo:
        made, _ = process_all(*album(tmp_path / "photos", {"Über den Rand.JPG": body}), memo)

    stems = {page.address.rpartition("-")[0] for page in made.pages}
    assert stems == {"photos/choi/photo-480", "photos/choi/photo-700"}
