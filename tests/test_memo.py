"""What was made before: kept whole, dropped when old, and never trusted when damaged."""

from __future__ import annotations

import contextlib
import os
import pickle
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import nullcontext
from pathlib import Path
from typing import Any

import pytest

import sitegen.memo
from sitegen.cache_folder import cache_folder, lock_folder
from sitegen.core.files.held_file import hold
from sitegen.core.store import StoredResult
from sitegen.memo import FORMAT, IN_USE, ORPHANED, Memo

KEY = "0" * 40
BODY = bytes(range(256)) * 40


def database(folder: Path) -> Path:
    """The one SQLite file."""
    (path,) = folder.glob("*.sqlite")
    return path


def files(folder: Path) -> list[Path]:
    """The large parts on the disk."""
    return sorted((folder / "files").glob("*/*"))


def seen(kept: StoredResult | None) -> tuple[object, list[bytes]] | None:
    """What a result holds."""
    return None if kept is None else (kept.value, [path.read_bytes() for path in kept.files])


def test_what_was_put_is_there(tmp_path: Path) -> None:
    """Values and files are there for the next process, and `put` gives what `get` does."""
    value = {"name": "Über 3 g", "list": [1, 2.5, None, True]}
    with Memo(tmp_path) as memo:
        assert memo.get(KEY) is None
        put = memo.put(KEY, value, [BODY, b"", BODY])
    with Memo(tmp_path) as memo:
        assert memo.get(KEY) == put
        assert seen(put) == (value, [BODY, b"", BODY])
        assert len(files(tmp_path)) == 2  # one a content


