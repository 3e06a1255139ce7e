"""All quantities of one run in one tree.

In: a run and what things cost. Out: `Facts`. Has no findings: errors of a log are found by `judge`.
"""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.tree import Facts
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Prices
from sitegen.measure.climate.climate import climate_of
from sitegen.measure.germination.germination import germination_of
from sitegen.measure.growth.growth import growth_of
from sitegen.measure.harvest.costs import costs_of
from sitegen.measure.harvest.harvest import harvest_of
from sitegen.measure.harvest.timing import timing_of
from sitegen.measure.harvest.yields import yields_of
from sitegen.measure.run.axis import axis_of, last_entry_of, length_of
from sitegen.measure.run.plant_sets import plant_sets_of
from sitegen.measure.run.timeline import timeline_of
from sitegen.measure.run.work import plants_of, work_of
from sitegen.measure.solution.solution import solution_of
from sitegen.measure.stages.milestones import milestones_facts

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
    growth = growth_of(run)
    return Facts(
        run=run,
        axis=axis_of(run),
        length=length,
        last_entry=last_entry_of(run),
        timeline=timeline,
        germination=germination,
        milestones=milestones,
        growth=growth,
        harvest=harvest,
        solution=solution,
        climate=climate,
        plants=plants_of(run, harvest, milestones),
        work=work_of(run, timeline),
        sets=plant_sets_of(run, germination, growth, harvest, milestones, solution, climate),
    )
