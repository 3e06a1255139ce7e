"""Which variety of a crop did best so far, and how sure that is.

In: the summaries of its runs, and the functions over several. Out: `BestSoFar`: the most that a spot of each gave,
and what the runs allow to be said of each pair of varieties or systems.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.facts.across import Comparison, Contrast, Evidence, Factor
from sitegen.core.language.catalogue import tr
from sitegen.render.pages.compared.varieties import GrownVariety
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.evidence.evidence_words import EvidenceWords, evidence_words
from sitegen.render.templates.context import Context

LEADING = "per_spot"  # what the first paragraph compares
MOST_NAMED = 4  # varieties and pairs of them in the first paragraph; the list and the fold below have all


@dataclass(frozen=True, slots=True)
class Compared:
    """Two varieties, or systems, by one measure, in words."""

    contrast: Contrast
    pair: str
    said: EvidenceWords


@dataclass(frozen=True, slots=True)
class BestSoFar:
    """What stands in the first paragraph, and all else that several runs allow to be said.

    `varieties` have the most from a spot, the largest first; `undecided` names the pairs of which nothing can be
    told; `growing` says that a run takes no part in the most, since it has not ended.
    """

    varieties: tuple[GrownVariety, ...]
    lead: tuple[Compared, ...]
    undecided: str
    more: tuple[Compared, ...]
    growing: bool

    @property
    def tested(self) -> tuple[Compared, ...]:
        """The comparisons with a test behind them."""
        return tuple(each for each in (*self.lead, *self.more) if each.contrast.evidence.test)


def best_so_far(
    context: Context, summaries: Sequence[RunSummary], varieties: Sequence[GrownVariety]
) -> BestSoFar:
    """The answer of a crop's page, from the runs of the crop that have a log."""
    comparison = context.across.compare([each.arms for each in summaries if each.arms])
    names = _names(summaries)
    every = [_compared(each, comparison, names[each.factor], context) for each in comparison.contrasts]
    said = [each for each in every if _tells(each.contrast.evidence)]
    lead = [each for each in said if _leads(each.contrast)]
    undecided = [each.pair for each in every if _leads(each.contrast) and each not in said]
    ranked = sorted((each for each in varieties if each.most), key=lambda each: -each.least)
    return BestSoFar(
        tuple(ranked[:MOST_NAMED]),
        tuple(lead[:MOST_NAMED]),
        "; ".join(undecided) if len(undecided) <= MOST_NAMED else tr("the other pairs"),
        (*lead[MOST_NAMED:], *(each for each in said if not _leads(each.contrast))),
        growing=any(each.running for each in summaries),
    )


def _leads(contrast: Contrast) -> bool:
    return contrast.factor == "variety" and contrast.measure == LEADING


def _tells(evidence: Evidence) -> bool:
    """Whether anything is said of it but that nothing can be told."""
    return bool(evidence.order or evidence.leader) or evidence.difference is not None


def _names(summaries: Sequence[RunSummary]) -> dict[Factor, dict[str, str]]:
    varieties = {v: each.setup.variety_name(v) for each in summaries for v in each.setup.variety_ids}
    systems = {tub.system.id: tub.system.name for each in summaries for tub in each.setup.tubs}
    return {"variety": varieties, "system": systems}


def _compared(
    contrast: Contrast, comparison: Comparison, names: dict[str, str], context: Context
) -> Compared:
    first, second = (names.get(each, each) for each in (contrast.first, contrast.second))
    pair = tr("{first} or {second}", first=first, second=second)
    return Compared(contrast, pair, evidence_words(contrast, comparison, names, context.wording))
