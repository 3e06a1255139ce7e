"""Feeds and the sitemap: lists of pages for programs.

In: the journal, its summaries, the addresses of all pages. Out: `Feed`, or None where no run has a date (a run
without any date cannot stand in a feed; the feed says how many there are); `sitemap.xml`, beyond the limit of one
file an index of several. Pages that only lead elsewhere are not listed. Signs that XML cannot hold are dropped.

References
----------
XML 1.0, 5th ed., section 2.2 (which signs may stand in a document)

Sitemaps 0.9, https://www.sitemaps.org/protocol.html: at most 50,000 addresses and 52,428,800 bytes a file, each address
shorter than 2,048 signs.

"""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from markupsafe import Markup

from sitegen.core.language.catalogue import tr_n
from sitegen.core.language.text import in_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.setup import Journal
from sitegen.core.site.addresses import (
    ATOM,
    ATOM_MEDIA,
    COMPARE,
    HOME,
    JSON_FEED,
    JSON_FEED_MEDIA,
    NOT_FOUND,
    SITEMAP,
    absolute,
    crop_page,
    experiment_page,
    preview_file,
    record_page,
    season_page,
    system_page,
)
from sitegen.core.site.page import Page
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.run_sentences import verdict_words

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def child(parent: Element, name: str, text: str = "", /, **attributes: str) -> Element:
    """An element at the end of another."""
    node = SubElement(parent, name, {key: _clean(value) for key, value in attributes.items()})
    node.text = _clean(text) or None
    return node


def xml_document(root: Element) -> str:
    """A document."""
    indent(root, " ")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{tostring(root, encoding="unicode")}\n'


def _clean(text: str) -> str:
    return _NOT_XML.sub("", text)


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


def feed_of(journal: Journal, wording: Wording, summaries: Sequence[RunSummary]) -> Feed | None:
    """The feed of a site with an address."""
    names = {summary.id for summary in summaries}
    begun = [summary for summary in summaries if summary.stage != "planned"]
    found = [
        entry for summary in begun if (entry := _feed_entry(summary, names, journal, wording)) is not None
    ]
    if not found:
        return None
    found.sort(key=lambda entry: entry.id)
    found.sort(key=lambda entry: entry.updated, reverse=True)
    return Feed(
        journal,
        absolute(HOME, journal.address),
        _about(journal, sum(each.logged and publication_dates(each).updated is None for each in begun)),
        found[0].updated,
        tuple(found[:MOST]),
    )


def _about(journal: Journal, undated: int) -> str:
    tagline = f"{journal.tagline.rstrip('.')}." if journal.tagline else ""
    left_out = _left_out(undated) if undated else ""
    return " ".join(part for part in (tagline, left_out) if part)


def _left_out(undated: int) -> str:
    return tr_n(
        "{number} run without any date is not shown here.",
        "{number} runs without any date are not shown here.",
        undated,
        number=opening(in_words(undated)),
    )


def _feed_entry(
    summary: RunSummary, names: Iterable[str], journal: Journal, wording: Wording
) -> FeedEntry | None:
    when = publication_dates(summary)
    if when.updated is None:
        return None
    said = tuple(_said(summary, wording))
    return FeedEntry(
        id=absolute(experiment_page(_first_name(summary, names)), journal.address),
        address=absolute(summary.address, journal.address),
        title=summary.title,
        html="".join(Markup("<p>{}</p>").format(text) for text in said),
        summary=" ".join(said),
        published=when.published,
        updated=when.updated,
        crop=summary.setup.crop.name,
        picture=absolute(preview_file(summary.id, photo=summary.picture is not None), journal.address),
    )


def _first_name(summary: RunSummary, names: Iterable[str]) -> str:
    """The name that the experiment was first published under, unless another now has it."""
    return next((old for old in summary.setup.was if old not in names), summary.id)


def _said(summary: RunSummary, wording: Wording) -> Iterable[str]:
    setup = summary.setup
    yield " · ".join(
        part for part in (setup.crop.name, summary.variety, summary.system, summary.dates(wording)) if part
    )
    if setup.question:
        yield setup.question
    yield summary.result.plain(wording)
    if summary.running:
        yield f"{summary.state(wording)}."
    if words := verdict_words(setup.answer):
        yield words


def atom(feed: Feed) -> Page:
    """The whole feed."""
    journal = feed.journal
    root = Element("feed", {"xmlns": "http://www.w3.org/2005/Atom", "xml:lang": journal.language})
    child(root, "id", feed.home)
    child(root, "title", journal.title)
    if feed.about:
        child(root, "subtitle", feed.about)
    child(root, "updated", stamp(feed.updated))
    child(root, "link", rel="self", type=ATOM_MEDIA, href=absolute(ATOM, journal.address))
    child(root, "link", rel="alternate", type="text/html", href=feed.home)
    author = child(root, "author")
    child(author, "name", journal.author.name or journal.title)
    if journal.author.link:
        child(author, "uri", journal.author.link)
    if journal.licence:
        child(root, "rights", journal.licence)
    for entry in feed.entries:
        root.append(_entry_element(entry))
    return Page(ATOM, ATOM_MEDIA, xml_document(root))


