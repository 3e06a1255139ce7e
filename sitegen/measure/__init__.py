"""Run → `Facts`: one module a quantity, each formula with its source.

Formulas are pure functions of floats or quantities; figures carry the rows that went in.
"""

from sitegen.measure.across.comparison import ACROSS
from sitegen.measure.across.outlook import for_outlook
from sitegen.measure.across.power import (
    detectable_difference,
    fewest_paired_runs,
    relative_difference,
    smallest_chance_apart,
    spread_between_runs,
)
from sitegen.measure.across.run_arms import run_arms
from sitegen.measure.facts import measure
from sitegen.measure.methods import methods
from sitegen.measure.solution.other_log import with_other_logs

__all__ = [
    "ACROSS",
    "detectable_difference",
    "fewest_paired_runs",
    "for_outlook",
    "measure",
    "methods",
    "relative_difference",
    "run_arms",
    "smallest_chance_apart",
    "spread_between_runs",
    "with_other_logs",
]
