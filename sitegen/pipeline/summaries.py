"""Kept summaries of runs, as text: the run as comparisons take it, the rest of what index pages show, what is searched.

In: `RunSummary`, `SearchedRun`. Out: their text, and from that the summary, `RunArms` alone, or what is searched. The
first line is of the summary, the second of the search: what a note changes there makes the index of the search again,
and no other page that lists runs.
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
    from sitegen.render import RunSummary, SearchedRun

# What pages show of an arm and no comparison reads: most of what is kept of a run.
_UNREAD = (
    *((Figure, name) for name in ("rows", "remarks")),
    *((ArmSummary, name) for name in ("yields", "picked", "taste")),
    *((ArmFigures, each.name) for each in fields(ArmFigures) if each.name not in MORE_IS_BETTER),
)


def encoded_summary(summary: RunSummary, searched: SearchedRun) -> str:
    """A summary, and what is searched of its run, as text."""
    # Stored and compared so, and decoded only where an index page is made.
    arms = None if summary.arms is None else _arms_codec().encode(summary.arms)
    rest = _summary_codec().encode(replace(summary, arms=None))
    lines = ([arms, rest], searched)
    return "\n".join(json.dumps(each, ensure_ascii=False, separators=(",", ":")) for each in lines)


def shown_part(text: str) -> str:
    """The part of a text that is of the summary."""
    return text.partition("\n")[0]


def searched_part(text: str) -> str:
    """The part of a text that is of the search."""
    return text.partition("\n")[2]


def decoded_search(text: str) -> SearchedRun:
    """What is searched of a run."""
    found: SearchedRun = json.loads(searched_part(text))
    return found


def decoded_summary(text: str) -> RunSummary:
    """The summary itself."""
    arms, rest = json.loads(shown_part(text))
    return replace(_summary_codec().decode(rest), arms=None if arms is None else _arms_codec().decode(arms))


def decoded_arms(text: str) -> RunArms | None:
    """The run of a summary as comparisons take it: of its arms without anything else."""
    arms, _ = json.loads(shown_part(text))
    return None if arms is None else _compared_codec().decode(arms)


@cache
def _arms_codec() -> Codec[RunArms]:
    return codec_for(RunArms)


@cache
def _compared_codec() -> Codec[RunArms]:
    return codec_for(RunArms, _UNREAD)


@cache
def _summary_codec() -> Codec[RunSummary]:
    from sitegen.render import RunSummary  # noqa: PLC0415 - checks and comparisons do without

    return codec_for(RunSummary)
