"""Run → `Facts`: one module a quantity, each formula with its source.

Formulas are pure functions of floats or quantities; figures carry the rows that went in.
"""

from sitegen.measure.across.comparison import ACROSS
from sitegen.measure.across.run_arms import run_arms
from sitegen.measure.facts import measure
from sitegen.measure.methods import methods
from sitegen.measure.solution.other_log import with_other_logs

__all__ = ["ACROSS", "measure", "methods", "run_arms", "with_other_logs"]
