"""What was made before: results by key, in the user's cache folder.

In: keys, JSON values, large parts as bytes. Out: the same again, or None. One SQLite file (write-ahead log) holds the
values, files beside it the large parts, named by their content. A part is on the disk before the entry that names
it, so that a killed process leaves no half result; what is damaged or foreign counts as absent and is made again. The
folder may be deleted at any time. Values are JSON, never pickled objects: nothing in the folder is ever executed.
"""

from __future__ import annotations

import contextlib
import json
import os
import sqlite3
import sys
import threading
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache, partial
from hashlib import blake2b
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sitegen.cache_folder import cache_folder
from sitegen.core.files.held_file import hold
from sitegen.core.store import StoredResult

FORMAT = 1
LIMIT = 2_000_000_000  # bytes; some 4,000 photos in all their sizes
IN_USE = 3600.0  # seconds; what was used so lately may be about to be written out, and stays
ORPHANED = 86_400.0  # seconds; a file that no entry names after a day is a killed process's
AT_ONCE = 500  # keys a question; SQLite takes 999 and more
ROOM = 0.8  # of the limit: trimming to the brim would trim again at the next run

_READ = ("ingest", "judge", "core", "pipeline")
_PICTURES = ("pillow", "pi_heif")
_TEXTS = ("babel", "jinja2", "markdown_it_py", "markupsafe", "mdit_py_plugins", "nh3")
_ALL = (*_PICTURES, *_TEXTS, "python_calamine", "pyyaml", "tzdata", "vl_convert_python")
# Whose code, and which libraries, shape the results of a stage: a key with less would give results of a program that is
# no more, one with more would encode 4,000 photos again because a sentence has changed. For stages that are not listed,
# their own folder and core.
_DEPENDENCIES = {
    "ingest": (("ingest", "core"), _PICTURES),
    # Words and names from core are in their keys, or not kept.
    "photos": (("photos",), _PICTURES),
    "plot": (("plot",), ("vl_convert_python",)),
    "render/metadata": (("render/metadata",), _PICTURES),
    # What lies on the disk, and the result of the last command, which names the program itself.
    "files": ((), ()),
    "found": ((), ()),
    "check": ((*_READ, "measure", "plot"), _ALL),  # a recap may place any chart that there are data for
    "facts": ((*_READ, "measure"), _ALL),
    "texts": ((*_READ, "measure", "render"), _ALL),
    "notes": ((*_READ, "measure", "notes"), _ALL),
    "pages": ((*_READ, "measure", "photos", "plot", "render", "write"), _ALL),
}
_COLUMNS = "key, value, files, size, used, seal"
_TABLE = """CREATE TABLE IF NOT EXISTS entries (key TEXT PRIMARY KEY, value TEXT NOT NULL, files TEXT NOT NULL,
    size INTEGER NOT NULL, used REAL NOT NULL, seal TEXT NOT NULL) WITHOUT ROWID"""
# The sum of sizes is asked for at every end: without an index, all values would be read for it.
_INDEX = "CREATE INDEX IF NOT EXISTS sizes ON entries (size)"
_KIND = 0xFF  # the part of SQLite's error codes that says the kind of error


