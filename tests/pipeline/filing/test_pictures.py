"""Pictures of a folder copied to the experiments that grew when they were taken."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import pytest

from sitegen.app.log.photos import log_photos
from sitegen.core.values.day import Day
from sitegen.filing import new_file
from sitegen.filing.pictures import Picture
from sitegen.pipeline.checks.privacy import personal
from sitegen.pipeline.filing import pictures as module
from sitegen.pipeline.filing.pictures import Found, answered, copy_pictures, pictures_in, runs_of
from tests.journal_maker import make_journal
from tests.kills.killing import EVERY, killed_before
from tests.photos.pictures import exif, jpeg, picture

TODAY = date(2026, 5, 1)
BROKEN = (
    "`broken.jpg` cannot be read as a photo: it holds no picture; copy it from the camera again, or remove it"
)
RUN = """\
format: 1
title: {title}
crop: leaf
system: tray
start: {start}
plants: 2
log:
  - day: 0
    sow: 2 a spot
{end}"""
RUNS = {
    "old": RUN.format(
        title="Old", start="2026-01-01", end="  - day: 30\n    end: {why: slow, plants: cleared}\n"
    ),
    "long": RUN.format(title="Long", start="2026-01-25", end=""),
    "undated": RUN.format(title="Undated", start="unknown", end=""),
}


def photo(taken: str, number: int = 0, offset: str = "") -> bytes:
    """A photo taken at a time, another one for each number."""
    return jpeg(picture((80 + number, 70)), metadata=exif(taken, offset))


def bench(folder: Path, pictures: dict[str, bytes], zone: str = "Europe/Vienna") -> tuple[Path, Path]:
    """A journal, and a folder of pictures beside it."""
    root = make_journal(folder.resolve() / "bench", RUNS, journal=f"timezone: {zone}\n")
    for name, content in pictures.items():
        path = folder / "camera" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return root, folder.resolve() / "camera"


def photos(root: Path) -> dict[str, bytes]:
    """Every file in a folder of photos, hidden ones too, by its experiment and name."""
    return {f"{p.parent.parent.name}/{p.name}": p.read_bytes() for p in root.glob("seasons/*/*/photos/*")}


def test_pictures_go_where_something_grew(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A line for each: its file and day, or why it was left. The folder is as it was; the journal finds its photos."""
    root, folder = bench(
        tmp_path,
        {
            "a.jpg": photo("2026:01:04 10:00:00"),
            "both.jpg": photo("2026:01:28 10:00:00", 1),
            "broken.jpg": b"\xff\xd8\xff",
            "DCIM/100/A.JPG": photo("2026:01:04 11:00:00", 2),
            "early.jpg": photo("2025:06:01 10:00:00", 3),
            "late.jpg": photo("2026:06:01 10:00:00", 4),
            "long.jpg": photo("2026:03:01 10:00:00", 5),
            "no-time.jpg": jpeg(metadata=exif("")),
            "twice.jpg": photo("2026:01:04 10:00:00"),
            "film.mov": b"x",
            ".hidden.jpg": b"x",
            "2026-02-27-cut.jpg": jpeg(picture((90, 90)), metadata=exif("")),
        },
    )
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    status = log_photos(root, folder, "", TODAY)
    said = capsys.readouterr()

    assert said.out.splitlines() == [
        "2026-02-27-cut.jpg: seasons/one/long/photos/2026-02-27-cut.jpg, day 33",
        "a.jpg: seasons/one/old/photos/a.jpg, day 3",
        "both.jpg: left; long (day 3) and old (day 27) fit; say which with `--to`",
        f"broken.jpg: left; {BROKEN}",
        "early.jpg: left; it was taken on 2025-06-01, when no experiment grew",
        "late.jpg: left; it says that it was taken on 2026-06-01, which is yet to come",
        "long.jpg: seasons/one/long/photos/long.jpg, day 35",
        "no-time.jpg: left; nothing says when it was taken; name it `2025-10-19-no-time.jpg`",
        "twice.jpg: already there as seasons/one/old/photos/a.jpg",
        "DCIM/100/A.JPG: seasons/one/old/photos/A-2.JPG, day 3",
    ]
    assert said.err == (
        "not pictures, and not looked at: `film.mov`\n10 pictures: 4 filed, 1 already there, 5 left\n"
    )
    assert status == 1
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before
    assert set(photos(root)) == {"old/a.jpg", "old/A-2.JPG", "long/long.jpg", "long/2026-02-27-cut.jpg"}
    found = personal(root, TODAY).findings
    assert {f.code for f in found if f.source.file.endswith((".jpg", ".JPG"))} == {"photo-location"}


