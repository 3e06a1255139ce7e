"""Texts measured and broken into lines, for pictures: in fonts that lie beside this module.

In: texts, a font, a width in pixels. Out: lines. Texts are laid out without the system's shaping library, so that the
same Pillow gives the same lines on every machine.
"""

from __future__ import annotations

import io
import re
from bisect import bisect_right
from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

_NO_GLYPH = "\uffff"
_HARD_SPACE = re.compile("[\u00a0\u202f]")


@cache
def font(size: int, *, bold: bool = False, sans: bool = False) -> FreeTypeFont:
    """A font of a size in pixels."""
    from PIL import ImageFont  # noqa: PLC0415 - only where a picture is drawn

    face, weight = "Sans" if sans else "Serif", "-Bold" if bold else ""
    name = f"DejaVu{face}Condensed{weight}-part.ttf"
    body = io.BytesIO((files(__package__) / "fonts" / name).read_bytes())
    return ImageFont.truetype(body, size, layout_engine=ImageFont.Layout.BASIC)


def font_folder() -> Path:
    """The folder of the fonts, for libraries that read them themselves."""
    return Path(str(files(__package__) / "fonts"))


@cache
def has_glyph(drawn_in: FreeTypeFont, sign: str) -> bool:
    """Whether a font can draw a sign."""
    return sign.isspace() or bytes(drawn_in.getmask(sign)) != bytes(drawn_in.getmask(_NO_GLYPH))


def lines_of(text: str, drawn_in: FreeTypeFont, width: int) -> list[str]:
    """A text broken between words; a word that is wider than the room within."""
    lines: list[str] = []
    room = 0.0
    words = re.split(r"[ \t\n]+", text.strip())
    for word in (part for each in words for part in _parts(each, drawn_in, width)):
        # By their sum: no letter is moved nearer to a space, and measuring a line anew with each word takes long.
        room -= length(" ", drawn_in) + length(word, drawn_in)
        if lines and room >= 0:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
            room = width - length(word, drawn_in)
    return lines


@lru_cache(maxsize=4096)
def length(text: str, drawn_in: FreeTypeFont) -> float:
    """The length of a text [px]; kept, since a picture tries several sizes and a site has the same words again."""
    return drawn_in.getlength(text)


def _parts(word: str, drawn_in: FreeTypeFont, width: int) -> list[str]:
    """A word with plain spaces; in parts where it is too wide for a line."""
    parts = [_HARD_SPACE.sub(" ", word)]
    while length(parts[-1], drawn_in) > width and len(parts[-1]) > 1:
        longest = parts[-1]
        # Letters only add to a length, so the longest part that fits is found by halving.
        numbers = range(2, len(longest))
        fits = bisect_right(numbers, float(width), key=lambda n: drawn_in.getlength(longest[:n])) + 1
        parts[-1:] = [longest[:fits], longest[fits:]]
    return parts


def first_lines(lines: list[str], most: int, drawn_in: FreeTypeFont, width: int) -> list[str]:
    """So many lines at the most; an ellipsis ends what was cut."""
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], _cut(lines[most - 1], drawn_in, width)]


def _cut(line: str, drawn_in: FreeTypeFont, width: int) -> str:
    """A line with an ellipsis at its end, cut between words where one has no room."""
    while len(line) > 1 and drawn_in.getlength(f"{line} …") > width:
        line = line.rpartition(" ")[0] or line[:-1]
    return f"{line.rstrip(',;:')} …"
