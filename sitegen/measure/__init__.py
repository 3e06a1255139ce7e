"""Run → `Facts`: one module a quantity, each formula with its source.

Formulas are pure functions of floats or quantities; figures carry the rows that went in.
"""

from sitegen.measure.facts import measure
from sitegen.measure.methods import methods

__all__ = ["measure", "methods"]
