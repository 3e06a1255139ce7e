"""Run → `Facts`: one module a quantity, each formula with its source.

Formulas are pure functions of floats; figures carry the rows that went in.
"""
