"""Counts the modules that a task goes through: `python -m tests.bench.entered [--list]`.

In: the demo journal, of which one experiment is taken. Out: for a site written with nothing kept from earlier, and for
an edit of a recap in a preview that knows everything, how many modules of the package had a function called, against
the number wanted; with `--list`, their names. What a module and its classes run on import does not count.
Run on demand; nothing here passes or fails.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from inspect import CO_OPTIMIZED
from pathlib import Path
from types import FrameType

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "sitegen"
DEMO = ROOT / "content_demo"
TODAY = date(2026, 11, 28)


@contextmanager
def entered() -> Iterator[set[str]]:
    """The modules, by their paths in the package, of which a function is called in any thread."""
    files: set[str] = set()
    found: set[str] = set()

    def note(frame: FrameType, event: str, _: object) -> None:
        if event == "call" and frame.f_code.co_flags & CO_OPTIMIZED:  # neither a module's nor a class's body
            files.add(frame.f_code.co_filename)

    threading.setprofile(note)
    sys.setprofile(note)
    try:
        yield found
    finally:
        sys.setprofile(None)
        threading.setprofile(None)
        inside = (Path(file) for file in files if Path(file).is_relative_to(PACKAGE))
        found |= {path.relative_to(PACKAGE).as_posix() for path in inside}


def journal_of_one(folder: Path) -> Path:
    """A copy of the demo journal with one experiment only: the one with the longest log."""
    journal = folder / "journal"
    shutil.copytree(DEMO, journal)
    experiments = sorted(journal.glob("seasons/*/*/experiment.yaml"), key=lambda path: path.stat().st_size)
    *others, richest = (path.parent for path in experiments)
    for experiment in others:
        shutil.rmtree(experiment)
    for season in journal.glob("seasons/*"):
        if season != richest.parent:
            shutil.rmtree(season)
    return journal


def site_written(folder: Path) -> set[str]:
    """The modules entered where the site is written in one process, with nothing kept from earlier."""
    from sitegen.pipeline import publish

    journal = journal_of_one(folder)
    with entered() as found:
        published = publish(journal, TODAY, output=folder / "site", jobs=1)
    assert published.outcome is not None, published.findings
    return found


def recap_edited(folder: Path) -> set[str]:
    """The modules entered from an edit of a recap to the page in hand, in a preview that knows everything."""
    from sitegen.memo import Memo
    from sitegen.pipeline.preview import Previewer

    journal = journal_of_one(folder)
    recap = next(journal.glob("seasons/*/*/recap.md"))
    address = f"experiments/{recap.parent.name}.html"
    with Memo() as store:
        preview = Previewer(journal, TODAY, store)
        site = preview.refresh()
        assert (before := site.find(address)) is not None
        assert before.page is not None
        for turn in range(2):  # what is made for the first time is not counted
            recap.write_text(recap.read_text("utf-8") + f"\nEdited {turn}.\n", "utf-8")
            with entered() as found:
                leaf = preview.refresh([recap.relative_to(journal).as_posix()]).find(address)
                page = leaf.page if leaf is not None else None
            assert page is not None
            assert f"Edited {turn}.".encode() in page.content
    return found


TASKS: dict[str, tuple[str, Callable[[Path], set[str]], int]] = {
    "write": ("one experiment written, nothing kept", site_written, 160),
    "live": ("a recap edited in a preview", recap_edited, 75),
}


def _alone(task: str) -> list[str]:
    """What a task enters in a process and a cache folder of its own, in which nothing is remembered."""
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(
            [sys.executable, "-m", "tests.bench.entered", "--task", task, "--folder", folder],
            env=os.environ | {"SITEGEN_CACHE": str(Path(folder) / "cache")},
            cwd=ROOT,
            stdout=subprocess.PIPE,
            text=True,
            check=True,
        )
    return done.stdout.split()


def main() -> None:
    """Do what is asked."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.entered", description=__doc__)
    parser.add_argument("--list", action="store_true", help="name the modules")
    parser.add_argument("--task", choices=TASKS, help=argparse.SUPPRESS)
    parser.add_argument("--folder", type=Path, help=argparse.SUPPRESS)
    chosen = parser.parse_args()
    if chosen.task:
        print(*sorted(TASKS[chosen.task][1](chosen.folder)), sep="\n")
        return
    of = sum(1 for _ in PACKAGE.rglob("*.py"))
    for task, (words, _, wanted) in TASKS.items():
        found = _alone(task)
        print(f"{words}: {len(found)} of {of} modules entered, {wanted} wanted")
        if chosen.list:
            print(*(f"  {name}" for name in found), sep="\n")


if __name__ == "__main__":
    main()
