"""Small sites for the tests of the stage: pages by name, a whole write, and the files that a host would serve."""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

from sitegen.core.findings.finding import Finding
from sitegen.core.site.page import HTML, Page, WriteResult
from sitegen.write import Output, StagedFile, open_output, stage
from sitegen.write.manifest import MANIFEST, read_manifest

_LOCKS = tempfile.TemporaryDirectory()
LOCKS = Path(_LOCKS.name)  # the folder of lock files, apart from the folders that are looked at


def page(address: str, body: str = "1") -> Page:
    """A page at an address."""
    return Page(address, HTML, body)


def pages(**bodies: str) -> list[Page]:
    """Pages by the name of their file."""
    return [page(f"{name}.html", body) for name, body in bodies.items()]


def site_pages(bodies: Mapping[str, str]) -> list[Page]:
    """Pages by their address."""
    return [page(address, body) for address, body in bodies.items()]


def write(some: Sequence[Page], folder: Path) -> tuple[WriteResult, tuple[Finding, ...]]:
    """Bring a folder to hold exactly these pages."""
    with open_output(folder, LOCKS) as output:
        if isinstance(output, Finding):
            return WriteResult(), (output,)
        staged = staged_in(output, some)
        if in_the_way := output.in_the_way(staged):
            output.discard()
            return WriteResult(), in_the_way
        return output.commit(staged, {}), ()


def staged_in(output: Output, some: Sequence[Page]) -> list[StagedFile]:
    """Pages that wait for a commit."""
    staging = output.begin()
    return [stage(each, staging) for each in some]


def held(folder: Path) -> dict[str, str]:
    """The files that a host would serve."""
    files = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if path.is_file()}
    return {place: path.read_text("utf-8") for place, path in files.items() if not place.startswith(".")}


def everything(folder: Path) -> list[str]:
    """All files and folders in a folder, hidden ones too."""
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def output_of(folder: Path) -> Output:
    """A folder as the next run finds it."""
    manifest = read_manifest(folder)
    assert manifest is not None
    return Output(folder, manifest)


def let_the_clock_tick(folder: Path) -> None:
    """Make the manifest newer than all files, and wait until new files get a later time than it."""
    path, probe = folder / MANIFEST, folder.parent / "probe"
    stats = [each.stat() for each in folder.rglob("*")]
    newest = max(max(stat.st_mtime_ns, stat.st_ctime_ns) for stat in stats)
    os.utime(path, ns=(newest + 1, newest + 1))
    while True:
        probe.touch()
        if probe.stat().st_mtime_ns > newest + 1 and time.time_ns() > newest + 1:
            return
