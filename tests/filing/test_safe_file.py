"""A file of the author's is replaced as a whole."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sitegen.core.files.held_file import hold
from sitegen.filing import safe_file
from sitegen.filing.journal_lock import BusyError, journal_lock
from sitegen.filing.safe_file import replace_file


def test_a_file_keeps_its_permissions_and_a_link_stays_a_link(tmp_path: Path) -> None:
    """The new content lies where the link leads, readable by whom the old one was."""
    there, link = tmp_path / "there.yaml", tmp_path / "link.yaml"
    there.write_bytes(b"old")
    there.chmod(0o640)
    link.symlink_to(there)

    replace_file(link, b"new")

    assert (there.read_bytes(), there.stat().st_mode & 0o777, link.is_symlink()) == (b"new", 0o640, True)


def test_a_failed_rename_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An error while writing leaves the folder as it was."""
    (tmp_path / "a.yaml").write_bytes(b"old")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(safe_file.os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        replace_file(tmp_path / "a.yaml", b"new")

    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a.yaml": b"old"}


def test_a_new_file_has_the_permissions_of_any_new_file(tmp_path: Path) -> None:
    """The mask of the process decides, as for other files."""
    old = os.umask(0o022)
    try:
        replace_file(tmp_path / "new.yaml", b"new")
    finally:
        os.umask(old)

    assert (tmp_path / "new.yaml").stat().st_mode & 0o777 == 0o644


def test_a_second_command_waits_and_is_told(tmp_path: Path) -> None:
    """The lock of a journal is held by one at a time, and free again afterwards."""
    (locks := tmp_path / "locks").mkdir()
    second = journal_lock(locks, tmp_path, wait=0.05)
    with journal_lock(locks, tmp_path), pytest.raises(BusyError), second:
        pass

    with journal_lock(locks, tmp_path, wait=0.05):
        assert list(locks.iterdir())


def test_what_a_killed_process_left_beside_a_file_goes_with_the_next_content(tmp_path: Path) -> None:
    """What another process is writing stays, and so do files of other names."""
    path = tmp_path / "a.yaml"
    left, held, other = (
        tmp_path / f".{name}.new" for name in ("a.yaml.abcd_123", "a.yaml.held0000", "b.yaml.abcd_123")
    )
    for each in (left, other):
        each.write_bytes(b"half")
    with held.open("wb") as file:
        assert hold(file)
        replace_file(path, b"new")

    assert sorted(tmp_path.iterdir()) == [held, other, path]
    assert path.read_bytes() == b"new"
