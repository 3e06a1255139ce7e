"""What the program keeps for itself, where others may have written too: the store, the manifest, the records of a filing."""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import json
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from sitegen.core.files.file_names import MANIFEST
from sitegen.filing.entries.append import Change
from sitegen.filing.entries.undo import keep, known, take_back
from sitegen.filing.inbox.transaction import (
    FileChange,
    Intent,
    Piece,
    UnreadableIntentError,
    finish,
    intent_path,
    pending,
)
from sitegen.memo import Memo, _seal
from sitegen.write.manifest import read_manifest
from tests.fuzz.target import Run, Target, hold, joined, sections

_KEY = "0123456789abcdef"


def _rows(folder: Path) -> Run:
    """The row of one key, its columns of any type; with a sound seal where the input begins with `s`."""
    home = folder / "cache"
    with Memo(home) as memo:
        memo.put(_KEY, {"a": [1, 2.5, "x"]}, [b"body"])
    database = next(home.glob("*.sqlite"))
    link = sqlite3.connect(database, isolation_level=None)
    names = link.execute("SELECT files FROM entries").fetchone()[0]

    def run(data: bytes) -> object:
        parts = sections(data)
        value, files, used = (
            parts.get("value", b"{}").strip(),
            parts.get("files", names.encode()).strip(),
            parts.get("used", b"9e9").strip(),
        )
        sound = data[:1] == b"s" and _is_ours(value, files)
        kinds = parts.get("kinds", b"").split()
        row = [
            value if b"value" in kinds else value.decode("utf-8", "replace"),
            files if b"files" in kinds else files.decode("utf-8", "replace"),
        ]
        seal = (
            _seal(_KEY, str(row[0]), str(row[1]))
            if sound
            else parts.get("seal", b"").strip().decode("utf-8", "replace")
        )
        link.execute("INSERT OR REPLACE INTO entries (key, value, files, size, used, seal) VALUES (?, ?, ?, ?, ?, ?)",
                     (_KEY, *row, used if b"size" in kinds else 4, used.decode("utf-8", "replace"), seal))  # fmt: skip
        with Memo(home, limit=10, clock=lambda: 1e10) as memo:
            found = memo.get(_KEY)
            if not sound:
                hold(found is None or parts.get("seal"), "a row without a seal was believed")
            memo.put("other", {"b": 1})
        return found is None

    return run


def _is_ours(value: bytes, files: bytes) -> bool:
    """Whether a row may have a sound seal: nobody but the program makes one."""
    try:
        names = json.loads(files)
        return isinstance(json.loads(value), dict) and all(
            [type(part) for part in each] == [str, int, int] for each in names
        )
    except (ValueError, TypeError, RecursionError):
        return False


def _row_seeds() -> Iterator[bytes]:
    sealed = b"s\n"
    yield joined([("value", b'{"a": 1}'), ("seal", b"x")])
    yield sealed + joined([("value", b'{"a": [1, null, "\xc3\xbc"]}'), ("files", b"[]"), ("used", b"99")])
    yield sealed + joined([("value", b"[1, 2]"), ("files", b'[["ab12", 4, 1]]'), ("used", b"1e300")])
    yield joined([("value", b"\xff\xfe"), ("files", b"{"), ("used", b"x"), ("kinds", b"value files size")])


def _database(folder: Path) -> Run:
    home = folder / "cache"
    name = next(iter(_database_seeds_in(folder)))[0]

    def run(data: bytes) -> object:
        shutil.rmtree(home, ignore_errors=True)
        home.mkdir()
        (home / name).write_bytes(data)
        with Memo(home) as memo:
            found = memo.get_all([_KEY, "b"])
            memo.put("b", {"x": 1}, [b"y"])
            again = memo.get("b")
            hold(again is None or again.value == {"x": 1}, f"another value than was put: {again}")
        return sorted(found)

    return run


def _database_seeds_in(folder: Path) -> Iterator[tuple[str, bytes]]:
    home = folder / "seed"
    with Memo(home) as memo:
        memo.put(_KEY, {"a": 1}, [b"body"])
    path = next(home.glob("*.sqlite"))
    with closing(sqlite3.connect(path)) as link:
        link.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    yield path.name, path.read_bytes()


def _database_seeds() -> Iterator[bytes]:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        for _, content in _database_seeds_in(Path(folder)):
            yield content
            yield content[:4096]


def _manifest(folder: Path) -> Run:
    home = folder / "output"
    home.mkdir()

    def run(data: bytes) -> object:
        (home / MANIFEST).write_bytes(data)
        found = read_manifest(home)
        if found is None:
            return None
        for address in found.files:
            place = (home / address).resolve()
            hold(place.is_relative_to(home.resolve()), f"a file outside: {address!r}")
        return sorted(found.files.items())

    return run


