"""What both feeds say.

In: the journal and its briefs. Out: `Feed`, or None where no run has a date. A run without any date cannot stand in a
feed; the feed says how many there are.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from sitegen.core.addresses import HOME, absolute, experiment_page
from sitegen.core.setup import Journal
from sitegen.core.text import in_words
from sitegen.core.tongue import tr_n
from sitegen.core.wording import Wording, opening
from sitegen.render.briefs import Brief
from sitegen.render.machines.moments import moments
from sitegen.render.machines.places import preview_file
from sitegen.render.verdict import verdict_words

__all__ = ["Feed", "FeedEntry", "feed_of"]

MOST = 60  # entries; some 60 kB, and readers keep what they had


@dataclass(frozen=True, slots=True)
class FeedEntry:
    """One experiment; `id` stays when the experiment is renamed, `address` moves with it."""

    id: str
    address: str
    title: str
    html: str
    summary: str
    published: dt.date | None
    updated: dt.date
    crop: str
    picture: str


@dataclass(frozen=True, slots=True)
class Feed:
    """The entries, latest change first."""

    journal: Journal
    home: str
    about: str
    updated: dt.date
    entries: tuple[FeedEntry, ...]


def feed_of(journal: Journal, wording: Wording, briefs: Sequence[Brief]) -> Feed | None:
    """The feed of a site with an address."""
    names = {brief.id for brief in briefs}
    found = [entry for brief in briefs if (entry := _entry(brief, names, journal, wording)) is not None]
    if not found:
        return None
    found.sort(key=lambda entry: entry.id)
    found.sort(key=lambda entry: entry.updated, reverse=True)
    return Feed(
        journal,
        absolute(HOME, journal.address),
        _about(journal, len(briefs) - len(found)),
        found[0].updated,
        tuple(found[:MOST]),
    )


def _about(journal: Journal, undated: int) -> str:
    tagline = f"{journal.tagline.rstrip('.')}." if journal.tagline else ""
    left_out = _left_out(undated) if undated else ""
    return " ".join(part for part in (tagline, left_out) if part)


def _left_out(undated: int) -> str:
    return tr_n(
        "{number} experiment without any date cannot be listed here.",
        "{number} experiments without any date cannot be listed here.",
        undated,
        number=opening(in_words(undated)),
    )


def _entry(brief: Brief, names: Iterable[str], journal: Journal, wording: Wording) -> FeedEntry | None:
    when = moments(brief)
    if when.updated is None:
        return None
    said = tuple(_said(brief, wording))
    return FeedEntry(
        id=absolute(experiment_page(_first_name(brief, names)), journal.address),
        address=absolute(brief.address, journal.address),
        title=brief.title,
        html="".join(Markup("<p>{}</p>").format(text) for text in said),
        summary=" ".join(said),
        published=when.published,
        updated=when.updated,
        crop=brief.setup.crop.name,
        picture=absolute(preview_file(brief.id), journal.address),
    )


def _first_name(brief: Brief, names: Iterable[str]) -> str:
    """The name that the experiment was first published under, unless another now has it."""
    return next((old for old in brief.setup.was if old not in names), brief.id)


def _said(brief: Brief, wording: Wording) -> Iterable[str]:
    setup = brief.setup
    yield " · ".join(part for part in (setup.crop.name, brief.variety, brief.system, brief.dates) if part)
    if setup.question:
        yield setup.question
    yield brief.result.plain(wording)
    if brief.running:
        yield f"{brief.state}."
    if setup.answer:
        yield verdict_words(setup.answer)
