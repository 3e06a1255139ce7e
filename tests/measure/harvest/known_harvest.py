"""A known harvest, and a vague log of it: what each plant gave on which day, and what somebody wrote down.

In: choices of Hypothesis. Out: `KnownHarvest`: a run, with the weights behind it. The log is true and never contradicts
itself; weights, days and plants are written as exactly, or as vaguely, as the format allows. A weight that is in no
record is not counted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from hypothesis import strategies as st

from sitegen.core.records.rows import Deed, Entry, Event, Pick, Run, Tally, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from tests.measure.builders import (
    event,
    grams,
    joint,
    of,
    pick,
    place,
    run_of,
    setup_of,
    some,
    tally,
    unweighed,
)

__all__ = ["GROUPS", "PLANTS", "KnownHarvest", "Picked", "known_harvests"]

PLANTS = tuple(f"P{n}" for n in range(1, 7))
TUBS = ("left", "right")
GROUPS = (("early", ("P1", "P2", "P4")), ("late", ("P3", "P5")))
SETUP = setup_of(6, tubs=TUBS, varieties=("amber", "rust"), groups=GROUPS)
END = 121


@dataclass(frozen=True)
class Picked:
    """What one plant gave on one day; `record` is the first record that holds it, by its line (0: none)."""

    plant: str
    day: int
    weight: int
    record: int = 0


@dataclass(frozen=True)
class KnownHarvest:
    """A log, and what it is of: weights, the days of moves and losses, plants and words of each record."""

    run: Run
    picked: tuple[Picked, ...]
    moved: dict[str, int]
    lost: dict[str, int]
    scopes: dict[int, frozenset[str]]  # plants by the line of a record
    words: dict[int, str]  # part by the line of a pick
    days: tuple[int, ...]  # of the picks that were logged

    def weight(self, wanted: Callable[[Picked], bool]) -> int:
        """The weight of some of what was picked and is in a record."""
        return sum(one.weight for one in self.picked if one.record and wanted(one))

    def of(self, plants: Iterable[str], *, until_move: bool = False) -> int:
        """The weight of some plants, each until its move where these count no longer."""
        members = set(plants)
        return self.weight(
            lambda one: (
                one.plant in members
                and not (until_move and one.plant in self.moved and one.day >= self.moved[one.plant])
            )
        )

    def plant_days(self) -> int:
        """The days that all plants stood."""
        return sum(self.lost.get(plant, END) for plant in PLANTS)


FORMS = st.sampled_from(("exact", "exact", "exact", "range", "at least", "up to", "about", "unweighed"))


def written(weight: int, form: str) -> Quantity:
    """A weight as it may be written; `about` says the true number, since no width of it is known."""
    return {
        "exact": grams(weight),
        "range": grams(max(0, weight - 7), high=weight + 4),
        "at least": grams(max(0, weight - 7), high=None, open=1),
        "up to": grams(0, high=weight + 4),
        "about": grams(weight, about=True),
        "unweighed": unweighed(),
    }[form]


class _Writer:
    """Writes the log of one harvest, visit by visit."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw
        self.line = 0
        self.visits: list[tuple[Day, list[Pick | Tally | Event]]] = []
        self.picked: list[Picked] = []
        self.scopes: dict[int, frozenset[str]] = {}
        self.words: dict[int, str] = {}
        self.days: list[int] = []

    def day(self, true: int) -> Day:
        """A day as it may be written."""
        form = self.draw(st.sampled_from(("exact", "exact", "exact", "span", "about", "before")))
        return {
            "exact": Day.on(true),
            "span": Day(max(0, true - 3), true + 2),
            "about": Day(true, true, about=True),
            "before": Day(0, true + 4, before=True),
        }[form]

    def next_line(self) -> int:
        """A line of its own for each record."""
        self.line += 1
        return self.line

    def hold(self, plants: frozenset[str], line: int) -> int:
        """The weight of everything picked so far from some plants; the record is the first of what had none."""
        self.picked = [
            replace(one, record=one.record or line) if one.plant in plants else one for one in self.picked
        ]
        return sum(one.weight for one in self.picked if one.plant in plants)

    def picks(self, true: int, standing: tuple[str, ...]) -> list[Pick]:
        """The picks of one visit: by plant, together, of some plants, or none that was logged."""
        form = self.draw(st.sampled_from(("each", "each", "parts", "all", "some", "none")))
        sets: list[tuple[frozenset[str], Which]] = []
        if form == "each":
            sets = [(frozenset((plant,)), joint(plant)) for plant in standing]
        elif form == "parts":
            first = self.draw(st.lists(st.sampled_from(standing), unique=True, min_size=1))
            both = [tuple(p for p in standing if (p in first) == chosen) for chosen in (True, False)]
            sets = [(frozenset(part), joint(*part)) for part in both if part]
        elif form == "all":
            sets = [(frozenset(standing), joint(*standing, word="all"))]
        elif form == "some":
            sets = [(frozenset(standing), self.draw(st.sampled_from((some(), of(2, 6)))))]
        taken: list[Pick] = []
        fresh = {plant: self.draw(st.integers(0, 99)) for plant in standing}
        for plants, which in sets:
            if not any(fresh[plant] for plant in plants):
                continue
            taken.append(self.pick(true, plants, which, fresh))
        if form == "none":
            self.picked += [Picked(plant, true, fresh[plant]) for plant in standing]
        return taken

    def pick(self, true: int, plants: frozenset[str], which: Which, fresh: dict[str, int]) -> Pick:
        """One pick, which may hold the earlier ones of its plants."""
        line, weight = self.next_line(), sum(fresh[plant] for plant in plants)
        earlier = self.draw(st.sampled_from(("", "", "", "", "apart", "included", "unclear")))
        self.picked += [Picked(plant, true, fresh[plant], line) for plant in plants]
        named = plants if which.named and which.word != "all" else frozenset(PLANTS)
        if earlier == "included" or (earlier == "unclear" and self.draw(st.booleans())):
            weight = self.hold(named if earlier else plants, line)
        self.scopes[line] = plants if which.named else frozenset(PLANTS)
        self.words[line] = self.draw(st.sampled_from(("", "leaf", "root")))
        self.days.append(true)
        return pick(
            true,
            which,
            written(weight, self.draw(FORMS)),
            line,
            part=self.words[line],
            earlier=earlier,
        )

    def tally(self, true: int) -> Tally:
        """A running total of all plants or of some."""
        line = self.next_line()
        which = self.draw(st.sampled_from((joint(*PLANTS, word="all"), joint("P1", "P2", "P3"), joint("P1"))))
        plants = frozenset(which.ids)
        self.scopes[line] = plants
        return tally(true, written(self.hold(plants, line), self.draw(FORMS)), which, line)


