"""The content of a preview image.

In: nothing. Out: `Card` and `Text`, which `previews` fills and `preview_image` draws.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.render.story.days.day_scale import Segment


@dataclass(frozen=True, slots=True)
class Text:
    """Some words of a card; `strong` ones are the answer, `spare` ones are left out where there is no room for all."""

    words: str
    strong: bool = False
    spare: bool = False


@dataclass(frozen=True, slots=True)
class Card:
    """The content of one picture, from top to bottom. `open` ends the line with a ring: the run goes on.

    `photo` is the address of a photo, which changes with its content; a card with one has no line.
    """

    texts: tuple[Text, ...]
    line: tuple[Segment, ...] = ()
    open: bool = False
    photo: str = ""
