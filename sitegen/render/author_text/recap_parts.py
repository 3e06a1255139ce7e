"""The two parts of a recap: the story, and what its author says went wrong or would be done otherwise.

In: the HTML of a recap, whose headings stand in it at one level and below. Out: `RecapParts`. A section belongs to the
second part by its heading alone, in the words of the page or in English; nothing is moved for what it says.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from markupsafe import Markup

from sitegen.core.language.catalogue import tr
from sitegen.core.site.blocks import HEADINGS

_NOTES = re.compile(r'<hr class="footnotes-sep"|<section class="footnotes"')
_HEADING = re.compile(r"<h3\b[^<>]*>(?P<words>(?:(?!<h3\b).)*?)</h3>", re.DOTALL)
_TAG = re.compile(r"<[^>]*>")


@dataclass(frozen=True, slots=True)
class RecapParts:
    """The HTML of each part; `title` is the heading that the second one has for itself, where it is one section."""

    story: Markup
    wrong: Markup
    title: str


def recap_parts(html: Markup) -> RecapParts:
    """A recap in its two parts; footnotes end the story."""
    text = str(html)
    notes = _NOTES.search(text)
    body, end = (text[: notes.start()], text[notes.start() :]) if notes else (text, "")
    begins = [0, *(match.start() for match in _HEADING.finditer(body)), len(body)]
    sections = [body[one:other] for one, other in pairwise(begins)]
    wrong = [section for section in sections if _heading(section) in _known()]
    story = [section for section in sections if section not in wrong]
    title = _TAG.sub("", _HEADING.match(wrong[0])["words"]) if len(wrong) == 1 else ""  # type: ignore[index]
    if title:
        # The heading of the page stands for it; its anchor stays, since links may lead there.
        wrong = [re.sub(r"^<h3\b([^>]*)>.*?</h3>", r"<p\1 hidden></p>", wrong[0], flags=re.DOTALL)]
    return RecapParts(
        Markup("".join(story) + end),  # noqa: S704 - parts of what was made safe
        Markup("".join(wrong)),  # noqa: S704
        title,
    )


def _heading(section: str) -> str:
    found = _HEADING.match(section)
    return _TAG.sub("", found["words"]).strip().casefold() if found else ""


def _known() -> set[str]:
    return {words.casefold() for heading in HEADINGS for words in (heading, tr(heading))}
