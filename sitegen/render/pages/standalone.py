"""The page of one experiment as a standalone folder, for review.

In: the experiment's pages as they stand on a site, and those that are alike for all. Out: the same pages, the
experiment's own as `index.html`. A link to a page that is not among them is plain text; nothing leads out of the folder
but what led to other sites. No page is changed otherwise, and none is made here.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape, unescape
from html.parser import HTMLParser
from urllib.parse import unquote, urlsplit

from sitegen.core.site.addresses import HOME, experiment_page, link, record_page
from sitegen.core.site.page import HTML, Page
from sitegen.render.pages.text_pages import cautions, methods
from sitegen.render.templates.context import Context

_ATTRIBUTE = re.compile(r"""(?P<name>\s(?:href|src))=(?P<quote>["'])(?P<value>.*?)(?P=quote)""", re.DOTALL)
_SET = re.compile(r"""(?P<name>\ssrcset)=(?P<quote>["'])(?P<value>.*?)(?P=quote)""", re.DOTALL)
_SEARCH = re.compile(r"""\sdata-find=(["']).*?\1""", re.DOTALL)  # its index lists the whole site
_KEPT = re.compile(r"""\s(?:class|id)=(["']).*?\1""", re.DOTALL)
RECORD = "record.html"
_NO_INDEX = '<meta name="robots" content="noindex">\n'


def shared_pages(context: Context) -> tuple[Page, ...]:
    """The pages that every experiment's page needs: methods, cautions, the theme's assets."""
    return (*methods(context), *cautions(context), *context.assets.values())


def standalone_pages(pages: Sequence[Page], experiment: str, ribbon: str) -> tuple[Page, ...]:
    """These pages as a folder of their own. `ribbon` is a text at the top of each."""
    own, record = experiment_page(experiment), record_page(experiment)
    others = {
        page.address for page in pages if page.media == HTML and page.address.startswith("experiments/")
    }
    kept = [page for page in pages if page.address not in others - {record}]
    found = {page.address: page.address for page in kept} | {own: HOME, record: RECORD}
    first = next(page for page in pages if page.address == own)
    return tuple(
        _Alone(page, found, ribbon).page() if page.media == HTML else page for page in (first, *kept)
    )


@dataclass(frozen=True, slots=True)
class _Piece:
    """A part of a page's text, and its replacement."""

    begin: int
    end: int
    text: str


class _Alone(HTMLParser):
    """Reads one page and collects the replacements; everything else stays byte for byte."""

    def __init__(self, page: Page, found: Mapping[str, str], ribbon: str) -> None:
        super().__init__(convert_charrefs=False)
        self._was, self._is = page.address, found[page.address]
        self._found, self._ribbon = found, ribbon
        self._text = page.content.decode()
        self._lines = [0, *(match.end() for match in re.finditer("\n", self._text))]
        self._pieces: list[_Piece] = []
        self._opened: list[str] = []  # for each link that is open, what ends it
        self._drawings = 0

    def page(self) -> Page:
        """The page in the folder."""
        self.feed(self._text)
        self.close()
        return Page(self._is, HTML, "".join(self._parts()))

    def _parts(self) -> Iterator[str]:
        at = 0
        for piece in self._pieces:
            yield self._text[at : piece.begin]
            yield piece.text
            at = piece.end
        yield self._text[at:]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """A start tag: its addresses are turned; a link that leads nowhere becomes plain."""
        written = self.get_starttag_text() or ""
        self._drawings += tag == "svg"
        if tag == "a":
            lost = self._is_lost(dict(attrs).get("href"))
            plain = ("g" if self._drawings else "span") if lost else ""
            self._opened.append(plain)
            if plain:
                kept = "".join(match[0] for match in _KEPT.finditer(written))
                self._put(len(written), f"<{plain}{kept}>")
                return
        turned = _SEARCH.sub("", _SET.sub(self._set, _ATTRIBUTE.sub(self._attribute, written)))
        if tag == "body":
            turned += f'\n<aside class="ribbon" aria-label="{escape(self._ribbon)}"><p>{escape(self._ribbon)}</p></aside>'
        if turned != written:
            self._put(len(written), turned)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """A tag that ends itself."""
        self.handle_starttag(tag, attrs)
        self._drawings -= tag == "svg"
        if tag == "a":
            self._opened.pop()

    def handle_endtag(self, tag: str) -> None:
        """An end tag: that of a plain link is another's; no machine shall list the page."""
        begin = self._at()
        end = self._text.index(">", begin) + 1
        self._drawings -= tag == "svg"
        if tag == "head":
            self._pieces.append(_Piece(begin, begin, _NO_INDEX))
        elif tag == "a" and self._opened and (plain := self._opened.pop()):
            self._pieces.append(_Piece(begin, end, f"</{plain}>"))

    def _at(self) -> int:
        line, column = self.getpos()
        return self._lines[line - 1] + column

    def _put(self, length: int, text: str) -> None:
        self._pieces.append(_Piece(self._at(), self._at() + length, text))

    def _is_lost(self, href: str | None) -> bool:
        target = self._target(href or "")
        return bool(target) and target not in self._found

    def _target(self, href: str) -> str:
        """The address on the site that a link leads to; empty for one on the page itself or to another site."""
        parts = urlsplit(href)
        if parts.scheme or parts.netloc or not parts.path:
            return ""
        return posixpath.normpath(posixpath.join(posixpath.dirname(self._was), unquote(parts.path)))

    def _turned(self, href: str) -> str:
        target = self._found.get(self._target(href))
        if target is None:
            return href
        fragment = urlsplit(href).fragment
        return link(f"{target}#{fragment}" if fragment else target, self._is)

    def _attribute(self, match: re.Match[str]) -> str:
        turned = self._turned(unescape(match["value"]))
        return f"{match['name']}={match['quote']}{escape(turned)}{match['quote']}"

    def _set(self, match: re.Match[str]) -> str:
        """Several sizes of a picture: each is an address and a width."""
        sizes = (size.split() for size in unescape(match["value"]).split(","))
        turned = ", ".join(" ".join((self._turned(size[0]), *size[1:])) for size in sizes if size)
        return f"{match['name']}={match['quote']}{escape(turned)}{match['quote']}"