@st.composite
def known_harvests(draw: st.DrawFn) -> KnownHarvest:
    """A harvest of six plants in two tubs, some of them lost or moved, and a log of it."""
    writer = _Writer(draw)
    odd = st.integers(10, 59).map(lambda n: 2 * n + 1)
    moved = draw(st.dictionaries(st.sampled_from(PLANTS[:4]), odd, max_size=2))
    lost = draw(st.dictionaries(st.sampled_from(PLANTS[2:]), odd, max_size=2))
    moved = {plant: day for plant, day in moved.items() if day < lost.get(plant, END)}
    for plant, day in moved.items():
        tub = TUBS[PLANTS.index(plant) < 3]
        made = event(Deed.MOVE, day, joint(plant), 800 + PLANTS.index(plant), tub=tub)
        writer.visits.append((writer.day(day), [made]))
    for plant, day in lost.items():
        made = event(Deed.LOST, day, joint(plant), 850 + PLANTS.index(plant))
        writer.visits.append((writer.day(day), [made]))
    for n in sorted(draw(st.sets(st.integers(15, 59), min_size=1, max_size=5))):
        true = 2 * n
        standing = tuple(plant for plant in PLANTS if lost.get(plant, END) > true)
        rows: list[Pick | Tally | Event] = list(writer.picks(true, standing))
        rows += [writer.tally(true)] if draw(st.integers(0, 3)) == 0 else []
        writer.visits.append((writer.day(true), rows))
    writer.visits.append((Day.on(END), [event(Deed.END, END, line=999, kept=False)]))
    return KnownHarvest(
        _run(writer.visits),
        tuple(writer.picked),
        moved,
        lost,
        writer.scopes,
        writer.words,
        tuple(writer.days),
    )


def _run(visits: list[tuple[Day, list[Pick | Tally | Event]]]) -> Run:
    """The run of a log: visits are numbered in the order of their days as written."""
    tables: dict[str, list[object]] = {"events": [], "picks": [], "tallies": []}
    entries = []
    for index, (day, rows) in enumerate(sorted(visits, key=lambda visit: visit[0].key)):
        entries.append(Entry(index, day, place(1000 + index)))
        for row in rows:
            table = "picks" if isinstance(row, Pick) else "tallies" if isinstance(row, Tally) else "events"
            changed = (
                row._replace(day=day, entry=index)
                if isinstance(row, Event)
                else replace(row, day=day, entry=index)
            )
            tables[table].append(changed)
    return run_of(SETUP, entries=tuple(entries), **tables)
