"""Run → `Facts`: one module a quantity, each formula with its source.

Formulas are pure functions of floats or quantities; figures carry the rows that went in.
"""

from sitegen.measure.facts import measure
from sitegen.measure.methods import methods
from sitegen.measure.solution.other_log import with_other_logs

__all__ = ["measure", "methods", "with_other_logs"]
