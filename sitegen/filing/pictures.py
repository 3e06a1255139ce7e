"""Pictures of a folder → the experiments that they are of, by the days on which they were taken.

In: pictures with their dates, the experiments of a journal, today. Out: a `Decision` for each picture: an experiment with
the day of it, those that fit where there are several, or why there is none. Nothing is read or written here.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import count
from pathlib import PurePosixPath

from sitegen.core.language.text import listed
from sitegen.core.values.day import Day
from sitegen.filing.inbox.run_names import KnownRun


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture as found: `name` is relative to its folder.

    `taken` is the date of its header or in its name; `fault` says why it cannot be used.
    """

    name: str
    taken: date | None = None
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


# The date and the day of a picture, as the journal would read them in an experiment.
Dated = Callable[[KnownRun], tuple[date | None, Day | None]]


def decided(
    picture: Picture, runs: Sequence[KnownRun], today: date, to: KnownRun | None, dated: Dated
) -> Decision:
    """The experiments that a picture fits; with `to`, whether it fits that one."""
    if picture.fault:
        return Decision(picture, why=picture.fault)
    fits: list[Fit] = []
    for run in runs if to is None else (to,):
        taken, day = dated(run)
        # A day in a name, or a run without a date, is of an experiment only where that is named.
        named = to is not None and (day is not None if taken is None else run.start.date is None)
        if named or (taken is not None and taken <= today and run.grew_on(taken)):
            fits.append(Fit(run, day))
    if len(fits) > 1:
        return Decision(
            picture, tuple(fits), f"{listed([str(fit) for fit in fits])} fit; say which with `--to`"
        )
    return Decision(picture, tuple(fits), "" if fits else _nowhere(picture, today, to))


def _nowhere(picture: Picture, today: date, to: KnownRun | None) -> str:
    """Why no experiment fits."""
    if picture.taken is None:
        name = picture.file_name
        named = f"`2025-10-19-{name}`" + (f" or `day-26-{name}`" if to is not None else "")
        return f"nothing says when it was taken; name it {named}"
    if picture.taken > today:
        return f"it says that it was taken on {picture.taken}, which is yet to come"
    if to is not None:
        return f"it was taken on {picture.taken}, when {to.id} did not grow"
    return f"it was taken on {picture.taken}, when no experiment grew"


def free_names(name: str, taken: Collection[str]) -> Iterator[str]:
    """Names for a picture, the first its own, that no file of a folder has: upper and lower case count as the same."""
    known = {each.casefold() for each in taken}
    path = PurePosixPath(name)
    for number in count(1):
        new = name if number == 1 else f"{path.stem}-{number}{path.suffix}"
        if new.casefold() not in known:
            yield new