def test_a_second_time_nothing_is_copied(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A photo that the author has renamed is known by its content."""
    root, folder = bench(tmp_path, {"a.jpg": photo("2026:03:01 10:00:00")})
    log_photos(root, folder, "", TODAY)
    album = root / "seasons/one/long/photos"
    (album / "a.jpg").rename(album / "first-cut.jpg")
    capsys.readouterr()

    assert log_photos(root, folder, "", TODAY) == 0
    assert capsys.readouterr().out == "a.jpg: already there as seasons/one/long/photos/first-cut.jpg\n"
    assert set(photos(root)) == {"long/first-cut.jpg"}


def test_an_experiment_that_is_named_takes_what_fits_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Also a day in a name; what was taken when it did not grow is left."""
    root, folder = bench(
        tmp_path,
        {
            "both.jpg": photo("2026:01:28 10:00:00"),
            "day-12.jpg": jpeg(picture((90, 90)), metadata=exif("")),
            "later.jpg": photo("2026:03:01 10:00:00", 1),
            "no-time.jpg": jpeg(metadata=exif("")),
        },
    )
    log_photos(root, folder, "old", TODAY)

    assert capsys.readouterr().out.splitlines() == [
        "both.jpg: seasons/one/old/photos/both.jpg, day 27",
        "day-12.jpg: seasons/one/old/photos/day-12.jpg, day 12",
        "later.jpg: left; it was taken on 2026-03-01, when old did not grow",
        "no-time.jpg: left; nothing says when it was taken; name it `2025-10-19-no-time.jpg` or `day-26-no-time.jpg`",
    ]


def test_an_experiment_without_a_date_takes_pictures_when_it_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Their day is not known, and that is said."""
    root, folder = bench(tmp_path, {"a.jpg": photo("2026:03:01 10:00:00")})
    log_photos(root, folder, "undated", TODAY)

    assert capsys.readouterr().out == "a.jpg: seasons/one/undated/photos/a.jpg, no day is known of it\n"


@pytest.mark.parametrize(("zone", "run"), [("Europe/Vienna", "old"), ("Asia/Tokyo", "")])
def test_a_time_with_an_offset_is_read_in_the_zone_of_the_journal(
    tmp_path: Path, zone: str, run: str
) -> None:
    """Half past eleven at night on the last day, in Vienna, is the next day in Tokyo: both facts of their clocks."""
    runs = {"old": RUNS["old"]}
    root = make_journal(tmp_path.resolve() / "bench", runs, journal=f"timezone: {zone}\n")
    folder = tmp_path / "camera"
    folder.mkdir()
    (folder / "a.jpg").write_bytes(photo("2026:01:31 23:30:00", offset="+01:00"))
    found = pictures_in(folder, root, TODAY, None)

    assert [fit.run.id for fit in found.decisions[0].fits] == ([run] if run else [])


def test_the_author_is_asked_on_a_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A number, one for all that the same experiments fit, or nothing, which leaves the picture."""
    names = ("1.jpg", "2.jpg", "3.jpg", "4.jpg")
    root, folder = bench(
        tmp_path, {name: photo("2026:01:28 10:00:00", number) for number, name in enumerate(names)}
    )
    answers = iter(["", "9", "1", "2 all"])
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.prompt", lambda *_, **__: next(answers))
    log_photos(root, folder, "", TODAY)
    said = capsys.readouterr().out

    assert said.startswith("1.jpg, taken on 2026-01-28, fits:\n  1  long (day 3)\n  2  old (day 27)\n")
    assert "write a number from 1 to 2\n" in said
    assert set(photos(root)) == {"long/2.jpg", "old/3.jpg", "old/4.jpg"}

    (folder / "1.jpg").unlink()
    log_photos(root, folder, "", TODAY)  # no answer is left: about what the journal has, nobody is asked
    assert capsys.readouterr().out.count("already there") == 3


def filed(root: Path, folder: Path) -> None:
    """File all pictures that fit one experiment."""
    found = pictures_in(folder, root, TODAY, None)
    list(copy_pictures(folder, root, found.decisions, found.runs))


def test_killed_before_each_operation_no_half_picture_stays(tmp_path: Path) -> None:
    """Each file with the name of a picture is whole, and the next command leaves each picture once and nothing else."""
    content = {"a.jpg": photo("2026:03:01 10:00:00"), "b/a.jpg": photo("2026:03:02 10:00:00", 1)}
    root, folder = bench(tmp_path, content)
    number, killed = 0, True
    while killed:
        for path in root.glob("seasons/*/*/photos/*"):
            path.unlink()
        killed = killed_before(number, str(root / "seasons"), lambda: filed(root, folder))
        assert all(
            body in content.values() for name, body in photos(root).items() if name.endswith(".jpg")
        ), number
        filed(root, folder)

        assert photos(root) == {"long/a.jpg": content["a.jpg"], "long/a-2.jpg": content["b/a.jpg"]}, number
        number += EVERY
    assert number > 2 * EVERY


def test_a_full_disk_leaves_nothing_and_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The other pictures are tried all the same."""
    root, folder = bench(tmp_path, {"a.jpg": photo("2026:03:01 10:00:00")})

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)

    assert log_photos(root, folder, "", TODAY) == 1
    assert capsys.readouterr().out == "a.jpg: left; it cannot be copied: No space left on device\n"
    assert photos(root) == {}


def test_a_copy_that_differs_is_removed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is read back from the disk has to be what was read from the folder."""
    root, folder = bench(tmp_path, {"a.jpg": photo("2026:03:01 10:00:00")})
    monkeypatch.setattr(new_file, "digest_of_file", lambda _path: "another")
    log_photos(root, folder, "", TODAY)

    assert capsys.readouterr().out == (
        "a.jpg: left; its copy was not the same, and was removed; look at the disk, and try again\n"
    )
    assert photos(root) == {}


def test_a_disk_without_second_names_is_written_to_as_well(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Memory cards know none: the copy is renamed, and overwrites nothing."""
    root, folder = bench(tmp_path, {"a.jpg": photo("2026:03:01 10:00:00")})
    album = root / "seasons/one/long/photos"
    album.mkdir()
    (album / "a.jpg").write_bytes(photo("2026:02:01 10:00:00", 7))

    def refused(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refused)
    filed(root, folder)

    assert photos(root) == {
        "long/a.jpg": photo("2026:02:01 10:00:00", 7),
        "long/a-2.jpg": photo("2026:03:01 10:00:00"),
    }


def other_bytes(content: bytes) -> bytes:
    """As many bytes, one of them another."""
    return content[:-3] + bytes([content[-3] ^ 1]) + content[-2:]


def outcomes(root: Path, folder: Path) -> dict[str, tuple[str, bool, str]]:
    """What becomes of each picture: its place, whether it is new, why it was left."""
    found = pictures_in(folder, root, TODAY, None)
    made = copy_pictures(folder, root, found.decisions, found.runs)
    return {each.picture.name: (each.place, each.new, each.why) for each in made}


def test_what_is_in_a_folder(tmp_path: Path) -> None:
    """Pictures with what each fits, the experiments there are, and other files; nothing of the journal inside of it."""
    root, folder = bench(
        tmp_path,
        {"a.jpg": photo("2026:03:01 10:00:00"), "b/film.mov": b"x", "b/.c/d.jpg": b"x", "Thumbs.db": b"x"},
    )
    inside = root.rename(folder / "bench")
    (inside / "seasons/one/long/photos").mkdir()
    (inside / "seasons/one/long/photos/e.jpg").write_bytes(photo("2026:03:02 10:00:00", 1))
    found = pictures_in(folder, inside, TODAY, None)

    (decision,) = found.decisions
    assert decision.picture == Picture("a.jpg", date(2026, 3, 1))
    assert [(fit.run.id, fit.day) for fit in decision.fits] == [("long", Day.on(35))]
    assert (found.others, found.errors) == (("b/film.mov",), ())
    assert [run.id for run in found.runs] == ["long", "old", "undated"]
    assert runs_of(inside) == (found.runs, ())


def test_a_journal_that_cannot_be_read_keeps_pictures(tmp_path: Path) -> None:
    """Its errors are all that is told."""
    root, folder = bench(tmp_path, {"a.jpg": photo("2026:03:01 10:00:00")})
    (root / "journal.yaml").write_text("title: [", "utf-8")
    found = pictures_in(folder, root, TODAY, None)

    assert [each.source.file for each in found.errors] == ["journal.yaml"]
    assert found == Found(errors=found.errors)
    assert runs_of(root) == ((), found.errors)


@pytest.mark.parametrize(
    ("name", "content", "picture"),
    [
        ("2026-02-27.jpg", photo("2026:03:01 10:00:00"), Picture("2026-02-27.jpg", date(2026, 3, 1))),
        ("b/2026-02-27.jpg", jpeg(metadata=exif("")), Picture("b/2026-02-27.jpg", date(2026, 2, 27))),
        ("no-time.jpg", jpeg(metadata=exif("")), Picture("no-time.jpg")),
        ("b/broken.jpg", b"\xff\xd8\xff", Picture("b/broken.jpg", fault=BROKEN)),
    ],
)
def test_when_a_picture_was_taken(tmp_path: Path, name: str, content: bytes, picture: Picture) -> None:
    """By its header before its name; a broken one is said to be, by its name alone."""
    root, folder = bench(tmp_path, {name: content})
    (decision,) = pictures_in(folder, root, TODAY, None).decisions

    assert decision.picture == picture


def test_nobody_is_asked_about_what_is_there(tmp_path: Path) -> None:
    """A picture that two experiments fit has no fit left once one of them has it; another has both."""
    root, folder = bench(
        tmp_path, {"1.jpg": photo("2026:01:28 10:00:00"), "2.jpg": photo("2026:01:28 10:00:00", 1)}
    )
    album = root / "seasons/one/old/photos"
    album.mkdir()
    (album / "cut.jpg").write_bytes((folder / "1.jpg").read_bytes())
    found = pictures_in(folder, root, TODAY, None)

    assert [[fit.run.id for fit in each.fits] for each in found.decisions] == [[], ["long", "old"]]
    assert [[fit.run.id for fit in answered(each, "old").fits] for each in found.decisions] == [[], ["old"]]
    assert outcomes(root, folder)["1.jpg"] == ("seasons/one/old/photos/cut.jpg", False, "")


def test_pictures_of_one_size_are_told_apart(tmp_path: Path) -> None:
    """By their content: the second of two with as many bytes is copied, and known the next time."""
    content = photo("2026:03:01 10:00:00")
    root, folder = bench(tmp_path, {"a.jpg": content, "b.jpg": other_bytes(content)})
    first, second = outcomes(root, folder), outcomes(root, folder)
    places = {name: f"seasons/one/long/photos/{name}" for name in ("a.jpg", "b.jpg")}

    assert {name: (place, new) for name, (place, new, _) in first.items()} == {
        name: (place, True) for name, place in places.items()
    }
    assert second == {name: (place, False, "") for name, place in places.items()}


def test_a_picture_twice_in_a_folder_is_copied_once(tmp_path: Path) -> None:
    """The second is there already, by the time that it is looked at."""
    content = photo("2026:03:01 10:00:00")
    root, folder = bench(tmp_path, {"a.jpg": content, "b.jpg": content})

    assert outcomes(root, folder) == {
        "a.jpg": ("seasons/one/long/photos/a.jpg", True, ""),
        "b.jpg": ("seasons/one/long/photos/a.jpg", False, ""),
    }


def test_only_what_has_the_same_size_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A photo of the journal is read once, and one of another size never."""
    pictures = {f"{n}.jpg": photo("2026:01:28 10:00:00", n) for n in range(3)}
    root, folder = bench(tmp_path, pictures)
    album = root / "seasons/one/old/photos"
    album.mkdir()
    (album / "same-size.jpg").write_bytes(other_bytes(pictures["0.jpg"]))
    (album / "other.jpg").write_bytes(b"\xff")
    read: list[str] = []
    original = module.digest_of_file
    monkeypatch.setattr(module, "digest_of_file", lambda path: read.append(path.name) or original(path))
    albums = module._Albums.of(root, pictures_in(folder, root, TODAY, None).runs)
    read.clear()
    said = [albums.place_of(folder / name) for name in ("0.jpg", "0.jpg", "1.jpg")]

    assert said == ["", "", ""]
    assert read.count("same-size.jpg") == 1
    assert "other.jpg" not in read


def test_an_album_that_leads_out_of_the_journal_is_left(tmp_path: Path) -> None:
    """Nothing is written through the link, and it is said what to do."""
    root, folder = bench(tmp_path, {"a.jpg": photo("2026:03:01 10:00:00")})
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / ".a.jpg.x.new").touch()
    (root / "seasons/one/long/photos").symlink_to(tmp_path / "other")

    assert outcomes(root, folder) == {
        "a.jpg": (
            "",
            False,
            (
                "`seasons/one/long/photos` is a link that leads out of the journal: copy the folder into the "
                "journal, in place of the link"
            ),
        )
    }
    assert [path.name for path in (tmp_path / "other").iterdir()] == [".a.jpg.x.new"]


def test_a_picture_that_is_gone_is_told_when_it_is_copied(tmp_path: Path) -> None:
    """It is no reason to leave the others."""
    root, folder = bench(
        tmp_path, {"a.jpg": photo("2026:01:28 10:00:00"), "b.jpg": photo("2026:03:01 10:00:00", 1)}
    )
    found = pictures_in(folder, root, TODAY, None)
    (folder / "a.jpg").unlink()
    albums = module._Albums.of(root, found.runs)
    kept = list(module._open_ones(found.decisions, folder, albums))
    made = {each.picture.name: each.why for each in copy_pictures(folder, root, found.decisions, found.runs)}

    assert kept == list(found.decisions)
    assert made == {"a.jpg": "it cannot be copied: No such file or directory", "b.jpg": ""}
