"""Changes on a real disk, joined into bursts. Nothing is timed: each waits for what must come."""

from __future__ import annotations

import contextlib
import queue
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from sitegen.app.live.changes import How
from sitegen.app.live.watch import DiskChanges, bursts
from tests.journal_maker import make_journal

LEAF = "seasons/one/leaf"
LOG = f"{LEAF}/experiment.yaml"
MOST = 60.0  # seconds after which a change is taken not to come
QUIET = 0.3  # seconds; longer than the own settling, so that a busy machine gives one burst


def queued(*items: tuple[str, How]) -> queue.SimpleQueue[tuple[str, How]]:
    """A queue that holds these."""
    names: queue.SimpleQueue[tuple[str, How]] = queue.SimpleQueue()
    for item in items:
        names.put(item)
    return names


def test_a_burst_of_edits_is_one_change() -> None:
    """What lies in the queue together comes out together."""
    names = queued(("a", How.CHANGED), ("b", How.CHANGED), ("a", How.CHANGED))

    assert next(bursts(names, settle=QUIET, whole=QUIET)) == {"a", "b"}


def test_a_burst_without_an_end_is_cut() -> None:
    """Writing that never stops still gives changes."""
    names = queued(("a", How.CHANGED), ("b", How.CHANGED))

    assert next(bursts(names, settle=QUIET, longest=0)) == {"a"}


def test_a_burst_that_came_to_nothing_is_none() -> None:
    """A scratch file that came and went is passed over; the next burst comes."""
    names = queued(("scratch", How.CAME), ("scratch", How.WENT))
    found = bursts(names, settle=QUIET, whole=QUIET)
    names.put(("a", How.CHANGED))

    assert next(found) == {"a"}


def test_what_was_only_begun_is_waited_for() -> None:
    """A file that is being written ends no burst; once it is closed, the burst is whole."""
    names = queued(("a", How.CAME))
    threading.Timer(QUIET / 3, names.put, [("b", How.CHANGED)]).start()

    assert next(bursts(names, settle=MOST, whole=0, longest=QUIET)) == {"a", "b"}


def test_there_is_something_to_do_while_nothing_changes() -> None:
    """It is called until it has no more to do; a change goes first."""
    names = queued()
    turns = iter([True, True, False])

    def idle() -> bool:
        more = next(turns)
        if not more:
            names.put(("a", How.CHANGED))
        return more

    assert next(bursts(names, idle)) == {"a"}
    assert list(turns) == []


class Reader:
    """The changes that a watcher gives, read in a thread of its own, so that a change that never comes is a failure."""

    def __init__(self, watcher: DiskChanges) -> None:
        self._found: queue.SimpleQueue[frozenset[str]] = queue.SimpleQueue()
        threading.Thread(target=self._read, args=(watcher,), daemon=True).start()

    def _read(self, watcher: DiskChanges) -> None:
        for files in watcher.changes():
            self._found.put(files)

    def until(self, *wanted: str) -> set[str]:
        """All that changed until these have."""
        found: set[str] = set()
        while not found.issuperset(wanted):
            found |= self._found.get(timeout=MOST)
        return found

    def wake(self, probe: Path) -> None:
        """Write a file until that is noticed: a watcher that compares looks must have had its first."""
        for number in range(1000):
            probe.write_text("x" * number, "utf-8")
            with contextlib.suppress(queue.Empty):
                self._found.get(timeout=QUIET)
                return


@pytest.fixture(params=[False, True], ids=["told", "polling"])
def watched(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Path, Reader]]:
    """A journal on the disk, and a reader of its changes."""
    root = make_journal(tmp_path / "bench", {"leaf": "format: 1\n"})
    watcher = DiskChanges(root, poll=request.param, interval=0.1)
    watcher.start()
    reader = Reader(watcher)
    reader.wake(root / "probe.md")
    yield root, reader
    watcher.stop()


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


def test_a_theme_is_watched_too(tmp_path: Path) -> None:
    """Folders beside the journal are watched once they are known; none is watched twice."""
    root = make_journal(tmp_path / "bench", {})
    theme = tmp_path / "plain"
    theme.mkdir()
    watcher = DiskChanges(root)
    watcher.start()
    reader = Reader(watcher)
    watcher.beside([theme])
    watcher.beside([theme, root / "look"])
    (theme / "style.css").write_text("p {}", "utf-8")

    assert reader.until("plain/style.css") == {"plain/style.css"}
    watcher.stop()


def test_what_was_not_told_can_be_told(tmp_path: Path) -> None:
    """A file that was found to have changed counts as any other; scratch files do not."""
    root = make_journal(tmp_path / "bench", {})
    watcher = DiskChanges(root)
    watcher.tell([f"{LEAF}/.experiment.yaml.swp", LOG])

    assert next(watcher.changes()) == {LOG}
