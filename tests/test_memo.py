"""What was made before: kept whole, dropped when old, and never trusted when damaged."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

import sitegen.memo
from sitegen.core.store import StoredResult
from sitegen.memo import IN_USE, ORPHANED, Memo, cache_folder

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
    with Memo.open(tmp_path) as memo:
        assert memo.get(KEY) is None
        put = memo.put(KEY, value, [BODY, b"", BODY])
    with Memo.open(tmp_path) as memo:
        assert memo.get(KEY) == put
        assert seen(put) == (value, [BODY, b"", BODY])
        assert len(files(tmp_path)) == 2  # one a content


def test_the_last_put_counts(tmp_path: Path) -> None:
    """A key that is put again has the later value."""
    with Memo.open(tmp_path) as memo:
        memo.put(KEY, {"n": 1}, [BODY])
        memo.put(KEY, {"n": 2})

        assert seen(memo.get(KEY)) == ({"n": 2}, [])


def test_nothing_is_touched_before_something_is_asked(tmp_path: Path) -> None:
    """Opening a memo makes no folder and no file."""
    with Memo.open(tmp_path / "memo"):
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
    memo = Memo.open()
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
    for known in (sitegen.memo._code, sitegen.memo._versions, sitegen.memo._made_by):
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
        keys.append(Memo.open().key("photos"))
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


def _changed_value(folder: Path) -> None:
    with sqlite3.connect(database(folder)) as link:
        link.execute("UPDATE entries SET value = ?", ('{"n": 2}',))
    link.close()


def _no_json(folder: Path) -> None:
    with sqlite3.connect(database(folder)) as link:
        link.execute("UPDATE entries SET value = ?, files = ?", ("import os", "x"))
    link.close()


def _changed_file(folder: Path) -> None:
    files(folder)[0].write_bytes(BODY[::-1])


def _short_file(folder: Path) -> None:
    files(folder)[0].write_bytes(BODY[:-1])


def _no_file(folder: Path) -> None:
    files(folder)[0].unlink()


@pytest.mark.parametrize(
    "damage", [_garbage, _torn, _foreign, _changed_value, _no_json, _changed_file, _short_file, _no_file]
)
def test_damage(damage: Callable[[Path], None], tmp_path: Path) -> None:
    """Whatever is damaged or foreign counts as absent, and can be put again."""
    with Memo.open(tmp_path) as memo:
        memo.put(KEY, {"n": 1}, [BODY])
    damage(tmp_path)
    with Memo.open(tmp_path) as memo:
        assert memo.get(KEY) is None
        memo.put(KEY, {"n": 3}, [BODY])
    with Memo.open(tmp_path) as memo:
        assert seen(memo.get(KEY)) == ({"n": 3}, [BODY])


def test_damage_while_it_is_open(tmp_path: Path) -> None:
    """A database that turns out to be damaged later is renewed then."""
    with Memo.open(tmp_path) as memo:
        for number in range(300):
            memo.put(f"{number:040}", {"text": "x" * 400})
    path = database(tmp_path)
    body = path.read_bytes()
    path.write_bytes(body[:8192] + b"\xa5" * (len(body) - 8192))
    with Memo.open(tmp_path) as memo:
        assert {str(memo.get(f"{n:040}")) for n in range(300)} == {"None"}
        memo.put(KEY, {"n": 1})
        memo.put(KEY, {"n": 1})
        assert seen(memo.get(KEY)) == ({"n": 1}, [])


def test_copied_folder(tmp_path: Path) -> None:
    """A file with another time but the same content is the same file."""
    with Memo.open(tmp_path) as memo:
        memo.put(KEY, {}, [BODY])
        os.utime(files(tmp_path)[0], (1, 1))

        assert seen(memo.get(KEY)) == ({}, [BODY])


def test_nowhere_to_keep_things(tmp_path: Path) -> None:
    """Where nothing can be kept, results last as long as the process needs them."""
    (tmp_path / "memo").write_text("a file, not a folder")
    with Memo.open(tmp_path / "memo") as memo:
        put = memo.put(KEY, {"n": 1}, [BODY])
        assert seen(memo.get(KEY)) == ({"n": 1}, [BODY])

    assert (tmp_path / "memo").is_file()
    assert not put.files[0].exists()


def test_deleted_between_runs(tmp_path: Path) -> None:
    """The folder may be deleted at any time."""
    for _ in range(2):
        with Memo.open(tmp_path / "memo") as memo:
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
with Memo.open(folder) as memo:
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
    with Memo.open(tmp_path) as memo:
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

    with Memo.open(tmp_path) as memo:
        found = [seen(memo.get(f"{n:040}")) for n in range(len(files(tmp_path)) + 1)]
    whole = [one for one in found if one is not None]
    assert len(whole) >= 15
    assert whole == [({"n": n}, [str(n).encode() * 5000]) for n in range(len(whole))]


def test_threads(tmp_path: Path) -> None:
    """Threads share one memo."""
    with Memo.open(tmp_path) as memo:
        threads = [threading.Thread(target=memo.put, args=(f"{n:040}", {"n": n}, [BODY])) for n in range(16)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()

        assert [seen(memo.get(f"{n:040}")) for n in range(16)] == [({"n": n}, [BODY]) for n in range(16)]


# the bound


def _filled(folder: Path, now: float, names: range, limit: int = 100_000) -> None:
    with Memo.open(folder, limit=limit, clock=lambda: now) as memo:
        for n in names:
            memo.put(f"{n:040}", {"n": n}, [bytes([n]) * 10_000])


def _there(folder: Path, names: range) -> list[int]:
    with Memo.open(folder) as memo:
        return [n for n in names if memo.get(f"{n:040}") is not None]


def test_old_results_are_dropped(tmp_path: Path) -> None:
    """Beyond the limit what was not used for longest goes, files included, and some room is made."""
    now = time.time()
    _filled(tmp_path, now - 3 * IN_USE, range(8))
    with Memo.open(tmp_path, clock=lambda: now - 2 * IN_USE) as memo:
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
