"""The list of pages for search engines.

In: the addresses of all pages and the summaries. Out: `sitemap.xml`; beyond the limit of one file, an index of several.
Pages that only lead elsewhere are not listed.

References
----------
Sitemaps 0.9, https://www.sitemaps.org/protocol.html: at most 50,000 addresses and 52,428,800 bytes a file, each address
shorter than 2,048 signs.

"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from xml.etree.ElementTree import Element

from sitegen.core.records.setup import Journal
from sitegen.core.site.addresses import (
    COMPARE,
    HOME,
    NOT_FOUND,
    absolute,
    crop_page,
    experiment_page,
    season_page,
    system_page,
)
from sitegen.core.site.page import Page
from sitegen.render.metadata.addresses import SITEMAP
from sitegen.render.metadata.feeds import latest_change
from sitegen.render.metadata.xml import child, xml_document
from sitegen.render.pages.summary import RunSummary

MOST_ADDRESSES = 20_000  # of the longest there may be, some 24,000 reach the bound in bytes
_LONGEST = 2047
_SPACE = "http://www.sitemaps.org/schemas/sitemap/0.9"
_MEDIA = "application/xml"


def sitemaps(
    journal: Journal, summaries: Sequence[RunSummary], addresses: Iterable[str], most: int = MOST_ADDRESSES
) -> Iterator[Page]:
    """The sitemap of a site with an address."""
    names = {summary.id for summary in summaries}
    hidden = {
        NOT_FOUND,
        *(experiment_page(old) for b in summaries for old in b.setup.was if old not in names),
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
        for page in (summary.address, season_page(setup.season), crop_page(setup.crop.id), *systems):
            shown.setdefault(page, []).append(summary)
    return {page: latest_change(runs) for page, runs in shown.items()}
