"""The head of a page, and the metadata in it.

In: the journal, the head of a page, the theme's icon. Out: markup: icon, feeds, Open Graph tags, linked data. Tags and
feeds need the site's address.

References
----------
The Open Graph protocol, https://ogp.me/

"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from sitegen.core.records.setup import Journal
from sitegen.core.site.addresses import (
    ATOM,
    ATOM_MEDIA,
    HOME,
    JSON_FEED,
    JSON_FEED_MEDIA,
    SITE_PREVIEW,
    absolute,
    link,
    preview_file,
)
from sitegen.core.site.content import ExperimentContent
from sitegen.render.metadata.linked_data import json_text, of_experiment, of_page
from sitegen.render.metadata.previews import HEIGHT, JPEG, PNG, WIDTH
from sitegen.render.pages.summary import RunSummary


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a page; `here` is the page's item of the navigation.

    `summary` and `content` are the experiment that the page is about, where it is about one.
    """

    address: str
    title: str
    description: str = ""
    here: str = HOME
    summary: RunSummary | None = None
    content: ExperimentContent | None = None


def head_markup(journal: Journal, head: Head, *, icon: str, feeds: bool) -> Markup:
    """The lines of a page's head. `icon` is the icon's address on the site, or empty."""
    lines = [*_icon(head, icon), *_feeds(journal, head, feeds), *_tags(journal, head)]
    data = Markup('<script type="application/ld+json">{}</script>')  # data: nothing runs it
    lines.append(data.format(Markup(json_text(_linked(journal, head)))))  # noqa: S704 - escaped as JSON
    return Markup("\n").join(lines)


def _icon(head: Head, icon: str) -> Iterator[Markup]:
    if icon:
        href = link(icon, head.address)
        yield Markup('<link rel="icon" type="image/svg+xml" href="{}">').format(href)


def _feeds(journal: Journal, head: Head, feeds: bool) -> Iterator[Markup]:
    if not (journal.address and feeds):
        return
    line = Markup('<link rel="alternate" type="{}" title="{}" href="{}">')
    for media, name, file in ((ATOM_MEDIA, "Atom", ATOM), (JSON_FEED_MEDIA, "JSON", JSON_FEED)):
        yield line.format(media, f"{journal.title} ({name})", link(file, head.address))


def _tags(journal: Journal, head: Head) -> Iterator[Markup]:
    if not journal.address:
        return
    photo = head.summary is not None and head.summary.picture is not None
    picture = preview_file(head.summary.id, photo=photo) if head.summary else SITE_PREVIEW
    tags = {
        "og:site_name": journal.title,
        "og:title": head.title,
        "og:type": "article" if head.summary else "website",
        "og:url": absolute(head.address, journal.address),
        "og:description": head.description,
        "og:image": absolute(picture, journal.address),
        "og:image:type": JPEG if photo else PNG,
        "og:image:width": str(WIDTH),
        "og:image:height": str(HEIGHT),
        "og:image:alt": _said(journal, head),
    }
    for name, text in tags.items():
        if text:
            yield Markup('<meta property="{}" content="{}">').format(name, text)


def _said(journal: Journal, head: Head) -> str:
    """What the preview image says: the question of a run with what came of it, else the site's title and tagline."""
    if head.summary is None:
        return ". ".join(filter(None, (journal.title, journal.tagline.rstrip("."))))
    return f"{head.summary.setup.question or head.title} {head.description}".strip()


def _linked(journal: Journal, head: Head) -> dict[str, object]:
    if head.summary and head.content:
        return of_experiment(journal, head.summary, head.content, head.description)
    return of_page(journal, head.address, head.title, head.description)
