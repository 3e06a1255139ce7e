"""Measures what `sitegen live` holds after many edits and many visits: memory, open files, threads.

In: a journal as `journals` makes it, with photos; it is copied. Out: a line each so many edits, then one for page loads
and one for event streams that were opened and left.
Run on demand: `python -m tests.bench.live_growth [JOURNAL] [--edits 1000] [--every 100] [--visits 1000]`. A test of the
`full` runs holds the same figures against the bounds that tests/bench/README.md states.
"""

from __future__ import annotations

import argparse
import contextlib
import http.client
import queue
import shutil
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import IO
from urllib.parse import urlsplit

from tests.bench.journals import make

__all__ = ["Held", "Live", "edits_of", "held_after_edits", "served_live"]

ROOT = Path(__file__).parents[2]
RUNS, PHOTOS, PHOTO = 16, 2, (1600, 1200)
WAIT = 120.0  # seconds for one edit to be seen, on a machine that others use too
THEMES = ("ledger", "propagator")


@dataclass(frozen=True, slots=True)
class Held:
    """What a process holds: its memory [MB], open files, threads."""

    after: int
    resident: float
    files: int
    threads: int

    @classmethod
    def by(cls, process: int, after: int) -> Held:
        """As the system counts it."""
        place = Path(f"/proc/{process}")
        status = dict(line.split(":", 1) for line in (place / "status").read_text().splitlines())
        resident, threads = int(status["VmRSS"].split()[0]) / 1024, int(status["Threads"])
        return cls(after, resident, len(list((place / "fd").iterdir())), threads)


