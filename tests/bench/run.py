"""Measures the commands against what the same libraries cannot do without, both in the same run.

In: names of rows (none: all) and a size. Out: a line for each row: ours, theirs, the ratio of their medians, how far
single runs lay apart. Run on demand: `python -m tests.bench.run [name …] [--size N] [--repeats N] [--cpu]`.
Nothing here passes or fails.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import sys
import tempfile
from collections.abc import Callable
from compileall import compile_dir
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path

from tests.bench import timing
from tests.bench.floor import collect
from tests.bench.journals import make
from tests.bench.timing import Command

__all__ = ["ROWS", "Place", "Row"]

HERE = Path(__file__).parent
PACKAGE = HERE.parents[1] / "sitegen"
DEMO = HERE.parents[1] / "content_demo"
IMPORTS = "import pandas, altair"
ENTERING = "import click, yaml"
SERVING = "import pandas, altair, starlette, uvicorn"
# What a no-op cannot do without: the command line, and a look at every file.
LOOK = """
import os, sys, click
def look(folder):
    for entry in os.scandir(folder):
        look(entry.path) if entry.is_dir() else entry.stat()
look(sys.argv[1])
"""
# What reading cannot do without: every node of every file with its place.
PARSE = """
import pathlib, sys, yaml
def walk(node):
    mark = node.start_mark
    if isinstance(node, yaml.MappingNode):
        return mark.line, mark.column, [(walk(key), walk(value)) for key, value in node.value]
    if isinstance(node, yaml.SequenceNode):
        return mark.line, mark.column, [walk(item) for item in node.value]
    return mark.line, mark.column, node.value
for path in sorted(pathlib.Path(sys.argv[1]).rglob("*.yaml")):
    walk(yaml.compose(path.read_bytes(), Loader=yaml.CSafeLoader))
"""


@dataclass(frozen=True)
class Place:
    """A folder to measure in: journals by size, made when first asked for, each with a store and an output."""

    folder: Path

    def journal(self, size: int) -> Path:
        """The journal of so many experiments."""
        folder = self.folder / f"journal-{size}"
        return folder if folder.exists() else make(folder, size)

    def charts(self, size: int) -> Path:
        """The filled definitions of its charts."""
        folder = self.folder / f"charts-{size}"
        if not folder.exists():
            collect(self.journal(size), folder)
        return folder

    def output(self, size: int) -> Path:
        """Where its site is written."""
        return self.folder / f"output-{size}"

    def store(self, size: int) -> Path:
        """Where what was made before is kept."""
        return self.folder / f"store-{size}"

    def write(self, size: int) -> Command:
        """`sitegen write`."""
        return self._sitegen(size, "write", "-o", str(self.output(size)))

    def validate(self, size: int) -> Command:
        """`sitegen validate`."""
        return self._sitegen(size, "validate")

    def entry(self, size: int, text: str) -> Command:
        """`sitegen log`: one entry in one experiment, the file before it as it was each time."""
        file = sorted(self.journal(size).glob("seasons/*/*/experiment.yaml"))[size // 2]
        return self._entry(file, self.store(size), text)

    def _entry(self, file: Path, store: Path, *said: str) -> Command:
        content, environment = file.read_bytes(), {"SITEGEN_CACHE": str(store)}
        arguments = ("-m", "sitegen", "log", str(file.parent), *said)
        return Command(arguments, environment, before=lambda: file.write_bytes(content))

    def demo_entry(self, *said: str) -> Command:
        """`sitegen log`: one entry in the longest log of the demo journal."""
        return self._entry(self._richest(), self.folder / "store-demo", *said)

    def demo_notes(self) -> Command:
        """`sitegen notes`: the script of that experiment."""
        environment = {"SITEGEN_CACHE": str(self.folder / "store-demo")}
        return Command(("-m", "sitegen", "notes", str(self._richest().parent)), environment)

    def _richest(self) -> Path:
        """The longest experiment.yaml of the demo journal, in a copy of it."""
        journal = self.folder / "demo"
        if not journal.exists():
            shutil.copytree(DEMO, journal)
        return max(journal.glob("seasons/*/*/experiment.yaml"), key=lambda file: file.stat().st_size)

    def preview(self, size: int) -> Command:
        """`sitegen live`, ended once its first page is there."""
        environment = {"SITEGEN_CACHE": str(self.store(size))}
        return Command(("-m", "tests.bench.live", "first", str(self.journal(size))), environment)

    def _sitegen(self, size: int, command: str, *more: str) -> Command:
        arguments = ("-m", "sitegen", command, str(self.journal(size)), *more)
        return Command(arguments, {"SITEGEN_CACHE": str(self.store(size))})

    def floor(self, size: int) -> Command:
        """The plainest script, into a folder of its own."""
        output = self.folder / f"floor-{size}"
        paths = (self.journal(size), self.charts(size), output)
        return Command((str(HERE / "floor.py"), *map(str, paths)), before=lambda: _clear(output))

    def empty(self, size: int) -> Callable[[], None]:
        """Before a run: nothing written, nothing kept."""
        return lambda: _clear(self.output(size), self.store(size))

    def change(self, size: int) -> Callable[[], None]:
        """Before a run: one note of one experiment is worded anew, never the same twice."""
        file = sorted(self.journal(size).glob("seasons/*/*/experiment.yaml"))[size // 2]
        text = file.read_text("utf-8")
        start = text.index("    note: ", len(text) // 2)
        end = text.index("\n", start)
        turn = count()

        def edit() -> None:
            file.write_text(f"{text[:start]}    note: Edited {next(turn)} times.{text[end:]}", "utf-8")

        return edit

    def add(self, size: int) -> Callable[[], None]:
        """Before a run: an entry more in one experiment, so that every list that shows it changes too."""
        file = sorted(self.journal(size).glob("seasons/*/*/experiment.yaml"))[size // 2]
        before, end, last = file.read_text("utf-8").rpartition("  - day: ")
        turn = count(1)

        def edit() -> None:
            day = last.partition("\n")[0]
            more = "".join(
                f"  - day: {day}\n    height: {number} cm\n" for number in range(60, 60 + next(turn))
            )
            file.write_text(f"{before}{more}{end}{last}", "utf-8")

        return edit

    def relook(self, size: int) -> Callable[[], None]:
        """Before a run: another style in the journal's own look, so that every page changes."""
        file, turn = self.journal(size) / "look" / "assets" / "own.css", count()

        def edit() -> None:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(f"p {{ order: {next(turn)} }}\n", "utf-8")

        return edit