class Memo:
    """Results made before. Threads may share one, processes may share its folder.

    Nothing is touched before something is asked; nothing older than `since` [seconds of `clock`] is known. Beyond `limit`
    [bytes] the results not used for longest are dropped.
    """

    def __init__(
        self,
        folder: Path | None = None,
        *,
        limit: int = LIMIT,
        clock: Callable[[], float] = time.time,
        since: float = 0.0,
    ) -> None:
        self._folder = folder or cache_folder()
        self._since = since
        self._limit = limit
        self._clock = clock
        # One connection for all threads, one statement at a time: SQLite would make them wait for each other anyway.
        self._lock = threading.RLock()
        self._link: sqlite3.Connection | None = None
        self._spare: Path | None = None  # a temporary folder, until the end
        self._until_the_end = contextlib.ExitStack()
        self._added = False
        self._tidying = False

    def __reduce__(self) -> tuple[object, ...]:
        # A worker process opens the same folder with a connection of its own.
        return partial(Memo, limit=self._limit, clock=self._clock, since=self._since), (self._folder,)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def key(self, stage: str, *parts: object) -> str:
        """The key of a result: stage, its code, its libraries, and the parts as JSON."""
        return _digest(f"{_made_by(stage)}\n{json.dumps(parts, sort_keys=True)}".encode())

    def get(self, key: str) -> StoredResult | None:
        """What was put, whole; None where there is nothing, or not all of it."""
        return self.get_all([key]).get(key)

    def get_all(self, keys: Sequence[str]) -> dict[str, StoredResult]:
        """What was put under some keys, by key; asked at once, which is quicker."""
        found: dict[str, StoredResult] = {}
        for first in range(0, len(keys), AT_ONCE):
            some = keys[first : first + AT_ONCE]
            marks = ", ".join("?" * len(some))
            rows = self._run(f"SELECT {_COLUMNS} FROM entries WHERE key IN ({marks})", *some)  # noqa: S608
            found |= {row[0]: kept for row in rows if (kept := self._kept(row)) is not None}
            self._use([row[0] for row in rows if row[0] in found and self._clock() - row[4] > IN_USE / 4])
        return found

    def _use(self, keys: Sequence[str]) -> None:
        # Results that are not used are dropped first. The time is renewed seldom: a write for each read would be slow.
        if keys:
            marks = ", ".join("?" * len(keys))
            self._run(f"UPDATE entries SET used = ? WHERE key IN ({marks})", self._clock(), *keys)  # noqa: S608

    def _kept(self, row: tuple[Any, ...]) -> StoredResult | None:
        # A row whose seal does not fit was damaged, or written by another program: it counts as absent.
        key, text, names, _, used, seal = row
        if seal != _seal(key, text, names) or not isinstance(used, float) or used < self._since:
            return None
        files = json.loads(names)
        paths = tuple(self._path(name) for name, _, _ in files)
        with contextlib.suppress(OSError):  # a file is gone, or cannot be read
            if all(_sound(path, *file) for path, file in zip(paths, files, strict=True)):
                return StoredResult(json.loads(text), paths)
        return None

    def put(self, key: str, value: Mapping[str, Any], files: Sequence[bytes] = ()) -> StoredResult:
        """Keep a result, and give it back as `get` would."""
        self._connected()
        places = [self._place(body) for body in files]
        text = _text(value)
        names = json.dumps([(p.name, (s := p.stat()).st_size, s.st_mtime_ns) for p in places])
        size = len(text) + sum(len(body) for body in files)
        row = (key, text, names, size, self._clock(), _seal(key, text, names))
        self._run(f"INSERT OR REPLACE INTO entries ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?)", *row)  # noqa: S608
        self._added = True
        return StoredResult(json.loads(text), tuple(places))

    def close(self) -> None:
        """Drop what was not used for longest, where the folder has grown too large."""
        with self._lock:
            if self._link is not None and self._added:
                with contextlib.suppress(OSError):  # a cache that cannot be tidied is tidied the next time
                    self._tidy()
            self._disconnect()
            self._until_the_end.close()
            self._spare = None

    # the database

    def _run(self, statement: str, *values: object) -> list[tuple[Any, ...]]:
        # A memo that fails must not fail the work: then nothing is known, and all is made anew.
        with self._lock:
            try:
                return self._connected().execute(statement, values).fetchall()
            except sqlite3.OperationalError:  # locked for long, or a full disk
                return []
            # A message can repeat bytes of a damaged file.
            except (sqlite3.DatabaseError, UnicodeDecodeError):
                self._discard()
                return []

    def _connected(self) -> sqlite3.Connection:
        with self._lock:
            if self._link is None:
                self._link = self._opened()
            return self._link

    def _opened(self) -> sqlite3.Connection:
        with contextlib.suppress(OSError, sqlite3.Error):
            return self._open()
        # Nowhere to keep things: they are made again the next time. Without room there either, rows last until the end.
        self._folder = self._elsewhere()
        with contextlib.suppress(OSError, sqlite3.Error):
            return self._open()
        return _link(":memory:")

    def _open(self) -> sqlite3.Connection:
        (self._folder / "files").mkdir(parents=True, exist_ok=True)
        try:
            return _link(self._database)
        except _LockedError:
            # SQLite lets nobody wait for the change to a write-ahead log, where two processes make one at once.
            with self._one_at_a_time():
                return _link(self._database)
        except _DamagedError:
            self._discard()
            return _link(self._database)

    def _one_at_a_time(self) -> contextlib.AbstractContextManager[bool | None]:
        # Damage may be met while tidying: that holds the lock already, and would wait for itself.
        return contextlib.nullcontext() if self._tidying else _alone(self._folder, wait=10)

    def _discard(self) -> None:
        self._disconnect()
        with self._one_at_a_time(), contextlib.suppress(OSError, sqlite3.Error):
            # Checked once more under the lock: another process may have put a sound one in its place since.
            try:
                _link(self._database, thorough=True).close()
            except _DamagedError:
                for ending in ("", "-wal", "-shm"):
                    self._database.with_name(self._database.name + ending).unlink(missing_ok=True)

    def _disconnect(self) -> None:
        if self._link is not None:
            self._link.close()
            self._link = None

    @property
    def _database(self) -> Path:
        return self._folder / f"memo-{FORMAT}.sqlite"

    # the files

    def _path(self, name: str) -> Path:
        return self._folder / "files" / name[:2] / name

    @property
    def _unfinished(self) -> Path:
        return self._folder / "files" / "new"

    def _place(self, body: bytes) -> Path:
        # The name is the digest of the content, so two processes that write it at once write the same.
        path = self._path(_digest(body))
        try:
            try:
                self._write(path, body)
            except FileNotFoundError:  # a process that tidied up met it before it was held
                self._write(path, body)
        except OSError:
            return self._place_elsewhere(body)
        return path

    def _write(self, path: Path, body: bytes) -> None:
        # Complete on the disk before it has its name: after a crash there is all of a file or none.
        import tempfile  # noqa: PLC0415 - a warm run does without

        for folder in (path.parent, self._unfinished):
            folder.mkdir(exist_ok=True)
        handle, fresh = tempfile.mkstemp(dir=self._unfinished)
        try:
            with os.fdopen(handle, "wb") as file:
                hold(file)
                file.write(body)
                file.flush()
                os.fsync(file.fileno())
            Path(fresh).replace(path)
        except BaseException:
            with contextlib.suppress(OSError):
                Path(fresh).unlink()
            raise

    def _place_elsewhere(self, body: bytes) -> Path:
        # The cache has no room, or may not be written to: pages need the file, so it lies in the temporary folder until
        # the end. The entry that names it finds nothing at its place the next time, and counts as absent.
        path = self._elsewhere() / _digest(body)
        path.write_bytes(body)
        return path

    def _elsewhere(self) -> Path:
        from sitegen.temporary import temporary_folder  # noqa: PLC0415 - hardly ever

        with self._lock:
            if self._spare is None:
                self._spare = self._until_the_end.enter_context(temporary_folder())
            return self._spare

    # the bound

    def _tidy(self) -> None:
        # One process at a time; another that ends meanwhile leaves it to this one.
        with _alone(self._folder, wait=0) as alone:
            if not alone:
                return
            self._tidying = True
            try:
                self._drop_unfinished()
                dropped = self._trim()
                if dropped or self._due():
                    self._sweep(dropped)
            finally:
                self._tidying = False

    def _drop_unfinished(self) -> None:
        # Killed processes left them. One that is not held yet may be met too: it is written once more.
        for path in self._unfinished.iterdir() if self._unfinished.is_dir() else ():
            with contextlib.suppress(OSError), path.open("rb") as file:
                if hold(file):
                    path.unlink()

    def _trim(self) -> set[str]:
        # Not SQLite's `sum`: sizes of a damaged table can add up to more than an integer holds, which it refuses.
        total = sum(row[0] for row in self._run("SELECT total(size) FROM entries"))
        if total <= self._limit:
            return set()
        # Cast as `total` does it: a damaged size may be text.
        oldest = "SELECT key, CAST(size AS REAL), files FROM entries WHERE used < ? ORDER BY used, key"
        old = self._run(oldest, self._clock() - IN_USE)
        dropped: set[str] = set()
        for key, size, files in old:
            if total <= self._limit * ROOM:
                break
            self._run("DELETE FROM entries WHERE key = ?", key)
            dropped |= set(_names(files))
            total -= size
        return dropped

    def _due(self) -> bool:
        # Files are looked through once a day: a process that was killed leaves some without an entry.
        mark = self._folder / "swept"
        try:
            return self._clock() - mark.stat().st_mtime > ORPHANED
        except FileNotFoundError:
            return True

    def _sweep(self, dropped: set[str]) -> None:
        named = {name for (files,) in self._run("SELECT files FROM entries") for name in _names(files)}
        before = self._clock() - ORPHANED
        for path in (self._folder / "files").glob("*/*"):
            with contextlib.suppress(OSError):  # gone already, or held open by another process
                if path.name not in named and (path.name in dropped or path.stat().st_mtime < before):
                    path.unlink()
        (self._folder / "swept").touch()


