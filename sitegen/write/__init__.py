"""Pages → output folder, `Outcome(written, unchanged, removed)`.

Every new file is written beside its place, and moved into it only when all are made, assets before the pages that need
them; what is no longer made is removed last. A folder that this project did not write is never touched, and two
processes never write to one at the same time.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.site.page import WriteResult
from sitegen.write.ledger import (
    LEDGER,
    STAGING,
    UNKNOWN,
    Content,
    Ledger,
    is_foreign,
    read_ledger,
    write_ledger,
)
from sitegen.write.staging import Staged, beside, content_of, contents_of, stage

__all__ = ["Content", "Output", "Staged", "contents_of", "opened", "stage"]


@dataclass(frozen=True, slots=True)
class Output:
    """An output folder while it is brought up to date, and what it held before."""

    folder: Path
    ledger: Ledger

    def holds(self, files: Iterable[tuple[str, Content]]) -> bool:
        """Whether files are there with this content; one touched since the folder was written is read to be sure."""
        known, written, folder = self.ledger.files, self.ledger.written, f"{self.folder}/"
        try:
            for address, content in files:
                if known.get(address) != content:
                    return False
                found = os.stat(folder + address)  # noqa: PTH116 - there are thousands
                touched = found.st_mtime_ns >= written or found.st_ctime_ns >= written
                if found.st_size != content[1] or (touched and not self._is(address, content)):
                    return False
        except OSError:
            return False
        return True

    def _is(self, address: str, content: Content) -> bool:
        return content_of((self.folder / address).read_bytes()) == content

    def begin(self) -> None:
        """Say that new files may lie beside their places from now on."""
        self.folder.mkdir(parents=True, exist_ok=True)
        if not self.ledger.written:
            write_ledger(
                self.folder, {}
            )  # before the first file: a killed process leaves nothing foreign behind
        (self.folder / STAGING).touch()

    def commit(self, staged: Iterable[Staged], kept: Mapping[str, Content]) -> WriteResult:
        """Move what was staged into its place and remove what is no longer made. `kept` was left as it is."""
        by_address = {one.address: one for one in staged}
        files = {**kept, **{address: one.content for address, one in by_address.items()}}
        fresh = sorted(
            (a for a, one in by_address.items() if one.fresh), key=lambda a: (a.endswith(".html"), a)
        )
        gone = sorted(set(self.ledger.files) - set(files))
        if self._untold(fresh):
            write_ledger(self.folder, {**self.ledger.files, **dict.fromkeys(fresh, UNKNOWN)})
        for address in fresh:
            path = self.folder / address
            beside(path).replace(path)
        for address in gone:
            self._remove(address)
        if files != self.ledger.files or fresh or gone:
            write_ledger(self.folder, files)
        (self.folder / STAGING).unlink(missing_ok=True)
        return WriteResult(tuple(fresh), len(files) - len(fresh), tuple(gone))

    def _untold(self, fresh: Sequence[str]) -> bool:
        """Whether a process that is killed from now on would leave files that nobody knew of, or knew wrongly.

        What the ledger names already is seen to be newer than it, unless the clock was put back.
        """
        known = self.ledger.files
        return any(address not in known for address in fresh) or time.time_ns() <= self.ledger.written

    def discard(self) -> None:
        """Remove what was staged, and every folder that holds nothing else."""
        for path in list(self.folder.rglob(".*.new")):
            path.unlink(missing_ok=True)
            self._prune(path)
        (self.folder / STAGING).unlink(missing_ok=True)
        if not self.ledger.written and self.folder.is_dir():  # it was begun for nothing
            (self.folder / LEDGER).unlink(missing_ok=True)
            if not any(self.folder.iterdir()):
                self.folder.rmdir()

    def _remove(self, address: str) -> None:
        path = self.folder / address
        path.unlink(missing_ok=True)
        self._prune(path)

    def _prune(self, path: Path) -> None:
        """Remove the folders above that hold nothing any more."""
        for parent in path.parents:
            if parent == self.folder or not parent.is_dir() or any(parent.iterdir()):
                return
            parent.rmdir()


@contextmanager
def opened(folder: Path, waiting: Callable[[], None] = lambda: None) -> Iterator[Output | Finding]:
    """A folder to write to, ours alone while the block runs; a finding where it holds files of another origin.

    `waiting` is called once where another process writes there.
    """
    if is_foreign(folder):  # not even a lock is taken
        yield _foreign(folder)
        return
    with _alone(folder, waiting):
        ledger = read_ledger(folder)
        if ledger is None:
            yield _foreign(folder)
            return
        output = Output(folder, ledger)
        if (folder / STAGING).exists():  # a killed process left files beside their places
            output.discard()
        yield output


@contextmanager
def _alone(folder: Path, waiting: Callable[[], None]) -> Iterator[None]:
    import tempfile  # noqa: PLC0415 - a run without changes does without

    from filelock import FileLock, Timeout  # noqa: PLC0415 - as above

    user = os.getuid() if hasattr(os, "getuid") else ""
    place = blake2b(str(folder.resolve()).encode(), digest_size=10).hexdigest()
    lock = FileLock(
        Path(tempfile.gettempdir()) / f"sitegen-{user}-{place}.lock"
    )  # the folder itself is for the site
    try:
        lock.acquire(timeout=0)
    except Timeout:
        waiting()
        lock.acquire()
    try:
        yield
    finally:
        lock.release()


def _foreign(folder: Path) -> Finding:
    return Finding(
        "output-not-ours",
        Source(folder.name),
        f"`{folder}` holds files that were not written from a journal",
        mend="choose an empty folder with `-o`, or empty this one yourself",
        found=str(folder),
    )
