"""The phases of a run and its visits.

In: a run, its germination, milestones and picks. Out: `Timeline`. Phases come from records of the log; a phase that
nobody recorded is not drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sitegen.core.facts.tree import Germination, MilestoneFacts, Phase, Timeline, Visit
from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Pick, Run, Sowing
from sitegen.core.reference.milestones import PHASES, milestones_of
from sitegen.core.values.day import Day
from sitegen.measure.harvest.picks import flush_numbers
from sitegen.measure.methods import day_key
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


def _seedlings(germination: Germination) -> list[PhaseStart]:
    first = germination.first_day
    if not isinstance(first.value, Day):
        return []
    # As a stage does for the stand, the phase begins on the last day on which it can have.
    day = Day.on(first.value.last, about=first.value.about)
    return [PhaseStart("seedling", day, first.rows[-1] if first.rows else None)]


def _stages(run: Run, milestones: Sequence[MilestoneFacts]) -> list[PhaseStart]:
    known, found = milestones_of(run.setup.crop.kind), []
    for milestone in milestones:
        begins = known[milestone.name].begins if milestone.name in known else ""
        day = reached_by(milestone)
        if begins and day is not None:
            found.append(PhaseStart(begins, day, milestone.first.rows[0] if milestone.first.rows else None))
    return found


def _picking(run: Run, picks: Sequence[Pick]) -> list[PhaseStart]:
    found: dict[str, PhaseStart] = {}
    for pick, flush in zip(picks, flush_numbers(run, picks), strict=True):
        phase = "picking" if flush <= 1 else "later flush"
        found.setdefault(phase, PhaseStart(phase, pick.day, pick.source))
    return list(found.values())


def _lived(beginnings: Sequence[PhaseStart]) -> tuple[PhaseStart, ...]:
    """Starts of phases in order; one that comes after a later phase had begun does not turn the run back."""
    kept: list[PhaseStart] = []
    for each in sorted(beginnings, key=lambda b: (b.day.middle, -b.rank)):
        if not kept or each.rank > kept[-1].rank:
            kept.append(each)
    return tuple(kept)


def _end(run: Run, picks: Sequence[Pick], last: PhaseStart) -> float:
    """Where the last phase ends: picking with the last pick, growing with the end of the run."""
    if last.phase not in GROWING:
        return max(pick.day.middle for pick in picks)
    ended = run.ended
    return max(last.day.middle, ended.day.middle if ended else float(run.last_day))


def _phases(run: Run, germination: Germination, milestones: Sequence[MilestoneFacts]) -> tuple[Phase, ...]:
    picks = tuple(sorted(run.rows.picks, key=lambda pick: (*day_key(pick.day), pick.entry, pick.source)))
    lived = _lived(
        [_sowing(run), *_seedlings(germination), *_stages(run, milestones), *_picking(run, picks)],
    )
    ends = [*(each.day.middle for each in lived[1:]), _end(run, picks, lived[-1])]
    return tuple(
        Phase(each.phase, each.day.middle, end, each.day.about, each.source)
        for each, end in zip(lived, ends, strict=True)
    )


def _phase_on(phases: Sequence[Phase], day: float) -> str:
    return next((p.name for p in reversed(phases) if p.first <= day <= p.last), "")


def _date(run: Run, day: Day) -> date | None:
    """The date on which a visit began; none of a day that is known by its end only."""
    return None if day.before else run.setup.start.date_of(day.first)


def timeline_of(run: Run, germination: Germination, milestones: Sequence[MilestoneFacts]) -> Timeline:
    """Phases and visits in the order of days."""
    phases = _phases(run, germination, milestones)
    entries = sorted(run.rows.entries, key=lambda entry: (*day_key(entry.day), entry.index))
    visits = tuple(
        Visit(entry, _date(run, entry.day), _phase_on(phases, entry.day.middle)) for entry in entries
    )
    return Timeline(phases, visits)
