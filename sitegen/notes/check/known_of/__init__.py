"""Everything that a log knows, one module a subject; `everything_known` puts it together."""

from __future__ import annotations

from sitegen.core.facts.tree import Facts
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.arms import known_of_arms
from sitegen.notes.check.known_of.counts import known_counts
from sitegen.notes.check.known_of.days import known_days
from sitegen.notes.check.known_of.figures import known_figures
from sitegen.notes.check.known_of.gear import known_gear
from sitegen.notes.check.known_of.harvest import known_harvest
from sitegen.notes.check.known_of.log import Log
from sitegen.notes.check.known_of.readings import known_readings
from sitegen.notes.check.known_of.spans import known_spans
from sitegen.notes.check.known_of.texts import known_texts


def everything_known(facts: Facts, language: str) -> tuple[Known, ...]:
    """All values of a run; of two that are the same the first is the one that is named."""
    log = Log.of(facts)
    return (
        *known_harvest(log),
        *known_readings(log),
        *known_gear(log),
        *known_counts(log),
        *known_days(log),
        *known_spans(log),
        *known_of_arms(log),
        *known_figures(log),
        *known_texts(log, language),
    )


__all__ = ["Log", "everything_known"]
