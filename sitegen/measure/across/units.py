"""Which runs are independent of one another: those of one tub at one time count once.

In: `RunArms`. Out: `Unit`s. Plants of one tub share water, light and luck: a unit is a system, a tub and a stretch
of time. A log names its tubs for itself alone: whether two runs stood in the same one follows from a shared tub that
they declare, and from the number of tubs of a system. Where more were in use at once than its owner has, the runs in
them count once, all together: which of them shared is not known. As many are there as are declared, and as one run used.

A run without a date can have stood beside any other of its system. Where the tubs would not do for it and those that
are there at their fullest, it is left out: it is no reason to count the others less, and none to count them more. Where
only such runs used a system, they count once. A log that is a copy of another is the same run.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from sitegen.core.facts.across import RunArms, Unit


def oldest_first(runs: Iterable[RunArms]) -> tuple[RunArms, ...]:
    """Runs in the order in which they began; those without a date before all others."""
    return tuple(sorted(runs, key=lambda run: (run.began or date.min, run.run)))


def units_of(runs: Sequence[RunArms]) -> tuple[Unit, ...]:
    """The independent units among runs with a log, oldest first; runs that are in none are left out."""
    ordered = oldest_first(run for run in runs if run.log and run.arms)
    copies: dict[str, list[str]] = defaultdict(list)
    for run in sorted(ordered, key=lambda run: run.began is None):  # of equal logs a dated one says more
        copies[run.log].append(run.run)
    originals = [run for run in ordered if copies[run.log][0] == run.run]
    return tuple(
        Unit(group[0].run, tuple(name for run in group for name in copies[run.log]))
        for group in _groups(originals)
    )


def _groups(runs: Sequence[RunArms]) -> Iterator[list[RunArms]]:
    """Runs that may have shared a tub, together."""
    together = _Together(run.run for run in runs)
    for one, other, _ in _declared(runs):
        together.join([one, other])
    dated = [run for run in runs if _span(run)]
    for system, owned in _owned(runs).items():
        users = [run for run in dated if _tubs([run], system)]
        for at_once in _at_once(users):
            if _tubs(at_once, system) > owned:
                together.join([run.run for run in at_once])
        undated = [run for run in runs if not _span(run) and _tubs([run], system)]
        if undated and _peak(users, system) + _tubs(undated, system) > owned:
            together.join([run.run for run in undated])
    left_out = _left_out(runs, together)
    groups: dict[str, list[RunArms]] = defaultdict(list)
    for run in runs:
        if run.run not in left_out:
            groups[together.of(run.run)].append(run)
    yield from groups.values()


class _Together:
    """Names that belong together, joined step by step."""

    def __init__(self, names: Iterable[str]) -> None:
        self._above = {name: name for name in names}

    def of(self, name: str) -> str:
        """One name for all that belong to it."""
        while self._above[name] != name:
            name = self._above[name]
        return name

    def join(self, names: Sequence[str]) -> bool:
        """Put names together; whether they were not yet."""
        found = {self.of(name) for name in names}
        first = min(found)
        self._above |= dict.fromkeys(found, first)
        return len(found) > 1


def _span(run: RunArms) -> tuple[date, date] | None:
    return (run.began, run.ended) if run.began and run.ended else None


def _owned(runs: Iterable[RunArms]) -> Mapping[str, int]:
    """The number of tubs that there are of each system."""
    found: dict[str, int] = {}
    for use in (use for run in runs for use in run.uses):
        found[use.system] = max(found.get(use.system, 1), use.owned, use.tubs)
    return found


def _declared(runs: Sequence[RunArms]) -> Iterator[tuple[str, str, str]]:
    """Two runs and the system of the tub that they declare to share."""
    known = {run.run for run in runs}
    for run in runs:
        yield from ((run.run, other, system) for other, system in run.shares if other in known)


def _at_once(users: Sequence[RunArms]) -> Iterator[list[RunArms]]:
    """The runs of a system that stood at the same time: for each, those that were there on the day on which it began."""
    active: list[tuple[date, RunArms]] = []
    for run in users:
        began, ended = _span(run) or (date.min, date.min)
        active = [(end, each) for end, each in active if end > began]
        active.append((ended, run))
        yield [each for _, each in active]


def _tubs(runs: Sequence[RunArms], system: str) -> int:
    """The tubs of a system that runs took at the same time; one that they declare to share is one."""
    taken = sum(use.tubs for run in runs for use in run.uses if use.system == system)
    if len(runs) < 2 or not any(run.shares for run in runs):
        return taken
    joined = _Together(run.run for run in runs)
    shared = sum(joined.join([one, other]) for one, other, of in _declared(runs) if of == system)
    return taken - shared


def _peak(users: Sequence[RunArms], system: str) -> int:
    """The most tubs of a system that were in use at once."""
    return max((_tubs(at_once, system) for at_once in _at_once(users)), default=0)


def _left_out(runs: Sequence[RunArms], together: _Together) -> set[str]:
    """Runs without a date that may have stood in the tub of a dated one, with those that belong to them."""
    owned = _owned(runs)
    dated = [run for run in runs if _span(run)]
    kept = {together.of(run.run) for run in dated}
    undated: dict[str, list[RunArms]] = defaultdict(list)
    for run in runs:
        if together.of(run.run) not in kept:
            undated[together.of(run.run)].append(run)
    return {
        run.run
        for group in undated.values()
        if any(_crowded(group, dated, system, owned[system]) for system in _systems(group))
        for run in group
    }


def _systems(runs: Iterable[RunArms]) -> Iterator[str]:
    yield from dict.fromkeys(use.system for run in runs for use in run.uses)


def _crowded(group: Sequence[RunArms], dated: Sequence[RunArms], system: str, owned: int) -> bool:
    """Whether the tubs of a system would not do for undated runs beside the dated ones."""
    users = [run for run in dated if _tubs([run], system)]
    return bool(users) and _peak(users, system) + _tubs(group, system) > owned
