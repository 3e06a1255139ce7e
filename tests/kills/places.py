"""What is said where a place refuses: `python -m tests.kills.places`.

In: nothing. Out: a row for each fault of an output or a cache, with the status and the message; status 1 where there is a
traceback, more than one message, or a site that is neither the old one nor the new one. What needs to mount a disk is
passed over, with the reason, where that is not allowed.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from sitegen import write
from sitegen.core.site.page import Page
from sitegen.pipeline.engine import build
from sitegen.write import Output, StagedFile, Staging
from tests.kills.__main__ import warmed_up
from tests.kills.bench import FOREIGN, Bench
from tests.kills.forked import Done, forked
from tests.kills.scenarios import SCENARIOS, changes
from tests.pipeline.bench import tree

NOBODY = 65534
WRITE = ("write", "{}/bench", "-o", "{}/site")


class SkippedError(Exception):
    """A fault that cannot be made here."""


@contextmanager
def mounted(place: Path, *words: str) -> Iterator[None]:
    """A disk mounted at a folder."""
    place.mkdir(parents=True, exist_ok=True)
    done = subprocess.run(["mount", *words, str(place)], capture_output=True, text=True, check=False)
    if done.returncode:
        raise SkippedError(done.stderr.strip() or "mount is not allowed")
    try:
        yield
    finally:
        subprocess.run(["umount", "-l", str(place)], check=False)


class Row(NamedTuple):
    """A fault, with what came of it."""

    name: str
    done: Done
    left: str


@dataclass
class Fault:
    """One fault: `made` prepares the place and gives the words of the command; `within` runs in its process."""

    name: str
    made: Callable[[Bench, ExitStack], tuple[str, ...]]
    within: Callable[[Bench], object] = lambda _bench: None


def _full(bench: Bench, stack: ExitStack) -> tuple[str, ...]:
    _own_disk(bench, stack)
    with suppress(OSError), (bench.case / "site" / FOREIGN).open("wb", buffering=0) as file:
        while True:
            file.write(bytes(1000))
    with (bench.case / "site" / FOREIGN).open("r+b") as file:
        file.truncate(max(0, file.seek(0, os.SEEK_END) - 60_000))
    return WRITE


def _own_disk(bench: Bench, stack: ExitStack) -> tuple[str, ...]:
    kept = bench.home / "aside"
    shutil.rmtree(kept, ignore_errors=True)
    (bench.case / "site").rename(kept)
    stack.enter_context(mounted(bench.case / "site", "-t", "tmpfs", "-o", "size=20m", "tmpfs"))
    shutil.copytree(kept, bench.case / "site", dirs_exist_ok=True)
    return WRITE


def _new_on_small_disk(bench: Bench, stack: ExitStack) -> tuple[str, ...]:
    stack.enter_context(mounted(bench.case / "disk", "-t", "tmpfs", "-o", "size=100k", "tmpfs"))
    return ("write", "{}/bench", "-o", "{}/disk/site")


def _read_only(bench: Bench, stack: ExitStack) -> tuple[str, ...]:
    _own_disk(bench, stack)
    subprocess.run(["mount", "-o", "remount,ro", str(bench.case / "site")], check=True)
    return WRITE


def _vfat(bench: Bench, stack: ExitStack) -> tuple[str, ...]:
    if shutil.which("mkfs.vfat") is None:
        raise SkippedError("there is no mkfs.vfat")
    image = bench.case / "image"
    with image.open("wb") as file:
        file.truncate(20_000_000)
    subprocess.run(["mkfs.vfat", str(image)], check=True, capture_output=True)
    stack.enter_context(mounted(bench.case / "disk", "-o", "loop", str(image)))
    return ("write", "{}/bench", "-o", "{}/disk/site")


def _cache(*options: str) -> Callable[[Bench, ExitStack], tuple[str, ...]]:
    def made(bench: Bench, stack: ExitStack) -> tuple[str, ...]:
        stack.enter_context(mounted(bench.case / "store", "-t", "tmpfs", "-o", ",".join(options), "tmpfs"))
        return WRITE

    return made


def _long_name(_bench: Bench, _stack: ExitStack) -> tuple[str, ...]:
    return ("write", "{}/bench", "-o", "{}/" + "n" * 300)


def _long_path(_bench: Bench, _stack: ExitStack) -> tuple[str, ...]:
    return ("write", "{}/bench", "-o", "{}/" + "/".join(["deep" * 50] * 25))


def _almost_long_name(_bench: Bench, _stack: ExitStack) -> tuple[str, ...]:
    return ("write", "{}/bench", "-o", "{}/" + "n" * 250)


def _a_file(bench: Bench, _stack: ExitStack) -> tuple[str, ...]:
    (bench.case / "file").write_text("text", "utf-8")
    return ("write", "{}/bench", "-o", "{}/file/site")


def _a_loop(bench: Bench, _stack: ExitStack) -> tuple[str, ...]:
    (bench.case / "loop").symlink_to(bench.case / "loop")
    return ("write", "{}/bench", "-o", "{}/loop/site")


def _as_usual(_bench: Bench, _stack: ExitStack) -> tuple[str, ...]:
    return WRITE


def _not_ours(bench: Bench, _stack: ExitStack) -> tuple[str, ...]:
    for folder, _, files in os.walk(bench.home.parent):
        Path(folder).chmod(0o755)
        for name in files:
            Path(folder, name).chmod(0o644, follow_symlinks=False) if not Path(
                folder, name
            ).is_symlink() else None
    return WRITE


def _as_nobody(_bench: Bench) -> None:
    if os.getuid() != 0:
        raise SkippedError("only root can become somebody else")
    os.setgid(NOBODY)
    os.setuid(NOBODY)


def _removing(what: str, when: str) -> Callable[[Bench], None]:
    """Remove a folder while the command runs, as a disk that is taken away."""

    def within(bench: Bench) -> None:
        place = bench.case / what
        if when == "while pages are made":
            stage = write.stage

            def staged(page: Page, staging: Staging) -> StagedFile:
                if page.address.startswith("experiments/four"):
                    shutil.rmtree(place, ignore_errors=True)
                return stage(page, staging)

            vars(build)["stage"] = staged
        else:
            commit = Output.commit

            def committed(output: Output, *arguments: object) -> object:
                shutil.rmtree(place, ignore_errors=True)
                return commit(output, *arguments)  # type: ignore[arg-type]

            Output.commit = committed  # type: ignore[assignment, method-assign]

    return within


FAULTS = (
    Fault("site on a disk of its own", _own_disk),
    Fault("site on a full disk", _full),
    Fault("new site on a disk that is too small", _new_on_small_disk),
    Fault("site on a disk that may only be read", _read_only),
    Fault("site in a folder of somebody else's", _not_ours, _as_nobody),
    Fault("a new site on vfat: no links, one case", _vfat),
    Fault("name of 300 signs", _long_name),
    Fault("name of 250 signs: no room for a hidden folder beside it", _almost_long_name),
    Fault("path of 5,000 signs", _long_path),
    Fault("a file where a folder goes", _a_file),
    Fault("a link that leads to itself", _a_loop),
    Fault("site removed while pages are made", _as_usual, _removing("site", "while pages are made")),
    Fault(
        "what waits removed before it is moved", _as_usual, _removing("site/.sitegen.staging", "at the end")
    ),
    Fault("cache removed while pages are made", _as_usual, _removing("store", "while pages are made")),
    Fault("cache on a full disk", _cache("size=4k")),
    Fault("cache without room for files", _cache("nr_inodes=4")),
    Fault("cache that may only be read", _cache("ro")),
)


def tried(fault: Fault, bench: Bench) -> Row:
    """One fault, in a process of its own."""
    bench.restored()
    with ExitStack() as stack:
        words = fault.made(bench, stack)
        place = bench.case / words[3].removeprefix("{}/")
        old = {name: body for name, body in bench.before.items() if name.startswith("site/")}

        def work() -> Done:
            fault.within(bench)
            return bench._command(words)

        done = forked(work)
        return Row(fault.name, done, _left(place, bench, {name[5:]: body for name, body in old.items()}))


def _left(place: Path, bench: Bench, old: dict[str, bytes]) -> str:
    """What stands at the place of the site."""
    try:
        if not place.is_dir():
            return "nothing"
        found = {name: body for name, body in tree(place).items() if name != FOREIGN}
    except OSError:
        return "nothing"
    if not found:
        return "nothing"
    old = {name: body for name, body in old.items() if name != FOREIGN}
    return "old" if found == old else "new" if found == bench.site else f"MIXED ({len(found)} files)"


def main() -> int:
    """Print a row for each fault."""
    scenario = next(each for each in SCENARIOS if each.changes is changes)
    wrong = 0
    with warmed_up() as drawings, tempfile.TemporaryDirectory() as home:
        bench = Bench(scenario, Path(home).resolve() / "bench", drawings).made()
        for fault in FAULTS:
            try:
                row = tried(fault, bench)
            except SkippedError as reason:
                print(f"| {fault.name} | passed over: {reason} | |", flush=True)
                continue
            lines = row.done.printed.replace(str(bench.case), "").strip().splitlines()
            said = " / ".join(line if len(line) < 160 else f"{line[:60]}…{line[-60:]}" for line in lines[-4:])
            bad = (
                "Traceback" in row.done.printed
                or row.left.startswith("MIXED")
                or row.done.status not in (0, 1, 2, 5)
            )
            wrong += bad
            print(
                f"| {fault.name} | {int(row.done.status)}: {said} | {row.left} |{' WRONG' * bad}", flush=True
            )
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main())
