"""Kept summaries of runs, as text: a line for each part that other pages read.

In: `RunSummary`, `SearchedRun`. Out: their text, and from that each part alone. The lines: the summary itself (the run as
comparisons take it, and the rest of what index pages show); what is searched; what the page of a later run of the crop
shows of the run; its log's digest, and what an outlook reads of it. A page depends on the parts that it reads: what a
note changes in the search makes no list of runs again, and what a photo changes in the summary no page of a later run.
"""

from __future__ import annotations

import json
from dataclasses import fields, replace
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from sitegen.core.facts.across import MORE_IS_BETTER, ArmFigures, ArmSummary, RunArms
from sitegen.core.facts.figure import Figure
from sitegen.core.records.codec import Codec, codec_for

if TYPE_CHECKING:
    from sitegen.render import EarlierRun, RunSummary, SearchedRun

# What pages show of an arm and no comparison reads: most of what is kept of a run.
_UNREAD = (
    *((Figure, name) for name in ("rows", "remarks")),
    *((ArmSummary, name) for name in ("yields", "picked", "taste")),
    *((ArmFigures, each.name) for each in fields(ArmFigures) if each.name not in MORE_IS_BETTER),
)


def encoded_summary(summary: RunSummary, searched: SearchedRun) -> str:
    """A summary, and what is searched of its run, as text."""
    # Stored and compared so, and decoded only where a page reads it.
    arms = None if summary.arms is None else _arms_codec().encode(summary.arms)
    rest = _summary_codec().encode(replace(summary, arms=None))
    lines = [[arms, rest], searched, _earlier_codec().encode(_earlier_run(summary))]
    return "\n".join([*map(_json, lines), _outlook_line(summary.arms)])


def _json(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def _earlier_run(summary: RunSummary) -> EarlierRun:
    from sitegen.render import earlier_run  # noqa: PLC0415 - checks and comparisons do without

    return earlier_run(summary)


def _outlook_line(arms: RunArms | None) -> str:
    from sitegen.measure import for_outlook  # noqa: PLC0415 - most checks do without

    if arms is None or not arms.log:
        return ""
    # The digest of its log apart: an outlook only asks which logs are copies, and a digest changes with every entry.
    return f"{arms.log} {_json(_arms_codec().encode(replace(for_outlook(arms), log='')))}"


def _part(text: str, number: int) -> str:
    parts = text.split("\n")
    return parts[number] if number < len(parts) else ""  # a run without a summary yet has an empty text


def shown_part(text: str) -> str:
    """The part of a text that is of the summary."""
    return _part(text, 0)


def searched_part(text: str) -> str:
    """The part of a text that is of the search."""
    return _part(text, 1)


def earlier_part(text: str) -> str:
    """The part of a text that the page of a later run shows."""
    return _part(text, 2)


def outlook_part(text: str) -> tuple[str, str]:
    """The digest of the log, and the part of a text that an outlook reads; both empty of a run without a log."""
    log, _, part = _part(text, 3).partition(" ")
    return log, part


def decoded_search(text: str) -> SearchedRun:
    """What is searched of a run."""
    found: SearchedRun = json.loads(searched_part(text))
    return found


def decoded_earlier(text: str) -> EarlierRun:
    """A run as the page of a later one shows it."""
    return _earlier_codec().decode(json.loads(earlier_part(text)))


def decoded_outlook(log: str, part: str) -> RunArms:
    """A run as an outlook reads it, with a name that copies of its log share."""
    return replace(_arms_codec().decode(json.loads(part)), log=log)


@lru_cache(maxsize=512)  # a run stands on six index pages and more; some 10 MB
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


@cache
def _earlier_codec() -> Codec[EarlierRun]:
    from sitegen.render import EarlierRun  # noqa: PLC0415 - checks and comparisons do without

    return codec_for(EarlierRun)