_MANIFESTS = (
    b'{"files": {"index.html": ["ab", 12], "a/b.html": ["cd", 3]}, "format": 2}',
    b'{"files": ["index.html", "../x", "/etc/passwd"], "format": 1}',
    b'{"files": {"": ["a", 1], "..": null, "a/../../b": [1, 2], "C:\\\\x": "", "\\u0000": {}}}',
)


def _intent(folder: Path) -> Run:
    root, inbox = folder / "journal", folder / "inbox.txt"
    logs = {f"seasons/s/{name}/experiment.yaml": b"log:\n" for name in ("a", "b")}

    def run(data: bytes) -> object:
        shutil.rmtree(root, ignore_errors=True)
        for name, content in logs.items():
            (root / name).parent.mkdir(parents=True)
            (root / name).write_bytes(content)
        inbox.write_bytes(b"a day 3: x\nb day 4: y\n")
        intent_path(inbox).write_bytes(data)
        try:
            found = pending(inbox)
        except UnreadableIntentError:
            return None
        hold(found is not None, "an intent that is there was not found")
        assert found is not None
        hold(Intent.decoded(found.encoded()) == found, "an intent is another one after it was written")
        finished = finish(found, inbox, root)
        return finished, {
            path.relative_to(root).as_posix(): path.read_bytes() for path in root.rglob("*") if path.is_file()
        }

    return run


def _intents() -> Iterator[bytes]:
    place = "seasons/s/a/experiment.yaml"
    other = "seasons/s/b/experiment.yaml"
    after = b"log:\n  - {day: 3, note: x}\n"
    yield Intent(
        "/j",
        (FileChange(place, b"log:\n", after),),
        (Piece(b"a day 3: x\n", (place,)), Piece(b"b day 4: y\n")),
    ).encoded()
    both = (FileChange(place, b"log:\n", after), FileChange(other, b"log: []\n", after))
    yield Intent("/j", both, (Piece(b"a day 3: x\n", (place, other)), Piece(b"\xff", (other,)))).encoded()
    yield b'{"format": 1, "files": [{"place": "../x", "before": "", "after": "y"}], "inbox": [], "root": "/"}'


def _undo(folder: Path) -> Run:
    cache, path = folder / "cache", folder / "experiment.yaml"
    before, change = b"log:\n", Change(5, b"", b"  - {day: 3}\n")
    keep(cache, path, before, change)
    place = next((cache / "entries").glob("*.json"))

    def run(data: bytes) -> object:
        place.write_bytes(data)
        found = known(cache, path), take_back(cache, path, change.made(before))
        keep(cache, path, before, change)
        hold(take_back(cache, path, change.made(before)), "what was just kept cannot be taken back")
        return found

    return run


_UNDOS = (
    b'{"format": 1, "changes": [{"removed": "", "inserted": "ICAtIHtkYXk6IDN9Cg==", "behind": 0, "digest": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"}]}',
    b'{"format": 1, "changes": [{"removed": "eA==", "inserted": "", "behind": -3, "digest": "x"}, 3, null]}',
)
_JSON = (b"null", b"[]", b"{}", b"[[", b"1e999", b"NaN", b'"files"', b'"format"', b'"inbox"', b'"places"', b'"place"', b'"before"', b'"after"', b'"root"', b"\\u0000", b"\\ud800", b"../", b"/", b"-1", b"99999999999999999999", b'"a.yaml"', b'"changes"', b'"behind"')  # fmt: skip

TARGETS = (
    Target("memo-rows", _rows, _row_seeds, ("memo.py",), "sitegen.memo:Memo._kept", tokens=_JSON, longest=1500),
    Target("memo-file", _database, _database_seeds, ("memo.py",), "sitegen.memo:Memo._opened", "bytes", (b"SQLite format 3\0", b"CREATE TABLE entries", b"\0\0\0\0"), 24_000),
    Target("manifest", _manifest, lambda: _MANIFESTS, ("write/manifest.py",), "sitegen.write.manifest:_entries", tokens=_JSON, longest=2000),
    Target("intent", _intent, _intents, ("filing/inbox/transaction.py",), "sitegen.filing.inbox.transaction:settle", tokens=_JSON, longest=2000),
    Target("undo", _undo, lambda: _UNDOS, ("filing/entries/undo.py",), "sitegen.filing.entries.undo:_rows", tokens=_JSON, longest=2000),
)  # fmt: skip
