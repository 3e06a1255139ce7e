"""The files of a journal are their author's: only `log`, `begin`, `validate --fix` and `--upgrade` write among them.

In: a journal with all that it can hold. Out: its files, with content and times, before and after each other command;
and what commands print where the journal cannot be written to.
"""

from __future__ import annotations

import hashlib
import re
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import chdir
from pathlib import Path

import pytest

from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from tests.app.live.running import line_with, running
from tests.test_outside import RUN, TODAY, whole

ID = RUN.rpartition("/")[2]
OTHER = "sorrel-beside"
KINDS = ("script", "description", "chapters", "post", "answers", "gaps", "shots", "cards")


def files(root: Path) -> dict[str, tuple[str, int, int, int]]:
    """Everything below a folder, folders too: digest, time of change, permissions and inode by name."""
    found = {}
    for path in (root, *root.rglob("*")):
        stat = path.lstat()
        digest = hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""
        found[path.relative_to(root).as_posix()] = (digest, stat.st_mtime_ns, stat.st_mode, stat.st_ino)
    return found


def _commands(root: Path, out: Path) -> Iterator[list[str]]:
    """Every command that only reads a journal, with every option that changes what it does."""
    journal, today = ["--journal", str(root)], ["--today", str(TODAY)]
    for options in ([], ["--line"], ["--json"], ["--privacy"], ["--diff"], ["--upgrade", "--diff"]):
        yield ["validate", str(root), *options, *today]
    for options in ([], ["--json"], ["--all"], ["--why", "harvest.total"]):
        yield ["facts", ID, *journal, *options, *today]
    yield ["facts", ID, OTHER, "--compare", *journal, *today]
    yield ["facts", "--crop", "sorrel", *journal, *today]
    for kind in KINDS:
        where = ["-o", str(out / kind)] if kind == "cards" else []
        yield ["notes", ID, "--kind", kind, *journal, *where, *today]
    yield ["notes", ID, "--kind", "chapters", "-o", str(out / "chapters.vtt"), *journal, *today]
    yield ["notes", ID, "--json", *journal, *today]
    yield ["notes", ID, "--check", str(out / "spoken.txt"), *journal, *today]
    yield ["schema", "experiment.yaml", "--for", ID, *journal]
    yield ["log", "--words"]
    yield ["write", str(root), "-o", str(out / "site"), *today]
    yield ["write", str(root), "-o", str(out / "site"), "--keep-going", "--fresh", "--jobs", "1", *today]
    yield ["write", str(root), "--only", ID, "-o", str(out / "one"), *today]


@pytest.mark.full
def test_commands_that_read_leave_every_file_of_a_journal_as_it_was(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Not a byte, a time, a permission or a name of a journal differs after any of them."""
    root, out = whole(tmp_path / "journal"), tmp_path / "out"
    out.mkdir()
    (out / "spoken.txt").write_text("The first harvest was 95 grams.\n", "utf-8")
    before = files(root)

    changed, refused = [], []
    for arguments in _commands(root, out):
        with chdir(root / RUN):  # a command that writes where it stands would be seen too
            status = status_of(arguments)
        if files(root) != before:
            changed.append(arguments)
        if status in (Status.FAULT, Status.USAGE, Status.REFUSED):
            refused.append((arguments, status))
    capsys.readouterr()

    assert changed == []
    assert refused == []


@pytest.mark.full
def test_a_preview_leaves_every_file_of_a_journal_as_it_was(tmp_path: Path) -> None:
    """Starting `live` and asking for pages, the photo among them, changes nothing."""
    root = whole(tmp_path / "journal")
    before = files(root)
    with running(root, TODAY, "--port", "0") as process:
        found = re.search(r"http://[\w.:]+", line_with(process, "http"))
        assert found is not None
        for page in ("index.html", f"experiments/{ID}.html", "about.html"):
            with urllib.request.urlopen(f"{found[0]}/{page}", timeout=60) as answer:  # noqa: S310 - http
                assert answer.status == 200

    assert files(root) == before


# a journal that cannot be written to

MOUNTED = """\
set -e
mount --bind "$1" "$1"
mount -o remount,bind,ro "$1"
shift
exec "$@"
"""


def _can_mount(folder: Path) -> bool:
    try:
        done = subprocess.run(_mounted(folder, "true"), capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def _mounted(root: Path, *command: str) -> list[str]:
    return ["unshare", "-m", "sh", "-c", MOUNTED, "sh", str(root), *command]


def _on_read_only(root: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    program = [sys.executable, "-m", "sitegen", *arguments]
    return subprocess.run(_mounted(root, *program), capture_output=True, text=True, check=False)


@pytest.mark.full
def test_a_journal_on_a_read_only_disk_is_validated_and_written(tmp_path: Path) -> None:
    """Commands that read need nothing of the journal's disk but reading."""
    root, out = whole(tmp_path / "journal"), tmp_path / "out"
    out.mkdir()
    if not _can_mount(root):
        pytest.skip("mounting a folder again needs the rights of root, and Linux")
    (out / "spoken.txt").write_text("The first harvest was 95 grams.\n", "utf-8")

    failed = [
        (arguments, done.returncode, done.stderr)
        for arguments in _commands(root, out)
        if (done := _on_read_only(root, *arguments)).returncode > Status.PARTLY or "Traceback" in done.stderr
    ]

    assert failed == []


ENTRY = f"{RUN}/experiment.yaml"
# A command, what it wants to change, and the file that the message is to name.
WRITING = {
    "log": (["log", ID, "--journal", "{root}", "--date", "2025-05-04", "smells of lemon"], {}, ENTRY),
    "inbox": (["log", "--from", "{root}/inbox.txt", "--journal", "{root}"], {}, ".inbox.txt.filing"),
    "begin": (["begin", "season", "later", "{root}"], {}, "seasons/later"),
    "upgrade": (["validate", "{root}", "--upgrade"], {ENTRY: ("format: 1\n", "")}, ENTRY),
    "fix": (
        ["validate", "{root}", "--fix"],
        {ENTRY: ("log:\n", "log:\n  - {date: 2025-03-01, note: roots white, tips brown}\n")},
        ENTRY,
    ),
    "write": (["write", "{root}"], {}, "output"),
}


@pytest.mark.full
@pytest.mark.parametrize("name", WRITING)
def test_what_cannot_be_written_on_a_read_only_disk_is_told_in_one_message(name: str, tmp_path: Path) -> None:
    """A command that has to write there says what the system refused, and what to do."""
    root = whole(tmp_path / "journal")
    arguments, edits, place = WRITING[name]
    for file, (before, after) in {"inbox.txt": ("", f"2025-05-04 {ID}: smells of lemon\n"), **edits}.items():
        text = (root / file).read_text("utf-8")
        (root / file).write_text(text.replace(before, after, 1), "utf-8")
    if not _can_mount(root):
        pytest.skip("mounting a folder again needs the rights of root, and Linux")

    done = _on_read_only(root, *(each.format(root=root) for each in arguments))

    *others, refused, advice = done.stderr.splitlines()
    assert (done.returncode, advice) == (Status.REFUSED, "choose a place that can be written to")
    assert refused.startswith(f"the system refused: `{root}/")
    assert place in refused
    assert refused.endswith("`: read-only file system")
    assert others == (["nothing is lost: the same command goes on from here"] if name == "inbox" else [])
