"""Photos dropped into photos/."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from sitegen.app.console.report import finding_line
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day
from sitegen.ingest import read_experiment, read_journal
from tests.journal_maker import make_journal
from tests.photos.pictures import HEIC, exif, huge_png, jpeg, picture, png

LARGE = picture((640, 480))
PLACE = "seasons/one/first-leaves/photos"
LOG = """\
format: 1
title: Leaves
crop: leaf
system: tray
start: 2025-09-01
plants: 3
log:
  - {day: 0, sow: 2 a spot}
  - {day: 20, photo: {file: in-log.jpg, plants: P1, alt: Three leaves}}
"""


def saved(image: Image.Image, name: str, **more: object) -> bytes:
    """A picture in a format."""
    file = io.BytesIO()
    image.save(file, name, **more)
    return file.getvalue()


def journal(root: Path, bodies: dict[str, bytes]) -> Path:
    """A journal with these photos besides the one of its log."""
    make_journal(root, {"first-leaves": LOG}, journal="timezone: Europe/Vienna\n")
    folder = root / PLACE
    folder.mkdir()
    plain = saved(LARGE, "JPEG")
    for name, body in {"in-log.jpg": plain, **bodies}.items():
        (folder / name).write_bytes(body)
    return root


def read(root: Path, bodies: dict[str, bytes]) -> tuple[Run, list[str]]:
    """The run and its findings as lines, the place of photos left out."""
    journal_files, findings = read_journal(journal(root, bodies))
    assert journal_files is not None
    assert findings == ()
    run, found = read_experiment(journal_files.folders[0], journal_files)
    assert run is not None
    return run, [finding_line(finding).removeprefix(f"{PLACE}/") for finding in found]


def test_dropping_files_in_is_enough(tmp_path: Path) -> None:
    """Every photo is found with its day; one in the log has its entry's."""
    bodies = {
        "IMG_1.jpg": jpeg(LARGE, metadata=exif("2025:10:19 14:30:00")),
        "day-26.png": saved(LARGE, "PNG"),
    }
    run, found = read(tmp_path, bodies)

    assert [(file.file, file.day, file.located) for file in run.photo_files] == [
        ("IMG_1.jpg", Day.on(48), True),
        ("day-26.png", Day.on(26), False),
        ("in-log.jpg", Day.on(20), False),
    ]
    assert [line for line in found if "photo" in line] == []


MOVING = saved(
    Image.new("RGB", (99, 99)), "GIF", save_all=True, append_images=[Image.new("RGB", (99, 99), "red")]
)


@pytest.mark.parametrize(
    ("name", "body", "line"),
    [
        (
            "day-1.jpg",
            b"",
            (
                "error[photo-unreadable]: `day-1.jpg` cannot be read as a photo: it is empty"
                " (copy it from the camera again, or remove it)"
            ),
        ),
        (
            "day-1.png",
            huge_png(20_000, 10_000),
            (
                "error[photo-too-large]: `day-1.png` has 200 megapixels; at most 120 are read"
                " (save it smaller: at most 1600 pixels across are shown)"
            ),
        ),
        (
            "day-1.jpg",
            png(LARGE),
            "warning[photo-mislabelled]: `day-1.jpg` holds a PNG picture (rename it to `day-1.png`)",
        ),
        (
            "day-1.gif",
            MOVING,
            (
                "warning[photo-animated]: `day-1.gif` moves; its first frame is shown"
                " (save the frame that you mean as JPEG)"
            ),
        ),
        (
            "day-1.jpg",
            saved(Image.new("CMYK", (99, 99)), "JPEG"),
            (
                "warning[photo-converted]: `day-1.jpg` has printing colours; it is shown in 8 bits of sRGB"
                " (save it as an ordinary JPEG, and look whether its colours are right)"
            ),
        ),
        (
            "day-1.png",
            saved(Image.new("I;16", (99, 99)), "PNG"),
            (
                "warning[photo-converted]: `day-1.png` has 16 bits a colour; it is shown in 8 bits of sRGB"
                " (save it as an ordinary JPEG, and look whether its colours are right)"
            ),
        ),
        (
            "day-1.png",
            saved(Image.new("RGB", (1, 1)), "PNG"),
            (
                "warning[photo-tiny]: `day-1.png` is 1 × 1 pixels large: too small to show anything"
                " (put the full photo in its place, or remove it)"
            ),
        ),
        (
            "roots.jpg",
            jpeg(LARGE, metadata=exif("")),
            (
                "warning[photo-undated]: no day is known of `roots.jpg`"
                " (name it `2025-10-19-roots.jpg` or `day-26-roots.jpg`, or list it in the log)"
            ),
        ),
    ],
    ids=["broken", "huge", "mislabelled", "moving", "printing", "deep", "tiny", "undated"],
)
def test_faults(name: str, body: bytes, line: str, tmp_path: Path) -> None:
    """Each fault is said once, with one thing to do."""
    _, found = read(tmp_path, {name: body})

    assert [said for said in found if name in said] == [f"{name}:1:1: {line}"]


def test_heic_without_the_extra(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A HEIC photo without the extra says how to get it."""
    monkeypatch.setattr("importlib.util.find_spec", lambda _: None)
    _, found = read(tmp_path, {"day-1.heic": HEIC.read_bytes()})

    assert found == [
        (
            "day-1.heic:1:1: error[photo-needs-extra]: `day-1.heic` is a HEIC photo, which needs the extra `heic`"
            ' (install it with `pip install "sitegen[heic]"`, or save the photo as JPEG)'
        )
    ]


def test_other_files_beside_photos(tmp_path: Path) -> None:
    """Each other file is said; what systems leave by themselves is not."""
    _, found = read(tmp_path, {"IMG_1.MOV": b"", "scan.tif": b"", ".hidden": b"", "Thumbs.db": b""})

    assert found == [
        f"{name}:1:1: warning[stray-file]: nothing reads `{PLACE}/{name}` (save a photo as JPEG, PNG, WebP or HEIC; "
        "move it elsewhere, or name it under `ignore` in journal.yaml)"
        for name in ("IMG_1.MOV", "scan.tif")
    ]


def test_known_headers_need_no_pillow(tmp_path: Path) -> None:
    """The second look at untouched photos does not load what reads pictures."""
    root = journal(tmp_path / "journal", {"day-26.jpg": jpeg(LARGE)})
    code = (
        f"from sitegen.app.main import status_of\nstatus_of(['validate', {str(root)!r}, '--line'])\n"
        "import sys; print('PIL' in sys.modules)"
    )
    environment = {"SITEGEN_CACHE": str(tmp_path / "cache"), "PATH": ""}
    loaded = [
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment
        ).stdout.split()[-1]
        for _ in range(2)
    ]

    assert loaded == ["True", "False"]
