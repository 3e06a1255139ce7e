"""Where the files for machines stand.

In: nothing. Out: addresses relative to the site's root.
"""

from __future__ import annotations

__all__ = ["ATOM", "ICON", "JSON_FEED", "SITEMAP", "SITE_PREVIEW", "preview_file"]

ATOM = "feed.xml"
JSON_FEED = "feed.json"
SITEMAP = "sitemap.xml"
SITE_PREVIEW = "previews/site.png"
ICON = "icon.svg"  # among the theme's assets


def preview_file(experiment: str) -> str:
    """The picture that stands for an experiment's page."""
    return f"previews/experiments/{experiment}.png"
