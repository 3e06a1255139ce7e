"""Sentences that set a deed beside a stage that was first seen soon after it.

In: facts. Out: plain sentences, none of which claims a cause. A deed is set beside a stage only where it may have
touched each plant on which the stage was first seen: where the stage came to other plants too, it asks nothing about
the deed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts
from sitegen.core.format.entry import key_of
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Event, MilestoneRow, Which
from sitegen.core.values.day import Day

NEAR_DAYS = 14  # how long before a stage a deed is worth standing beside it; common practice, no source


@dataclass(frozen=True, slots=True)
class _Plants:
    """Plants of a record: `number` of those in `among`; all of them where they are named."""

    among: frozenset[str]
    number: int

    def may_hold(self, other: _Plants) -> bool:
        """Whether all plants of another record may be among these."""
        common = len(self.among & other.among)
        named = len(other.among) == other.number
        return other.number <= self.number and (common == other.number if named else common >= other.number)


def coincidences(facts: Facts, wording: Wording) -> tuple[str, ...]:
    """Things done shortly before a stage was first seen, each with the remark that this shows no cause."""
    rows, roster = facts.run.rows, Roster.of(facts.run.setup, facts.run.rows)
    found: list[str] = []
    for deed in (event for event in rows.events if key_of(event.deed).noun):
        touched = _touched(deed, roster)
        for milestone in facts.milestones:
            seen = [row for row in rows.milestones if row.name == milestone.name and _reached(row)]
            first = min((row.day for row in seen), default=None)
            if first is None or not _near(deed.day, first):
                continue
            if touched.may_hold(_first_seen((row for row in seen if row.day == first), roster)):
                found.append(_sentence(deed, first, label_words(milestone.label), wording))
    return tuple(found)


def _reached(row: MilestoneRow) -> bool:
    return row.reached and not row.which.nobody


def _near(done: Day, seen: Day) -> bool:
    """Whether each possible number of days between them is from 1 to `NEAR_DAYS`."""
    gap = seen.span_since(done)
    return not (done.before or seen.before) and gap.first > 0 and gap.last <= NEAR_DAYS


def _touched(deed: Event, roster: Roster) -> _Plants:
    """The plants of a deed: those it names, else those that stood in its tub, or in all."""
    if deed.which is not None:
        return _plants(deed.which, deed.day, roster, most=True)
    days = {deed.day.first, deed.day.last}
    standing = {(plant, day) for day in days for plant in roster.standing(day)}
    held = frozenset(plant for plant, day in standing if deed.tub in ("", roster.tub_of(plant, day)))
    return _Plants(held, len(held))


def _first_seen(rows: Iterable[MilestoneRow], roster: Roster) -> _Plants:
    """The plants of a stage at the look that found it first: at least so many."""
    each = [_plants(row.which, row.day, roster, most=False) for row in rows]
    named = frozenset[str]().union(*(one.among for one in each if len(one.among) == one.number))
    counted = [one for one in each if len(one.among) != one.number and one.number > len(named)]
    return max(counted, key=lambda one: one.number, default=_Plants(named, len(named)))


def _plants(which: Which, day: Day, roster: Roster, *, most: bool) -> _Plants:
    """Plants as written; `some` are all that stand, or one."""
    if which.named:
        return _Plants(frozenset(which.ids), len(which.ids))
    standing = frozenset(roster.standing(day.first))
    some = len(standing) if most else 1
    return _Plants(standing, some if which.count is None else which.count)


def _sentence(deed: Event, seen: Day, stage: str, wording: Wording) -> str:
    word = tr(key_of(deed.deed).noun)
    day = opening(wording.say(deed.day))
    named = f"{word} ({deed.what})" if deed.what else word
    gap = seen.span_since(deed.day)
    if not gap.single or gap.about:
        return tr(
            "{day} brought {deed}, shortly before this was first seen: {stage}. One run cannot tell chance from cause.",
            day=day,
            deed=named,
            stage=stage,
        )
    return tr(
        "{day} brought {deed}, {gap} before this was first seen: {stage}. One run cannot tell chance from cause.",
        day=day,
        deed=named,
        gap=tr_n("{n} day", "{n} days", gap.first),
        stage=stage,
    )
