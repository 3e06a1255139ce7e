"""The experiment that a line or a picture is of: by its name, and by the days on which it grew.

In: a name as an author writes it, the experiments of a journal. Out: those that it may mean.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from sitegen.core.values.day import Start


@dataclass(frozen=True, slots=True)
class KnownRun:
    """What is known of an experiment without its records: `last` is its last day where it has ended.

    `place` is its folder, relative to the journal's; `names` are its title, and those of its crop and varieties.
    """

    id: str
    place: str
    names: tuple[str, ...] = ()
    start: Start = Start()  # noqa: RUF009 - frozen
    last: int | None = None
    told: bool = False  # from memory: it has no log

    def grows(self, today: date) -> bool:
        """Whether it has begun and not ended."""
        begun = self.start.date is None or self.start.date <= today
        return begun and self.last is None and not self.told

    def grew_on(self, when: date) -> bool:
        """Whether a date lies between its start and its end."""
        start = self.start
        if self.told or start.date is None or start.latest is None or when < start.date:
            return False
        return self.last is None or when <= start.latest + timedelta(days=self.last)


def runs_named(name: str, runs: Sequence[KnownRun]) -> tuple[KnownRun, ...]:
    """The experiments that a name may mean: the one with that id, else by the beginning of ids and by other names."""
    wanted = _plain(name)
    if not wanted:
        return ()
    exact = tuple(run for run in runs if run.id == name.strip())
    if exact:
        return exact
    begun = re.sub(r"[\s_]+", "-", name.strip()).lower()
    return tuple(
        run
        for run in runs
        if run.id.lower().startswith(begun) or wanted in {_plain(each) for each in run.names}
    )


def is_named(name: str, runs: Sequence[KnownRun]) -> bool:
    """Whether a name is the whole id or another whole name of an experiment."""
    return any(name.strip() == run.id or _plain(name) in {_plain(each) for each in run.names} for run in runs)


def _plain(name: str) -> str:
    return " ".join(re.findall(r"\w+", name.lower()))


def narrowed(runs: Sequence[KnownRun], when: date | None, today: date) -> tuple[KnownRun, ...]:
    """Of several, those that grew on a date, or grow today; all where none did."""
    if len(runs) < 2:
        return tuple(runs)
    fitting = tuple(run for run in runs if (run.grew_on(when) if when else run.grows(today)))
    return fitting or tuple(runs)
