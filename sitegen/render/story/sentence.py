"""A sentence with figures in it, made from a message of the site.

In: a message whose places are not filled yet, texts and figures by the name of their place. Out: `Sentence`, so that a
page can link each number to its working and a feed can take the plain words. Says nothing of its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from string import Formatter

from markupsafe import Markup, escape

from sitegen.core.facts.figure import Figure
from sitegen.core.language.catalogue import tr
from sitegen.core.language.wording import Wording, opening


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence in parts; a part is a text or a figure."""

    parts: tuple[str | Figure, ...]

    def plain(self, wording: Wording) -> str:
        """The sentence as text."""
        said = "".join(part if isinstance(part, str) else wording.say(part) for part in self.parts)
        return opening(said)


def filled_sentence(message: str, /, **values: str | Figure) -> Sentence:
    """A message with its places filled: `filled_sentence(tr("Of the seeds, {share} came up."), share=…)`."""
    parts: list[str | Figure] = [""]
    for text, name, _, _ in Formatter().parse(message):
        for part in (text, values[name]) if name else (text,):
            if isinstance(part, str) and isinstance(parts[-1], str):
                parts[-1] += part
            else:
                parts.append(part)
    return Sentence(tuple(part for part in parts if part != ""))


@cache
def places_in(message: str) -> frozenset[str]:
    """The names of a message's places."""
    return frozenset(name for _, name, _, _ in Formatter().parse(message) if name)


def filled_markup(message: str, /, **values: object) -> Markup:
    """The same for markup: the message is escaped, and so is each value that is none."""
    return escape(message).format(**values)


def span_words(first: int, last: int, *, about: bool = False) -> str:
    """A stretch; one day where it begins and ends on it."""
    if first == last:
        return tr("about day\u00a0{day}", day=first) if about else tr("day\u00a0{day}", day=first)
    if about:
        return tr("about days\u00a0{first}–{last}", first=first, last=last)
    return tr("days\u00a0{first}–{last}", first=first, last=last)
