"""Markdown of recaps and free pages → HTML.

In: CommonMark with tables, footnotes and definition lists; raw HTML is shown as text. Out: HTML whose headings begin
below the page's own and have anchors. Links to other sites say `rel="noopener"`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import zip_longest
from typing import Any

from markdown_it.token import Token
from markupsafe import Markup

from sitegen.core.blocks import Block, block_of, kind_of
from sitegen.core.markdown import parser
from sitegen.core.text import slug

__all__ = ["Place", "title_of", "to_html"]

LOWEST = 6
_BOXED = {
    "table_open": '<div class="region" role="region" tabindex="0" aria-label="Table"><table>\n',
    "table_close": "</table></div>\n",
}
Place = Callable[[Block], Markup | None]


def to_html(
    text: str,
    *,
    below: int = 1,
    prefix: str = "",
    resolve: Callable[[str], str] | None = None,
    place: Place | None = None,
) -> Markup:
    """The HTML of a text.

    `below` is the level of the heading that it stands under; its own highest heading comes next. `prefix`
    keeps its anchors apart from the page's. `resolve` turns an address of the text into one of the page, `place` a block
    into what stands in its place (None: as it is written).
    """
    env = dict[str, Any]()
    tokens = parser().parse(text, env)
    _shift_headings(tokens, below, prefix)
    for token in _links(tokens):
        _set_link(token, resolve)
    if place is not None:
        _set_blocks(tokens, text.split("\n"), place)
    _box_tables(tokens)
    html = parser().renderer.render(tokens, parser().options, env)
    return Markup(html)  # noqa: S704 # the parser escapes raw HTML


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


def _links(tokens: Sequence[Token]) -> list[Token]:
    inner = [child for token in tokens for child in (token.children or [])]
    return [token for token in inner if token.type == "link_open"]


def _set_link(token: Token, resolve: Callable[[str], str] | None) -> None:
    target = str(token.attrGet("href") or "")
    if target.startswith(("http://", "https://")):
        token.attrSet("rel", "noopener")
    elif resolve is not None and target and ":" not in target.partition("/")[0]:
        token.attrSet("href", resolve(target))


def _set_blocks(tokens: Sequence[Token], lines: Sequence[str], place: Place) -> None:
    for token in tokens:
        if token.type == "fence" and kind_of(token.info):
            placed = place(block_of(token, lines, ""))
            if placed is not None:
                token.type, token.content = "html_block", str(placed)


def _box_tables(tokens: Sequence[Token]) -> None:
    """A table scrolls in its own region, never the page."""
    for token in tokens:
        if token.type in _BOXED:
            token.content = _BOXED[token.type]
            token.type = "html_block"
