"""Metadata of the site: feeds, a sitemap, linked data, Open Graph tags, preview images.

In: the context and the pages. Out: more pages, and markup for the head of each page. Files that need full addresses are
made only where the site's address is known. No date here comes from a clock.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import Journal
from sitegen.core.site.page import Page
from sitegen.core.store import Store
from sitegen.render.metadata.previews import experiment_preview, site_preview
from sitegen.render.pages.summary import RunSummary

__all__ = ["link_preview", "metadata_files"]


def metadata_files(
    journal: Journal,
    wording: Wording,
    summaries: Sequence[RunSummary],
    pages: Iterable[str],
    store: Store | None,
) -> Iterator[Page]:
    """The files beside the pages of these addresses; none where the site's address is not known."""
    if not journal.address:
        return
    from sitegen.render.metadata.feeds import (  # noqa: PLC0415 - a page alone does without
        atom,
        feed_of,
        json_feed,
        sitemaps,
    )

    feed = feed_of(journal, wording, summaries)
    if feed is not None:
        yield atom(feed)
        yield json_feed(feed)
    yield from sitemaps(journal, summaries, pages)
    yield site_preview(journal, store)


def link_preview(
    journal: Journal, wording: Wording, summary: RunSummary, store: Store | None, files: Iterable[Page] = ()
) -> Iterator[Page]:
    """The preview image of an experiment's page; none where the site's address is not known. `files` has its photos."""
    if journal.address:
        yield experiment_preview(summary, wording, store, files)
