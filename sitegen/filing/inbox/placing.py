"""The experiment whose log a visit of an inbox belongs to.

In: a visit, the experiments of the journal, today. Out: one experiment, or why none can be told.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from sitegen.core.language.text import did_you_mean, listed, near_words, plural
from sitegen.filing.inbox.lines import Visit
from sitegen.filing.inbox.run_names import KnownRun, narrowed, runs_named

MOST = 8  # experiments that a message names


class Unplaced(NamedTuple):
    """Why a line stays in the inbox: the code, the message and the mend of its finding."""

    code: str
    message: str
    mend: str


NOT_UTF8 = Unplaced("not-utf8", "the line is not UTF-8 text", "save the file as UTF-8")


def placed(visit: Visit, runs: Sequence[KnownRun], today: date) -> KnownRun | Unplaced:
    """The one experiment that a visit can be of."""
    if any("\udc80" <= sign <= "\udcff" for sign in visit.text + visit.name):
        return NOT_UTF8
    if not visit.day.when:
        return Unplaced("not-a-date", visit.day.message, visit.day.mend)
    if not visit.text:
        mend = "write what was done or seen, or remove the line"
        return Unplaced("unplaced-line", "nothing stands after the day", mend)
    found = _fitting(visit, runs, today)
    if len(found) != 1:
        return _unnamed(visit, found, runs) if not visit.name else _misnamed(visit.name, found, runs)
    if found[0].told:
        message = f"`{found[0].id}` is told from memory and has no log"
        return Unplaced("log-from-memory", message, "begin the line with another experiment")
    return found[0]


def _fitting(visit: Visit, runs: Sequence[KnownRun], today: date) -> tuple[KnownRun, ...]:
    """The experiments that the name fits; without a name, those that grew on the date, or grow today."""
    when = visit.day.date
    if visit.name:
        return narrowed(runs_named(visit.name, runs), when, today)
    return tuple(run for run in runs if (run.grew_on(when) if when else run.grows(today)))


def _misnamed(name: str, found: Sequence[KnownRun], runs: Sequence[KnownRun]) -> Unplaced:
    if found:
        which = _either(found)
        return Unplaced("which-experiment", f"`{name}` may be {which}", f"begin the line with {which}")
    near = near_words(name, [each for run in runs for each in (run.id, *run.names)])
    meant = [run for run in runs if {run.id, *run.names} & set(near)]
    offer = f"write {_either(meant)}" if meant else did_you_mean("", [run.id for run in runs], most=MOST)
    mend = f"{offer}; put a colon behind the day where it is no name"
    return Unplaced("unknown-experiment", f"no experiment is called `{name}`", mend)


def _unnamed(visit: Visit, found: Sequence[KnownRun], runs: Sequence[KnownRun]) -> Unplaced:
    grew = f"grew on {visit.day.date}" if visit.day.date else "grow now" if found else "grows now"
    many = plural(len(found), "experiment") if found else "none"
    which = _either(found or runs)
    mend = f"begin the line with {which}" if which else "begin an experiment first"
    return Unplaced("which-experiment", f"the line names no experiment, and {many} {grew}", mend)


def _either(runs: Sequence[KnownRun]) -> str:
    return listed([f"`{run.id}`" for run in runs[:MOST]], "or")
