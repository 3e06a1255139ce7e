"""Changes on a real disk. Nothing is timed: each test waits for what must come."""

from __future__ import annotations

import contextlib
import queue
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from sitegen.app.live.watch import Watcher
from sitegen.pipeline.engine.files import inventory
from tests.journal_maker import make_journal

LEAF = "seasons/one/leaf"
LOG = f"{LEAF}/experiment.yaml"
MOST = 20.0  # seconds after which a change is taken not to come
QUIET = 0.3  # seconds; longer than the own settling, so that a busy machine gives one burst


class Reader:
    """The changes that a watcher gives, read in a thread of its own, so that a change that never comes is a failure."""

    def __init__(self, root: Path, *, poll: bool = False) -> None:
        self.theme_folders: tuple[Path, ...] = ()
        self._root, self._files = root, inventory(root)
        self.lines: list[str] = []
        self.stop = threading.Event()
        self._found: queue.SimpleQueue[frozenset[str]] = queue.SimpleQueue()
        watcher = Watcher(root, lambda: self.theme_folders, self._unreported, self.stop, self.lines.append)
        threading.Thread(target=self._read, args=(watcher, poll), daemon=True).start()

    def _unreported(self) -> set[Path]:
        before, self._files = self._files, inventory(self._root)
        return {self._root / name for name, _ in before.stamps.items() ^ self._files.stamps.items()}

    def _read(self, watcher: Watcher, poll: bool) -> None:
        for files in watcher.changes(poll=poll):
            self._found.put(files)

    def until(self, *wanted: str) -> set[str]:
        """All that changed until these have."""
        found: set[str] = set()
        while not found.issuperset(wanted):
            found |= self._found.get(timeout=MOST)
        return found

    def wake(self, probe: Path) -> None:
        """Write a file until that is noticed: watching begins in another thread."""
        for number in range(1000):
            probe.write_text("x" * number, "utf-8")
            with contextlib.suppress(queue.Empty):
                self._found.get(timeout=QUIET)
                return


@pytest.fixture(params=[False, True], ids=["reported", "compared"])
def watched(
    request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[tuple[Path, Reader]]:
    """A journal on the disk, and a reader of its changes."""
    monkeypatch.setattr("sitegen.app.live.watch.POLL", 0.1)
    root = make_journal(tmp_path / "bench", {"leaf": "format: 1\n"})
    reader = Reader(root, poll=request.param)
    reader.wake(root / "probe.md")
    yield root, reader
    reader.stop.set()


def _write(root: Path) -> None:
    (root / LOG).write_text("format: 1\ntitle: Longer\n", "utf-8")


def _rename_over(root: Path) -> None:
    (root / LEAF / "scratch-4711").write_text("format: 1\ntitle: Longer\n", "utf-8")
    (root / LEAF / "scratch-4711").replace(root / LOG)


def _write_aside(root: Path) -> None:
    (root / LOG).rename(root / f"{LOG}~")
    _write(root)


def _delete(root: Path) -> None:
    (root / LOG).unlink()


@pytest.mark.parametrize("save", [_write, _rename_over, _write_aside, _delete])
def test_a_save_is_a_change_of_its_file(save: Callable[[Path], None], watched: tuple[Path, Reader]) -> None:
    """However an editor saves, its file has changed, and nothing that it wrote beside it."""
    root, reader = watched
    save(root)

    assert reader.until(LOG) - {"probe.md"} == {LOG}


def test_a_folder_moved_away_is_a_change_of_both_places(watched: tuple[Path, Reader]) -> None:
    """A whole experiment may be renamed."""
    root, reader = watched
    (root / LEAF).rename(root / "seasons/one/salad")

    assert reader.until(LEAF, "seasons/one/salad")


def test_a_deleted_folder_is_a_change(watched: tuple[Path, Reader]) -> None:
    """A whole experiment may be deleted."""
    root, reader = watched
    shutil.rmtree(root / LEAF)

    assert reader.until(LEAF)


def test_files_saved_together_are_one_change(watched: tuple[Path, Reader]) -> None:
    """Both names come in one set."""
    root, reader = watched
    (root / "about.md").write_text("# About", "utf-8")
    (root / "gear.yaml").write_text("format: 1", "utf-8")

    assert reader.until("about.md", "gear.yaml") - {"probe.md"} == {"about.md", "gear.yaml"}


def test_a_file_that_came_and_went_is_none(watched: tuple[Path, Reader]) -> None:
    """A file that is there no more when the burst ends was never read."""
    root, reader = watched
    (root / "notes.md").write_text("x", "utf-8")
    (root / "notes.md").unlink()
    (root / "about.md").write_text("# About", "utf-8")

    assert reader.until("about.md") - {"probe.md"} == {"about.md"}


def test_a_theme_is_watched_too(tmp_path: Path) -> None:
    """Folders of a theme are watched as soon as they are known; one inside of the journal is not watched twice."""
    root = make_journal(tmp_path / "bench", {})
    theme = tmp_path / "plain"
    theme.mkdir()
    reader = Reader(root)
    reader.wake(root / "probe.md")
    reader.theme_folders = (theme, root / "look", tmp_path / "gone")
    reader.wake(root / "probe.md")
    reader.wake(theme / "probe.css")
    (theme / "style.css").write_text("p {}", "utf-8")

    assert reader.until("plain/style.css") - {"probe.md", "plain/probe.css"} == {"plain/style.css"}
    reader.stop.set()


def test_a_change_that_was_not_reported_is_found_at_rest(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All files are compared once nothing changes; files that editors leave behind do not count."""
    monkeypatch.setattr("sitegen.app.live.watch.watch", lambda *_, **__: [set()])
    root = make_journal(tmp_path / "bench", {"leaf": "format: 1\n"})
    reader = Reader(root)
    _write(root)
    (root / f"{LOG}~").write_text("x", "utf-8")

    assert reader.until(LOG) == {LOG}
    reader.stop.set()


def test_where_the_system_reports_nothing_files_are_compared(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A system without a watch left for another folder: the line says so, and changes are seen."""

    def refusing(*_: object, **__: object) -> Iterator[object]:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("sitegen.app.live.watch.POLL", 0.1)
    monkeypatch.setattr("sitegen.app.live.watch.watch", refusing)
    root = make_journal(tmp_path / "bench", {"leaf": "format: 1\n"})
    reader = Reader(root)
    reader.wake(root / "probe.md")
    reader.stop.set()

    assert reader.lines == [
        "the system reports no changes here ([Errno 28] No space left on device); comparing once a second instead"
    ]
