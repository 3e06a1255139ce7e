"""What a photo says of itself."""

from __future__ import annotations

import io
import logging
import warnings
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from sitegen.core.files.photo_formats import ENDINGS
from sitegen.ingest import photos as photo_headers
from sitegen.ingest.photos import Header, photo_header, read_header
from sitegen.memo import Memo
from tests.photos.pictures import HEIC, exif, huge_png, jpeg, picture, png, webp

PHONE = exif("2025:10:19 23:30:00", "+02:00")
NOISY = picture((320, 240)).effect_spread(40)


def header(folder: Path, body: bytes) -> Header:
    """The header of a file with this content."""
    path = folder / "a.jpg"
    path.write_bytes(body)
    return read_header(path)


def saved(image: Image.Image, name: str, **more: object) -> bytes:
    """A picture in a format."""
    file = io.BytesIO()
    image.save(file, name, **more)
    return file.getvalue()


@pytest.mark.parametrize(("kind", "write"), [("JPEG", jpeg), ("PNG", png), ("WEBP", webp)])
def test_when_and_whether_where(kind: str, write: object, tmp_path: Path) -> None:
    """Size, the clock with its offset, and that there is a place: from each format's header."""
    body = write(metadata=PHONE)  # type: ignore[operator]

    assert header(tmp_path, body) == Header(kind, 64, 48, "2025-10-19T23:30:00", "+02:00", located=True)


def test_broken_exif_is_passed_over_in_silence(tmp_path: Path, recwarn: pytest.WarningsRecorder) -> None:
    """Exif that is cut short costs the time and the place, and no library prints a warning of its own."""
    body = jpeg(metadata=PHONE[:-6])  # the last seconds of the place

    with warnings.catch_warnings():
        warnings.simplefilter("always")
        found = header(tmp_path, body)

    assert found == Header("JPEG", 64, 48, "2025-10-19T23:30:00", "+02:00", located=True)
    assert [str(each.message) for each in recwarn] == []


def test_what_a_library_logs_is_not_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A TIFF with too many samples is told by its finding, and by nothing else."""
    body = saved(picture(), "TIFF", tiffinfo={277: 99})
    (samples,) = (at for at in range(8, len(body)) if body[at : at + 4] == b"\x15\x01\x03\x00")
    body = body[: samples + 8] + (27_395).to_bytes(2, "little") + body[samples + 10 :]
    monkeypatch.setattr(logging.getLogger(), "handlers", [])  # as in a command

    assert header(tmp_path, body) == Header(fault="photo-unreadable", about="it holds no picture")
    assert capsys.readouterr() == ("", "")


def test_heic(tmp_path: Path) -> None:
    """A HEIC photo says the same."""
    pytest.importorskip("pi_heif")

    assert header(tmp_path, HEIC.read_bytes()) == Header("HEIF", 64, 48, "2025-10-19T14:30:00", located=True)


def test_heic_without_the_extra(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the extra a HEIC photo is known for what it is."""
    monkeypatch.setattr("importlib.util.find_spec", lambda _: None)

    assert header(tmp_path, HEIC.read_bytes()) == Header(fault="photo-needs-extra")


def test_place_in_xmp_alone(tmp_path: Path) -> None:
    """A place that only XMP tells is noticed too."""
    body = saved(picture(), "JPEG", xmp=b"<x exif:GPSLatitude='48,12.5N'/>")

    assert header(tmp_path, body).located


@pytest.mark.parametrize("clock", ["", "0000:00:00 00:00:00", "    :  :     :  :  ", "yesterday"])
def test_clock_that_says_nothing(clock: str, tmp_path: Path) -> None:
    """A clock that was not set gives no time."""
    assert header(tmp_path, jpeg(metadata=exif(clock, place=False))).taken == ""


