"""The feed in Atom.

In: `Feed`. Out: a page. Dates are those of the records.

References
----------
RFC 4287, The Atom Syndication Format

"""

from __future__ import annotations

from xml.etree.ElementTree import Element

from sitegen.core.addresses import absolute
from sitegen.core.page import Page
from sitegen.render.machines.feed import Feed, FeedEntry
from sitegen.render.machines.moments import stamp
from sitegen.render.machines.places import ATOM, ATOM_MEDIA
from sitegen.render.machines.xml import child, written

__all__ = ["atom"]


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
        root.append(_entry(entry))
    return Page(ATOM, ATOM_MEDIA, written(root))


def _entry(entry: FeedEntry) -> Element:
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
