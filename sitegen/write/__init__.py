"""Writes pages into an output folder: `open_output`, then `begin`, `stage` for each page, and `commit` or `discard`.

In: a folder, pages. Out: `WriteResult`, or a finding for a folder of another origin. New files wait in a hidden folder,
and are moved only when all are made; files that are no longer made are removed last. A new site appears by one rename.
What was not written from a journal is never touched, and two processes never write to one folder at the same time.

A process may be killed at any step. Each file is then whole, old or new, each page has its files, and the manifest names
every one of them, so that the next run removes or replaces it.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from sitegen.core.files.file_names import MANIFEST
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.site.page import WriteResult
from sitegen.write.manifest import (
    UNKNOWN_CONTENT,
    Fingerprint,
    Manifest,
    is_foreign,
    read_manifest,
    why_unread,
    write_manifest,
)
from sitegen.write.obstacles import leads_elsewhere, obstacles
from sitegen.write.order import in_order_of_moves, in_order_of_removals
from sitegen.write.staging import (
    StagedFile,
    Staging,
    begin_staging,
    fingerprint_of,
    remove_staging,
    stage,
    taken_inside,
)

__all__ = ["Fingerprint", "Output", "StagedFile", "Staging", "open_output", "stage"]


class Output:
    """An output folder while it is brought up to date, with the manifest of its last state."""

    def __init__(self, folder: Path, manifest: Manifest) -> None:
        self.folder = folder
        self.manifest = manifest
        self._staging: Staging | None = None

    def holds(self, files: Iterable[tuple[str, Fingerprint]]) -> bool:
        """Whether the folder holds files with these fingerprints."""
        known, written, prefix = self.manifest.files, self.manifest.written, f"{self.folder}/"
        try:
            for address, fingerprint in files:
                if known.get(address) != fingerprint:
                    return False
                found = os.stat(prefix + address)  # noqa: PTH116 - Path takes longer, and there are thousands
                # A file older than the manifest is as the manifest says, and is not read. Its change time counts
                # too: copying a file can keep the modification time. Equal times prove nothing: clocks have ticks.
                touched = found.st_mtime_ns >= written or found.st_ctime_ns >= written
                if found.st_size != fingerprint[1] or (touched and not self._matches(address, fingerprint)):
                    return False
        except OSError:
            return False
        return True

    def _matches(self, address: str, fingerprint: Fingerprint) -> bool:
        return fingerprint_of((self.folder / address).read_bytes()) == fingerprint

    def begin(self) -> Staging:
        """Where new files wait; made when it is first asked for, so that nothing is touched where nothing is new."""
        if self._staging is None:
            self._staging = begin_staging(self.folder, first=not self.manifest.written)
        return self._staging

    def in_the_way(self, staged: Iterable[StagedFile]) -> tuple[Finding, ...]:
        """Findings for what lies where changed files go and is not ours; to be asked before `commit`."""
        changed = (file.address for file in staged if file.changed)
        return tuple(obstacles(self.folder, changed, self.manifest.files.keys()))

    def commit(self, staged: Iterable[StagedFile], kept: Mapping[str, Fingerprint]) -> WriteResult:
        """Move waiting files to their places and remove files that are no longer made; `kept` stay as they are."""
        by_address = {file.address: file for file in staged}
        files = {**kept, **{address: file.fingerprint for address, file in by_address.items()}}
        known = self.manifest.files
        changed = [address for address, file in by_address.items() if file.changed]
        removed = in_order_of_removals(known.keys() - files)
        if files != known or self._staging is not None:
            # A killed process may have named files in the manifest that it never moved: to a reader those are new.
            there = {address for address in changed if address in known and (self.folder / address).exists()}
            self._move(self.begin(), in_order_of_moves(changed, there), removed, files)
            remove_staging(self.folder)
        return WriteResult(tuple(sorted(changed)), len(files) - len(changed), tuple(sorted(removed)))

    def _move(
        self,
        staging: Staging,
        changed: list[str],
        removed: list[str],
        files: Mapping[str, Fingerprint],
    ) -> None:
        if self.manifest.written:
            # The folder may be gone, with the disk that it lies on: what is in its place is not written to.
            (self.folder / MANIFEST).stat()
        if staging.whole:
            if self._appears(staging, files):
                return
            staging = self._staging = taken_inside(staging)
        if self._must_announce(changed):
            write_manifest(self.folder, staging.place, self._announced(files, changed))
        # One that was a file of ours and is a folder now, or the reverse.
        for address in removed:
            if any(other.startswith(f"{address}/") for other in changed):
                self._remove(self.folder / address)
        for address in changed:
            path = self.folder / address
            path.parent.mkdir(parents=True, exist_ok=True)
            staging.path(address).replace(path)
        lower = {address.casefold(): address for address in files}
        for address in removed:
            # A system that takes `A` and `a` for one file: its other name is a new file by now.
            other = lower.get(address.casefold())
            if other is None or not _is_same(self.folder / address, self.folder / other):
                self._remove(self.folder / address)
        # Last, so that it is newer than all files. A write without changes leaves it, and its time, alone.
        if changed or files != self.manifest.files:
            write_manifest(self.folder, staging.place, files)

    def _appears(self, staging: Staging, files: Mapping[str, Fingerprint]) -> bool:
        """Let a new site appear by one rename; False for a mount point, or a folder that is no longer empty."""
        write_manifest(staging.place, staging.place, files)
        with suppress(OSError):
            if (
                os.name == "nt" and self.folder.is_dir()
            ):  # there a rename replaces no folder, not even an empty one
                self.folder.rmdir()
            staging.place.rename(self.folder)
            return True
        return False

    def _announced(self, files: Mapping[str, Fingerprint], changed: Iterable[str]) -> dict[str, Fingerprint]:
        """The manifest that holds while changed files are moved: only what was found in the folder by now is known.

        An old fingerprint must not go over into it: a killed process may have moved another file to that address, and
        that file is older than this manifest, so that the fingerprint would be believed.
        """
        old, new = (dict.fromkeys(addresses, UNKNOWN_CONTENT) for addresses in (self.manifest.files, changed))
        return {**old, **files, **new}

    def _must_announce(self, changed: Iterable[str]) -> bool:
        """Whether the manifest must name changed files before they are moved.

        New addresses must be known if this process is killed: nobody would remove them. A known address is seen to be
        newer than the manifest, unless the clock was set back since; then its old fingerprint would be believed.
        """
        new = any(address not in self.manifest.files for address in changed)
        return new or time.time_ns() <= self.manifest.written

    def discard(self) -> None:
        """Remove what waits, and what was made for it."""
        remove_staging(self.folder)
        if self._staging is not None and not self.manifest.written and self.folder.is_dir():
            # The folder and its manifest were made for this; what somebody put there since is not ours.
            (self.folder / MANIFEST).unlink(missing_ok=True)
            if not any(self.folder.iterdir()):
                self.folder.rmdir()
        self._staging = None

    def _remove(self, path: Path) -> None:
        """Remove a file, and the folders above it that are empty then; someone may have removed them already."""
        if leads_elsewhere(self.folder, path.relative_to(self.folder).as_posix()) or path.is_dir():
            return
        with suppress(FileNotFoundError, NotADirectoryError):
            path.unlink()
        for parent in path.parents:
            if parent == self.folder or not parent.is_dir() or any(parent.iterdir()):
                return
            parent.rmdir()


def _is_same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


@contextmanager
def open_output(
    folder: Path, locks: Path, waiting: Callable[[], None] = lambda: None
) -> Iterator[Output | Finding]:
    """An output folder, locked while the block runs; a finding if it holds foreign files.

    `locks` is the user's own folder of lock files; `waiting` is called once if another process holds the lock.
    """
    if is_foreign(folder):  # before the lock: nobody waits for a folder that is refused anyway
        yield _foreign(folder)
        return
    with _locked(folder, locks, waiting):
        manifest = read_manifest(folder)  # under the lock: another process may just have written it
        if manifest is None:
            yield _foreign(folder)
            return
        remove_staging(folder)  # left by a killed process, since the lock is free
        yield Output(folder, manifest)


@contextmanager
def _locked(folder: Path, locks: Path, waiting: Callable[[], None]) -> Iterator[None]:
    from filelock import FileLock, Timeout  # noqa: PLC0415 - a run without changes does without

    # The lock file lies elsewhere: the output folder is published as it is.
    lock = FileLock(locks / f"{fingerprint_of(os.fsencode(folder.resolve()))[0]}.lock")
    try:
        held = lock.acquire(timeout=0)
    except Timeout:
        waiting()
        held = lock.acquire()
    with held:
        yield


def _found(folder: Path, pattern: str) -> Iterator[Path]:
    """The files of a folder by a pattern; none where it is no folder that can be read."""
    with suppress(OSError):
        yield from folder.glob(pattern)


def _foreign(folder: Path) -> Finding:
    if wrong := why_unread(folder):
        message = (
            f"`{folder}` may be a site, but its `{MANIFEST}` {wrong}: which files are its own is not known"
        )
        mend = "choose an empty folder with `-o`"
        if "format" in wrong:
            mend = f"use the sitegen that wrote it, or {mend}"
        return Finding("output-not-ours", Source(folder.name), message, mend, str(folder))
    message = f"`{folder}` holds files that were not written from a journal"
    # Nobody is told to empty a journal, or a folder round it.
    journal = any(_found(folder, "journal.yaml")) or any(_found(folder, "*/journal.yaml"))
    mend = "choose an empty folder with `-o`" + ("" if journal else ", or empty this one yourself")
    return Finding("output-not-ours", Source(folder.name), message, mend, str(folder))
