"""The feed in JSON.

In: `Feed`. Out: a page.

References
----------
JSON Feed 1.1, https://jsonfeed.org/version/1.1

"""

from __future__ import annotations

import json
from typing import Any

from sitegen.core.addresses import absolute
from sitegen.core.page import Page
from sitegen.render.machines.feed import Feed, FeedEntry
from sitegen.render.machines.moments import stamp
from sitegen.render.machines.places import JSON_FEED, JSON_FEED_MEDIA

__all__ = ["json_feed"]


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
