"""Pictures of a folder → the experiments that they are of, by the days on which they were taken.

In: pictures with their dates, the experiments of a journal, today. Out: a `Decision` for each picture: an experiment with
the day of it, those that fit where there are several, or why there is none. Nothing is read or written here.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import count
from pathlib import PurePosixPath

from sitegen.core.language.text import listed
from sitegen.core.values.day import Day
from sitegen.filing.run_names import KnownRun


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture as found: `name` is relative to its folder.

    `dates` are those that it may have been taken on, the likeliest first; `day` is a number of a day in its name; `fault`
    says why it cannot be used.
    """

    name: str
    dates: tuple[date, ...] = ()
    day: Day | None = None
    fault: str = ""

    @property
    def file_name(self) -> str:
        """Its name without folders."""
        return PurePosixPath(self.name).name


@dataclass(frozen=True, slots=True)
class Fit:
    """An experiment that grew when a picture was taken, and the day; None where that cannot be told."""

    run: KnownRun
    day: Day | None

    def __str__(self) -> str:
        return f"{self.run.id} (day {self.day})" if self.day is not None else self.run.id


@dataclass(frozen=True, slots=True)
class Decision:
    """What is to become of a picture: it is left, for the reason `why`, unless exactly one experiment fits."""

    picture: Picture
    fits: tuple[Fit, ...] = ()
    why: str = ""
    taken: date | None = None


def decided(picture: Picture, runs: Sequence[KnownRun], today: date, to: KnownRun | None) -> Decision:
    """The experiments that a picture fits; with `to`, whether it fits that one."""
    if picture.fault:
        return Decision(picture, why=picture.fault)
    among = (to,) if to is not None else tuple(runs)
    for taken in picture.dates:
        fits = tuple(Fit(run, run.start.day_of(taken)) for run in among if _fits(run, taken, today))
        if fits:
            return Decision(picture, fits, _which(fits) if len(fits) > 1 else "", taken)
    if to is not None and picture.day is not None and not picture.dates:
        return Decision(picture, (Fit(to, picture.day),))
    if to is not None and to.start.date is None and picture.dates:
        return Decision(picture, (Fit(to, None),))
    return Decision(picture, why=_nowhere(picture, today, to))


def _fits(run: KnownRun, taken: date, today: date) -> bool:
    return taken <= today and run.grew_on(taken)


def _which(fits: Sequence[Fit]) -> str:
    return f"{listed([str(fit) for fit in fits])} fit; say which with `--to`"


def _nowhere(picture: Picture, today: date, to: KnownRun | None) -> str:
    if not picture.dates:
        name = picture.file_name
        named = f"`2025-10-19-{name}`" + (f" or `day-26-{name}`" if to is not None else "")
        return f"nothing says when it was taken; name it {named}"
    taken = picture.dates[0]
    if taken > today:
        return f"it says that it was taken on {taken}, which is yet to come"
    if to is not None:
        return f"it was taken on {taken}, when {to.id} did not grow"
    return f"it was taken on {taken}, when no experiment grew"


def free_names(name: str, taken: Collection[str]) -> Iterator[str]:
    """Names for a picture, the first its own, that no file of a folder has: upper and lower case count as the same."""
    known = {each.casefold() for each in taken}
    path = PurePosixPath(name)
    for number in count(1):
        new = name if number == 1 else f"{path.stem}-{number}{path.suffix}"
        if new.casefold() not in known:
            yield new