def test_the_last_put_counts(tmp_path: Path) -> None:
    """A key that is put again has the later value."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1}, [BODY])
        memo.put(KEY, {"n": 2})

        assert seen(memo.get(KEY)) == ({"n": 2}, [])


def test_nothing_is_touched_before_something_is_asked(tmp_path: Path) -> None:
    """Opening a memo makes no folder and no file."""
    with Memo(tmp_path / "memo"):
        pass

    assert not (tmp_path / "memo").exists()


def test_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`SITEGEN_CACHE` says where; else it is the user's cache folder."""
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path))
    chosen = cache_folder()
    monkeypatch.delenv("SITEGEN_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "xdg"))

    assert (chosen, cache_folder().name) == (tmp_path, "sitegen")


# keys


def test_keys_tell_parts_apart() -> None:
    """Stage, values, their types and their order all count; the order of a mapping does not."""
    memo = Memo()
    keys = [
        memo.key("photos"),
        memo.key("ingest"),
        memo.key("photos", 1),
        memo.key("photos", "1"),
        memo.key("photos", 1, 2),
        memo.key("photos", 2, 1),
        memo.key("photos", {"a": 1}),
    ]

    assert len(set(keys)) == len(keys)
    assert memo.key("photos", {"a": 1, "b": 2}) == memo.key("photos", {"b": 2, "a": 1})


def _forget() -> None:
    for known in (sitegen.memo._code_of, sitegen.memo._versions, sitegen.memo._made_by):
        known.cache_clear()


def test_keys_change_with_code_and_libraries(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Changed code or another version of a library makes other keys."""
    monkeypatch.setattr(sitegen.memo, "__file__", str(tmp_path / "memo.py"))
    (tmp_path / "photos").mkdir()
    keys = []
    for text, installed in (("a = 1", "pillow-1.0"), ("a = 2", "pillow-1.0"), ("a = 2", "pillow-2.0")):
        (tmp_path / "photos" / "one.py").write_text(text)
        monkeypatch.setattr(
            sitegen.memo, "_installed", lambda found=(installed, "other-1.0.dist-info"): found
        )
        _forget()
        keys.append(Memo().key("photos"))
    _forget()

    assert len(set(keys)) == 3


def test_versions_are_found() -> None:
    """The libraries whose versions count are found where they are installed."""
    (found,) = sitegen.memo._versions(("pillow",))

    assert found.startswith("pillow-")


# damage


def _garbage(folder: Path) -> None:
    database(folder).write_bytes(b"no database at all" * 999)


def _torn(folder: Path) -> None:
    path = database(folder)
    path.write_bytes(path.read_bytes()[:5000])


def _foreign(folder: Path) -> None:
    database(folder).unlink()
    with sqlite3.connect(folder / f"memo-{sitegen.memo.FORMAT}.sqlite") as link:
        link.execute("CREATE TABLE entries (mine TEXT)")
    link.close()


def _of_other_columns(folder: Path) -> None:
    database(folder).unlink()
    with sqlite3.connect(folder / f"memo-{sitegen.memo.FORMAT}.sqlite") as link:
        link.execute("CREATE TABLE entries (key TEXT PRIMARY KEY, size INTEGER)")
    link.close()


def _changed_value(folder: Path) -> None:
    with sqlite3.connect(database(folder)) as link:
        link.execute("UPDATE entries SET value = ?", ('{"n": 2}',))
    link.close()


def _no_json(folder: Path) -> None:
    with sqlite3.connect(database(folder)) as link:
        link.execute("UPDATE entries SET value = ?, files = ?", ("import os", "x"))
    link.close()


def _no_text(folder: Path) -> None:
    with sqlite3.connect(database(folder)) as link:
        link.execute("UPDATE entries SET files = CAST(X'FF' AS TEXT)")
    link.close()


def _changed_file(folder: Path) -> None:
    files(folder)[0].write_bytes(BODY[::-1])


def _short_file(folder: Path) -> None:
    files(folder)[0].write_bytes(BODY[:-1])


def _no_file(folder: Path) -> None:
    files(folder)[0].unlink()


@pytest.mark.parametrize(
    "damage",
    [
        *(_garbage, _torn, _foreign, _of_other_columns, _changed_value),
        *(_no_json, _no_text, _changed_file, _short_file, _no_file),
    ],
)
def test_damage(damage: Callable[[Path], None], tmp_path: Path) -> None:
    """Whatever is damaged or foreign counts as absent, and can be put again."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1}, [BODY])
    damage(tmp_path)
    with Memo(tmp_path) as memo:
        assert memo.get(KEY) is None
        memo.put(KEY, {"n": 3}, [BODY])
    with Memo(tmp_path) as memo:
        assert seen(memo.get(KEY)) == ({"n": 3}, [BODY])


def test_a_damaged_database_is_closed_before_it_is_removed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some systems remove no file that is open."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
    _garbage(tmp_path)
    links: list[sqlite3.Connection] = []
    still_open: list[int] = []
    connect, unlink = sqlite3.connect, Path.unlink

    def connected(*given: Any, **more: Any) -> sqlite3.Connection:
        links.append(connect(*given, **more))
        return links[-1]

    def unlinked(path: Path, missing_ok: bool = False) -> None:
        for number, link in enumerate(links):
            with contextlib.suppress(sqlite3.ProgrammingError):  # a closed one takes no questions
                link.total_changes  # noqa: B018
                still_open.append(number)
        unlink(path, missing_ok)

    monkeypatch.setattr(sitegen.memo.sqlite3, "connect", connected)
    monkeypatch.setattr(Path, "unlink", unlinked)
    with Memo(tmp_path) as memo:
        assert memo.get(KEY) is None

    assert (len(links), still_open) == (3, [])


def test_damage_while_it_is_open(tmp_path: Path) -> None:
    """A database that turns out to be damaged later is renewed then."""
    with Memo(tmp_path) as memo:
        for number in range(300):
            memo.put(f"{number:040}", {"text": "x" * 400})
    path = database(tmp_path)
    body = path.read_bytes()
    path.write_bytes(body[:8192] + b"\xa5" * (len(body) - 8192))
    with Memo(tmp_path) as memo:
        assert {str(memo.get(f"{n:040}")) for n in range(300)} == {"None"}
        memo.put(KEY, {"n": 1})
        memo.put(KEY, {"n": 1})
        assert seen(memo.get(KEY)) == ({"n": 1}, [])


def test_damage_where_opening_does_not_look(tmp_path: Path) -> None:
    """It is met when something is asked; then nothing more is known, and a sound database takes its place."""
    with Memo(tmp_path) as memo:
        for number in range(300):
            memo.put(f"{number:040}", {"text": "x" * 400})
    path = database(tmp_path)
    body = path.read_bytes()
    path.write_bytes(body[: len(body) // 2] + b"\xa5" * (len(body) - len(body) // 2))
    with Memo(tmp_path) as memo:
        known = [memo.get(f"{number:040}") is not None for number in range(300)]
        memo.put(KEY, {"n": 1})
        after = [memo.get(f"{number:040}") is not None for number in range(1, 300)]

    assert (known[0], known[-1], any(after)) == (True, False, False)
    with sqlite3.connect(path) as link:
        found = (
            link.execute("PRAGMA quick_check").fetchall(),
            link.execute("SELECT key FROM entries").fetchall(),
        )
    link.close()
    assert found == ([("ok",)], [(KEY,)])


def test_copied_folder(tmp_path: Path) -> None:
    """A file with another time but the same content is the same file."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {}, [BODY])
        os.utime(files(tmp_path)[0], (1, 1))

        assert seen(memo.get(KEY)) == ({}, [BODY])


def test_nowhere_to_keep_things(tmp_path: Path) -> None:
    """Where nothing can be kept, results last as long as the process needs them."""
    (tmp_path / "memo").write_text("a file, not a folder")
    with Memo(tmp_path / "memo") as memo:
        put = memo.put(KEY, {"n": 1}, [BODY])
        assert seen(memo.get(KEY)) == ({"n": 1}, [BODY])

    assert (tmp_path / "memo").is_file()
    assert not put.files[0].exists()


def test_what_a_killed_process_did_not_finish_goes_with_the_next_one(tmp_path: Path) -> None:
    """What a process is still writing stays, and so does a result."""
    (new := tmp_path / "files" / "new").mkdir(parents=True)
    (new / "left").write_bytes(b"half")
    with (new / "held").open("wb") as held:
        assert hold(held)
        with Memo(tmp_path) as memo:
            memo.put(KEY, {}, [BODY])
        assert [path.name for path in new.iterdir()] == ["held"]

    with Memo(tmp_path) as memo:
        assert seen(memo.get(KEY)) == ({}, [BODY])


@pytest.mark.parametrize("used", ["soon", b"\0", ""])
def test_a_time_that_is_no_number(tmp_path: Path, used: object) -> None:
    """The row counts as absent, and what is put in its place is there."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
    change(tmp_path, "UPDATE entries SET used = ?, size = 'large'", used)
    with Memo(tmp_path, limit=-1) as memo:
        assert memo.get(KEY) is None
        memo.put("other", {"n": 3})
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 2})
        assert seen(memo.get(KEY)) == ({"n": 2}, [])


def test_locks_lie_in_the_cache_or_in_a_folder_that_goes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two commands at once share one folder; the last one removes it."""
    (system := tmp_path / "tmp").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(system))
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / "cache"))
    with lock_folder() as locks:
        assert (locks, list(locks.iterdir())) == (tmp_path / "cache" / "locks", [])
    (tmp_path / "file").write_text("no folder", "utf-8")
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / "file"))
    with lock_folder() as one:
        with lock_folder() as other:
            assert (one, one.parent) == (other, system)
        assert one.is_dir()

    assert list(system.iterdir()) == []


@pytest.mark.parametrize("room", ["a folder elsewhere", "none", "none for a database"])
def test_a_folder_in_place_of_the_database(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, room: str
) -> None:
    """Results last until the end, where there is no room elsewhere too; the folder stays as it is."""
    (tmp_path / f"memo-{FORMAT}.sqlite").mkdir()
    (database(tmp_path) / "letter.txt").write_text("of somebody else", "utf-8")
    if room != "a folder elsewhere":
        (tmp_path / "tmp").mkdir()
        if room == "none":
            (tmp_path / "tmp" / "files").write_text("no folder", "utf-8")
        else:
            (tmp_path / "tmp" / f"memo-{FORMAT}.sqlite").mkdir()
        monkeypatch.setattr("sitegen.temporary.temporary_folder", lambda: nullcontext(tmp_path / "tmp"))
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
        assert seen(memo.get(KEY)) == ({"n": 1}, [])

    assert (database(tmp_path) / "letter.txt").read_text("utf-8") == "of somebody else"


def test_a_large_part_for_which_there_is_no_room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It lies elsewhere until the end, for the page that names it; nothing half stays."""

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with Memo(tmp_path) as memo:
        (there,) = memo.put(KEY, {}, [BODY]).files
        assert (there.read_bytes(), there.is_relative_to(tmp_path), files(tmp_path)) == (BODY, False, [])

    assert not there.exists()


def test_a_large_part_for_which_no_folder_can_be_made(tmp_path: Path) -> None:
    """It lies elsewhere until the end too."""
    (tmp_path / "files").mkdir()
    (tmp_path / "files" / "new").write_text("a file, not a folder", "utf-8")
    with Memo(tmp_path) as memo:
        (there,) = memo.put(KEY, {}, [BODY]).files
        assert (there.read_bytes(), there.is_relative_to(tmp_path)) == (BODY, False)

    assert not there.exists()


def test_a_large_part_that_another_process_takes_for_unfinished(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One that tidies up may meet a file before it is held, and remove it: it is written once more, and kept."""
    done: list[str] = []
    fsync = os.fsync

    def synced(handle: int) -> None:
        (path,) = (tmp_path / "files" / "new").iterdir()
        done.append(path.name)
        fsync(handle)
        if len(done) == 1:
            path.unlink()

    monkeypatch.setattr(os, "fsync", synced)
    with Memo(tmp_path) as memo:
        memo.put(KEY, {}, [BODY])
    with Memo(tmp_path) as memo:
        assert (seen(memo.get(KEY)), len(done)) == (({}, [BODY]), 2)


def test_large_parts_without_room_lie_in_one_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A process that finds no room for 4,000 photos makes one temporary folder, not 4,000."""

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with Memo(tmp_path) as memo:
        one, other = memo.put(KEY, {}, [BODY, BODY[::-1]]).files
        assert (one.parent, one.read_bytes(), other.read_bytes()) == (other.parent, BODY, BODY[::-1])


def test_an_interrupt_is_no_lack_of_room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C while a large part is written ends the command, and nothing half stays."""

    def interrupted(_handle: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupted)
    with Memo(tmp_path) as memo:
        with pytest.raises(KeyboardInterrupt):
            memo.put(KEY, {}, [BODY])
        assert files(tmp_path) == []


def test_a_table_that_goes_while_it_is_open(tmp_path: Path) -> None:
    """Nothing is known any more, and the next process keeps things again."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
        change(tmp_path, "DROP TABLE entries")
        assert memo.get(KEY) is None
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 2})
        assert seen(memo.get(KEY)) == ({"n": 2}, [])


def test_deleted_between_runs(tmp_path: Path) -> None:
    """The folder may be deleted at any time."""
    for _ in range(2):
        with Memo(tmp_path / "memo") as memo:
            assert memo.get(KEY) is None
            memo.put(KEY, {}, [BODY])
        shutil.rmtree(tmp_path / "memo")


# several at once, and killed ones

WORK = """
import sys
from pathlib import Path
from sitegen.memo import Memo
folder, first = Path(sys.argv[1]), int(sys.argv[2])
print("ready", flush=True)
with Memo(folder) as memo:
    for n in range(first, first + int(sys.argv[3])):
        memo.put(f"{n:040}", {"n": n}, [str(n).encode() * 5000])
"""


def _worker(folder: Path, first: int, count: int) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", WORK, str(folder), str(first), str(count)], stdout=subprocess.PIPE, text=True
    )


