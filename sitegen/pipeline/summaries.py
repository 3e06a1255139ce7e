"""Kept summaries of runs, as text: the run as comparisons take it, and the rest of what index pages show.

In: `RunSummary`. Out: its text, and from that the summary itself or `RunArms` alone.
"""

from __future__ import annotations

import json
from dataclasses import fields, replace
from functools import cache
from typing import TYPE_CHECKING

from sitegen.core.facts.across import MORE_IS_BETTER, ArmFigures, ArmSummary, RunArms
from sitegen.core.facts.figure import Figure
from sitegen.core.records.codec import Codec, codec_for

if TYPE_CHECKING:
    from sitegen.render import RunSummary

# What pages show of an arm and no comparison reads: most of what is kept of a run.
_UNREAD = (
    *((Figure, name) for name in ("rows", "remarks")),
    *((ArmSummary, name) for name in ("yields", "picked", "taste")),
    *((ArmFigures, each.name) for each in fields(ArmFigures) if each.name not in MORE_IS_BETTER),
)
_ARMS, _COMPARED = codec_for(RunArms), codec_for(RunArms, _UNREAD)


def encoded_summary(summary: RunSummary) -> str:
    """A summary as text."""
    # Stored and compared so, and decoded only where an index page is made.
    arms = None if summary.arms is None else _ARMS.encode(summary.arms)
    rest = _summary_codec().encode(replace(summary, arms=None))
    return json.dumps([arms, rest], ensure_ascii=False, separators=(",", ":"))


def decoded_summary(text: str) -> RunSummary:
    """The summary itself."""
    arms, rest = json.loads(text)
    return replace(_summary_codec().decode(rest), arms=None if arms is None else _ARMS.decode(arms))


def decoded_arms(text: str) -> RunArms | None:
    """The run of a summary as comparisons take it: of its arms without anything else."""
    arms, _ = json.loads(text)
    return None if arms is None else _COMPARED.decode(arms)


@cache
def _summary_codec() -> Codec[RunSummary]:
    from sitegen.render import RunSummary  # noqa: PLC0415 - checks and comparisons do without

    return codec_for(RunSummary)
