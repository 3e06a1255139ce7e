"""Measures `sitegen live` from outside: a process of its own, files edited on the disk, a window that listens.

In: a journal as `journals` makes it. Out: with `first`, nothing: the process ends when the first page is there, and is
timed by whoever started it. With `edits`, a line for each kind of edit: from the save to the changed page in hand, median
and 95th percentile of many, and the median processor time of the server.
Run on demand: `python -m tests.bench.live edits JOURNAL [--times 200] [--kinds log,recap]`. Nothing here passes or fails.
"""

from __future__ import annotations

import argparse
import contextlib
import http.client
import io
import json
import os
import shutil
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

__all__ = ["KINDS", "first", "measured"]

ROOT = Path(__file__).parents[2]
TICK = os.sysconf("SC_CLK_TCK")
REST = 0.15  # seconds between two edits: nobody saves faster, and what follows an edit is done
PHOTO = (4000, 3000)  # pixels, as a phone's


@contextlib.contextmanager
def _served(journal: Path) -> Iterator[tuple[int, str]]:
    """The process and the place of a preview, from the moment it listens."""
    arguments = [sys.executable, "-m", "sitegen", "live", str(journal), "--port", "0"]
    with subprocess.Popen(arguments, stderr=subprocess.PIPE, text=True, cwd=ROOT) as process:
        assert process.stderr is not None
        address = next(line for line in process.stderr if line.startswith("http://")).split()[0]
        try:
            yield process.pid, urlsplit(address).netloc
        finally:
            process.kill()
            process.stderr.read()


def _asked(place: str, path: str) -> bytes:
    link = http.client.HTTPConnection(place, timeout=120)
    link.request("GET", path)
    response = link.getresponse()
    body = response.read()
    link.close()
    assert response.status == 200, (path, response.status)
    return body


def first(journal: Path) -> None:
    """Start a preview and stay until its home page is there."""
    with _served(journal) as (_, place):
        assert b"<main" in _asked(place, "/")


class Window:
    """A window on one page, that knows what it shows."""

    def __init__(self, place: str, path: str) -> None:
        self._place, self._path = place, path
        self._link = http.client.HTTPConnection(place, timeout=120)
        self._link.request("GET", f"/-/events?page={path}&serial=0")
        self._events = self._link.getresponse()
        self.shown = ""

    def renewed(self) -> bytes:
        """The page, once it is another."""
        while (told := self._told()) == self.shown:
            pass
        self.shown = told
        return _asked(self._place, self._path)

    def _told(self) -> str:
        for line in self._events:
            if line.startswith(b"data: "):
                data = json.loads(line[6:])
                assert not data["trouble"], data["trouble"]
                return str(data["shown"])
        raise RuntimeError("the preview has stopped")


@dataclass(frozen=True)
class Subject:
    """The experiment that is edited."""

    journal: Path
    folder: Path

    def rewrite(self, name: str, change: Callable[[str, int], str]) -> Callable[[int], None]:
        """Save a file of it as many editors do: written beside, then renamed."""
        path = self.folder / name
        text = path.read_text("utf-8")

        def edit(turn: int) -> None:
            beside = path.with_name("saving")
            beside.write_text(change(text, turn), "utf-8")
            beside.replace(path)

        return edit


def _note(subject: Subject) -> Callable[[int], None]:
    """One note worded anew: no chart shows it."""
    return subject.rewrite(
        "experiment.yaml", lambda text, n: text.replace("    note: ", f"    note: {n} ", 1)
    )


def _reading(subject: Subject) -> Callable[[int], None]:
    """An entry more, with a height: its chart is drawn anew."""

    def change(text: str, turn: int) -> str:
        before, end, last = text.rpartition("  - day: ")
        return f"{before}  - day: 135\n    height: {{P1: {60 + turn / 10:.1f} cm}}\n{end}{last}"

    return subject.rewrite("experiment.yaml", change)


def _recap(subject: Subject) -> Callable[[int], None]:
    return subject.rewrite("recap.md", lambda text, n: f"{text}\nEdited {n} times.\n")


