"""What is known of an experiment without its records."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sitegen.core.values.day import Start
from sitegen.filing.inbox.run_names import KnownRun
from sitegen.ingest import JournalFiles, read_shared
from sitegen.memo import Memo
from sitegen.pipeline.filing import known_runs as module
from sitegen.pipeline.filing.known_runs import known_runs
from tests.journal_maker import make_journal

GROWN = """\
format: 1
title: {title}
crop: {crop}
system: tray
start: {start}
plants: 2
log:
  - day: 0
    sow: 2 a spot
  - day: 20
    height: 9 cm
"""
ENDED = "  - day: 30-32\n    end: {why: slow, plants: cleared}\n  - day: 28\n    note: Late.\n"
TOLD = """\
format: 1
title: As we remember it
crop: leaf
system: tray
start: 2025
plants: 2
harvest: 200 g
from_memory: true
"""


@pytest.fixture
def journal(tmp_path: Path) -> JournalFiles:
    """A run that grows, one that ended, one of an unknown start, one from memory, one that cannot be read."""
    leaf = GROWN.format(title="Leaves", crop="leaf", start="2026-03")
    runs = {
        "a-grows": leaf.replace("plants: 2", "plants: 2\nvariety: second"),
        "b-ended": GROWN.format(title="Amber", crop="tomato", start="2026-03-01") + ENDED,
        "c-undated": GROWN.format(title="Undated", crop="leaf", start="unknown"),
        "d-told": TOLD,
        "e-broken": "title: [",
    }
    found, errors = read_shared(make_journal(tmp_path / "bench", runs))
    assert (found is not None, errors) == (True, ())
    assert found is not None
    (tmp_path / "bench" / "seasons" / "one" / "f-empty").mkdir()
    return found


WANTED = (
    KnownRun(
        "a-grows",
        "seasons/one/a-grows",
        ("Leaves", "leaf", "Leaf lettuce", "second", "Second"),
        Start(date(2026, 3, 1), "month"),
    ),
    KnownRun(
        "b-ended",
        "seasons/one/b-ended",
        ("Amber", "tomato", "Dwarf tomato"),
        Start(date(2026, 3, 1), "day"),
        32,
    ),
    KnownRun("c-undated", "seasons/one/c-undated", ("Undated", "leaf", "Leaf lettuce")),
    KnownRun(
        "d-told",
        "seasons/one/d-told",
        ("As we remember it", "leaf", "Leaf lettuce"),
        Start(date(2025, 1, 1), "year"),
        told=True,
    ),
    KnownRun("e-broken", "seasons/one/e-broken"),
    KnownRun("f-empty", "seasons/one/f-empty"),
)


def test_what_is_known(journal: JournalFiles, tmp_path: Path) -> None:
    """Title, crop and varieties as names; the start; the last day of one that ended; of one that fails, its id."""
    with Memo(tmp_path / "memo") as memo:
        assert known_runs(journal, memo) == WANTED


def test_only_what_has_changed_is_read(
    journal: JournalFiles, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An edit of a log reads that run again, one of the crops or the gear every run; what is known is the same."""
    read: list[str] = []
    original = module.read_records

    def noted(folder, files, *more, **options):  # type: ignore[no-untyped-def]
        read.append(folder.id)
        assert options == {"headers": False}  # photos tell nothing of this
        return original(folder, files, *more, **options)

    monkeypatch.setattr(module, "read_records", noted)
    with Memo(tmp_path / "memo") as memo:

        def readings(*edited: str) -> list[str]:
            for place in edited:
                with (journal.root / place).open("a", encoding="utf-8") as file:
                    file.write("# as before\n")
            read.clear()
            assert known_runs(journal, memo) == WANTED
            return list(read)

        every = [each.id for each in WANTED]
        assert readings() == every
        assert readings() == []
        assert readings("seasons/one/b-ended/experiment.yaml") == ["b-ended"]
        assert readings("crops.yaml") == readings("gear.yaml") == every
        assert readings("journal.yaml") == []


def test_a_file_that_goes_while_it_is_looked_at(
    journal: JournalFiles, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of such a run the id is known, and the others are as ever."""
    original = module.file_stamp

    def gone(path: Path, found: object) -> object:
        if path.parent.name == "a-grows":
            raise FileNotFoundError(path)
        return original(path, found)  # type: ignore[arg-type]

    monkeypatch.setattr(module, "file_stamp", gone)
    with Memo(tmp_path / "memo") as memo:
        first, *others = known_runs(journal, memo)

    assert first == KnownRun("a-grows", "seasons/one/a-grows")
    assert tuple(others) == WANTED[1:]
