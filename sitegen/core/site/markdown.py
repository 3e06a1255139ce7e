"""The one Markdown parser of the author's texts.

In: nothing. Out: a parser of CommonMark with tables, footnotes and definition lists. Raw HTML is text unless asked for.
Checks and pages use the same parser, so that they agree on a text's structure.
"""

from __future__ import annotations

from functools import lru_cache

from markdown_it import MarkdownIt
from mdit_py_plugins.deflist import deflist_plugin
from mdit_py_plugins.footnote import footnote_plugin


@lru_cache(maxsize=2)
def parser(*, raw: bool = False) -> MarkdownIt:
    """The parser; with `raw`, HTML is kept as HTML."""
    made = MarkdownIt("commonmark", {"html": raw}).enable("table")
    return made.use(footnote_plugin).use(deflist_plugin)