def _style(subject: Subject) -> Callable[[int], None]:
    path = subject.journal / "look/assets/look.css"
    path.parent.mkdir(parents=True, exist_ok=True)
    return lambda turn: path.write_text(f"p {{ order: {turn} }}\n", "utf-8") and None


def _template(subject: Subject) -> Callable[[int], None]:
    path = subject.journal / "look/templates/story.html"
    path.parent.mkdir(parents=True, exist_ok=True)
    text = (ROOT / "themes/ledger/templates/story.html").read_text("utf-8")
    return lambda turn: path.write_text(f"{text}<p>{turn}</p>\n", "utf-8") and None


def _photo(subject: Subject) -> Callable[[int], None]:
    """A photo dropped in; the last one goes, so that the page does not grow."""
    from PIL import Image

    body = io.BytesIO()
    Image.linear_gradient("L").resize(PHOTO).convert("RGB").save(body, "JPEG", quality=92)
    folder = subject.folder / "photos"
    folder.mkdir(exist_ok=True)

    def edit(turn: int) -> None:
        (folder / "saving").write_bytes(body.getvalue() + turn.to_bytes(4, "big"))
        for old in folder.glob("*.jpg"):
            old.unlink()
        (folder / "saving").replace(folder / f"day-20-{turn}.jpg")

    return edit


KINDS = {
    "log": _note,
    "reading": _reading,
    "recap": _recap,
    "style": _style,
    "template": _template,
    "photo": _photo,
}


def measured(journal: Path, kind: str, times: int) -> tuple[list[float], list[float]]:
    """Wall and processor time [ms] of each of so many edits of a kind."""
    folder = sorted(path.parent for path in journal.glob("seasons/*/*/experiment.yaml"))[3]
    with _restored(journal, folder), _served(journal) as (process, place):
        path = f"/experiments/{folder.name}.html"
        edit, window = KINDS[kind](Subject(journal, folder)), Window(place, path)
        window.renewed()
        edit(0)  # what is made for the first time is not measured
        window.renewed()
        wall, used = [], []
        for turn in range(1, times + 1):
            time.sleep(REST)
            begin, before = time.perf_counter(), _processor(process)
            edit(turn)
            window.renewed()
            wall.append((time.perf_counter() - begin) * 1000)
            used.append((_processor(process) - before) * 1000)
    return wall, used


@contextlib.contextmanager
def _restored(journal: Path, folder: Path) -> Iterator[None]:
    """Put back what was edited."""
    kept = {path: path.read_bytes() for path in (folder / "experiment.yaml", folder / "recap.md")}
    try:
        yield
    finally:
        for path, body in kept.items():
            path.write_bytes(body)
        shutil.rmtree(journal / "look", ignore_errors=True)
        shutil.rmtree(folder / "photos", ignore_errors=True)


def _processor(process: int) -> float:
    """Processor time of a process so far [s]."""
    fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / TICK


def _line(kind: str, wall: list[float], used: list[float]) -> str:
    median, high = statistics.median(wall), statistics.quantiles(wall, n=20)[-1]
    return f"{kind:<10} {len(wall):>5} {median:>8.0f} {high:>8.0f} {high / median:>6.1f} {statistics.mean(used):>8.0f}"


def main() -> None:
    """Do what is asked."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.live", description=__doc__)
    parser.add_argument("what", choices=("first", "edits"))
    parser.add_argument("journal", type=Path)
    parser.add_argument("--times", type=int, default=200)
    parser.add_argument("--kinds", default=",".join(KINDS))
    chosen = parser.parse_args()
    if chosen.what == "first":
        first(chosen.journal)
        return
    print(
        f"{'edit':<10} {'times':>5} {'median':>8} {'p95':>8} {'p95/m':>6} {'cpu':>8}  (ms; save to page in hand)"
    )
    for kind in chosen.kinds.split(","):
        print(_line(kind, *measured(chosen.journal, kind, chosen.times)), flush=True)


if __name__ == "__main__":
    main()
