"""The one parser of the texts that an author writes.

In: nothing. Out: CommonMark with tables, footnotes and definition lists; raw HTML is text unless asked for. Whoever looks
into a text and whoever renders it agree on what stands where.
"""

from __future__ import annotations

from functools import lru_cache

from markdown_it import MarkdownIt
from mdit_py_plugins.deflist import deflist_plugin
from mdit_py_plugins.footnote import footnote_plugin


@lru_cache(maxsize=2)
def parser(*, raw: bool = False) -> MarkdownIt:
    """The parser; `raw` where HTML is read as such."""
    made = MarkdownIt("commonmark", {"html": raw}).enable("table")
    return made.use(footnote_plugin).use(deflist_plugin)