@pytest.mark.parametrize(
    ("body", "about"),
    [
        (b"", "it is empty"),
        (b"not a picture\n", "it holds no picture"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n", "it holds no picture"),
        (jpeg(NOISY)[:4000], "it is cut short or broken"),
        (png(NOISY)[:4000], "it is cut short or broken"),
        (webp(NOISY)[:-10], "it is cut short or broken"),
        (
            b"GIF87a" + bytes(7) + b",\0\x1b\0\x10\0\x0c\0\0\x08-\0,",
            "it is cut short or broken",
        ),
    ],
    ids=[
        "empty",
        "text",
        "a program",
        "half a jpeg",
        "half a png",
        "most of a webp",
        "a second frame cut short",
    ],
)
def test_no_photo(body: bytes, about: str, tmp_path: Path) -> None:
    """What is no picture, or only a part of one, is said to be so."""
    found = header(tmp_path, body)

    assert (found.fault, found.about) == ("photo-unreadable", about)


@pytest.mark.parametrize(("size", "said"), [((20_000, 10_000), "200"), ((60_000, 60_000), "3600")])
def test_too_many_pixels(size: tuple[int, int], said: str, tmp_path: Path) -> None:
    """A file that asks for too many pixels gets none."""
    assert header(tmp_path, huge_png(*size)) == Header(fault="photo-too-large", about=said)


def test_large_photos_of_phones(tmp_path: Path) -> None:
    """108 megapixels are read."""
    found = header(tmp_path, huge_png(12_000, 9_000))

    assert found.fault != "photo-too-large"


def test_jpeg_with_something_behind_it(tmp_path: Path) -> None:
    """A film behind the picture does not make it a broken one."""
    found = header(tmp_path, jpeg(NOISY) + bytes(200_000))

    assert (found.format, found.fault) == ("JPEG", "")


@pytest.mark.parametrize("name", ["GIF", "WEBP", "PNG"])
def test_moving(name: str, tmp_path: Path) -> None:
    """Moving pictures are told from still ones."""
    frames = [Image.new("RGB", (64, 64), colour) for colour in ("red", "green")]
    moving = saved(frames[0], name, save_all=True, append_images=frames[1:])

    assert (header(tmp_path, moving).animated, header(tmp_path, saved(frames[0], name)).animated) == (
        True,
        False,
    )


def test_two_pictures_in_one_jpeg(tmp_path: Path) -> None:
    """A phone's JPEG with a second picture behind the first does not move."""
    found = header(tmp_path, saved(picture(), "MPO", save_all=True, append_images=[picture()]))

    assert (found.format, found.animated, found.fault) == ("JPEG", False, "")


@pytest.mark.parametrize(
    ("image", "name", "colours"),
    [
        (Image.new("CMYK", (64, 64)), "JPEG", "printing colours"),
        (Image.new("I;16", (64, 64)), "PNG", "16 bits a colour"),
        (Image.new("RGB", (64, 64)), "PNG", ""),
        (Image.new("L", (64, 64)), "JPEG", ""),
    ],
)
def test_colours(image: Image.Image, name: str, colours: str, tmp_path: Path) -> None:
    """Colours that will be converted are named."""
    assert header(tmp_path, saved(image, name)).colours == colours


def test_sixteen_bits_of_colour(tmp_path: Path) -> None:
    """16 bits of red, green and blue show only in a PNG's header."""
    body = bytearray(huge_png(8, 8))
    body[24] = 16

    assert photo_headers._is_deep(Image.open(io.BytesIO(huge_png(8, 8))), io.BytesIO(bytes(body)))


@given(
    st.lists(st.tuples(st.integers(0, 5000), st.integers(0, 255)), max_size=8),
    st.sampled_from([jpeg, png, webp]),
)
def test_damaged_files(damage: list[tuple[int, int]], write: object) -> None:
    """Whatever bytes are damaged, there is a header or a fault, and no exception."""
    body = bytearray(write(metadata=PHONE))  # type: ignore[operator]
    for at, value in damage:
        body[at % len(body)] = value
    try:
        outcome = photo_headers._header(io.BytesIO(bytes(body))).format
    except photo_headers.PhotoError as unfit:
        outcome = unfit.code

    assert outcome in {*ENDINGS, "photo-unreadable", "photo-too-large"}


def test_untouched_files_are_not_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A header comes from the store until its file is touched."""
    path = tmp_path / "a.jpg"
    path.write_bytes(jpeg(metadata=PHONE))
    with Memo(tmp_path / "memo") as memo:
        first = photo_header(path, memo)
        monkeypatch.setattr(photo_headers, "read_header", lambda _: Header(fault="photo-unreadable"))
        again = photo_header(path, memo)
        path.write_bytes(jpeg(metadata=PHONE))
        touched = photo_header(path, memo)

    assert (first.taken, again, touched.fault) == ("2025-10-19T23:30:00", first, "photo-unreadable")


def test_file_that_went_away(tmp_path: Path) -> None:
    """A file that is gone is said to be so, with a store and without."""
    with Memo(tmp_path / "memo") as memo:
        found = {photo_header(tmp_path / "gone.jpg", store) for store in (memo, None)}

    assert found == {Header(fault="photo-unreadable", about="No such file or directory")}
