"""Entries are judged before they are written, written whole or not at all, and taken back."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sitegen.cache_folder import lock_folder
from sitegen.filing.entries.append import CannotAppendError
from sitegen.filing.journal_lock import BusyError, journal_lock
from sitegen.pipeline.filing import entries
from sitegen.pipeline.filing.entries import file_entry, undo_entry
from sitegen.pipeline.filing.experiments import meant_by
from sitegen.pipeline.filing.planning import plan_entry
from tests.kills.killing import EVERY, killed_before

TODAY = date(2026, 3, 20)
SETUP = """format: 1
title: Basil in a tub
crop: basil
system: tub-4
start: 2026-03-01
plants: 4
log:
"""
LOG = "  - day: 0\n    sow: 2 a spot\n  - day: 6\n    sprouted: 5 of 8\n"
GEAR = """systems: {tub-4: {name: Tub, spots: 4, reservoir: 10 L}}
products: {leaf-mix: {name: Leaf mix, kind: feed}}
"""


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A journal with three experiments, and a cache folder of its own."""
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / "cache"))
    root = tmp_path / "journal"
    for run in ("basil-tub", "basil-wick", "mint"):
        folder = root / "seasons" / "spring" / run
        folder.mkdir(parents=True)
        (folder / "experiment.yaml").write_text(SETUP + LOG)
    (root / "seasons" / "spring" / "season.yaml").write_text("title: Spring\n")
    (root / "journal.yaml").write_text("format: 1\ntitle: Test\n")
    (root / "gear.yaml").write_text(GEAR)
    (root / "crops.yaml").write_text("basil: {name: Basil, kind: herb}\n")
    return root


def _path(root: Path) -> Path:
    return root / "seasons" / "spring" / "basil-tub" / "experiment.yaml"


def _text(root: Path) -> str:
    return _path(root).read_text().removeprefix(SETUP + LOG)


@pytest.mark.parametrize(
    ("texts", "when", "entry"),
    [
        (["height: about 9 in"], "day: 19", "  - day: 19\n    height: about 9 in\n"),
        (["height: about 9 in"], "", "  - day: 19\n    height: about 9 in\n"),
        (
            ["feed: {leaf-mix: 15 ml}", "P1 is 9 cm tall", "P2 11 cm, looks well"],
            "date: 2026-03-19",
            (
                "  - date: 2026-03-19\n    feed: {leaf-mix: 15 ml}\n    height: {P1: 9 cm, P2: 11 cm}\n"
                "    note: looks well\n"
            ),
        ),
        (
            ["height: nine centimetres", "note: roots: white"],
            "day: 19",
            "  - day: 19\n    height: nine centimetres\n    note: 'roots: white'\n",
        ),
        (["note: all well", "P2 looks sad"], "day: 19", "  - day: 19\n    note: all well; P2 looks sad\n"),
    ],
)
def test_what_is_written(root: Path, texts: list[str], when: str, entry: str) -> None:
    """Keys stand as they were given, words as they were understood; today is written as the log writes days."""
    filed = file_entry(root, "basil-tub", when, texts, TODAY)

    assert (filed.written, filed.planned.findings) == (True, ())
    assert _text(root) == entry


def test_today_is_a_date_where_the_log_has_dates(root: Path) -> None:
    """The last entry says how days are written."""
    file_entry(root, "basil-tub", "date: 2026-03-10", ["water: 1 L"], TODAY)
    file_entry(root, "basil-tub", "", ["water: 2 L"], TODAY)

    assert _text(root).endswith("  - date: 2026-03-20\n    water: 2 L\n")


def test_an_error_keeps_the_file(root: Path) -> None:
    """An entry that brings an error is not written, unless it is asked for; only what it brings is a finding."""
    before = _path(root).read_bytes()
    filed = file_entry(root, "basil-tub", "day: 19", ["lost: P9"], TODAY)

    (finding,) = filed.planned.findings
    assert (finding.code, finding.source.line, filed.written) == ("unknown-plant", 13, False)
    assert _path(root).read_bytes() == before
    assert file_entry(root, "basil-tub", "day: 19", ["lost: P9"], TODAY, anyway=True).written
    assert _text(root) == "  - day: 19\n    lost: P9\n"
    # The error that stands in the file now is not the next entry's.
    later = file_entry(root, "basil-tub", "day: 19", ["water: 1 L"], TODAY)
    assert (later.planned.findings, later.written) == ((), True)


