"""All quantities of one run in one tree.

In: a run and what things cost. Out: `Facts`. Has no findings: what is wrong with a log is for `judge`
to say.
"""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts import Facts
from sitegen.core.rows import Run
from sitegen.core.setup import Prices
from sitegen.measure.axis import axis_of, last_entry_of, length_of
from sitegen.measure.climate import climate_of
from sitegen.measure.costs import costs_of
from sitegen.measure.germination import germination_of
from sitegen.measure.growth import growth_of
from sitegen.measure.harvest import harvest_of
from sitegen.measure.milestones import milestones_facts
from sitegen.measure.plants import plants_of
from sitegen.measure.solution import solution_of
from sitegen.measure.timeline import timeline_of
from sitegen.measure.timing import timing_of
from sitegen.measure.work import work_of
from sitegen.measure.yield_figures import yields_of

__all__ = ["measure"]


_NO_PRICES = Prices()


def measure(run: Run, prices: Prices = _NO_PRICES) -> Facts:
    """Everything that follows from one run.

    `prices` are the journal's; without them nothing is said of costs.
    """
    germination = germination_of(run)
    milestones = milestones_facts(run)
    timeline = timeline_of(run, germination, milestones)
    solution, climate, length = solution_of(run), climate_of(run), length_of(run)
    harvest = harvest_of(run)
    harvest = replace(harvest, timing=timing_of(run, harvest, milestones))
    harvest = replace(
        harvest,
        per=yields_of(run, harvest, solution, climate, length),
        costs=costs_of(run, prices, harvest, solution, climate),
    )
    return Facts(
        run=run,
        axis=axis_of(run),
        length=length,
        last_entry=last_entry_of(run),
        timeline=timeline,
        germination=germination,
        milestones=milestones,
        growth=growth_of(run),
        harvest=harvest,
        solution=solution,
        climate=climate,
        plants=plants_of(run, harvest, milestones),
        work=work_of(run, timeline),
    )
