"""The phases of a run and its visits.

In: a run, its germination, milestones and picks. Out: `Timeline`. Phases come from records of the log; a phase that
nobody recorded is not drawn, and one that began on a span of days has that span.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from sitegen.core.facts.tree import Germination, MilestoneFacts, Phase, Timeline, Visit
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Deed, Pick, Run, Sowing
from sitegen.core.reference.milestones import PHASES, milestones_of
from sitegen.core.values.day import Day, in_turn
from sitegen.measure.harvest.picks import flush_numbers
from sitegen.measure.methods import day_key
from sitegen.measure.run.axis import end_of, first_day, last_day, meet
from sitegen.measure.stages.milestones import reached_by

GROWING = PHASES[: PHASES.index("picking")]


@dataclass(frozen=True, slots=True)
class PhaseStart:
    """A phase and the day it began."""

    phase: str
    day: Day
    source: Source | None

    @property
    def rank(self) -> int:
        """Its place in the order that phases are lived through."""
        return PHASES.index(self.phase)


def _sowing(run: Run) -> PhaseStart:
    sown = run.rows.of(Sowing)
    first = min(sown, key=lambda event: day_key(event.day), default=None)
    return PhaseStart("germination", Day.on(0), first.source if first else None)


def _seedlings(run: Run, germination: Germination) -> list[PhaseStart]:
    """From the look that found the first seedling: as of a stage, nobody knows when it came up before that."""
    first = germination.first_day
    if not isinstance(first.value, Day):
        return []
    looks = [event.day for event in run.rows.of(Deed.SPROUTED) if event.day.last >= first.value.last]
    day = first_day(look for look in looks if look.first <= first.value.last)
    day = day or Day.on(first.value.last, about=first.value.about)
    return [PhaseStart("seedling", day, first.rows[-1] if first.rows else None)]


def _stages(run: Run, milestones: Sequence[MilestoneFacts]) -> list[PhaseStart]:
    known, found = milestones_of(run.setup.crop.kind), []
    for milestone in milestones:
        begins = known[milestone.name].begins if milestone.name in known else ""
        day = reached_by(run, milestone)
        if begins and day is not None:
            day = _as_seen(day, _looks_that_saw(milestone))
            found.append(PhaseStart(begins, day, milestone.first.rows[0] if milestone.first.rows else None))
    return found


def _looks_that_saw(milestone: MilestoneFacts) -> list[Day]:
    """The days of the looks that found a stage on more plants than the looks before."""
    steps = milestone.steps
    before = (0, *(step.count for step in steps[:-1]))
    more = [step.day for count, step in zip(before, steps, strict=False) if step.count > count]
    return [*(arrival.day for arrival in milestone.arrivals if arrival.day), *more]


def _as_seen(day: Day, looks: Sequence[Day]) -> Day:
    """The day by which a stage was reached: that of the look which found it, with its width and its flags.

    The days of other looks do not matter, since visits keep their order.
    """
    if not day.single:
        return day
    lasts, firsts = sorted(look.last for look in looks), sorted(look.first for look in looks)
    if day.last not in lasts:
        return day
    span = Day(min(firsts[lasts.index(day.last)], day.last), day.last)
    before = any(look.before and look.last == day.last for look in looks)
    return replace(span, about=any(look.about and meet(look, span) for look in looks), before=before)


def _picking(run: Run, picks: Sequence[Pick]) -> list[PhaseStart]:
    found: dict[str, PhaseStart] = {}
    for pick, flush in zip(picks, flush_numbers(run, picks), strict=True):
        phase = "picking" if flush <= 1 else "later flush"
        found.setdefault(phase, PhaseStart(phase, pick.day, pick.source))
    return list(found.values())


def _lived(beginnings: Sequence[PhaseStart]) -> tuple[PhaseStart, ...]:
    """Starts of phases in order; one that comes after a later phase had begun does not turn the run back."""
    by_phase: dict[str, list[PhaseStart]] = {}
    for each in sorted(beginnings, key=lambda b: (b.rank, b.day)):
        by_phase.setdefault(each.phase, []).append(each)
    earliest = [_earliest(starts) for starts in by_phase.values()]
    return tuple(
        each
        for each in earliest
        if not any(later.rank > each.rank and later.day.last <= each.day.first for later in earliest)
    )


def _earliest(starts: Sequence[PhaseStart]) -> PhaseStart:
    """The start of a phase that several records tell of."""
    first = starts[0]
    if all(first.day.last <= start.day.last for start in starts):
        return first
    return replace(first, day=first_day(start.day for start in starts) or first.day)


def _end(run: Run, picks: Sequence[Pick], last: PhaseStart) -> Day:
    """Where the last phase ends: picking with the last pick, growing with the end of the run."""
    if last.phase not in GROWING:
        end = last_day(pick.day for pick in picks)
    else:
        end = end_of(run)
        end = end if run.ended or (end and end.last >= run.last_day) else Day.on(run.last_day)
    if end is None or end.last < last.day.first:
        return last.day
    return end


def _phases(run: Run, germination: Germination, milestones: Sequence[MilestoneFacts]) -> tuple[Phase, ...]:
    picks = tuple(sorted(run.rows.picks, key=lambda pick: (*day_key(pick.day), pick.entry, pick.source)))
    lived = _lived(
        [_sowing(run), *_seedlings(run, germination), *_stages(run, milestones), *_picking(run, picks)],
    )
    days = in_turn([*(each.day for each in lived), _end(run, picks, lived[-1])])
    return tuple(
        Phase(each.phase, begins, ends, each.source)
        for each, (begins, ends) in zip(lived, pairwise(days), strict=True)
    )


def _phase_on(phases: Sequence[Phase], day: float) -> str:
    """The phase in which a visit is listed."""
    return next((p.name for p in reversed(phases) if p.begins.middle <= day <= p.ends.middle), "")


def _phases_of(run: Run, phases: Sequence[Phase], day: Day, *, alone: bool) -> tuple[str, ...]:
    """The phases that a visit can have fallen into, with an empty name where it may have been in none.

    `alone`: no other visit has its day.

    The day on which a phase begins is of that phase, and so is the visit that found it begun; a visit on the day of the
    end is not after it.
    """
    first, last = day.reach
    found = []
    for phase in phases:
        before_end = first < phase.ends.reach[1] and not (alone and day == phase.ends)
        at_end = phase is phases[-1] and first <= phase.ends.reach[1]
        if last >= phase.begins.reach[0] and (before_end or at_end):
            found.append(phase.name)
    end = phases[-1].ends
    goes_on = phases[-1].name in GROWING and run.ended is None
    if first < phases[0].begins.first or (last > end.reach[0] and day != end and not goes_on):
        found.append("")
    return tuple(found)


def _date(run: Run, day: Day) -> date | None:
    """The date on which a visit began; none of a day that is known by its end only."""
    return None if day.before else run.setup.start.date_of(day.first)


def timeline_of(run: Run, germination: Germination, milestones: Sequence[MilestoneFacts]) -> Timeline:
    """Phases and visits in the order of days."""
    phases = _phases(run, germination, milestones)
    entries = sorted(run.rows.entries, key=lambda entry: (*day_key(entry.day), entry.index))
    visits_on = Counter(entry.day for entry in entries)
    visits = tuple(
        Visit(
            entry,
            _date(run, entry.day),
            _phase_on(phases, entry.day.middle),
            _phases_of(run, phases, entry.day, alone=visits_on[entry.day] == 1),
        )
        for entry in entries
    )
    return Timeline(phases, visits)
