"""Who claimed something for the seed: every figure and sentence of a claim takes it from here.

In: the seed. Out: a remark. Never takes a claim for the packet's where nobody said so.
"""

from __future__ import annotations

from sitegen.core.facts.figure import Remark, remark
from sitegen.core.records.setup import Seed

CLAIMANTS = ("claimed_by", "claim_source", "claimant_not_said")


def claimant(seed: Seed | None) -> Remark:
    """Who makes the claims for a seed, as the log says it; else the source of the seed; else that nobody is named."""
    if seed is not None and seed.claims.by:
        return remark("claimed_by", who=seed.claims.by)
    if seed is not None and seed.source:
        return remark("claim_source", source=seed.source)
    return remark("claimant_not_said")
