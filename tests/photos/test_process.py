"""All photos of a run."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

import pytest
from PIL import Image

import sitegen.photos.decode
from sitegen.app.report import finding_line
from sitegen.core.records.files import PhotoFile
from sitegen.core.values.day import Day
from sitegen.memo import Memo
from sitegen.photos import PhotoSet, process_all
from tests.photos.builders import album
from tests.photos.pictures import jpeg, picture, png


def one(folder: Path, bodies: dict[str, bytes], files: tuple[PhotoFile, ...] | None = None) -> PhotoSet:
    """The photos of one run."""
    with Memo(folder / "memo") as memo:
        made, faults = process_all(*album(folder / "photos", bodies, files), memo)
        assert faults == ()
        return made


def test_a_photo(tmp_path: Path) -> None:
    """A photo becomes three widths of WebP and one JPEG, with its day and average colour."""
    made = one(tmp_path, {"a.jpg": jpeg(picture((2000, 1500)))}, (PhotoFile("a.jpg", Day.on(48)),))
    (found,) = made.pictures

    assert [(f.media, f.width, f.height) for f in found.files] == [
        ("image/webp", 480, 360),
        ("image/webp", 960, 720),
        ("image/webp", 1600, 1200),
        ("image/jpeg", 960, 720),
    ]
    assert (found.file, found.alt, found.caption) == ("a.jpg", "", "")
    assert (found.day, found.plants, found.shows, found.placeholder) == (Day.on(48), (), "", "#786432")
    assert [page.address for page in made.pages] == [file.address for file in found.files]


def test_pages_are_what_they_say(tmp_path: Path) -> None:
    """Each file has the format and the size that its picture names."""
    made = one(tmp_path, {"a.png": png(picture((700, 500)))})
    sizes = {}
    for page in made.pages:
        with Image.open(io.BytesIO(page.content)) as image:
            sizes[page.address] = (f"image/{(image.format or '').lower()}", *image.size)

    assert sizes == {f.address: (f.media, f.width, f.height) for p in made.pictures for f in p.files}


def test_in_the_order_of_days(tmp_path: Path) -> None:
    """Photos follow their days, then their names; without a day they come last."""
    files = (
        PhotoFile("a.jpg"),
        PhotoFile("b.jpg", Day.on(9)),
        PhotoFile("c.jpg", Day.on(2)),
        PhotoFile("d.jpg", Day.on(2)),
    )
    made = one(tmp_path, {file.file: jpeg() for file in files}, files)

    assert [found.file for found in made.pictures] == ["c.jpg", "d.jpg", "b.jpg", "a.jpg"]


def test_same_bytes_every_time(tmp_path: Path) -> None:
    """Made twice from nothing, files have the same addresses and the same bytes."""
    found = []
    for folder in (tmp_path / "one", tmp_path / "two"):
        with Memo(folder / "memo") as memo:
            made, _ = process_all(*album(folder / "photos", {"a.jpg": jpeg(picture((900, 700)))}), memo)
            found.append([(page.address, page.content) for page in made.pages])

    assert found[0] == found[1]


@pytest.mark.parametrize("how", ["untouched", "copied elsewhere"])
def test_known_photos_are_not_decoded(how: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A photo is decoded once, wherever it lies the next time."""
    first = one(tmp_path, {"a.jpg": jpeg(picture((900, 700)))})
    monkeypatch.setattr(sitegen.photos.decode, "decoded", None)
    here = tmp_path / "photos"
    if how == "copied elsewhere":
        here = Path(shutil.copytree(here, tmp_path / "elsewhere"))
    files = album(here, {}, (PhotoFile("a.jpg"),))
    with Memo(tmp_path / "memo") as memo:
        again, faults = process_all(*files, memo)

    assert (again.pictures, faults) == (first.pictures, ())


def test_changed_photos_are_made_again(tmp_path: Path) -> None:
    """A photo that was replaced under its name gets other addresses."""
    first = one(tmp_path, {"a.jpg": jpeg(picture((900, 700)))})
    second = one(tmp_path, {"a.jpg": jpeg(picture((900, 700)).rotate(180))})

    assert not {page.address for page in first.pages} & {page.address for page in second.pages}


def test_broken_photos_are_left_out(tmp_path: Path) -> None:
    """A broken photo gets its finding each time, and the others are made."""
    whole = jpeg(picture((900, 700)).effect_spread(30))
    bodies = {"cut.jpg": whole[: len(whole) // 2], "good.jpg": whole}
    for _ in range(2):
        with Memo(tmp_path / "memo") as memo:
            made, faults = process_all(*album(tmp_path / "photos", bodies), memo)
        assert [found.file for found in made.pictures] == ["good.jpg"]
        (line,) = (finding_line(fault) for fault in faults)
        assert line == (
            "seasons/one/choi/photos/cut.jpg:1:1: error[photo-unreadable]: `cut.jpg` cannot be read as a photo:"
            " it is cut short or broken (copy it from the camera again, or remove it)"
        )


def test_a_photo_that_went_away(tmp_path: Path) -> None:
    """A file removed while the site is made gets a finding."""
    with Memo(tmp_path / "memo") as memo:
        made, faults = process_all(*album(tmp_path / "photos", {}, (PhotoFile("gone.jpg"),)), memo)

    assert (made, [fault.code for fault in faults]) == (PhotoSet(), ["photo-unreadable"])