def test_a_warning_is_told_and_the_entry_written(root: Path) -> None:
    """A pH that is hardly possible is a warning."""
    filed = file_entry(root, "basil-tub", "day: 19", ["ph 3"], TODAY)

    assert [(finding.code, finding.is_error) for finding in filed.planned.findings] == [
        ("unusual-value", False)
    ]
    assert _text(root) == "  - day: 19\n    ph: 3\n"


def test_a_run_that_cannot_be_read_is_left(root: Path) -> None:
    """What stands against the run is told, and nothing is written, not even anyway."""
    _path(root).write_text(SETUP.replace("crop: basil", "crop: rye") + LOG)
    filed = file_entry(root, "basil-tub", "day: 19", ["water: 1 L"], TODAY, anyway=True)

    assert (filed.written, filed.planned.readable) == (False, False)
    assert [finding.code for finding in filed.planned.errors] == ["unknown-crop"]


def test_a_key_twice_and_a_log_in_brackets_are_refused(root: Path) -> None:
    """Neither is guessed at."""
    with pytest.raises(CannotAppendError, match="`water` is said twice"):
        file_entry(root, "basil-tub", "day: 19", ["water: 1 L", "filled it"], TODAY)
    _path(root).write_text(f"{SETUP.rstrip()} [{{day: 0, sow: 2 a spot}}]\n")
    with pytest.raises(CannotAppendError, match="stands in brackets"):
        file_entry(root, "basil-tub", "day: 19", ["water: 1 L"], TODAY)


def test_today_needs_a_start(root: Path) -> None:
    """Without a start, the day has to be said."""
    _path(root).write_text(SETUP.replace("2026-03-01", "unknown") + LOG)
    with pytest.raises(CannotAppendError, match="the start is not known"):
        file_entry(root, "basil-tub", "", ["water: 1 L"], TODAY)


def test_a_plan_gets_its_first_entry(root: Path) -> None:
    """The empty list of a planned run goes, and comes back."""
    plan = f"{SETUP.rstrip()} []  # from the 1st on\n"
    _path(root).write_text(plan)

    assert file_entry(root, "basil-tub", "day: 0", ["sowed two seeds per spot"], TODAY).written
    assert _path(root).read_text() == f"{SETUP.rstrip()}  # from the 1st on\n  - day: 0\n    sow: 2 a spot\n"
    undo_entry(root, "basil-tub")
    assert _path(root).read_text() == plan


def test_a_plan_is_not_written(root: Path) -> None:
    """Planning gives the file before and after, also of a content that is not written yet."""
    content = (SETUP + LOG).encode() + b"  - day: 7\n"
    planned = plan_entry(root, "basil-tub", "day: 8", [("water", "1 L")], TODAY, content=content)

    assert (planned.before, planned.after) == (content, content + b"  - day: 8\n    water: 1 L\n")
    assert _text(root) == ""


def test_two_commands_do_not_write_at_once(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While another command holds the journal, nothing is read or written."""
    monkeypatch.setattr(entries, "journal_lock", lambda locks, root: journal_lock(locks, root, wait=0.05))
    with lock_folder() as locks, journal_lock(locks, root), pytest.raises(BusyError):
        file_entry(root, "basil-tub", "day: 19", ["water: 1 L"], TODAY)


@pytest.mark.parametrize("undo", [False, True])
def test_a_kill_anywhere_leaves_the_old_file_or_the_new(root: Path, undo: bool) -> None:
    """Before whichever file operation the process is killed, the log is whole, and the command works afterwards."""
    if undo:
        file_entry(root, "basil-tub", "day: 19", ["water: 1 L"], TODAY)
    old = _path(root).read_bytes()
    work = (
        (lambda: undo_entry(root, "basil-tub"))
        if undo
        else (lambda: file_entry(root, "basil-tub", "day: 19", ["water: 1 L"], TODAY))
    )
    new = (SETUP + LOG).encode() if undo else old + b"  - day: 19\n    water: 1 L\n"
    seen = set()
    operation = 0
    while killed_before(operation, str(root.parent), work):
        seen.add(_path(root).read_bytes())
        assert _path(root).read_bytes() in (old, new)
        _path(root).write_bytes(old)
        operation += max(1, EVERY // 3)

    assert _path(root).read_bytes() == new
    assert operation > 5
    assert old in seen


def test_the_beginning_of_an_id_is_enough(root: Path) -> None:
    """An id as it stands, or all that begin with a word."""
    assert [each.id for each in meant_by("m", root)] == ["mint"]
    assert [each.id for each in meant_by("BAS", root)] == ["basil-tub", "basil-wick"]
    assert [each.id for each in meant_by("basil-tub", root)] == ["basil-tub"]
    assert meant_by("x", root) == ()
