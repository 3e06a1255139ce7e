"""What a system refuses: one message that says what, where and what to do, and everything as it was."""

from __future__ import annotations

import errno
import os
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from sitegen.app.console.system_errors import told
from sitegen.app.main import status_of
from tests.pipeline.bench import TODAY, Site, leaf, tree

SMALL = 12_000  # bytes; less than a page
FULL = Path("/dev/full")  # of Linux: writing to it fails as on a full disk

needs_full = pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")


def _site(folder: Path) -> Site:
    site = Site.of(folder, {"one": leaf("One")})
    site.write()
    return site


def _run(
    site: Site, *arguments: str, largest: int = 0, **environment: str
) -> subprocess.CompletedProcess[str]:
    """A command in a process of its own, whose files may be no larger than so many bytes."""

    def limit() -> None:
        if largest:  # as a full disk: writing more is refused
            resource.setrlimit(resource.RLIMIT_FSIZE, (largest, largest))

    if largest:  # Python would keep a part of a compiled module, and other tests would find it
        environment["PYTHONDONTWRITEBYTECODE"] = "1"
    return subprocess.run(
        [sys.executable, "-m", "sitegen", *arguments, "--today", str(TODAY)],
        capture_output=True,
        text=True,
        preexec_fn=limit,
        env=os.environ | {"SITEGEN_CACHE": str(site.store)} | environment,
        check=False,
    )


def test_a_disk_without_room_leaves_the_site_as_it_was(tmp_path: Path) -> None:
    """A changed page that cannot be written: the message names no fault, and nothing waits in the output."""
    site = _site(tmp_path)
    before = tree(site.output)
    site.edit("journal.yaml", "title:", "tagline: Another one\ntitle:")
    done = _run(site, "write", str(site.root), "-o", str(site.output), largest=SMALL)

    assert (done.returncode, tree(site.output)) == (5, before)
    assert done.stderr == ("the system refused: file too large\nmake room there, and run the command again\n")
    assert _run(site, "write", str(site.root), "-o", str(site.output)).returncode == 0


def test_a_first_site_without_room_leaves_nothing(tmp_path: Path) -> None:
    """Neither the output nor what waits beside it is there."""
    site = Site.of(tmp_path, {"one": leaf("One")})
    done = _run(site, "write", str(site.root), "-o", str(site.output), largest=SMALL)

    assert done.returncode == 5
    assert sorted(path.name for path in site.output.parent.iterdir() if "out" in path.name) == []


@pytest.mark.parametrize("cache", ["/proc/none", "/dev/full", "/dev/null/deep"])
def test_a_cache_that_cannot_be_written_stops_no_build(tmp_path: Path, cache: str) -> None:
    """All is made as if nothing were known, by several processes too."""
    site = _site(tmp_path)
    wanted = tree(site.output)
    done = _run(site, "write", str(site.root), "-o", str(tmp_path / "other"), SITEGEN_CACHE=cache)

    assert (done.returncode, tree(tmp_path / "other")) == (0, wanted), done.stderr


@pytest.mark.parametrize(
    "words",
    [
        ("log", "one", "day 30: note: late", "--journal", "{}/bench"),
        ("log", "--from", "{}/inbox.txt", "--journal", "{}/bench"),
        ("validate", "{}/bench", "--fix"),
        ("validate", "{}/bench", "--upgrade"),
        ("write", "{}/bench", "-o", "{}/other"),
        ("write", "{}/bench", "--only", "one"),
        ("begin", "season", "two", "{}/bench"),
    ],
)
def test_a_cache_that_cannot_be_used_stops_no_command(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    words: tuple[str, ...],
) -> None:
    """Each does its work, promises nothing that rests on the cache, and leaves nothing in the temporary folder."""
    site = Site.of(tmp_path, {"one": leaf("One")})
    (tmp_path / "inbox.txt").write_text("one day 30: note: late\n", "utf-8")
    (tmp_path / "cache").write_text("no folder", "utf-8")
    (tmp_path / "tmp").mkdir()
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / "cache"))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "tmp"))
    day = () if words[0] == "begin" else ("--today", str(TODAY))

    assert status_of([*(word.format(tmp_path) for word in words), *day]) == 0
    assert "--undo" not in "".join(capsys.readouterr())
    assert list((tmp_path / "tmp").iterdir()) == []
    if words[0] == "log":
        assert "note: late" in (site.experiment("one") / "experiment.yaml").read_text("utf-8")


@needs_full
@pytest.mark.parametrize(
    "words", [("schema",), ("validate", "{}", "--json"), ("facts", "one", "--journal", "{}")]
)
def test_printing_to_a_full_disk(tmp_path: Path, words: tuple[str, ...]) -> None:
    """The last lines that could not be printed are told, also where they are few."""
    site = _site(tmp_path)
    with FULL.open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "sitegen", *(word.format(site.root) for word in words)],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            env=os.environ | {"SITEGEN_CACHE": str(site.store)},
            check=False,
        )

    assert (done.returncode, done.stderr) == (
        5,
        "the system refused: no space left on device\nmake room there, and run the command again\n",
    )


@pytest.mark.parametrize(
    ("number", "what"),
    [
        (errno.EACCES, "permission denied\nsee that you may read and write there, and run the command again"),
        (errno.EROFS, "read-only file system\nchoose a place that can be written to"),
        (errno.ENAMETOOLONG, "file name too long\nchoose another place or a shorter name"),
        (errno.EIO, "input/output error\nsee that the disk is there and sound, and run the command again"),
    ],
)
def test_messages(number: int, what: str) -> None:
    """What was refused in the system's words, where, and what to do."""
    error = OSError(number, os.strerror(number), "/site/a.html")

    assert told(error) == f"the system refused: `/site/a.html`: {what}"


def test_a_folder_behind_a_link_that_leads_to_itself(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is refused as by the system, whatever the interpreter makes of it."""
    site = Site.of(tmp_path, {"one": leaf("One")})
    (tmp_path / "loop").symlink_to(tmp_path / "loop")

    assert status_of(["write", str(site.root), "-o", str(tmp_path / "loop" / "site")]) == 5
    assert capsys.readouterr().err.endswith("\nremove the links that lead to each other\n")


def test_what_the_system_cannot_have_made_is_a_fault() -> None:
    """A file of the program that is missing, and an error of another kind."""
    own = str(Path(told.__code__.co_filename).parent / "gone.py")

    assert told(FileNotFoundError(errno.ENOENT, "No such file or directory", own)) == ""
    assert told(OSError(errno.EINVAL, "Invalid argument", "/site")) == ""
    assert told(OSError("no number")) == ""


def test_an_entry_without_room_leaves_the_log(tmp_path: Path) -> None:
    """A log that cannot be written ends with the status of a refusal, and names the file that the author knows."""
    site = _site(tmp_path)
    path = next(site.root.rglob("experiment.yaml"))
    before = path.read_bytes()
    done = _run(site, "log", "one", "note: roots white", "--journal", str(site.root), largest=1)

    assert (done.returncode, path.read_bytes()) == (5, before)
    assert done.stderr.endswith("make room there, and run the command again\n")
