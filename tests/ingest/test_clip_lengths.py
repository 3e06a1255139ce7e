"""Lengths of clips' files: a program of that name on the PATH stands in for ffprobe."""

from __future__ import annotations

import stat
import sys
from pathlib import Path

import pytest

from sitegen.ingest import clip_lengths as module
from sitegen.ingest.clip_lengths import clip_lengths

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the stand-in is a shell script")


@pytest.fixture
def program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The stand-in: it answers with the text of the file that it is asked about."""
    folder = tmp_path / "bin"
    folder.mkdir()
    path = folder / "ffprobe"
    path.write_text('#!/bin/sh\nfor last; do :; done\nexec /bin/cat "$last"\n', "utf-8")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", str(folder))
    return path


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Some files of footage, each with what the program says of it; one lies outside."""
    inside = tmp_path / "run"
    (inside / "cut").mkdir(parents=True)
    said = {
        "a.mp4": "12.96\n",
        "cut/b.mp4": "700",
        "none.mp4": "N/A\n",
        "inf.mp4": "inf",
        "zero.mp4": "0.000",
    }
    for name, text in {**said, "../outside.mp4": "30"}.items():
        (inside / name).write_text(text, "utf-8")
    return inside


NAMES = (
    "a.mp4",
    "cut/b.mp4",
    "none.mp4",
    "inf.mp4",
    "zero.mp4",
    "lost.mp4",
    "../outside.mp4",
    "cut",
    "a\0b",
    "x" * 999,
)


@pytest.mark.usefixtures("program")
def test_lengths(folder: Path) -> None:
    """Whole seconds of what could be read; what is not there, leads out of the folder or is no number is left out."""
    assert clip_lengths((folder,), NAMES) == {"a.mp4": 12, "cut/b.mp4": 700}
    assert clip_lengths((folder / "cut", folder), ("b.mp4", "a.mp4")) == {"b.mp4": 700, "a.mp4": 12}


def test_without_the_program(folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Nothing is known, and nothing is wrong."""
    monkeypatch.setenv("PATH", str(tmp_path / "empty"))

    assert clip_lengths((folder,), NAMES) == {}


@pytest.mark.parametrize(
    "script", ["exit 1", "echo 12; exit 1", "exec /bin/sleep 30", "kill -9 $$", "printf '\\377'"]
)
def test_a_program_that_fails(
    program: Path, folder: Path, script: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An error, a wait and an answer that is no text are the same as no answer."""
    program.write_text(f"#!/bin/sh\n{script}\n", "utf-8")
    monkeypatch.setattr(module, "LONGEST_WAIT", 0.2)

    assert clip_lengths((folder,), ("a.mp4",)) == {}


def test_a_program_that_is_none(program: Path, folder: Path) -> None:
    """A file that cannot be run is the same as no answer."""
    program.write_bytes(b"\x7fELF nothing")

    assert clip_lengths((folder,), ("a.mp4",)) == {}