class Live:
    """A preview in a process of its own, and the lines that it prints."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        assert process.stderr is not None
        self.process = process
        self._lines: queue.SimpleQueue[str] = queue.SimpleQueue()
        threading.Thread(target=self._take, args=(process.stderr,), daemon=True).start()
        self.place = urlsplit(self.line_with("http://").split()[0]).netloc
        self.line_with("everything: ")

    def _take(self, lines: IO[str]) -> None:
        for line in lines:
            self._lines.put(line)

    def line_with(self, words: str) -> str:
        """The next line that has these words."""
        while words not in (line := self._lines.get(timeout=WAIT)):
            pass
        return line

    def asked(self, path: str) -> bytes:
        """What stands at a path, over a connection of its own."""
        with contextlib.closing(http.client.HTTPConnection(self.place, timeout=WAIT)) as link:
            link.request("GET", path)
            response = link.getresponse()
            body = response.read()
        assert response.status == 200, (path, response.status)
        return body

    def held(self, after: int) -> Held:
        """What it holds now."""
        return Held.by(self.process.pid, after)


@contextlib.contextmanager
def served_live(journal: Path, *options: str) -> Iterator[Live]:
    """The preview of a journal, once it has built it."""
    arguments = [sys.executable, "-m", "sitegen", "live", str(journal), "--port", "0", *options]
    with subprocess.Popen(arguments, stderr=subprocess.PIPE, text=True, cwd=ROOT) as process:
        try:
            yield Live(process)
        finally:
            process.kill()


def _saved(path: Path, text: str) -> None:
    """As many editors save: written beside, then renamed."""
    beside = path.with_name("saving")
    beside.write_text(text, "utf-8")
    beside.replace(path)


def edits_of(journal: Path) -> Iterator[tuple[Callable[[], None], str]]:
    """Edits without end, of all kinds and of all runs in turn; with each the page that it shows on."""
    folders = sorted(path.parent for path in journal.glob("seasons/*/*/experiment.yaml"))
    texts = {
        path: path.read_text("utf-8")
        for folder in folders
        for path in (folder / "experiment.yaml", folder / "recap.md")
    }
    settings = (journal / "journal.yaml").read_text("utf-8")
    photo = next(journal.glob("seasons/*/*/photos/*.jpg")).read_bytes()
    style = journal / "look/assets/look.css"
    style.parent.mkdir(parents=True, exist_ok=True)
    turn = 0

    def note(folder: Path, turn: int) -> None:
        path = folder / "experiment.yaml"
        _saved(path, texts[path].replace("    note: ", f"    note: {turn} ", 1))

    def reading(folder: Path, turn: int) -> None:
        path = folder / "experiment.yaml"
        before, end, last = texts[path].rpartition("  - day: ")
        entry = f"  - day: 135\n    height: {{P1: {60 + turn / 10:.1f} cm}}\n"
        _saved(path, f"{before}{entry}{end}{last}")

    def recap(folder: Path, turn: int) -> None:
        _saved(folder / "recap.md", f"{texts[folder / 'recap.md']}\nEdited {turn} times.\n")

    def photos(folder: Path, turn: int) -> None:
        for old in (folder / "photos").glob("day-20-x*.jpg"):
            old.unlink()
        (folder / "photos/saving").write_bytes(photo + turn.to_bytes(4, "big"))
        (folder / "photos/saving").replace(folder / f"photos/day-20-x{turn}.jpg")

    def price(_: Path, turn: int) -> None:
        _saved(journal / "journal.yaml", settings.replace("0.30 per kWh", f"0.{turn:04} per kWh"))

    def theme(_: Path, turn: int) -> None:
        _saved(journal / "journal.yaml", f"{settings}theme: {THEMES[turn // 10 % 2]}\n")

    def styled(_: Path, turn: int) -> None:
        _saved(style, f"p {{ order: {turn} }}\n")

    kinds = (recap, note, reading, recap, photos, note, price, recap, styled, theme)
    while True:
        turn += 1
        kind, folder = kinds[turn % len(kinds)], folders[turn % len(folders)]
        yield (
            (lambda kind=kind, folder=folder, turn=turn: kind(folder, turn)),
            (  # type: ignore[misc]
                f"/experiments/{folder.name}.html"
            ),
        )


def held_after_edits(live: Live, journal: Path, edits: int, every: int) -> Iterator[Held]:
    """What a preview holds at the beginning and each so many edits, every edit looked at in its page."""
    yield live.held(0)
    for number, (edit, page) in enumerate(edits_of(journal), start=1):
        edit()
        live.line_with(": seen after ")
        live.asked(page)
        if number % 5 == 0:
            live.asked(("/", "/compare.html", page.replace(".html", "/record.html"))[number // 5 % 3])
        if number % every == 0:
            yield live.held(number)
        if number == edits:
            return


def held_after_visits(live: Live, visits: int) -> Iterator[Held]:
    """What it holds after so many page loads, and after as many event streams."""
    for _ in range(visits):
        live.asked("/")
    yield live.held(visits)
    for _ in range(visits):
        link = http.client.HTTPConnection(live.place, timeout=WAIT)
        link.request("GET", "/-/events?page=/&serial=0")
        link.getresponse().readline()
        link.close()
    yield live.held(visits)


def main() -> None:
    """Do what is asked, in a copy."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.live_growth", description=__doc__)
    parser.add_argument("journal", type=Path, nargs="?")
    parser.add_argument("--edits", type=int, default=1000)
    parser.add_argument("--every", type=int, default=100)
    parser.add_argument("--visits", type=int, default=1000)
    chosen = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        journal = Path(scratch) / "journal"
        if chosen.journal:
            shutil.copytree(chosen.journal, journal)
        else:
            make(journal, RUNS, photos=PHOTOS, size=PHOTO)
        with served_live(journal) as live:
            print(f"{'after':>6} {'MB':>7} {'files':>6} {'threads':>8}")
            for held in held_after_edits(live, journal, chosen.edits, chosen.every):
                print(f"{held.after:>6} {held.resident:>7.1f} {held.files:>6} {held.threads:>8}", flush=True)
            for what, held in zip(("loads", "streams"), held_after_visits(live, chosen.visits), strict=True):
                print(
                    f"{held.after:>6} {held.resident:>7.1f} {held.files:>6} {held.threads:>8}  page {what}",
                    flush=True,
                )


if __name__ == "__main__":
    main()
