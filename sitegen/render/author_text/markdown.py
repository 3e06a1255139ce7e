"""Markdown of recaps and free pages → HTML.

In: CommonMark with tables, footnotes and definition lists. Out: HTML whose headings begin below the page's own and have
anchors. Links to other sites say `rel="noopener"`. Raw HTML is shown as text, or cleaned where the journal takes it. A
picture is never loaded from here: pages show those of the log.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import partial
from itertools import zip_longest
from typing import Any

from markdown_it.common.utils import escapeHtml
from markdown_it.token import Token
from markupsafe import Markup

from sitegen.core.site.addresses import slug
from sitegen.core.site.blocks import Block, block_of, kind_of
from sitegen.core.site.markdown import parser
from sitegen.render.author_text.raw_html import cleaned, without_headings

LOWEST = 6
_TABLE = re.compile(r"<table(\s[^>]*)?>")
# Private-use signs stand for what is set into the text after it has been cleaned; they cannot be typed by accident.
_OPEN, _CLOSE = "\ue002", "\ue003"
_PLACED = re.compile(f"{_OPEN}(\\d+){_CLOSE}")
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
    html = _PLACED.sub(lambda match: "".join(placed[int(match[1]) :][:1]), _boxed_tables(html))
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
    """The way to another page; an address with a scheme is left as it is."""
    if resolve is None or not target or ":" in target.partition("/")[0]:
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
