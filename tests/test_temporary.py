"""Temporary folders that do not outlast their process."""

from __future__ import annotations

import os
import signal
import tempfile
from pathlib import Path

import pytest

from sitegen.temporary import temporary_folder, temporary_home


@pytest.fixture
def system(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder for the temporary files of this system."""
    (folder := tmp_path / "tmp").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


def test_a_folder_lasts_as_long_as_its_block(system: Path) -> None:
    """Two at once are two folders, and nobody else can look into them; nothing of them stays."""
    with temporary_folder() as one, temporary_folder() as other:
        (one / "text").write_text("1", "utf-8")
        assert (one.is_dir(), other.is_dir(), one == other) == (True, True, False)
        assert one.parent.stat().st_mode & 0o777 == 0o700

    assert list(system.iterdir()) == []


def test_what_a_killed_process_left_goes_with_the_next_folder(system: Path) -> None:
    """A folder whose process is alive stays."""
    pid = os.fork()
    if pid == 0:
        with temporary_folder() as folder:
            (folder / "deep").mkdir()
            (folder / "deep" / "text").write_text("of the author", "utf-8")
            os.kill(os.getpid(), signal.SIGKILL)
    os.waitpid(pid, 0)
    (home,) = system.iterdir()
    assert len(list(home.iterdir())) == 2  # the folder and its lock
    with temporary_folder() as alive:
        with temporary_folder():
            pass
        assert {path.stem for path in home.iterdir()} == {alive.name}

    assert list(system.iterdir()) == []


@pytest.mark.parametrize("plant", ["a link", "a folder open to others"])
def test_a_folder_of_somebody_else_is_not_used(system: Path, tmp_path: Path, plant: str) -> None:
    """Files go elsewhere, and locks are refused."""
    place, theirs = system / f"sitegen-{os.getuid()}", tmp_path / "theirs"
    theirs.mkdir()
    if plant == "a link":
        place.symlink_to(theirs)
    else:
        place.mkdir()
        place.chmod(0o777)
    with temporary_folder() as folder:
        assert folder.parent == system
    with pytest.raises(PermissionError, match="somebody else's"), temporary_home():
        pass

    assert [*theirs.iterdir(), *place.iterdir()] == []
    assert list(system.iterdir()) == [place]
