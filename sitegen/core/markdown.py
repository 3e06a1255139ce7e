"""The one parser of the texts that an author writes.

In: nothing. Out: CommonMark with tables, footnotes and definition lists; raw HTML is shown as text. Whoever looks into a
text and whoever renders it agree on what stands where.
"""

from __future__ import annotations

from functools import lru_cache

from markdown_it import MarkdownIt
from mdit_py_plugins.deflist import deflist_plugin
from mdit_py_plugins.footnote import footnote_plugin

__all__ = ["parser"]


@lru_cache(maxsize=1)
def parser() -> MarkdownIt:
    """The parser."""
    made = MarkdownIt("commonmark", {"html": False}).enable("table")
    return made.use(footnote_plugin).use(deflist_plugin)