class _DamagedError(sqlite3.Error):
    """A database is damaged, or of another program."""


class _LockedError(sqlite3.Error):
    """A database is sound as far as is known, and another process has it for itself."""


def _link(database: Path | str, *, thorough: bool = False) -> sqlite3.Connection:
    link = sqlite3.connect(database, timeout=10, isolation_level=None, check_same_thread=False)
    try:
        link.execute("PRAGMA journal_mode = WAL")
        link.execute("PRAGMA synchronous = NORMAL")  # a lost entry is made again; a torn one cannot be
        link.execute(_TABLE)
        link.execute(_INDEX)
        link.execute(f"SELECT {_COLUMNS} FROM entries LIMIT 1").fetchone()  # noqa: S608
        if thorough and link.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
            raise _DamagedError
    except (sqlite3.Error, UnicodeDecodeError) as error:  # the latter as above
        link.close()
        code = getattr(error, "sqlite_errorcode", 0)  # an error of the library's own has none
        if code & _KIND == sqlite3.SQLITE_BUSY:
            raise _LockedError from error
        raise _DamagedError from error
    return link


@contextlib.contextmanager
def _alone(folder: Path, wait: float) -> Iterator[bool]:
    from filelock import FileLock, Timeout  # noqa: PLC0415 - a warm run does without

    lock = FileLock(folder / "tidy.lock", timeout=wait)
    try:
        held = lock.acquire()
    except (Timeout, OSError):
        yield False
        return
    with held:
        yield True


