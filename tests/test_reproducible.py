"""The same journal gives the same bytes, whatever the machine, its clock's zone, its language and its folders are."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

ROOT = Path(__file__).parent.parent
TODAY = "2026-11-25"
# Enough for several processes: a workbook, an export, episodes with chapters, a draft, a run without dates.
KEPT = {"cinder-button-flood", "emberfrill-hot-loft", "basil-on-a-wick", "chard-lamplight"}
HERE = {"TZ": "UTC", "LANG": "C", "LC_ALL": "C", "PYTHONHASHSEED": "1", "PYTHONUTF8": "0"}
THERE = {
    "TZ": "Pacific/Apia",
    "LANG": "de_AT.UTF-8",
    "LC_ALL": "de_AT.UTF-8",
    "PYTHONHASHSEED": "2",
    "PYTHONUTF8": "1",
}


def begun(home: Path, environment: dict[str, str], *more: str) -> subprocess.Popen[bytes]:
    """A process that writes a part of the demo with a store of its own."""
    journal, site = home / "journal", home / "site"
    shutil.copytree(ROOT / "content_demo", journal, ignore=shutil.ignore_patterns("*.py", "drawing"))
    for path in journal.glob("seasons/*/*/"):
        if path.is_dir() and path.name not in KEPT:
            shutil.rmtree(path)
    return subprocess.Popen(
        [sys.executable, "-m", "sitegen", "write", str(journal), "-o", str(site), "--today", TODAY, *more],
        env=os.environ | environment | {"SITEGEN_CACHE": str(home / "store"), "PYTHONPATH": str(ROOT)},
        cwd=home,
        stderr=subprocess.DEVNULL,
    )


def digests(folder: Path) -> dict[str, str]:
    """A digest of every file below a folder, what begins with a dot included."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): sha256(path.read_bytes()).hexdigest() for path in files}


def test_the_same_bytes_anywhere(tmp_path: Path) -> None:
    """Folder, time zone, order of hashes, language and number of processes leave no trace in any file."""
    here, there = tmp_path / "here", tmp_path / "a folder elsewhere" / "deep"
    runs = [begun(here, HERE, "--jobs", "1"), begun(there, THERE, "--jobs", "2")]

    assert [run.wait() for run in runs] == [0, 0]
    assert len(digests(here / "site")) > 130
    assert digests(here / "site") == digests(there / "site")
