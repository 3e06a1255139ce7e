"""A few kills and a few damages of the cache for each change; `python -m tests.kills` makes many."""

from __future__ import annotations

import subprocess
import sys

import pytest

# In a process of their own: one that has drawn a chart, as that of the tests may have, cannot be copied.


def _printed(*words: str) -> list[str]:
    done = subprocess.run([sys.executable, "-m", *words], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout.splitlines()


def test_some_kills_are_survived() -> None:
    """Of entries, an inbox, pictures, mends and a new experiment: nothing is lost, and nothing is left behind."""
    printed = _printed("tests.kills", "--every", "30", "log", "fix", "begin")

    made, survived = printed[-1].split()
    assert int(made) == int(survived) >= 8


@pytest.mark.full
def test_some_kills_of_a_write_are_survived() -> None:
    """Of one after many changes: each page has its files, and the next command makes the site."""
    printed = _printed("tests.kills", "--every", "40", "many")

    made, survived = printed[-1].split()
    assert int(made) == int(survived) >= 8


@pytest.mark.full
def test_some_kills_of_copies_and_of_worker_processes_are_survived() -> None:
    """Of a copy of a page, and of a whole group of processes: no process is left behind either."""
    printed = _printed("tests.kills", "--every", "50", "only", "jobs")

    made, survived = printed[-1].split()
    assert int(made) == int(survived) >= 8


@pytest.mark.full
def test_some_damages_of_the_cache_do_not_show() -> None:
    """Each page is as of a run that knows nothing."""
    printed = _printed("tests.kills.store", "--seeds", "3", "--first", "4")

    assert [line.split()[1:] for line in printed if line] == [
        ["0", "wrong", name] for name in ("rows", "numbers", "other_table")
    ]
