"""What differed between two runs.

In: the conditions of two runs. Out: those that are not alike, and those that only one of them recorded.
"""

from __future__ import annotations

from sitegen.core.facts.across import Condition, Differed, RunArms

_COMPARED_ITSELF = "variety"


def differed(run: RunArms, earlier: RunArms) -> tuple[Differed, ...]:
    """Everything besides the variety in which a run differed from an earlier one of its crop."""
    here = {each.code: each for each in run.conditions}
    there = {each.code: each for each in earlier.conditions}
    codes = [code for code in dict.fromkeys((*here, *there)) if code != _COMPARED_ITSELF]
    return tuple(
        Differed(code, here.get(code), there.get(code))
        for code in codes
        if _alike(here.get(code)) != _alike(there.get(code))
    )


def _alike(condition: Condition | None) -> object:
    """What is equal of two conditions that are alike: names in any order, a value however finely it was written."""
    if condition is None:
        return None
    value = condition.value
    return frozenset(condition.names), None if value is None else (value.low, value.high)
