"""Runs → findings: order, accounting, plausibility, the record, privacy; one module a subject.

Never changes a run.
"""
