"""What was promised of the seed, set beside what came up.

In: the share that came up, the packet's claim, the legal standard. Out: `GerminationClaims`. Never calls seed bad:
a count that falls short says so with the interval behind it.
"""

from __future__ import annotations

from typing import Literal

from sitegen.core.facts import Figure, GerminationClaims, Share
from sitegen.core.quantity import Quantity, exactly
from sitegen.core.reference.germination import SOURCE, TEST_SEEDS, standard_of
from sitegen.core.rows import Run
from sitegen.core.tongue import noted, tr
from sitegen.core.units import Dimension
from sitegen.measure.working import figure, remarks

__all__ = ["germination_claims", "share_against"]

Standing = Literal["below", "in keeping", "above"]
_WORDS: dict[Standing, str] = {
    "below": noted("fewer came up, beyond what a count as small as this one can hide"),
    "in keeping": noted("the count is in keeping with it"),
    "above": noted("more came up, beyond what a count as small as this one can feign"),
}


def share_against(share: Share, claimed: Quantity) -> Standing:
    """Share against a claim.

    Whether a count speaks against the share that a packet or a standard names.

    Parameters
    ----------
    share
        What came up, with its 95 % interval [share from 0 to 1].
    claimed
        What is claimed [%].

    Returns
    -------
    str
        `below` where the whole interval lies under the claim, `above` where it lies over it, else `in keeping`.

    Notes
    -----
    With the interval from l to u and the claim from c₁ to c₂::

        below: u < c₁      above: l > c₂      in keeping: else

    A home tray is no seed test: those take 400 seeds and give them the best conditions (7 CFR 201.54).

    """
    if 100 * share.high < claimed.low:
        return "below"
    return "above" if claimed.high is not None and 100 * share.low > claimed.high else "in keeping"


def _against(name: str, share: Figure, claimed: Quantity | None, *said: str, least: bool = False) -> Figure:
    """The claim as a value, and in the note how the count stands to it."""
    if claimed is None:
        return figure(name, None, share_against, note=remarks(*said))
    if not isinstance(share.value, Share):
        return figure(
            name, claimed, share_against, share.rows, remarks(*said, tr("nothing to set beside it"))
        )
    # More than a least share breaks no promise.
    wanted = Quantity(claimed.low, None, claimed.dimension) if least else claimed
    return figure(
        name,
        claimed,
        share_against,
        share.rows,
        remarks(*said, tr(_WORDS[share_against(share.value, wanted)])),
    )


def germination_claims(run: Run, share: Figure) -> GerminationClaims:
    """The packet's claim, and the legal minimum where the crop has one."""
    seed, standard = run.setup.seed, standard_of(run.setup.crop)
    packet = seed.claims.germination if seed else None
    least = exactly(standard.percent, Dimension.SHARE, 1) if standard else None
    test = (
        tr("{source}, a test of {seeds} seeds", source=SOURCE, seeds=TEST_SEEDS)
        if standard
        else tr("no minimum for this crop is known here")
    )
    name = "germination.claims"
    claimed = _against(
        f"{name}.packet", share, packet, "" if packet else tr("the packet says nothing, or was not kept")
    )
    if packet is not None and seed is not None:
        claimed = figure(
            claimed.name, claimed.value, share_against, (*claimed.rows, run.setup.at("seed")), claimed.note
        )
    legal = _against(f"{name}.standard", share, least, test, least=True)
    if legal.recorded and not legal.rows:
        legal = figure(legal.name, legal.value, share_against, (run.setup.at("crop"),), legal.note)
    return GerminationClaims(claimed, legal)
