"""What is killed: writes of a site and of a copy, entries, an inbox, mends, pictures, a new experiment, workers.

In: a folder. Out: its journal, before and after what is to be written was changed.
"""

from __future__ import annotations

import shutil
from pathlib import Path

from sitegen.pipeline.engine.build import PAGES_ALONE
from tests.journal_maker import make_journal
from tests.kills.bench import TODAY, Scenario
from tests.kills.forked import command, environment_of, forked
from tests.photos.pictures import jpeg, picture
from tests.pipeline.bench import leaf

RUNS = ("one", "two", "three", "four")
WRITE = ("write", "{}/bench", "-o", "{}/site")


def journal(folder: Path) -> None:
    """Four experiments, one with a photo, and a page of the author's."""
    runs = {name: leaf(name.title(), "tomato" if name == "two" else "leaf") for name in RUNS}
    make_journal(
        folder / "bench",
        runs,
        journal="address: https://example.org/\n",
        more={"about.md": "# About\n\nA [page](index.html).\n"},
    )
    place = folder / "bench" / "seasons" / "one" / "one" / "photos" / "day-20.jpg"
    place.parent.mkdir()
    place.write_bytes(jpeg(picture((200, 150))))


def _run(folder: Path, name: str) -> Path:
    return folder / "bench" / "seasons" / "one" / name


def _edit(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def changes(folder: Path) -> None:
    """One experiment changed, one more, one less, one under another name, another title, another photo."""
    _edit(_run(folder, "one") / "experiment.yaml", "9 cm", "11 cm")
    shutil.rmtree(_run(folder, "two"))
    _run(folder, "three").rename(_run(folder, "third"))
    new = _run(folder, "five") / "experiment.yaml"
    new.parent.mkdir()
    new.write_text(leaf("Five"), "utf-8")
    _edit(folder / "bench" / "journal.yaml", "Test bench", "Other bench")
    (_run(folder, "one") / "photos" / "day-21.jpg").write_bytes(jpeg(picture((160, 120))))


def a_note(folder: Path) -> None:
    """One word of one experiment changed."""
    _edit(_run(folder, "one") / "experiment.yaml", "as it was", "as tall as a hand")


def to_file(folder: Path) -> None:
    """A journal, and an inbox with lines for two of its experiments and one that stays."""
    journal(folder)
    lines = "one day 31: note: taller\ntwo 2026-04-12: note: watered\nbuy twine\none day 25: note: earlier\n"
    (folder / "inbox.txt").write_text(lines, "utf-8")


def to_mend(folder: Path) -> None:
    """A journal with slips in three files that have safe mends."""
    journal(folder)
    for name in ("one", "three"):
        _edit(_run(folder, name) / "experiment.yaml", "    height:", "    heigth:")
    _edit(_run(folder, "two") / "experiment.yaml", "plants: 2", "plnats: 2")


def to_move_into(folder: Path) -> None:
    """A journal, and a folder of somebody else's in the place where a first site waits."""
    journal(folder)
    (folder / ".site.sitegen.staging").mkdir()
    (folder / ".site.sitegen.staging" / "letter.txt").write_text("of somebody else", "utf-8")


def to_undo(folder: Path) -> None:
    """A journal with an entry that the command has written."""
    journal(folder)
    words = [word.replace("{}", str(folder)) for word in (*LOG, "--today", TODAY)]
    done = forked(lambda: command(*words, environment=environment_of(folder)))
    assert done.status < 2, done.printed


def to_copy_photos(folder: Path) -> None:
    """A journal, and a folder of pictures of a phone, one of which is there already."""
    journal(folder)
    place = folder / "phone"
    place.mkdir()
    for day in (10, 11, 12):
        (place / f"IMG_202603{day}_101500.jpg").write_bytes(jpeg(picture((200 + day, 150))))
    shutil.copy(_run(folder, "one") / "photos" / "day-20.jpg", place / "IMG_20260321_101500.jpg")


def many(folder: Path) -> None:
    """A journal with enough experiments for worker processes."""
    runs = {f"run-{n}": leaf(f"Run {n}", start=f"2026-03-{n:02}") for n in range(1, PAGES_ALONE + 3)}
    make_journal(folder / "bench", runs, journal="address: https://example.org/\n")


def many_change(folder: Path) -> None:
    """All of them changed."""
    for path in (folder / "bench" / "seasons" / "one").glob("*/experiment.yaml"):
        _edit(path, "9 cm", "11 cm")


LOG = ("log", "one", "day 31: note: taller", "--journal", "{}/bench")
FILE = ("log", "--from", "{}/inbox.txt", "--journal", "{}/bench")
UNDO = ("log", "one", "--undo", "--journal", "{}/bench")
PHOTOS = ("log", "--photos", "{}/phone", "--to", "one", "--journal", "{}/bench")
BEGIN = (
    "begin",
    "experiment",
    "six",
    "{}/bench",
    "--crop",
    "leaf",
    "--system",
    "tray",
    "--start",
    "2026-05-01",
)
ONLY = ("write", "{}/bench", "--only", "one", "-o", "{}/site")
SCENARIOS = (
    Scenario("first write, nothing known", journal, WRITE, written_before=False, cold=True),
    Scenario("first write, drawings known", journal, WRITE, written_before=False),
    Scenario("first write, inside of the folder", to_move_into, WRITE, written_before=False),
    Scenario("write after many changes", journal, WRITE, changes),
    Scenario("write after a note", journal, WRITE, a_note),
    Scenario("write --fresh", journal, (*WRITE, "--fresh"), a_note, again=WRITE),
    Scenario("log", journal, LOG, writes=False, written_before=False, undo=UNDO),
    Scenario("log --undo", to_undo, UNDO, writes=False, written_before=False, undo=LOG),
    Scenario("log --photos", to_copy_photos, PHOTOS, writes=False, written_before=False),
    Scenario(
        "begin experiment",
        journal,
        BEGIN,
        writes=False,
        written_before=False,
        looks=("validate", "{}/bench"),
    ),
    Scenario("first write --only", journal, ONLY, written_before=False),
    Scenario("write --only after a note", journal, ONLY, a_note),
    Scenario("first write --jobs 2", many, (*WRITE, "--jobs", "2"), written_before=False, group=True),
    Scenario("write --jobs 2 after changes", many, (*WRITE, "--jobs", "2"), many_change, group=True),
    Scenario("log --from", to_file, FILE, writes=False, written_before=False),
    Scenario(
        "validate --fix", to_mend, ("validate", "{}/bench", "--fix"), writes=False, written_before=False
    ),
)
