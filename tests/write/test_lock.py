"""One process at a time in one folder."""

from __future__ import annotations

import threading
from pathlib import Path

import filelock
import pytest

from sitegen.core.findings.finding import Finding
from sitegen.write import Output, open_output
from tests.write.sites import LOCKS, everything, pages, staged_in


def unexpected() -> None:
    """Nobody waits."""
    pytest.fail("waits for a free folder")


class Second(threading.Thread):
    """Opens a folder that another thread has open, and notes how that goes."""

    def __init__(self, folder: Path) -> None:
        super().__init__(daemon=True)
        self.folder = folder
        self.waits = threading.Event()
        self.events: list[str] = []
        self.opened: Output | Finding | None = None

    def run(self) -> None:
        """Wait, then open."""
        with open_output(self.folder, LOCKS, self._waiting) as output:
            self.opened = output
            self.events.append("opened")

    def _waiting(self) -> None:
        self.events.append("waiting")
        self.waits.set()


@pytest.mark.parametrize("spelling", ["site", "other/../site", "link"])
def test_a_second_one_waits(tmp_path: Path, spelling: str) -> None:
    """It says so once, and sees what the first one wrote; a folder is the same one by any path."""
    (tmp_path / "other").mkdir()
    (tmp_path / "site").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "site")
    second = Second(tmp_path / spelling)
    with open_output(tmp_path / "site", LOCKS, unexpected) as output:
        assert isinstance(output, Output)
        second.start()
        assert second.waits.wait(60)
        output.begin()
        output.commit([], {})
        second.events.append("first is done")
    second.join(60)

    assert second.events == ["waiting", "first is done", "opened"]
    assert isinstance(second.opened, Output)
    assert second.opened.manifest.written > 0


def test_waiting_is_told_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A lock that is held is tried without any patience, and only then waited for."""
    tried: list[float | None] = []
    acquire = filelock.FileLock.acquire

    def noted(lock: filelock.FileLock, timeout: float | None = None) -> object:
        tried.append(timeout)
        return acquire(lock, timeout=timeout)

    second = Second(tmp_path)
    with open_output(tmp_path, LOCKS):
        monkeypatch.setattr(filelock.FileLock, "acquire", noted)
        second.start()
        assert second.waits.wait(60)
    second.join(60)

    assert tried == [0, None]


def test_a_folder_that_becomes_foreign_meanwhile(tmp_path: Path) -> None:
    """It is looked at again once it is free."""
    site = tmp_path / "site"
    second = Second(site)
    with open_output(site, LOCKS):
        second.start()
        assert second.waits.wait(60)
        site.mkdir()
        (site / "beach.jpg").touch()
    second.join(60)

    assert isinstance(second.opened, Finding)
    assert everything(site) == ["beach.jpg"]


def test_two_folders_at_once(tmp_path: Path) -> None:
    """Another folder is not waited for, and neither is one that is free again."""
    with open_output(tmp_path / "one", LOCKS, unexpected), open_output(tmp_path / "two", LOCKS, unexpected):
        pass
    with open_output(tmp_path / "one", LOCKS, unexpected), pytest.raises(KeyError):
        raise KeyError
    with open_output(tmp_path / "one", LOCKS, unexpected) as output:
        assert isinstance(output, Output)


def test_nobody_waits_for_a_foreign_folder(tmp_path: Path) -> None:
    """It is refused at once, while another process has it open."""
    with open_output(tmp_path, LOCKS):
        (tmp_path / "beach.jpg").touch()
        with open_output(tmp_path, LOCKS, unexpected) as output:
            assert isinstance(output, Finding)


def test_the_lock_lies_elsewhere(tmp_path: Path) -> None:
    """A folder that is published holds no lock."""
    locks = tmp_path / "locks"
    locks.mkdir()
    with open_output(tmp_path / "site", locks) as output:
        assert isinstance(output, Output)
        output.commit(staged_in(output, pages(a="1")), {})

    assert everything(tmp_path / "site") == [".sitegen.json", "a.html"]
    # Some versions of the library remove the file with the lock.
    assert all(name.endswith(".lock") for name in everything(locks))
