"""What the site offers to machines: feeds, a sitemap, chapters, linked data, tags and pictures for links to it.

In: the context and the pages. Out: more pages, and what stands in the head of each page. What needs full addresses is
made only where the site's own is known. No date here comes from a clock.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import Journal
from sitegen.core.site.page import Page
from sitegen.core.store import Store
from sitegen.render.machines.chapters import chapter_pages
from sitegen.render.machines.preview import preview_of, preview_of_site
from sitegen.render.pages.summary import RunSummary

__all__ = ["chapter_pages", "for_links", "for_machines"]


def for_machines(
    journal: Journal,
    wording: Wording,
    summaries: Sequence[RunSummary],
    pages: Iterable[str],
    store: Store | None,
) -> Iterator[Page]:
    """The files beside the pages of these addresses; none where the site's address is not known."""
    if not journal.address:
        return
    from sitegen.render.machines.feeds import atom, feed_of, json_feed  # noqa: PLC0415 - a page alone does without
    from sitegen.render.machines.sitemap import sitemaps  # noqa: PLC0415 - as above

    feed = feed_of(journal, wording, summaries)
    if feed is not None:
        yield atom(feed)
        yield json_feed(feed)
    yield from sitemaps(journal, summaries, pages)
    yield preview_of_site(journal, store)


def for_links(journal: Journal, wording: Wording, summary: RunSummary, store: Store | None) -> Iterator[Page]:
    """The picture that stands for links to an experiment's page; none where the site's address is not known."""
    if journal.address:
        yield preview_of(journal, summary, wording, store)
