"""The addresses of pages, the links between them, and anchors.

In: ids and names. Out: addresses relative to the site's root, links from one page to another, anchors. A link never
begins with a slash: the site works in any folder, under any sub-path and from a disk.
"""

from __future__ import annotations

import posixpath
import re
import unicodedata
from functools import lru_cache

from sitegen.core.values.day import Day

HOME = "index.html"
COMPARE = "compare.html"
METHODS = "methods.html"
CAUTIONS = "cautions.html"
NOT_FOUND = "404.html"
ASSETS = "assets"
SEARCH_INDEX = (
    "find.js"  # without a digest: every page links to it, and would change whenever one of them does
)


def experiment_page(experiment: str) -> str:
    """The page of an experiment, by its id."""
    return f"experiments/{experiment}.html"


def record_page(experiment: str) -> str:
    """The record of an experiment: every visit, all numbers and their working, the data."""
    return f"experiments/{experiment}/record.html"


def season_page(season: str) -> str:
    """The page of a season, by its id."""
    return f"seasons/{season}.html"


def crop_page(crop: str) -> str:
    """The page that compares the runs of a crop, by its id."""
    return f"crops/{crop}.html"


def system_page(system: str) -> str:
    """The page that compares the runs in a system, by its id."""
    return f"systems/{system}.html"


def free_page(name: str) -> str:
    """The page of a free text, by the name of its file without ending."""
    return f"{slug(name)}.html"


def link(target: str, page: str) -> str:
    """The link from a page to a target, both relative to the root; within the page it is the anchor alone."""
    path, hash_sign, anchor = target.partition("#")
    if path in ("", page):
        return f"#{anchor}" if hash_sign else posixpath.basename(page)
    # From a root of its own: else the working folder would be asked for, which may be gone.
    return posixpath.relpath(f"/{path}", posixpath.dirname(f"/{page}")) + hash_sign + anchor


def absolute(page: str, root: str) -> str:
    """The full address of a page; empty where the site's own is unknown. The home page is the root itself."""
    if not root:
        return ""
    base = root if root.endswith("/") else root + "/"
    return base if page == HOME else base + page


def working_anchor(figure: str) -> str:
    """The anchor of a figure's working: `working-harvest-total` for `harvest.total`."""
    return "working-" + "-".join(_part(part) for part in figure.split("."))


def method_anchor(method: str) -> str:
    """The anchor of a formula on the methods page."""
    return "method-" + slug(method)


def variety_anchor(variety: str) -> str:
    """The anchor of a variety on the page of its crop: `variety-amber`."""
    return f"variety-{_part(variety)}"


def day_anchor(day: Day) -> str:
    """The anchor of a day: `day-26`; of a span, that of its first day."""
    return f"day-{max(0, day.key[0])}"


@lru_cache(maxsize=1024)  # a part of the names of hundreds of figures
def _part(text: str) -> str:
    # Capitals stay: `P1` and `p1` may be two plants.
    return "".join(sign if sign.isalnum() or sign in "_-" else "-" for sign in text)


def slug(text: str) -> str:
    """A text as a part of an address: lower-case letters, digits and hyphens."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")


ATOM, ATOM_MEDIA = "feed.xml", "application/atom+xml"
JSON_FEED, JSON_FEED_MEDIA = "feed.json", "application/feed+json"
SITEMAP = "sitemap.xml"
LISTINGS = frozenset({SEARCH_INDEX, ATOM, JSON_FEED, SITEMAP})  # files that name the pages of the site
SITE_PREVIEW = "previews/site.png"
ICON = "icon.svg"  # among the theme's assets


def preview_file(experiment: str, *, photo: bool) -> str:
    """The preview image of an experiment's page; one with a photo is a JPEG."""
    return f"previews/experiments/{experiment}.{'jpg' if photo else 'png'}"
