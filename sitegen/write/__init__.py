"""Writes pages into an output folder: `open_output`, then `begin`, `stage` for each page, and `commit` or `discard`.

In: a folder, pages. Out: `WriteResult`, or a finding for a folder of another origin. Every new file is staged beside its
final path, and moved there only when all are made; files that are no longer made are removed last. A folder that
holds foreign files is never touched, and two processes never write to one folder at the same time.

A process may be killed at any step. Each file is then whole, old or new, and the manifest names every one of them, so
that the next run removes or replaces it.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sitegen.core.findings.finding import Finding, Source
from sitegen.core.site.page import MANIFEST, WriteResult
from sitegen.write.manifest import (
    STAGING_MARKER,
    UNKNOWN_CONTENT,
    Fingerprint,
    Manifest,
    StagedFile,
    fingerprint_of,
    is_foreign,
    read_manifest,
    stage,
    staged_path,
    write_manifest,
)

__all__ = ["Fingerprint", "Output", "StagedFile", "open_output", "stage"]


@dataclass(frozen=True, slots=True)
class Output:
    """An output folder while it is brought up to date, with the manifest of its last state."""

    folder: Path
    manifest: Manifest

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

    def begin(self) -> None:
        """Prepare the folder for the first staged file."""
        self.folder.mkdir(parents=True, exist_ok=True)
        (self.folder / STAGING_MARKER).touch()
        if not self.manifest.written:
            # Before the first file: without a manifest the files of a killed process would be foreign.
            write_manifest(self.folder, {})

    def commit(self, staged: Iterable[StagedFile], kept: Mapping[str, Fingerprint]) -> WriteResult:
        """Move staged files to their final paths and remove files that are no longer made; `kept` stay as they are."""
        by_address = {file.address: file for file in staged}
        files = {**kept, **{address: file.fingerprint for address, file in by_address.items()}}
        changed = [address for address, file in by_address.items() if file.changed]
        # Assets before pages: a reader who comes meanwhile never gets a page without its style.
        changed.sort(key=lambda address: (address.endswith(".html"), address))
        removed = sorted(self.manifest.files.keys() - files)
        if self._must_announce(changed):
            write_manifest(self.folder, self._announced(files, changed))
        for address in changed:
            path = self.folder / address
            staged_path(path).replace(path)
        for address in removed:
            self._remove(self.folder / address)
        # Last, so that it is newer than all files. A write without changes leaves it, and its time, alone.
        if changed or files != self.manifest.files:
            write_manifest(self.folder, files)
        (self.folder / STAGING_MARKER).unlink(missing_ok=True)
        return WriteResult(tuple(changed), len(files) - len(changed), tuple(removed))

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
        """Remove staged files, and the folders that were made for them."""
        for path in list(self.folder.rglob(".*.new")):  # a list: folders are removed meanwhile
            self._remove(path)
        # A process killed between making a folder and writing into it left nothing else that tells of the folder.
        for path in sorted(self.folder.rglob("*"), reverse=True):  # inner folders before those that hold them
            if path.is_dir() and not any(path.iterdir()):
                path.rmdir()
        (self.folder / STAGING_MARKER).unlink(missing_ok=True)
        if not self.manifest.written and self.folder.is_dir():  # `begin` made the folder and its manifest
            (self.folder / MANIFEST).unlink(missing_ok=True)
            if not any(self.folder.iterdir()):
                self.folder.rmdir()

    def _remove(self, path: Path) -> None:
        """Remove a file, and the folders above it that are empty then; someone may have removed them already."""
        path.unlink(missing_ok=True)
        for parent in path.parents:
            if parent == self.folder or not parent.is_dir() or any(parent.iterdir()):
                return
            parent.rmdir()


@contextmanager
def open_output(folder: Path, waiting: Callable[[], None] = lambda: None) -> Iterator[Output | Finding]:
    """An output folder, locked while the block runs; a finding if it holds foreign files.

    `waiting` is called once if another process holds the lock.
    """
    if is_foreign(folder):  # before the lock: nobody waits for a folder that is refused anyway
        yield _foreign(folder)
        return
    with _locked(folder, waiting):
        manifest = read_manifest(folder)  # under the lock: another process may just have written it
        if manifest is None:
            yield _foreign(folder)
            return
        output = Output(folder, manifest)
        if (folder / STAGING_MARKER).exists():  # left by a killed process, since the lock is free
            output.discard()
        yield output


@contextmanager
def _locked(folder: Path, waiting: Callable[[], None]) -> Iterator[None]:
    import tempfile  # noqa: PLC0415 - a run without changes does without

    from filelock import FileLock, Timeout  # noqa: PLC0415 - as above

    # The lock file lies elsewhere: the output folder is published as it is. Its name has the user's number, since
    # another user's lock file cannot be opened.
    user = os.getuid() if hasattr(os, "getuid") else ""
    name = fingerprint_of(str(folder.resolve()).encode())[0]
    lock = FileLock(Path(tempfile.gettempdir()) / f"sitegen-{user}-{name}.lock")
    try:
        held = lock.acquire(timeout=0)
    except Timeout:
        waiting()
        held = lock.acquire()
    with held:
        yield


def _foreign(folder: Path) -> Finding:
    message = f"`{folder}` holds files that were not written from a journal"
    mend = "choose an empty folder with `-o`, or empty this one yourself"
    return Finding("output-not-ours", Source(folder.name), message, mend, str(folder))