def _sound(path: Path, name: str, size: int, written: int) -> bool:
    # Untouched since it was put, or of the content that its name says: digests of all photos would take seconds.
    found = path.stat()
    untouched = (found.st_size, found.st_mtime_ns) == (size, written)
    return untouched or (found.st_size == size and _digest(path.read_bytes()) == name)


def _names(files: str) -> list[str]:
    try:
        return [str(name) for name, _, _ in json.loads(files)]
    except (ValueError, TypeError, RecursionError):
        return []


def _digest(body: bytes) -> str:
    return blake2b(body, digest_size=20).hexdigest()


def _text(value: Mapping[str, Any]) -> str:
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    try:
        text.encode()
    except UnicodeEncodeError:  # the name of a file that is not UTF-8, which SQLite keeps only in other words
        return json.dumps(value, separators=(",", ":"))
    return text


def _seal(key: str, value: str, files: str) -> str:
    # Ties the parts of an entry together: SQLite has no checksums, and others may write into its file.
    return _digest("\n".join((key, str(value), str(files))).encode())


@cache
def _made_by(stage: str) -> str:
    folders, libraries = _DEPENDENCIES.get(stage, ((stage, "core"), ()))
    return json.dumps([FORMAT, stage, _code(folders), _versions(libraries)])


def _code(folders: tuple[str, ...]) -> str:
    return _digest("\n".join(_code_of(folder) for folder in folders).encode())


@cache
def _code_of(folder: str) -> str:
    # Each stage's code is a part of several keys: it is read once.
    package = Path(__file__).parent
    found = blake2b()
    for path in sorted(_sources(package / folder)):
        found.update(f"{path[len(str(package)) :]}\n".encode("utf-8", "surrogateescape"))
        with Path(path).open("rb") as file:
            found.update(file.read())
    return found.hexdigest()


def _sources(folder: Path) -> Iterator[str]:
    for parent, _, names in os.walk(folder):
        yield from (os.path.join(parent, name) for name in names if not name.endswith(".pyc"))  # noqa: PTH118 - quicker


@cache
def _versions(libraries: tuple[str, ...]) -> tuple[str, ...]:
    # Read off the names of folders: 0.1 ms, where importlib.metadata takes 31.
    wanted = set(libraries)
    return tuple(sorted(name for name in _installed() if name.partition("-")[0].lower() in wanted))


@cache
def _installed() -> tuple[str, ...]:
    found: list[str] = []
    for folder in dict.fromkeys(sys.path):
        with contextlib.suppress(OSError):
            found += [path.name for path in Path(folder or ".").glob("*.dist-info")]
    return tuple(found)
