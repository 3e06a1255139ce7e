"""The addresses of feeds, sitemap and preview images, and their media types.

In: nothing. Out: addresses relative to the site's root.
"""

from __future__ import annotations

ATOM, ATOM_MEDIA = "feed.xml", "application/atom+xml"
JSON_FEED, JSON_FEED_MEDIA = "feed.json", "application/feed+json"
SITEMAP = "sitemap.xml"
SITE_PREVIEW = "previews/site.png"
ICON = "icon.svg"  # among the theme's assets


def preview_file(experiment: str) -> str:
    """The preview image of an experiment's page."""
    return f"previews/experiments/{experiment}.png"