def test_two_processes_at_once(tmp_path: Path) -> None:
    """Two processes write into one folder, and everything of both is there."""
    workers = [_worker(tmp_path, first, 60) for first in (0, 30)]
    for worker in workers:
        worker.communicate()

    assert [worker.returncode for worker in workers] == [0, 0]
    with Memo(tmp_path) as memo:
        found = [seen(memo.get(f"{n:040}")) for n in range(90)]
    assert found == [({"n": n}, [str(n).encode() * 5000]) for n in range(90)]


def test_killed_process(tmp_path: Path) -> None:
    """What a killed process leaves is whole or absent."""
    worker = _worker(tmp_path, 0, 100_000)
    assert worker.stdout is not None
    worker.stdout.readline()
    while len(files(tmp_path)) < 20:
        time.sleep(0.005)
    worker.send_signal(signal.SIGKILL)
    worker.communicate()

    with Memo(tmp_path) as memo:
        found = [seen(memo.get(f"{n:040}")) for n in range(len(files(tmp_path)) + 1)]
    whole = [one for one in found if one is not None]
    assert len(whole) >= 15
    assert whole == [({"n": n}, [str(n).encode() * 5000]) for n in range(len(whole))]


def test_threads(tmp_path: Path) -> None:
    """Threads share one memo."""
    with Memo(tmp_path) as memo:
        threads = [threading.Thread(target=memo.put, args=(f"{n:040}", {"n": n}, [BODY])) for n in range(16)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()

        assert [seen(memo.get(f"{n:040}")) for n in range(16)] == [({"n": n}, [BODY]) for n in range(16)]


def _at_a_million() -> float:
    return 1e6


def test_a_worker_process_has_the_same_memo(tmp_path: Path) -> None:
    """What is sent to it opens the same folder with a connection of its own, by the same clock, limit and first time."""
    with Memo(tmp_path, clock=lambda: 1000.0) as memo:
        memo.put("old", {"n": 0})
    with Memo(tmp_path, limit=1, clock=_at_a_million, since=5000.0) as memo:
        memo.put("first", {"n": 1})
        with pickle.loads(pickle.dumps(memo)) as sent:  # noqa: S301 - as `multiprocessing` does
            assert (sent.get("old"), seen(sent.get("first"))) == (None, ({"n": 1}, []))
            sent.put("second", {"n": 2})
        assert rows(tmp_path, "key, used") == [("first", 1e6), ("second", 1e6)]
        assert seen(memo.get("second")) == ({"n": 2}, [])


# the bound


def _filled(folder: Path, now: float, names: range, limit: int = 100_000) -> None:
    with Memo(folder, limit=limit, clock=lambda: now) as memo:
        for n in names:
            memo.put(f"{n:040}", {"n": n}, [bytes([n]) * 10_000])


def _there(folder: Path, names: range) -> list[int]:
    with Memo(folder) as memo:
        return [n for n in names if memo.get(f"{n:040}") is not None]


def test_old_results_are_dropped(tmp_path: Path) -> None:
    """Beyond the limit what was not used for longest goes, files included, and some room is made."""
    now = time.time()
    _filled(tmp_path, now - 3 * IN_USE, range(8))
    with Memo(tmp_path, clock=lambda: now - 2 * IN_USE) as memo:
        memo.get(f"{0:040}")
    _filled(tmp_path, now, range(8, 12))

    assert _there(tmp_path, range(12)) == [0, 6, 7, 8, 9, 10, 11]
    assert sum(path.stat().st_size for path in files(tmp_path)) <= 80_000


def test_what_is_in_use_stays(tmp_path: Path) -> None:
    """Results used in the last hour stay, even beyond the limit: pages may be about to be written from them."""
    _filled(tmp_path, time.time(), range(15))

    assert _there(tmp_path, range(15)) == list(range(15))


def test_files_of_nobody_are_removed(tmp_path: Path) -> None:
    """A file that no entry names goes after a day, and not before."""
    _filled(tmp_path, time.time(), range(1))
    for name, age in (("aaold", ORPHANED + 60), ("aayoung", 60.0)):
        path = tmp_path / "files" / "aa" / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(b"")
        os.utime(path, (time.time() - age,) * 2)
    _filled(tmp_path, time.time(), range(1, 2))
    first = {path.name for path in files(tmp_path) if path.parent.name == "aa"}
    os.utime(tmp_path / "swept", (1, 1))
    _filled(tmp_path, time.time(), range(2, 3))
    second = {path.name for path in files(tmp_path) if path.parent.name == "aa"}

    assert (first, second, len(_there(tmp_path, range(3)))) == ({"aaold", "aayoung"}, {"aayoung"}, 3)


# what is stored, and how


def rows(folder: Path, columns: str) -> list[tuple[object, ...]]:
    """Columns of all entries, by key."""
    with sqlite3.connect(database(folder)) as link:
        found = link.execute(f"SELECT {columns} FROM entries ORDER BY key").fetchall()  # noqa: S608
    link.close()
    return found


def change(folder: Path, statement: str, *values: object) -> None:
    """Another program writes into the database."""
    with sqlite3.connect(database(folder)) as link:
        link.execute(statement, values)
    link.close()


def test_an_entry_as_stored(tmp_path: Path) -> None:
    """Compact JSON in UTF-8, the files' names, sizes and times, the size of it all, the time of use."""
    with Memo(tmp_path / "a" / "b", clock=lambda: 77.5) as memo:
        memo.put(KEY, {"n": "ü", "m": [1, 2]}, [b"abc"])
    (path,) = files(tmp_path / "a" / "b")
    text, size, used, names = rows(tmp_path / "a" / "b", "value, size, used, files")[0]

    assert (text, size, used) == ('{"n":"ü","m":[1,2]}', 19 + 3, 77.5)
    # The digest is that of `printf abc | b2sum -l 160`, of the GNU core utilities.
    assert path.name == "384264f676f39536840523f284921cdc68b6846b"
    assert names == f'[["{path.name}", 3, {path.stat().st_mtime_ns}]]'
    assert path.parent.name == "38"
    assert database(tmp_path / "a" / "b").name == "memo-1.sqlite"


def test_a_value_that_is_no_utf8_as_stored(tmp_path: Path) -> None:
    """Compact JSON too, in ASCII: SQLite keeps no half characters."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": "a\udce9", "m": [1, 2]})
        assert seen(memo.get(KEY)) == ({"n": "a\udce9", "m": [1, 2]}, [])

    assert rows(tmp_path, "value") == [('{"n":"a\\udce9","m":[1,2]}',)]


def test_how_the_database_is_set_up(tmp_path: Path) -> None:
    """A write-ahead log, so that reading need not wait; an index for the sum of sizes; a writer is waited for 10 s."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {})
        (synchronous,) = memo._run("PRAGMA synchronous")
        (wait,) = memo._run("PRAGMA busy_timeout")  # ms
        plan = memo._run("EXPLAIN QUERY PLAN SELECT total(size) FROM entries")
    with sqlite3.connect(database(tmp_path)) as link:
        (mode,) = link.execute("PRAGMA journal_mode").fetchone()
    link.close()

    assert (mode, synchronous) == ("wal", (1,))  # 1 is NORMAL, by the manual of SQLite
    assert wait == (10_000,)  # common practice, no source
    assert "COVERING INDEX sizes" in plan[0][3]


def test_a_file_is_on_the_disk_before_its_entry(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Content first, then the name, then the entry: a killed process leaves no entry without its files."""
    done: list[str] = []
    fsync, replace, run = os.fsync, Path.replace, Memo._run

    def synced(handle: int) -> None:
        done.append(f"{os.fstat(handle).st_size} bytes synced")
        fsync(handle)

    def named(path: Path, target: Path) -> Path:
        done.append(f"{path.stat().st_size} bytes named")
        assert (
            path.parents[1] == target.parents[1] == tmp_path / "files"
        )  # a move to another file system would not be a single step
        return replace(path, target)

    def stored(memo: Memo, statement: str, *values: object) -> list[tuple[object, ...]]:
        done.append(statement.split(maxsplit=1)[0])
        return run(memo, statement, *values)

    monkeypatch.setattr(os, "fsync", synced)
    monkeypatch.setattr(Path, "replace", named)
    monkeypatch.setattr(Memo, "_run", stored)
    memo = Memo(tmp_path)
    memo.put(KEY, {}, [BODY])

    assert done == ["10240 bytes synced", "10240 bytes named", "INSERT"]
    memo.close()


def test_a_small_part_is_synced_whole_and_held_meanwhile(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What fits into a buffer is on the disk too before it has its name; nobody takes it for a killed process's."""
    done: list[tuple[int, bool]] = []

    def synced(handle: int) -> None:
        (path,) = (tmp_path / "files" / "new").iterdir()
        with path.open("rb") as other:
            done.append((os.fstat(handle).st_size, hold(other)))

    monkeypatch.setattr(os, "fsync", synced)
    with Memo(tmp_path) as memo:
        memo.put(KEY, {}, [b"small"])

    assert done == [(5, False)]


def test_many_keys_at_once(tmp_path: Path) -> None:
    """More keys than one question takes are found all the same, and unknown ones are left out."""
    keys = [f"{n:040}" for n in range(1203)]
    with Memo(tmp_path) as memo:
        for n, key in enumerate(keys):
            memo.put(key, {"n": n})
        found = memo.get_all([*keys[::-1], "unknown"])

        assert {key: kept.value for key, kept in found.items()} == {
            key: {"n": n} for n, key in enumerate(keys)
        }
        assert memo.get_all([]) == {}


def test_results_before_a_time_are_not_known(tmp_path: Path) -> None:
    """`since` leaves out what was not made or used since."""
    with Memo(tmp_path, clock=lambda: 1000.0) as memo:
        memo.put(KEY, {})
    known = []
    for since in (999.0, 1000.0, 1000.5):
        with Memo(tmp_path, clock=lambda: 1000.0, since=since) as memo:
            known.append(memo.get(KEY) is not None)

    assert known == [True, True, False]


def test_without_a_time_everything_is_known(tmp_path: Path) -> None:
    """Results of any time are taken."""
    with Memo(tmp_path, clock=lambda: 0.5) as memo:
        memo.put(KEY, {})

        assert memo.get(KEY) is not None


def test_time_of_use(tmp_path: Path) -> None:
    """What is asked for counts as used then; within a quarter of an hour that is not noted again."""
    with Memo(tmp_path, clock=lambda: 1000.0) as memo:
        memo.put(KEY, {})
        memo.put("1" * 40, {})
    used = []
    for later in (900.0, 900.5, 1800.5, 1801.0):
        with Memo(tmp_path, clock=lambda later=later: 1000.0 + later) as memo:
            memo.get(KEY)
        used.append([row[0] for row in rows(tmp_path, "used")])

    assert used == [[1000.0, 1000.0], [1900.5, 1000.0], [1900.5, 1000.0], [2801.0, 1000.0]]


def test_reading_writes_nothing(tmp_path: Path) -> None:
    """What was used a moment ago is read without a write, for which other processes would have to wait."""
    asked: list[str] = []
    with Memo(tmp_path) as memo:
        memo.put(KEY, {})
        memo._connected().set_trace_callback(asked.append)
        memo.get(KEY)
        memo.get("1" * 40)

    assert {statement.split(maxsplit=1)[0] for statement in asked} == {"SELECT"}


def test_damaged_entries_are_of_no_use(tmp_path: Path) -> None:
    """Asking for what is damaged does not keep it longer."""
    with Memo(tmp_path, clock=lambda: 1000.0) as memo:
        memo.put(KEY, {})
    _changed_value(tmp_path)
    with Memo(tmp_path, clock=lambda: 9000.0) as memo:
        memo.get(KEY)

    assert rows(tmp_path, "used") == [(1000.0,)]


@pytest.mark.parametrize("column", ["key", "value", "files"])
def test_no_part_of_an_entry_is_believed_alone(column: str, tmp_path: Path) -> None:
    """A value under another key, another value, another list of files: each counts as damage."""
    with Memo(tmp_path) as memo:
        memo.put("a", {"n": 1}, [BODY])
        memo.put("b", {"n": 2}, [])
    change(tmp_path, "DELETE FROM entries WHERE key = 'b'" if column == "key" else "SELECT 1")
    other = {"key": "b", "value": '{"n":2}', "files": "[]"}[column]
    change(tmp_path, f"UPDATE entries SET {column} = ? WHERE key = 'a'", other)  # noqa: S608
    with Memo(tmp_path) as memo:
        assert list(memo.get_all(["a", "b"])) == (["b"] if column in ("value", "files") else [])


@pytest.mark.parametrize(
    ("column", "value"), [("used", "x"), ("used", b"9"), ("value", b"{}"), ("files", b"[]")]
)
def test_a_damaged_column_makes_an_entry_absent(column: str, value: object, tmp_path: Path) -> None:
    """SQLite keeps anything in any column: what is of another type was not written by us."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1}, [BODY])
    change(tmp_path, f"UPDATE entries SET {column} = ?", value)  # noqa: S608
    with Memo(tmp_path) as memo:
        assert memo.get(KEY) is None


@pytest.mark.parametrize("size", [b"12", "x", 2**62, -(2**62), 1e300])
def test_a_damaged_size_does_not_keep_a_memo_from_being_tidied(size: object, tmp_path: Path) -> None:
    """The entry counts as it can be read; the oldest go, and what was just put is there."""
    now = time.time()
    _filled(tmp_path, now - 9999, range(2))
    change(tmp_path, "UPDATE entries SET size = ?", size)
    with Memo(tmp_path, limit=1, clock=lambda: now) as memo:
        memo.put(KEY, {"n": 1})
    with Memo(tmp_path) as memo:
        assert seen(memo.get(KEY)) == ({"n": 1}, [])


def test_sizes_that_are_too_large_to_be_added_up(tmp_path: Path) -> None:
    """They are beyond any limit: SQLite refuses the exact sum of integers past 64 bits."""
    now = time.time()
    _filled(tmp_path, now - 9999, range(2))
    change(tmp_path, "UPDATE entries SET size = ?", 2**62)
    _filled(tmp_path, now, range(2, 3))

    assert [row[0] for row in rows(tmp_path, "key")] == [f"{2:040}"]


def test_a_database_whose_damage_is_told_in_bytes(tmp_path: Path) -> None:
    """SQLite repeats what it found in its message, which may be no text: the file is damaged all the same."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
    path = database(tmp_path)
    path.write_bytes(
        path.read_bytes().replace(
            b"CREATE TABLE entries (key TEXT PRIMARY KEY", b"CREATE TABLE entries (key TEXT PRIMARY K\xcdY"
        )
    )
    with Memo(tmp_path) as memo:
        memo.get(KEY)
        memo.put(KEY, {"n": 2})
        assert seen(memo.get(KEY)) == ({"n": 2}, [])


def test_damage_that_tidying_meets(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It holds the lock already, and does not wait for it: the damaged database is removed at once."""
    held, waited = [], []
    alone = sitegen.memo._alone

    @contextlib.contextmanager
    def watched(folder: Path, wait: float) -> Iterator[bool]:
        waited.append((wait, len(held)))
        held.append(wait)
        with alone(folder, min(wait, 0.1)) as found:
            yield found
        held.pop()

    monkeypatch.setattr(sitegen.memo, "_alone", watched)
    with Memo(tmp_path) as memo:
        for number in range(400):
            memo.put(f"{number:040}", {"text": "x" * 400})
        memo._run("PRAGMA wal_checkpoint(TRUNCATE)")
        page = memo._run("SELECT rootpage FROM sqlite_master WHERE name = 'sizes'")[0][0]
        waited.clear()
        with database(tmp_path).open("r+b") as file:
            file.seek((page - 1) * 4096)
            file.write(b"\xa5" * 4096)
        memo._run("PRAGMA cache_size = 0")

    assert waited == [(0, 0)]
    assert rows(tmp_path, "key") == []


def test_an_untouched_file_is_not_read(tmp_path: Path) -> None:
    """A file with the size and the time that it was put with is as it was."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {}, [BODY])
        (path,) = files(tmp_path)
        before = path.stat()
        path.write_bytes(BODY[::-1])
        os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
        assert seen(memo.get(KEY)) == ({}, [BODY[::-1]])
        path.write_bytes(BODY + b"x")
        os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
        assert memo.get(KEY) is None


def test_a_memo_can_be_closed_twice_and_used_again(tmp_path: Path) -> None:
    """Closing loses nothing, in a spare folder neither fails."""
    memo = Memo(tmp_path / "memo")
    memo.put(KEY, {"n": 1})
    memo.close()
    memo.close()
    assert seen(memo.get(KEY)) == ({"n": 1}, [])
    memo.close()
    (tmp_path / "file").touch()
    spare = Memo(tmp_path / "file")
    spare.put(KEY, {})
    spare.close()
    spare.close()


# a database in use


def _impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    connect = sqlite3.connect
    monkeypatch.setattr(
        sitegen.memo.sqlite3, "connect", lambda *a, **more: connect(*a, **{**more, "timeout": 0})
    )


def test_a_database_that_is_locked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What cannot be stored is there for its maker all the same; what was stored before stays."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
    _impatient(monkeypatch)
    with Memo(tmp_path) as memo:
        memo.get(KEY)
        link = sqlite3.connect(database(tmp_path), isolation_level=None)
        link.execute("BEGIN IMMEDIATE")
        put = memo.put("1" * 40, {"n": 2}, [BODY])
        link.execute("ROLLBACK")
        link.close()

        assert seen(put) == ({"n": 2}, [BODY])
        assert (seen(memo.get(KEY)), memo.get("1" * 40)) == (({"n": 1}, []), None)


def test_a_database_that_another_program_has_for_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is not damaged and stays as it is; results last until the end."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
    _impatient(monkeypatch)
    link = sqlite3.connect(database(tmp_path), isolation_level=None)
    link.execute("PRAGMA locking_mode = EXCLUSIVE")
    link.execute("BEGIN EXCLUSIVE")
    with Memo(tmp_path) as memo:
        assert memo.get(KEY) is None
        memo.put("1" * 40, {"n": 2})
        assert seen(memo.get("1" * 40)) == ({"n": 2}, [])
    Memo(tmp_path)._discard()  # nor is it removed, where it seemed to be damaged a moment ago
    link.execute("ROLLBACK")
    link.close()
    with Memo(tmp_path) as memo:
        assert (seen(memo.get(KEY)), memo.get("1" * 40)) == (({"n": 1}, []), None)


def test_a_database_that_another_process_is_making(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """SQLite lets nobody wait for the change to a write-ahead log: it is opened a second time, one process at a time."""
    other = sqlite3.connect(tmp_path / f"memo-{FORMAT}.sqlite", isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    alone = sitegen.memo._alone

    @contextlib.contextmanager
    def made_meanwhile(folder: Path, wait: float) -> Iterator[bool]:
        other.close()
        with alone(folder, wait) as found:
            yield found

    _impatient(monkeypatch)
    monkeypatch.setattr(sitegen.memo, "_alone", made_meanwhile)
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
    with Memo(tmp_path) as memo:
        assert seen(memo.get(KEY)) == ({"n": 1}, [])


def test_a_renewed_database_is_not_removed(tmp_path: Path) -> None:
    """Another process may have renewed a damaged database meanwhile: then it stays."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
        memo._discard()

        assert seen(memo.get(KEY)) == ({"n": 1}, [])


@pytest.mark.parametrize("endings", [("", "-wal", "-shm"), ("", "-shm")])
def test_a_damaged_database_is_removed_whole(tmp_path: Path, endings: tuple[str, ...]) -> None:
    """What is there of its other files goes with it: a write-ahead log would be applied to the next one."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
    name = database(tmp_path).name
    for ending in endings:
        (tmp_path / f"{name}{ending}").write_bytes(b"no database at all" * 999)
    Memo(tmp_path)._discard()

    assert [path.name for path in tmp_path.glob("memo-*")] == []


# the bound, to the byte and the second


def _thousands(
    folder: Path, count: int, limit: int, ages: Callable[[int], float] = lambda _: 9999.0
) -> list[int]:
    """Which of some results of 1000 bytes each are kept, where they were used so many seconds ago."""
    now = 1e6
    for n in range(count):
        with Memo(folder, clock=lambda n=n: now - ages(n)) as memo:
            memo.put(f"{n:040}", {"n": n % 10}, [bytes([n]) * 993])
    with Memo(folder, limit=limit, clock=lambda: now) as memo:
        memo.put("x", {})
        memo._run("DELETE FROM entries WHERE key = 'x'")
    with Memo(folder, clock=lambda: now) as memo:
        return [n for n in range(count) if memo.get(f"{n:040}") is not None]


@pytest.mark.parametrize(
    ("limit", "left"), [(10_000, 10), (9_999, 7), (9_000, 7), (8_750, 7), (8_749, 6), (1_000, 0), (0, 0)]
)
def test_the_limit(limit: int, left: int, tmp_path: Path) -> None:
    """At the limit all is kept; above it the oldest results go until four fifths of the limit are left."""
    assert _thousands(tmp_path, 10, limit, lambda n: 9999.0 - n) == list(range(10 - left, 10))
    assert len(files(tmp_path)) == left


def test_of_equal_age_the_first_keys_go(tmp_path: Path) -> None:
    """Which results are dropped hangs on nothing but them."""
    assert _thousands(tmp_path, 4, 3_000) == [2, 3]


def test_results_of_the_last_hour_stay(tmp_path: Path) -> None:
    """What was used 3600 seconds ago may be about to be written out; what was used before may not."""
    ages = [3600.0, 3600.5, 3599.0, 9999.0]

    assert _thousands(tmp_path, 4, 100, ages.__getitem__) == [0, 2]


def test_the_usual_limit(tmp_path: Path) -> None:
    """Two gigabytes are kept, and not one byte more."""
    left = []
    for size in (2_000_000_000, 2_000_000_001):
        with Memo(tmp_path, clock=lambda: 0.0) as memo:
            memo.put(KEY, {})
        change(tmp_path, "UPDATE entries SET size = ?", size)
        with Memo(tmp_path) as memo:
            memo.put("1" * 40, {})
            memo._run("DELETE FROM entries WHERE key = ?", "1" * 40)
        left.append(rows(tmp_path, "size"))

    assert left == [[(2_000_000_000,)], []]


def test_reading_drops_nothing(tmp_path: Path) -> None:
    """Only a run that put something looks at the limit."""
    _filled(tmp_path, 1000.0, range(3))
    with Memo(tmp_path, limit=1, clock=lambda: 1e6) as memo:
        memo.get(KEY)

    assert len(rows(tmp_path, "key")) == 3


def test_an_emptied_database_has_no_size(tmp_path: Path) -> None:
    """Another program may have removed all entries."""
    with Memo(tmp_path) as memo:
        memo.put(KEY, {})
        change(tmp_path, "DELETE FROM entries")

    assert rows(tmp_path, "key") == []


def test_content_of_two_results_stays_with_one(tmp_path: Path) -> None:
    """A file goes with the last entry that names it."""
    with Memo(tmp_path, clock=lambda: 1000.0) as memo:
        memo.put(KEY, {}, [BODY, b"mine"])
    with Memo(tmp_path, clock=lambda: 1e6, limit=20_480) as memo:
        memo.put("1" * 40, {"a": 1}, [BODY])

    assert [path.read_bytes() for path in files(tmp_path)] == [BODY]


def test_another_process_tidies_up(tmp_path: Path) -> None:
    """One at a time is enough: nobody waits to do the same."""
    from filelock import FileLock

    _filled(tmp_path, 1000.0, range(3))
    with FileLock(tmp_path / "tidy.lock"):
        _filled(tmp_path, 1e6, range(3, 4), limit=1)
        assert len(rows(tmp_path, "key")) == 4
    _filled(tmp_path, 1e6, range(3, 4), limit=1)
    assert len(rows(tmp_path, "key")) == 1


def test_how_long_another_process_is_waited_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Tidying up does not wait at all; to renew a damaged database, 10 s (common practice, no source)."""
    import filelock

    waits: list[object] = []
    original = filelock.FileLock

    def lock(path: Path, timeout: float) -> object:
        waits.append(timeout)
        return original(path, timeout=timeout)

    monkeypatch.setattr(filelock, "FileLock", lock)
    with Memo(tmp_path) as memo:
        memo.put(KEY, {})
    tidied = list(waits)
    _garbage(tmp_path)
    with Memo(tmp_path) as memo:
        memo.get(KEY)

    assert (tidied, waits) == ([0], [0, 10])


def test_a_memo_that_was_tidied_waits_as_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Damage that is met after tidying is mended under the lock: another process may be mending it."""
    waits: list[float] = []
    alone = sitegen.memo._alone

    def watched(folder: Path, wait: float) -> contextlib.AbstractContextManager[bool]:
        waits.append(wait)
        return alone(folder, wait)

    with Memo(tmp_path) as memo:
        memo.put(KEY, {"n": 1})
        memo.close()
        _garbage(tmp_path)
        monkeypatch.setattr(sitegen.memo, "_alone", watched)
        assert memo.get(KEY) is None

    assert waits == [10, 0]


def test_age_of_files_of_nobody(tmp_path: Path) -> None:
    """A file that no entry names stays for 86,400 seconds, and files are looked through as seldom."""
    now = time.time()
    _filled(tmp_path, now, range(1))
    (tmp_path / "files" / "aa").mkdir()
    left = []
    for swept, age in ((86_400.0, 90_000.0), (86_401.0, 86_400.0), (86_401.0, 86_401.0)):
        path = tmp_path / "files" / "aa" / "orphan"
        path.touch()
        os.utime(path, (now - age,) * 2)
        os.utime(tmp_path / "swept", (now - swept,) * 2)
        _filled(tmp_path, now, range(1))
        left.append(path.exists())
    assert left == [True, True, False]
    assert (tmp_path / "swept").stat().st_mtime >= now - 1


@pytest.mark.parametrize("names", ["x", "3", "[3]", "[[1, 2]]", "[" * 100_000], ids=lambda names: names[:9])
def test_files_of_a_damaged_entry(names: str, tmp_path: Path) -> None:
    """A list of files that cannot be read names none, and hinders nothing."""
    now = time.time()
    _filled(tmp_path, now - 9999, range(2))
    change(tmp_path, "UPDATE entries SET files = ? WHERE key = ?", names, f"{0:040}")
    _filled(tmp_path, now, range(2, 3), limit=11_000)

    assert [row[0] for row in rows(tmp_path, "key")] == [f"{2:040}"]
    assert len(files(tmp_path)) == 2  # the one of the damaged entry is a day too young


# whose code and which libraries

STAGES = {
    "photos": {"photos"},
    "plot": {"plot"},
    "render/metadata": {"render/metadata"},
    "files": set(),
    "found": set(),
    "ingest": {"ingest", "core"},
    "measure": {"measure", "core"},
    "check": {"ingest", "judge", "core", "pipeline", "measure", "plot"},
    "pages": {
        *{"ingest", "judge", "core", "pipeline", "measure", "photos", "plot"},
        *{"render", "render/metadata", "write"},
    },
}
FOLDERS = STAGES["pages"] | {"app", "words"}


def _key(stage: str) -> str:
    _forget()
    return Memo().key(stage)


def test_whose_code_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A key changes with the code of the folders that shape its result, and with no other."""
    monkeypatch.setattr(sitegen.memo, "__file__", str(tmp_path / "memo.py"))
    for folder in FOLDERS:
        (tmp_path / folder).mkdir(parents=True, exist_ok=True)
    before = {stage: _key(stage) for stage in STAGES}
    counts: dict[str, set[str]] = {stage: set() for stage in STAGES}
    for folder in FOLDERS:
        (tmp_path / folder / "new.py").touch()
        for stage in STAGES:
            if _key(stage) != before[stage]:
                counts[stage].add(folder)
        (tmp_path / folder / "new.py").unlink()
    _forget()

    assert counts == STAGES


PICTURES = {"pillow", "pi_heif"}
EVERY = PICTURES | {
    *{"pyyaml", "python_calamine", "tzdata", "markdown_it_py", "mdit_py_plugins"},
    *{"babel", "jinja2", "markupsafe", "nh3", "vl_convert_python"},
}
LIBRARIES = {
    "photos": PICTURES,
    "ingest": PICTURES,
    "plot": {"vl_convert_python"},
    "render/metadata": PICTURES,
    "measure": set[str](),
    "check": EVERY,
    "pages": EVERY,
}


def test_which_libraries_count(monkeypatch: pytest.MonkeyPatch) -> None:
    """A key changes with the version of each library that shapes its result, and with no other."""
    every = [*LIBRARIES["pages"], "click", "starlette"]
    installed = {name: f"{name}-1.0.dist-info" for name in every}
    monkeypatch.setattr(sitegen.memo, "_installed", lambda: tuple(installed.values()))
    before = {stage: _key(stage) for stage in LIBRARIES}
    counts: dict[str, set[str]] = {stage: set() for stage in LIBRARIES}
    for name in every:
        monkeypatch.setitem(installed, name, f"{name}-2.0.dist-info")
        for stage in LIBRARIES:
            if _key(stage) != before[stage]:
                counts[stage].add(name)
        monkeypatch.setitem(installed, name, f"{name}-1.0.dist-info")
    _forget()

    assert counts == LIBRARIES


def test_what_counts_as_code(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every file in a folder and below it, with its name and its content, but nothing compiled."""
    monkeypatch.setattr(sitegen.memo, "__file__", str(tmp_path / "memo.py"))
    folder = tmp_path / "photos" / "deep"
    folder.mkdir(parents=True)
    keys = [_key("photos")]
    (folder / "words.csv").write_text("a", "utf-8")
    keys.append(_key("photos"))
    (folder / "words.csv").write_text("b", "utf-8")
    keys.append(_key("photos"))
    (folder / "words.csv").rename(folder / "other.csv")
    keys.append(_key("photos"))
    (folder / "other.pyc").write_bytes(b"compiled")
    compiled = _key("photos")
    _forget()

    assert len(set(keys)) == 4
    assert compiled == keys[-1]


def test_where_versions_are_looked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In every folder of the import path that is there, the current one included, whatever the case of the name."""
    for folder, name in (
        ("one", "Pillow-11.3.0.dist-info"),
        ("two", "pillow-12.0.dist-info"),
        ("two", "pillow-x"),
    ):
        (tmp_path / folder / name).mkdir(parents=True)
    (tmp_path / "two" / "pillow_tools-1.0.dist-info").mkdir()
    monkeypatch.chdir(tmp_path / "two")
    monkeypatch.setattr(
        sys, "path", [str(tmp_path / "one"), str(tmp_path / "missing"), "", str(tmp_path / "one")]
    )
    sitegen.memo._installed.cache_clear()
    sitegen.memo._versions.cache_clear()
    found = sitegen.memo._versions(("pillow", "pi_heif"))
    sitegen.memo._installed.cache_clear()
    _forget()

    assert found == ("Pillow-11.3.0.dist-info", "pillow-12.0.dist-info")


def test_a_path_that_is_no_utf8_has_a_key(tmp_path: Path) -> None:
    """The bytes of a file name that no encoding fits are part of the key."""
    with Memo(tmp_path) as memo:
        keys = {memo.key("photos", name) for name in ("a", "a\udce9", "a\udcff")}

    assert len(keys) == 3
