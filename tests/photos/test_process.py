"""All photos of a run."""

from __future__ import annotations

import io
import os
import re
import shutil
from hashlib import blake2b
from pathlib import Path

import pytest
from PIL import Image

import sitegen.photos.decode
from sitegen.app.console.report import finding_line
from sitegen.core.findings.source import Source
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.rows import Photo, Which
from sitegen.core.values.day import Day
from sitegen.memo import Memo
from sitegen.photos import PhotoSet, measured, process, process_all, process_later, thread_count
from sitegen.photos.photo import ProcessedPhoto
from tests.photos.builders import album, run
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


def test_a_photo_in_the_words_of_the_log(tmp_path: Path) -> None:
    """A picture has the text, the plants and the subject that the log's first line about it gives."""
    (tmp_path / "a.jpg").write_bytes(jpeg())
    lines = (
        Photo("b.jpg", Day.on(1), 0, Source("e.yaml"), alt="Another"),
        Photo("a.jpg", Day.on(2), 0, Source("e.yaml"), "Young leaves", Which(("P1", "P2")), "roots"),
        Photo("a.jpg", Day.on(3), 0, Source("e.yaml"), "Later"),
    )
    with Memo(tmp_path / "memo") as memo:
        made, _ = process_all(run((PhotoFile("a.jpg"),), lines), tmp_path, memo)

    assert [(p.alt, p.plants, p.shows, p.day) for p in made.pictures] == [
        ("Young leaves", ("P1", "P2"), "roots", None)
    ]


def test_addresses(tmp_path: Path) -> None:
    """An address has the run, the day, the width and a digest, and nothing of the file's name; without a day a photo."""
    bodies = {"IMG_20251019_143052.JPG": jpeg(), "anna.jpg": jpeg(picture((64, 64)))}
    files = PhotoFile("IMG_20251019_143052.JPG", Day.on(48)), PhotoFile("anna.jpg")
    with Memo(tmp_path / "memo") as memo:
        made, _ = process_all(*album(tmp_path / "photos", bodies, files), memo)

    assert [re.sub(r"[0-9a-f]{10}", "…", page.address) for page in made.pages] == [
        "photos/choi/day-48-64-….webp",
        "photos/choi/day-48-64-….jpg",
        "photos/choi/photo-64-….webp",
        "photos/choi/photo-64-….jpg",
    ]


def test_the_same_picture_twice(tmp_path: Path) -> None:
    """Two files with one picture are shown twice and published once."""
    made = one(tmp_path, {"a.jpg": jpeg(), "b.jpg": jpeg()})

    assert [picture.file for picture in made.pictures] == ["a.jpg", "b.jpg"]
    assert len({page.address for page in made.pages}) == len(made.pages) == 2


@pytest.mark.parametrize(("allowed", "threads"), [(1, 1), (8, 8), (9, 8)])
def test_threads_of_a_container(allowed: int, threads: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """As many threads as cores are allowed, and no more than eight."""
    monkeypatch.setattr(
        os, "sched_getaffinity", lambda process: set(range(allowed if process == 0 else 99)), raising=False
    )

    assert thread_count() == threads


@pytest.mark.parametrize(("cores", "threads"), [(None, 1), (3, 3), (9, 8)])
def test_threads_of_another_system(cores: int | None, threads: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a process cannot be asked for its cores, the machine's count."""
    monkeypatch.delattr(os, "sched_getaffinity", raising=False)
    monkeypatch.setattr(os, "cpu_count", lambda: cores)

    assert thread_count() == threads


def contents(photo: ProcessedPhoto) -> list[bytes]:
    """The bytes of each rendition."""
    return [r.file() if callable(r.file) else r.file.read_bytes() for r in photo.renditions]


def test_process_later(tmp_path: Path) -> None:
    """Renditions of a JPEG are planned with their sizes, and encoded when one is asked for; then they are stored."""
    path = tmp_path / "a.jpg"
    path.write_bytes(jpeg(picture((700, 500))))
    digest = blake2b(path.read_bytes(), digest_size=20).hexdigest()[:10]
    with Memo(tmp_path / "memo") as memo:
        later = process_later(path, memo)
        planned = [(r.media, r.width, r.height, r.digest) for r in later.renditions]
        assert all(callable(r.file) for r in later.renditions)
        assert contents(later) == contents(process(path, memo))
        stored = process_later(path, memo)

    assert planned == [
        ("image/webp", 480, 343, digest),
        ("image/webp", 700, 500, digest),
        ("image/jpeg", 700, 500, digest),
    ]
    assert not any(callable(r.file) for r in stored.renditions)
    assert [(r.media, r.width, r.height) for r in stored.renditions] == [p[:3] for p in planned]
    assert (later.colour, later.fault) == ("#786432", "")


def test_process_later_without_a_plan(tmp_path: Path) -> None:
    """Formats that cannot be decoded in part are encoded at once; broken files and missing ones have their fault."""
    body = jpeg(picture((640, 480)).effect_spread(40))
    (tmp_path / "a.png").write_bytes(png())
    (tmp_path / "cut.jpg").write_bytes(body[: len(body) // 2])
    with Memo(tmp_path / "memo") as memo:
        at_once, cut, gone = (
            process_later(tmp_path / name, memo) for name in ("a.png", "cut.jpg", "gone.jpg")
        )

    assert [callable(r.file) for r in at_once.renditions] == [False, False]
    assert (cut.fault, cut.about, cut.renditions) == ("photo-unreadable", "it is cut short or broken", ())
    assert (gone.fault, gone.about) == ("photo-unreadable", "No such file or directory")


def test_photo_replaced_before_it_is_asked_for(tmp_path: Path) -> None:
    """A rendition that the new file does not have is empty."""
    path = tmp_path / "a.jpg"
    path.write_bytes(jpeg(picture((700, 500))))
    with Memo(tmp_path / "memo") as memo:
        later = process_later(path, memo)
        path.write_bytes(jpeg(picture((64, 48))))
        bodies = contents(later)

    assert [bool(body) for body in bodies] == [True, True, False]


@pytest.mark.parametrize("turned", [None, 6])
def test_measured(turned: int | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the header alone a photo has the sizes that it will have, also on its side; a broken file has its fault."""
    exif = Image.Exif()
    if turned:
        exif[sitegen.photos.decode.ORIENTATION] = turned
    picture((1200, 800)).save(tmp_path / "a.jpg", exif=exif)
    (tmp_path / "b.jpg").write_bytes(b"no picture")
    with Memo(tmp_path / "store") as memo:
        with monkeypatch.context() as patch:
            patch.setattr(sitegen.photos.decode, "decoded", None)
            sizes = measured(tmp_path / "a.jpg", memo)
            broken = measured(tmp_path / "b.jpg", memo)
        made = process(tmp_path / "a.jpg", memo)

        assert [(r.media, r.width, r.height) for r in sizes.renditions] == [
            (r.media, r.width, r.height) for r in made.renditions
        ]
        assert (broken.fault, broken.about) == ("photo-unreadable", "it holds no picture")
        assert measured(tmp_path / "a.jpg", memo) == made
