"""Warnings that stand are told once a change of their file."""

from __future__ import annotations

import datetime as dt
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.memo import Memo
from sitegen.pipeline import publish, validate
from sitegen.pipeline.checks.told import told_before
from sitegen.pipeline.engine.files import Inventory
from tests.cases import BASE

TODAY = dt.date(2025, 12, 1)
# Nothing was recorded for long, and there is no end: warnings, and no error.
RUN = """\
format: 1
title: Sorrel in a crate
crop: sorrel
system: crate
start: 2025-03-01
plants: 4
log:
  - {day: 0, sow: 2 a spot}
  - {day: 60, harvest: 8 g}
"""
LOG = "seasons/spring/crate-run/experiment.yaml"


@pytest.fixture(name="root")
def journal(tmp_path: Path) -> Path:
    """A journal with warnings, and none in a page of its own."""
    root = tmp_path / "journal"
    shutil.copytree(BASE, root)
    (root / LOG).parent.mkdir(parents=True)
    (root / LOG).write_text(RUN, "utf-8")
    return root


def _written(root: Path, today: dt.date = TODAY, *, fresh: bool = False) -> tuple[int, int]:
    """How many warnings writing finds, and how many of them were told before."""
    done = publish(root, today, output=root.parent / "output", fresh=fresh)
    assert set(done.told) <= set(done.findings)
    return len(done.findings), len(done.told)


def test_a_warning_is_told_once(root: Path) -> None:
    """The second time nothing is new: with nothing changed, after another file changed, and on another day."""
    found = len(validate(root, TODAY).findings)
    first, second = _written(root), _written(root)
    (root / "about.md").write_text("# About\n", "utf-8")

    assert found > 1
    assert (first, second) == ((found, 0), (found, found))
    assert _written(root) == _written(root, TODAY + dt.timedelta(days=1)) == (found, found)


def test_a_change_of_the_file_tells_its_warnings_again(root: Path) -> None:
    """The warnings of a file are told again after an edit of it, and so is everything that is made anew."""
    found, _ = _written(root)
    (root / LOG).write_text(RUN.replace("8 g", "9 g"), "utf-8")

    assert _written(root) == (found, 0)
    assert _written(root) == (found, found)
    assert _written(root, fresh=True) == (found, 0)


def test_validating_tells_nothing_once_and_for_all(root: Path) -> None:
    """`validate` tells all warnings each time, and what it told is still new to `write`."""
    assert validate(root, TODAY).findings == validate(root, TODAY).findings != ()
    assert _written(root)[1] == 0


def test_what_was_told_before(tmp_path: Path) -> None:
    """Warnings alone, by code and place whatever they say, while the file is as it was and they stand."""
    file, other = ("a.yaml", (1, 2, 3, 4)), ("b.yaml", (5, 6, 7, 8))
    first = Finding("long-gap", Source("a.yaml", 3, 2, 9), "20 days without an entry")
    later = replace(first, message="21 days without an entry")
    moved = replace(first, source=Source("a.yaml", 4, 2, 9))
    coded = replace(first, code="no-end")
    error = Finding("no-unit", Source("a.yaml", 3), "`9` has no unit")
    elsewhere = replace(first, source=Source("b.yaml", 3))
    nowhere = replace(first, source=Source("none.yaml"))
    with Memo(tmp_path / "memo") as memo:

        def tell(
            *findings: Finding, root: Path = tmp_path, **stamps: tuple[int, int, int, int]
        ) -> list[Finding]:
            files = Inventory(
                dict((file, other)) | {f"{name}.yaml": stamp for name, stamp in stamps.items()}, 9
            )
            return list(told_before(findings, root, files, memo))

        assert tell(first, error, nowhere) == []
        assert tell(first, error, nowhere, root=tmp_path / "another") == []
        assert tell(later, moved, coded, error, elsewhere, nowhere) == [later, nowhere]
        assert tell(first, moved, coded, elsewhere) == [first, moved, coded, elsewhere]
        assert tell(first, elsewhere, a=(1, 2, 3, 9)) == [elsewhere]
        assert tell(first, elsewhere, a=(1, 2, 3, 9)) == [first, elsewhere]
        assert tell(moved) == []  # it had gone in between


def test_what_stands_is_stored_once(tmp_path: Path) -> None:
    """A command that finds the same writes nothing."""
    finding = Finding("long-gap", Source("a.yaml", 3), "a long gap")
    with Memo(tmp_path / "memo") as memo:
        puts: list[str] = []
        put = memo.put
        memo.put = lambda key, value, files=(): puts.append(key) or put(key, value, files)  # type: ignore[method-assign, func-returns-value]
        for _ in range(3):
            told_before([finding], tmp_path, Inventory({}, 0), memo)

    assert len(puts) == 1
