"""Raw HTML in the author's texts: the elements and attributes that pages take, and findings about the others.

In: the HTML of a text, and the pieces of it that were written as HTML. Out: HTML without scripts, styles, frames, forms,
event handlers and anything from another host; a finding at each place that is left out. A library cleans the whole text,
because one piece may open an element that another closes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html.parser import HTMLParser

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.language.text import plural

_EVERYWHERE = frozenset({"class", "dir", "lang", "title"})
_PLAIN = (
    "abbr b bdi bdo blockquote br caption cite code dd dfn div dl dt em figcaption figure h1 h2 h3 h4 h5 h6 hr i kbd li "
    "mark p pre q rp rt ruby s samp section small span strong sub summary sup table tbody tfoot thead tr u ul var wbr"
)
# Every other element keeps only attributes that run nothing and load nothing.
_TAGS: dict[str, frozenset[str]] = {
    **dict.fromkeys(_PLAIN.split(), frozenset[str]()),
    "a": frozenset({"href", "rel"}),
    "col": frozenset({"span"}),
    "colgroup": frozenset({"span"}),
    "del": frozenset({"datetime"}),
    "details": frozenset({"open"}),
    "ins": frozenset({"datetime"}),
    "ol": frozenset({"reversed", "start", "type"}),
    "td": frozenset({"colspan", "rowspan"}),
    "th": frozenset({"colspan", "rowspan", "scope"}),
    "time": frozenset({"datetime"}),
}
_SCHEMES = frozenset({"http", "https", "mailto", "tel"})
_FOOTNOTE = re.compile(r"fn(ref)?\d+(:\d+)?")
_HEADING = re.compile(r"<(/?)h[1-6]\b", re.IGNORECASE)
_SCHEME = re.compile(r"\s*([A-Za-z][A-Za-z0-9+.-]*):")

_FRAMES = ("audio", "embed", "frame", "iframe", "object", "video")
_MENDS = {
    "script": "remove it: a text runs nothing",
    "style": "put rules into look/assets/look.css",
    "img": "put it into photos/ and place it by a `photo` block",
    "picture": "put it into photos/ and place it by a `photo` block",
    "link": "put rules into look/assets/look.css",
    **dict.fromkeys(_FRAMES, "link to it instead"),
    **dict.fromkeys((f"h{level}" for level in range(1, 7)), "write the heading in Markdown, with `#`"),
}


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of raw HTML, and the line and column that it begins at, from 1."""

    text: str
    line: int
    column: int


def cleaned(html: str, prefix: str, resolve: Callable[[str], str] | None) -> str:
    """Clean HTML. `prefix` begins the anchors of the text; `resolve` turns the addresses of links."""
    import nh3  # noqa: PLC0415 - only where a journal takes raw HTML

    def kept(tag: str, name: str, value: str) -> str | None:
        if name == "id":
            return value if value.startswith(prefix) or _FOOTNOTE.fullmatch(value) else None
        if (tag, name) == ("a", "href") and resolve is not None:
            return resolve(value)
        return value

    return nh3.clean(
        html,
        tags=set(_TAGS),
        attributes={"*": {*_EVERYWHERE, "id"}, **{tag: set(names) for tag, names in _TAGS.items() if names}},
        attribute_filter=kept,
        url_schemes=set(_SCHEMES),
        link_rel=None,
    )


def without_headings(html: str) -> str:
    """A piece with paragraphs in place of headings: the outline of a page comes from Markdown alone."""
    return _HEADING.sub(r"<\1p", html)


def report_raw_html(pieces: Sequence[Piece], file: str, findings: Findings) -> None:
    """One finding for a text whose HTML is shown as text."""
    if not pieces:
        return
    first = pieces[0]
    shown = first.text.split("\n", 1)[0]
    more = f", here and in {plural(len(pieces) - 1, 'other place')}" if len(pieces) > 1 else ""
    findings.add(
        "raw-html",
        Source(file, first.line, first.column, max(1, len(shown))),
        f"raw HTML is shown as text{more}",
        mend="write it in Markdown, or `raw_html: true` in journal.yaml",
        found=shown,
        expected="Markdown",
    )


def report_removed(pieces: Sequence[Piece], file: str, findings: Findings) -> None:
    """A finding for each element and attribute that pages do not take."""
    for piece in pieces:
        reader = _Reader(piece, file, findings)
        reader.feed(piece.text)
        reader.close()


class _Reader(HTMLParser):
    """Reads one piece and reports each tag, attribute and address that pages do not take."""

    def __init__(self, piece: Piece, file: str, findings: Findings) -> None:
        super().__init__(convert_charrefs=True)
        self._piece, self._file, self._findings = piece, file, findings

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Compare a tag with the table."""
        if tag not in _TAGS or _HEADING.match(f"<{tag}"):
            self._report(f"`<{tag}>`", f"<{tag}", _MENDS.get(tag, "remove it"))
            return
        for name, value in attrs:
            if name not in _EVERYWHERE | _TAGS[tag]:
                mend = _MENDS["style"] if name == "style" else "remove it"
                self._report(f"`{name}` of `<{tag}>`", name, mend)
            elif (
                name == "href" and (match := _SCHEME.match(value or "")) and match[1].lower() not in _SCHEMES
            ):
                self._report(
                    f"an address with `{match[1]}:`", match[1], "link to a page, or to an https address"
                )

    def _report(self, words: str, found: str, mend: str) -> None:
        """A finding at its place: inside the tag, where the text has it."""
        line, column = self.getpos()
        tag = (self.get_starttag_text() or "").split("\n", 1)[0]
        column += max(0, tag.lower().find(found.lower())) + (self._piece.column if line == 1 else 1)
        self._findings.add(
            "html-removed",
            Source(self._file, self._piece.line + line - 1, column, len(found)),
            f"{words} is left out of the page",
            mend=mend,
            found=found,
        )
