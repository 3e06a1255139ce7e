"""Markdown of recaps and free pages → HTML, with the raw HTML that pages take.

In: CommonMark with tables, footnotes and definition lists. Out: HTML whose headings begin below the page's own and
have anchors. Links to other sites say `rel="noopener"`. Raw HTML is shown as text, or cleaned where the journal takes
it: without scripts, styles, frames, forms, event handlers and anything from another host, with a finding at each
place that is left out. A library cleans the whole text, because one piece may open an element that another closes. A
picture is never loaded from here: pages show those of the log.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from html.parser import HTMLParser
from itertools import zip_longest
from typing import Any

from markdown_it.common.utils import escapeHtml
from markdown_it.token import Token
from markupsafe import Markup

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.text import plural
from sitegen.core.site.addresses import slug
from sitegen.core.site.blocks import Block, block_of, kind_of, parser

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

_ON_DISK = re.compile(r"\s*(?:file|[a-z]):", re.IGNORECASE)  # a letter is a drive, as in `C:`

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
        # The parser stops at a declaration in brackets without a name; Markdown takes it for text.
        reader.feed(piece.text.replace("<![", "&lt;!["))
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


LOWEST = 6
_TABLE = re.compile(r"<table(\s[^<>]*)?>")
# Private-use signs stand for what is set into the text after it has been cleaned; they cannot be typed by accident.
_OPEN, _CLOSE = "\ue002", "\ue003"
_PLACED = re.compile(f"{_OPEN}(\\d{{1,6}}){_CLOSE}")
RenderBlock = Callable[[Block], Markup | None]


def to_html(
    text: str,
    *,
    below: int = 1,
    prefix: str = "",
    resolve: Callable[[str], str] | None = None,
    render_block: RenderBlock | None = None,
    raw: bool = False,
) -> Markup:
    """The HTML of a text.

    `below` is the level of the heading that it stands under; its own highest heading comes next. `prefix`
    keeps its anchors apart from the page's. `resolve` turns an address of the text into one of the page, `render_block` a
    block into its markup (None: as it is written). With `raw`, HTML in the text is kept, and cleaned.
    """
    markdown, env, placed = parser(raw=raw), dict[str, Any](), list[Markup]()
    tokens = markdown.parse(text, env)
    _shift_headings(tokens, below, prefix)
    _adapt_tokens(tokens, None if raw else resolve)
    if render_block is not None:
        _set_blocks(tokens, text.split("\n"), render_block, placed)
    html = str(markdown.renderer.render(tokens, markdown.options, env))
    if raw:
        html = cleaned(html, prefix, partial(_resolved, resolve=resolve))
    html = _PLACED.sub(lambda match: next(iter(placed[int(match[1]) :]), match[0]), _boxed_tables(html))
    return Markup(html)  # noqa: S704 # the parser escapes raw HTML, or it has been cleaned


def title_of(text: str) -> tuple[str, str]:
    """The first heading of a text, where it begins with one, and the rest."""
    first, _, rest = text.lstrip().partition("\n")
    return (first.removeprefix("# ").strip(), rest) if first.startswith("# ") else ("", text)


def _shift_headings(tokens: Sequence[Token], below: int, prefix: str) -> None:
    levels = [int(token.tag[1]) for token in tokens if token.type == "heading_open"]
    by = below + 1 - min(levels, default=1)
    seen: dict[str, int] = {}
    for token, inside in zip_longest(tokens, tokens[1:]):
        if token.type not in ("heading_open", "heading_close"):
            continue
        token.tag = f"h{min(LOWEST, int(token.tag[1]) + by)}"
        if token.type == "heading_open" and inside is not None:
            token.attrSet("id", _anchor(inside.content, prefix, seen))


def _anchor(text: str, prefix: str, seen: dict[str, int]) -> str:
    anchor = prefix + (slug(text) or "part")
    seen[anchor] = seen.get(anchor, 0) + 1
    return anchor if seen[anchor] == 1 else f"{anchor}-{seen[anchor]}"


def _adapt_tokens(tokens: Sequence[Token], resolve: Callable[[str], str] | None) -> None:
    """Links, pictures, the alignment of columns and raw HTML as the page takes them."""
    inner = [child for token in tokens for child in (token.children or [])]
    for token in (*tokens, *inner):
        if token.type in ("html_block", "html_inline"):
            token.content = without_headings(token.content)
        elif token.type == "link_open":
            _set_link(token, resolve)
        elif token.type == "image":
            _picture_as_link(token)
        elif token.type in ("th_open", "td_open"):
            _align(token)


def _picture_as_link(token: Token) -> None:
    """Another site's picture becomes a link to it, any other its words: a page asks no other server for anything."""
    source = str(token.attrGet("src") or "")
    words = escapeHtml(token.content) or escapeHtml(source)
    away = source.startswith(("http://", "https://"))
    token.type, token.children = "html_inline", None
    token.content = f'<a href="{escapeHtml(source)}" rel="noopener">{words}</a>' if away else words


def _set_link(token: Token, resolve: Callable[[str], str] | None) -> None:
    target = str(token.attrGet("href") or "")
    if target.startswith(("http://", "https://")):
        token.attrSet("rel", "noopener")
    elif target:
        token.attrSet("href", _resolved(target, resolve))


def _resolved(target: str, resolve: Callable[[str], str] | None) -> str:
    """The way to another page; an address with a scheme is left as it is, unless it is a place on the author's disk."""
    away = ":" in target.partition("/")[0] and not _ON_DISK.match(target)
    if resolve is None or not target or away:
        return target
    return resolve(target)


def _align(token: Token) -> None:
    """The side of a table's column as a class: the page's policy takes no styles in a page."""
    if str(token.attrs.pop("style", "")).endswith("right"):
        token.attrSet("class", "num")


def _set_blocks(
    tokens: Sequence[Token], lines: Sequence[str], render_block: RenderBlock, placed: list[Markup]
) -> None:
    """A placeholder for each block that can be rendered; its markup goes to `placed`."""
    for token in tokens:
        if token.type == "fence" and kind_of(token.info):
            found = render_block(block_of(token, lines, ""))
            if found is not None:
                token.type, token.content = "html_block", f"{_OPEN}{len(placed)}{_CLOSE}"
                placed.append(found)


def _boxed_tables(html: str) -> str:
    """A table scrolls in its own region, never the page."""
    opened = r'<div class="region" role="region" tabindex="0" aria-label="Table"><table\1>'
    return _TABLE.sub(opened, html).replace("</table>", "</table></div>")
