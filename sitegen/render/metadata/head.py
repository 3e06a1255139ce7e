"""What stands in the head of a page for machines alone.

In: the journal, what the page is about, the theme's assets. Out: markup: icon, feeds, tags for links to the page, linked
data. The icon is linked as the page's other files are; tags and feeds need the site's address.

References
----------
The Open Graph protocol, https://ogp.me/

"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from sitegen.core.records.setup import Journal
from sitegen.core.site.addresses import absolute, link
from sitegen.core.site.content import ExperimentContent
from sitegen.render.metadata.addresses import (
    ATOM,
    ATOM_MEDIA,
    JSON_FEED,
    JSON_FEED_MEDIA,
    SITE_PREVIEW,
    preview_file,
)
from sitegen.render.metadata.linked_data import json_text, of_experiment, of_page
from sitegen.render.metadata.previews import HEIGHT, WIDTH
from sitegen.render.pages.summary import RunSummary


@dataclass(frozen=True, slots=True)
class Subject:
    """What a page is about; `summary` and `content` for the page of one experiment."""

    address: str
    title: str
    description: str = ""
    summary: RunSummary | None = None
    content: ExperimentContent | None = None


def head_markup(journal: Journal, subject: Subject, *, icon: str, feeds: bool) -> Markup:
    """The lines of a page's head. `icon` is the icon's address on the site, or empty."""
    lines = [*_icon(subject, icon), *_feeds(journal, subject, feeds), *_tags(journal, subject)]
    data = Markup('<script type="application/ld+json">{}</script>')  # data: nothing runs it
    lines.append(data.format(Markup(json_text(_linked(journal, subject)))))  # noqa: S704 - escaped as JSON
    return Markup("\n").join(lines)


def _icon(subject: Subject, icon: str) -> Iterator[Markup]:
    if icon:
        href = link(icon, subject.address)
        yield Markup('<link rel="icon" type="image/svg+xml" href="{}">').format(href)


def _feeds(journal: Journal, subject: Subject, feeds: bool) -> Iterator[Markup]:
    if not (journal.address and feeds):
        return
    line = Markup('<link rel="alternate" type="{}" title="{}" href="{}">')
    for media, name, file in ((ATOM_MEDIA, "Atom", ATOM), (JSON_FEED_MEDIA, "JSON", JSON_FEED)):
        yield line.format(media, f"{journal.title} ({name})", link(file, subject.address))


def _tags(journal: Journal, subject: Subject) -> Iterator[Markup]:
    if not journal.address:
        return
    picture = preview_file(subject.summary.id) if subject.summary else SITE_PREVIEW
    tags = {
        "og:site_name": journal.title,
        "og:title": subject.title,
        "og:type": "article" if subject.summary else "website",
        "og:url": absolute(subject.address, journal.address),
        "og:description": subject.description,
        "og:image": absolute(picture, journal.address),
        "og:image:type": "image/png",
        "og:image:width": str(WIDTH),
        "og:image:height": str(HEIGHT),
        "og:image:alt": f"{subject.title if subject.summary else journal.title}, as a title on paper",
    }
    for name, text in tags.items():
        if text:
            yield Markup('<meta property="{}" content="{}">').format(name, text)


def _linked(journal: Journal, subject: Subject) -> dict[str, object]:
    if subject.summary and subject.content:
        return of_experiment(journal, subject.summary, subject.content, subject.description)
    return of_page(journal, subject.address, subject.title, subject.description)