@dataclass(frozen=True, slots=True)
class Pair:
    """Two commands to set beside each other."""

    ours: Command
    theirs: Command


@dataclass(frozen=True, slots=True)
class Row:
    """One measurement: what it says, for how many experiments, how often, and the two commands."""

    about: str
    size: int
    repeats: int
    pair: Callable[[Place, int], Pair]
    measure: Callable[[Command], float] = timing.seconds
    unit: str = "s"


def _new(cores: int) -> Callable[[Place, int], Pair]:
    def pair(place: Place, size: int) -> Pair:
        ours = replace(place.write(size), before=place.empty(size), cores=cores)
        return Pair(ours, replace(place.floor(size), cores=cores))

    return pair


def _changed(place: Place, size: int) -> Pair:
    timing.seconds(place.write(size))
    return Pair(replace(place.write(size), before=place.change(size)), Command(("-c", IMPORTS)))


def _added(place: Place, size: int) -> Pair:
    timing.seconds(place.write(size))
    return Pair(replace(place.write(size), before=place.add(size)), Command(("-c", IMPORTS)))


def _relooked(place: Place, size: int) -> Pair:
    timing.seconds(place.write(size))
    return Pair(replace(place.write(size), before=place.relook(size)), place.floor(size))


def _unchanged(place: Place, size: int) -> Pair:
    timing.seconds(place.write(size))
    return Pair(place.write(size), Command(("-c", LOOK, str(place.journal(size)))))


def _first_page(place: Place, size: int) -> Pair:
    """A preview of a journal that was written before, until its home page is there."""
    timing.seconds(place.write(size))
    timing.seconds(place.preview(size))  # what a preview keeps is kept
    return Pair(place.preview(size), Command(("-c", SERVING)))


def _first_page_cold(place: Place, size: int) -> Pair:
    ours = replace(place.preview(size), before=lambda: _clear(place.store(size)))
    return Pair(ours, Command(("-c", SERVING)))


def _checked_cold(place: Place, size: int) -> Pair:
    ours = replace(place.validate(size), before=lambda: _clear(place.store(size)))
    return Pair(ours, replace(place.write(size), before=place.empty(size)))


def _read_cold(place: Place, size: int) -> Pair:
    ours = replace(place.validate(size), before=lambda: _clear(place.store(size)))
    return Pair(ours, Command(("-c", PARSE, str(place.journal(size)))))


def _checked_again(place: Place, size: int) -> Pair:
    timing.seconds(place.validate(size))
    return Pair(place.validate(size), Command(("-c", LOOK, str(place.journal(size)))))


def _entered(place: Place, size: int) -> Pair:
    return Pair(place.entry(size, "water: 2 L"), Command(("-c", ENTERING)))


def _entered_in_words(place: Place, size: int) -> Pair:
    return Pair(place.entry(size, "picked P1 nine grams, topped up two litres"), Command(("-c", ENTERING)))


def _entered_in_demo(place: Place, _size: int) -> Pair:
    ours = place.demo_entry("height: about 9 in", "--day", "26")
    timing.seconds(ours)  # the code is compiled
    return Pair(ours, Command(("-c", ENTERING)))


def _noted(place: Place, _size: int) -> Pair:
    """A script from facts that are kept."""
    for _ in range(2):  # the second keeps what the first was too early for: files that had just been written
        timing.seconds(place.demo_notes())
    return Pair(place.demo_notes(), Command(("-c", ENTERING)))


