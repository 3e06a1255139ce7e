"""Small journals that are written again and again.

In: a folder. Out: a journal, its site as a tree of bytes, and the site that a run without any store writes.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from sitegen.core.findings.finding import Finding
from sitegen.pipeline import publish
from sitegen.pipeline.results import Published
from tests.journal_maker import make_journal

__all__ = ["TODAY", "Site", "leaf", "tree", "visible"]

TODAY = date(2026, 5, 1)
LEAF = """\
format: 1
title: {title}
crop: {crop}
system: tray
start: {start}
plants: 2
{more}log:
  - day: 0
    sow: 2 a spot
  - day: 20
    height: 9 cm
    note: {note}
"""


def leaf(
    title: str, crop: str = "leaf", *, more: str = "", note: str = "as it was", start: str = "2026-03-01"
) -> str:
    """An experiment without findings."""
    return LEAF.format(title=title, crop=crop, more=more, note=note, start=start)


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with its bytes."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def visible(folder: Path) -> dict[str, bytes]:
    """The same without what begins with a dot: what a host serves."""
    return {place: body for place, body in tree(folder).items() if "/." not in f"/{place}"}


@contextmanager
def _cache(folder: Path) -> Iterator[None]:
    before = os.environ.get("SITEGEN_CACHE")
    os.environ["SITEGEN_CACHE"] = str(folder)
    try:
        yield
    finally:
        if before is None:
            del os.environ["SITEGEN_CACHE"]
        else:
            os.environ["SITEGEN_CACHE"] = before


@dataclass
class Site:
    """A journal, a store and an output."""

    folder: Path
    today: date = TODAY
    runs: int = 0
    progress: list[tuple[int, int]] = field(default_factory=list)  # of the last write

    @classmethod
    def of(cls, folder: Path, experiments: dict[str, str], **more: str) -> Site:
        """A journal with these experiments, and other files by path."""
        make_journal(folder / "bench", experiments, journal="address: https://example.org/\n", more=more)
        return cls(folder)

    @property
    def root(self) -> Path:
        """The journal."""
        return self.folder / "bench"

    @property
    def output(self) -> Path:
        """What is written again and again."""
        return self.folder / "site"

    @property
    def store(self) -> Path:
        """What is kept between runs."""
        return self.folder / "store"

    def own_cache(self) -> AbstractContextManager[None]:
        """What is done inside is kept in its store."""
        return _cache(self.store)

    def experiment(self, name: str) -> Path:
        """The folder of an experiment."""
        return self.root / "seasons" / "one" / name

    def write(self, *, keep_going: bool = False, jobs: int = 1, fresh: bool = False) -> Published:
        """Write it with what is kept."""
        self.progress.clear()
        with _cache(self.store):
            return publish(
                self.root,
                self.today,
                output=self.output,
                keep_going=keep_going,
                jobs=jobs,
                fresh=fresh,
                progress=lambda done, of: self.progress.append((done, of)),
            )

    def edit(self, place: str, old: str, new: str) -> None:
        """Change a file of the journal."""
        text = (self.root / place).read_text("utf-8")
        assert old in text
        (self.root / place).write_text(text.replace(old, new), "utf-8")

    def anew(self, *, keep_going: bool = False) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
        """The site and the findings of a run that knows nothing from before."""
        self.runs += 1
        place = self.folder / f"anew-{self.runs}"
        with _cache(place / "store"):
            done = publish(self.root, self.today, output=place / "site", keep_going=keep_going, jobs=1)
        return tree(place / "site"), done.findings

    def elsewhere(self, *, keep_going: bool = False) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
        """The site and the findings of a copy of the journal: no build step of it is stored, only drawings are."""
        self.runs += 1
        place = self.folder / f"elsewhere-{self.runs}"
        shutil.copytree(self.root, place / "bench")
        with _cache(self.store):
            done = publish(place / "bench", self.today, output=place / "site", keep_going=keep_going, jobs=1)
        return tree(place / "site"), done.findings