def _entry_element(entry: FeedEntry) -> Element:
    node = Element("entry")
    child(node, "id", entry.id)
    child(node, "title", entry.title)
    if entry.published:
        child(node, "published", stamp(entry.published))
    child(node, "updated", stamp(entry.updated))
    child(node, "link", rel="alternate", type="text/html", href=entry.address)
    child(node, "category", term=entry.crop)
    child(node, "content", entry.html, type="html")
    return node


def json_feed(feed: Feed) -> Page:
    """The whole feed."""
    journal = feed.journal
    author = {"name": journal.author.name or journal.title}
    data = {
        "version": "https://jsonfeed.org/version/1.1",
        "title": journal.title,
        "home_page_url": feed.home,
        "feed_url": absolute(JSON_FEED, journal.address),
        **({"description": feed.about} if feed.about else {}),
        "authors": [author | ({"url": journal.author.link} if journal.author.link else {})],
        "language": journal.language,
        "items": [_item(entry) for entry in feed.entries],
    }
    return Page(JSON_FEED, JSON_FEED_MEDIA, json.dumps(data, indent=1, ensure_ascii=False) + "\n")


def _item(entry: FeedEntry) -> dict[str, Any]:
    published = {"date_published": stamp(entry.published)} if entry.published else {}
    return {
        "id": entry.id,
        "url": entry.address,
        "title": entry.title,
        "content_html": entry.html,
        "summary": entry.summary,
        "image": entry.picture,
        **published,
        "date_modified": stamp(entry.updated),
        "tags": [entry.crop],
    }


@dataclass(frozen=True, slots=True)
class PublicationDates:
    """Two dates; `updated` is never before `published`."""

    published: dt.date | None
    updated: dt.date | None


def publication_dates(summary: RunSummary) -> PublicationDates:
    """The dates of a run: publication, last entry, corrections and rewriting."""
    setup = summary.setup
    episodes = (episode.published for episode in setup.episodes)
    published = setup.publish or min((when for when in episodes if when), default=None)
    dates = (
        published,
        summary.axis.start.date_of(summary.axis.last) if summary.logged else None,
        setup.revised,
        *(correction.date for correction in setup.corrections),
    )
    return PublicationDates(published, max((when for when in dates if when), default=None))


def latest_change(summaries: Iterable[RunSummary]) -> dt.date | None:
    """The latest change of several runs."""
    dates = (publication_dates(summary).updated for summary in summaries)
    return max((when for when in dates if when), default=None)


def stamp(when: dt.date) -> str:
    """A date as feeds want it (RFC 3339); the records know no hours."""
    return f"{when.isoformat()}T00:00:00Z"


MOST_ADDRESSES = 20_000  # of the longest there may be, some 24,000 reach the bound in bytes
_LONGEST = 2047
_SPACE = "http://www.sitemaps.org/schemas/sitemap/0.9"
_MEDIA = "application/xml"


def sitemaps(
    journal: Journal, summaries: Sequence[RunSummary], addresses: Iterable[str], most: int = MOST_ADDRESSES
) -> Iterator[Page]:
    """The sitemap of a site with an address."""
    names, own = {summary.id for summary in summaries}, (experiment_page, record_page)
    hidden = {
        NOT_FOUND,
        *(page(old) for b in summaries for old in b.setup.was if old not in names for page in own),
    }
    changed = _changed(summaries)
    listed = [
        (full, changed.get(page))
        for page in sorted(addresses)
        if page not in hidden and len(full := absolute(page, journal.address)) <= _LONGEST
    ]
    parts = [listed[begin : begin + most] for begin in range(0, len(listed), most)]
    if len(parts) <= 1:
        yield _urls(SITEMAP, listed)
        return
    files = [(f"sitemap-{number}.xml", part) for number, part in enumerate(parts, start=1)]
    root = Element("sitemapindex", {"xmlns": _SPACE})
    for name, part in files:
        yield _urls(name, part)
        child(child(root, "sitemap"), "loc", absolute(name, journal.address))
    yield Page(SITEMAP, _MEDIA, xml_document(root))


def _urls(name: str, listed: Iterable[tuple[str, dt.date | None]]) -> Page:
    root = Element("urlset", {"xmlns": _SPACE})
    for full, when in listed:
        node = child(root, "url")
        child(node, "loc", full)
        if when:
            child(node, "lastmod", when.isoformat())
    return Page(name, _MEDIA, xml_document(root))


def _changed(summaries: Sequence[RunSummary]) -> dict[str, dt.date | None]:
    """The date of the last change of each page."""
    shown: dict[str, list[RunSummary]] = {HOME: list(summaries), COMPARE: list(summaries)}
    for summary in summaries:
        setup = summary.setup
        systems = {system_page(tub.system.id) for tub in setup.tubs}
        own = (summary.address, record_page(summary.id))
        for page in (*own, season_page(setup.season), crop_page(setup.crop.id), *systems):
            shown.setdefault(page, []).append(summary)
    return {page: latest_change(runs) for page, runs in shown.items()}
