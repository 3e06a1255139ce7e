"""What differed between two runs.

In: the conditions of two runs. Out: those that are not alike, and those that only one of them recorded.
"""

from __future__ import annotations

from sitegen.core.facts.across import Differed, RunArms

_COMPARED_ITSELF = "variety"


def differed(run: RunArms, earlier: RunArms) -> tuple[Differed, ...]:
    """Everything besides the variety in which a run differed from an earlier one of its crop."""
    here = {each.code: each for each in run.conditions}
    there = {each.code: each for each in earlier.conditions}
    codes = [code for code in dict.fromkeys((*here, *there)) if code != _COMPARED_ITSELF]
    return tuple(
        Differed(code, here.get(code), there.get(code)) for code in codes if here.get(code) != there.get(code)
    )
