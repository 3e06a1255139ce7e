"""Titles of sections.

In: a message, or a text of the author's. Out: passages.
"""

from __future__ import annotations

from sitegen.notes.draft import AuthorWords, Passage


def title(message: str) -> Passage:
    """A title of our own; without words it is none."""
    return Passage((message,) if message else ())


def author_title(text: str) -> Passage:
    """The title of a run."""
    return Passage((AuthorWords(text),))
