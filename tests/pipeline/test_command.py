"""What is remembered of the last command, and when it is its answer again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.site.page import WriteResult
from sitegen.core.values.day import DateRange
from sitegen.memo import Memo
from sitegen.pipeline.engine import unchanged
from sitegen.pipeline.engine.files import FOLDER, Inventory, folder_stamps
from sitegen.pipeline.engine.unchanged import (
    Command,
    remember_check,
    remember_publication,
    stored_check,
    stored_publication,
)
from sitegen.pipeline.results import Checked, Published

TODAY = date(2026, 5, 1)
ALWAYS = DateRange()
FILES = Inventory({"journal.yaml": (9, 1, 1, 7), "seasons": FOLDER}, 1_000_000_000_000)
WARNING = Finding("long-gap", Source("a.yaml", 3, 4, 5), "20 days without an entry", found="20")
ERROR = Finding("no-unit", Source("a.yaml"), "`9` has no unit", "write `9 cm`")
CHECKED = Checked((WARNING, ERROR), 3, 40)


@pytest.fixture
def command(tmp_path: Path) -> Iterator[Command]:
    """A command on a journal whose files are at rest."""
    with Memo(tmp_path / "memo") as memo:
        yield Command(("validate",), tmp_path, TODAY, FILES, memo)


def test_the_same_is_said_of_the_same(command: Command) -> None:
    """All of the findings and the counts; before, nothing is known."""
    before = stored_check(command)
    remember_check(command, CHECKED, ALWAYS)

    assert (before, stored_check(command)) == (None, CHECKED)


@pytest.mark.parametrize(
    "change",
    [
        {"words": ("write",)},
        {"root": Path("/elsewhere")},
        {"files": Inventory({**FILES.stamps, "journal.yaml": (9, 1, 2, 7)}, FILES.taken)},
        {"files": Inventory({**FILES.stamps, "seasons/one": FOLDER}, FILES.taken)},
    ],
    ids=["another command", "another journal", "a touched file", "a new folder"],
)
def test_another_question_has_another_answer(command: Command, change: dict[str, Any]) -> None:
    """Each part of a command counts but the day."""
    remember_check(command, CHECKED, ALWAYS)

    assert stored_check(replace(command, **change)) is None
    assert stored_check(replace(command, today=date(2027, 1, 1))) == CHECKED


def test_another_program_is_asked_again(command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    """What an earlier version found is no answer."""
    remember_check(command, CHECKED, ALWAYS)
    monkeypatch.setattr(unchanged, "program_digest", lambda: "another")

    assert stored_check(command) is None


@pytest.mark.parametrize(
    ("validity", "known"),
    [
        (DateRange(since=TODAY), True),
        (DateRange(until=TODAY), True),
        (DateRange(since=date(2026, 5, 2)), False),
        (DateRange(until=date(2026, 4, 30)), False),
    ],
)
def test_an_answer_is_good_for_its_days(command: Command, validity: DateRange, *, known: bool) -> None:
    """On the first and on the last of them too."""
    remember_check(command, CHECKED, validity)

    assert (stored_check(command) is not None) is known


def test_files_that_were_saved_just_now_are_not_trusted(command: Command) -> None:
    """The next command looks at them again."""
    fresh = replace(command, files=Inventory({"a": (1, FILES.taken, 1, 1)}, FILES.taken))
    remember_check(fresh, CHECKED, ALWAYS)

    assert stored_check(fresh) is None


@pytest.mark.parametrize("value", [{}, {"result": [1]}, {"result": "x"}, {"result": None, "output": ""}])
def test_a_row_of_another_version_counts_as_absent(command: Command, value: dict[str, Any]) -> None:
    """Whatever is in it."""
    command.remember(ALWAYS, **value)

    assert command.stored() is not None
    assert (stored_check(command), stored_publication(command)) == (None, None)


ADDRESSES = ("index.html", "data/one/facts.json", "data/two/facts.json", "assets/style.css")
FOLDERS = [".", "assets", "data", "data/one", "data/two"]


@pytest.fixture
def done(tmp_path: Path) -> Published:
    """A site that was written."""
    folder = tmp_path / "site"
    for address in (*ADDRESSES, ".sitegen.json"):
        (folder / address).parent.mkdir(parents=True, exist_ok=True)
        (folder / address).write_text("{}", "utf-8")
    written = WriteResult(ADDRESSES, 0, ("old.html",))
    return Published((WARNING, ERROR), folder, written, ("three",), (), 4, 2)


def test_a_site_is_told_as_unchanged(command: Command, done: Published) -> None:
    """The second time every file was there, every warning was told, and nothing was drawn."""
    remember_publication(command, done, ALWAYS, ADDRESSES)

    assert stored_publication(command) == Published(
        (WARNING, ERROR), done.folder, WriteResult((), 4, ()), ("three",), (WARNING,), 0, 0
    )
    stored = command.stored()
    assert stored is not None
    assert stored["folders"] == FOLDERS


@pytest.mark.parametrize(
    ("place", "seen"),
    [
        *((place, True) for place in ("new.html", "data/new", "data/one/new.csv", "assets/new.css")),
        (".sitegen.json", True),
        ("elsewhere/new.html", True),
    ],
)
def test_a_change_of_the_output_is_seen(command: Command, done: Published, place: str, *, seen: bool) -> None:
    """A file that came, in whichever folder, and another manifest."""
    remember_publication(command, done, ALWAYS, ADDRESSES)
    (done.folder / place).parent.mkdir(exist_ok=True)
    (done.folder / place).write_text("[]\n", "utf-8")

    assert (stored_publication(command) is None) is seen


def test_an_output_without_a_manifest_is_no_answer(command: Command, done: Published) -> None:
    """Also where the whole folder is gone."""
    remember_publication(command, done, ALWAYS, ADDRESSES)
    (done.folder / ".sitegen.json").unlink()

    assert stored_publication(command) is None


def test_the_stamps_of_folders(tmp_path: Path) -> None:
    """When each last lost or gained a file; one that is gone has a stamp of its own."""
    (tmp_path / "a").mkdir()
    stat = (tmp_path / "a").stat()

    assert folder_stamps(tmp_path, ["a", "b"]) == [(stat.st_mtime_ns, stat.st_ino), (0, 0)]