def _growth(place: Place, size: int) -> Pair:
    """Time for each experiment of many, beside that of a twenty-fifth."""
    few = max(1, size // 25)
    ours, theirs = (replace(place.write(n), before=place.empty(n), per=n) for n in (size, few))
    return Pair(ours, theirs)


def _memory(place: Place, size: int) -> Pair:
    """Memory for many, beside that for a fifth."""
    few = max(1, size // 5)
    ours, theirs = (replace(place.write(n), before=place.empty(n)) for n in (size, few))
    return Pair(ours, theirs)


ROWS = {
    "new": Row("write with an empty store, two cores / plainest script", 200, 3, _new(2)),
    "new-one-core": Row("the same on one core", 200, 3, _new(1)),
    "changed": Row("write after one entry changed / import pandas, altair", 1000, 5, _changed),
    "added": Row("write after one entry more / import pandas, altair", 1000, 5, _added),
    "look": Row("write after the look changed / plainest script, all charts", 200, 3, _relooked),
    "unchanged": Row("write, nothing changed / import click, stat the journal", 1000, 5, _unchanged),
    "unchanged-many": Row("the same for more", 5000, 5, _unchanged),
    "validate": Row("validate / write, both with an empty store", 200, 3, _checked_cold),
    "validate-read": Row("validate with an empty store / compose and walk", 1000, 3, _read_cold),
    "validate-again": Row(
        "validate, nothing changed / import click, stat the journal", 1000, 3, _checked_again
    ),
    "log": Row("log, an entry / import click, yaml", 1000, 5, _entered),
    "log-words": Row("the same in words", 1000, 5, _entered_in_words),
    "log-demo": Row(
        "log, an entry of the demo's longest log / import click, yaml; processor time",
        1,
        5,
        _entered_in_demo,
        timing.processor,
    ),
    "notes": Row(
        "notes of the same run, its facts kept / import click, yaml; processor time",
        1,
        5,
        _noted,
        timing.processor,
    ),
    "live": Row(
        "live, start to first page / import pandas, altair, starlette, uvicorn", 1000, 5, _first_page
    ),
    "live-new": Row("the same with an empty store", 1000, 5, _first_page_cold),
    "growth": Row("new, per experiment: of all / of a 25th", 5000, 1, _growth),
    "memory": Row("new, peak of all processes: of all / of a fifth", 1000, 1, _memory, timing.memory, "MB"),
}


def main() -> int:
    """Measure the rows asked for and print each as it is done; 1 where a command failed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.run", description=__doc__)
    parser.add_argument("names", nargs="*", help=f"of {', '.join(ROWS)}")
    parser.add_argument("--size", type=int, help="experiments, for every row")
    parser.add_argument("--repeats", type=int, help="runs of each, for every row")
    parser.add_argument("--cpu", action="store_true", help="processor time: for a machine that others use")
    chosen = parser.parse_args()
    if unknown := set(chosen.names) - set(ROWS):
        parser.error(f"there is no row {', '.join(sorted(unknown))}; there are {', '.join(ROWS)}")
    compile_dir(PACKAGE, quiet=1)  # once, as an installed package is
    print(f"{'row':<15} {'size':>5} {'ours':>11} {'theirs':>11} {'ratio':>7}  runs, apart; what")
    with tempfile.TemporaryDirectory(prefix="bench-") as folder:
        place = Place(Path(folder))
        done = [_print(name, _asked(ROWS[name], chosen), place) for name in chosen.names or ROWS]
    return 0 if all(done) else 1


def _asked(row: Row, chosen: argparse.Namespace) -> Row:
    """A row as the command line wants it."""
    asked = replace(row, size=chosen.size or row.size, repeats=chosen.repeats or row.repeats)
    timed = row.measure is timing.seconds
    return replace(asked, measure=timing.processor) if chosen.cpu and timed else asked


def _print(name: str, row: Row, place: Place) -> bool:
    """Measure one row; whether its commands ran."""
    try:
        pair = row.pair(place, row.size)
        # In turn, so that what slows the machine down for a while slows both.
        runs = [(row.measure(pair.theirs), row.measure(pair.ours)) for _ in range(row.repeats)]
    except RuntimeError as error:
        print(f"{name:<15} {row.size:>5} could not be measured: {error}", flush=True)
        return False
    theirs, ours = (statistics.median(values) for values in zip(*runs, strict=True))
    apart = max(mine for _, mine in runs) / min(mine for _, mine in runs) - 1
    print(
        f"{name:<15} {row.size:>5} {ours:>8.4g} {row.unit:<2} {theirs:>8.4g} {row.unit:<2} {ours / theirs:>7.2f}"
        f"  {row.repeats}, {apart:.0%}; {row.about}",
        flush=True,
    )
    return True


def _clear(*folders: Path) -> None:
    for folder in folders:
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    sys.exit(main())
