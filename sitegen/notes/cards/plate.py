"""A card as SVG: a plate of the theme's paper with texts on it, everything round it transparent.

In: texts, a format, a look. Out: an SVG document, and a PNG of it. Each line of text has the length that it was measured
with, so that it fits in whatever font a program has.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from typing import Final

from sitegen.core.site.typesetting import first_lines, font, font_folder, lines_of
from sitegen.notes.cards.look import Format, Look

LEADING: Final = 1.2
ASCENT: Final = 0.94  # of the letters' size, from the top of a line to its base
BETWEEN: Final = 10  # two texts
PAD: Final = 44  # from the edge of a plate to its texts
RULE: Final = 22  # of the double rule, or the bar, over the texts
_NOT_XML = re.compile("[^\t\n\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True)
class Text:
    """Some words of a card, in the largest of some sizes in which they fit into their lines; else they are cut."""

    words: str
    sizes: tuple[int, ...]
    strong: bool = False
    soft: bool = False
    most: int = 1


@dataclass(frozen=True, slots=True)
class Block:
    """A text in lines, with its size and the width of the widest."""

    text: Text
    lines: tuple[str, ...]
    size: int
    width: int

    @property
    def height(self) -> int:
        """The height of its lines."""
        return round(len(self.lines) * self.size * LEADING)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle of a card."""

    x: int
    y: int
    width: int
    height: int


def set_text(text: Text, look: Look, width: int) -> Block:
    """A text broken into lines of a width."""
    words = _NOT_XML.sub("", text.words)
    size, lines = 0, list[str]()
    for size in text.sizes:
        drawn_in = font(size, bold=text.strong, sans=look.sans)
        lines = lines_of(words, drawn_in, width)
        if len(lines) <= text.most:
            break
    drawn_in = font(size, bold=text.strong, sans=look.sans)
    lines = [line for line in first_lines(lines, text.most, drawn_in, width) if line.strip()]
    widest = max((min(width, round(drawn_in.getlength(line))) for line in lines), default=0)
    return Block(text, tuple(lines), size, widest)


def blocks_of(texts: Iterable[Text], look: Look, width: int) -> tuple[Block, ...]:
    """Texts in lines of a width; those without words are left out."""
    found = (set_text(text, look, width) for text in texts)
    return tuple(block for block in found if block.lines)


def height_of(blocks: Sequence[Block]) -> int:
    """The height of texts below each other."""
    return sum(block.height for block in blocks) + BETWEEN * max(0, len(blocks) - 1)


def written(blocks: Iterable[Block], look: Look, x: int, y: int) -> str:
    """Texts below each other, from a place on."""
    drawn = []
    for block in blocks:
        ink = look.colour("ink-soft" if block.text.soft else "ink")
        drawn_in = font(block.size, bold=block.text.strong, sans=look.sans)
        weight = ' font-weight="700"' if block.text.strong else ""
        for number, line in enumerate(block.lines):
            base = round(y + block.size * (number * LEADING + ASCENT))
            length = min(block.width, round(drawn_in.getlength(line)))
            drawn.append(
                f'<text x="{x}" y="{base}" font-size="{block.size}" fill="{ink}"'
                f'{weight} textLength="{length}" lengthAdjust="spacingAndGlyphs">{escape(line)}</text>'
            )
        y += block.height + BETWEEN
    return "".join(drawn)


def plate(box: Box, look: Look) -> str:
    """The ground of texts, with the rule that the theme's pages begin with."""
    # Opaque, and on whole pixels: of what is half transparent, vl-convert 1.9 writes no channel above its opacity.
    ground = (
        f'<rect class="plate" x="{box.x}" y="{box.y}" width="{box.width}" height="{box.height}"'
        f' fill="{look.colour("paper")}"/>'
    )
    if look.sans:
        bar = (
            f'<rect x="{box.x}" y="{box.y}" width="{box.width}" height="10" fill="{look.colour("accent")}"/>'
        )
        return ground + bar
    ink, left, width = look.colour("ink"), box.x + PAD, box.width - 2 * PAD
    thick = f'<rect x="{left}" y="{box.y + PAD // 2}" width="{width}" height="5" fill="{ink}"/>'
    return (
        ground
        + thick
        + f'<rect x="{left}" y="{box.y + PAD // 2 + 9}" width="{width}" height="2" fill="{ink}"/>'
    )


def document(form: Format, look: Look, title: str, drawn: str) -> str:
    """An SVG document of a format; `title` says what it shows."""
    said = escape(" ".join(_NOT_XML.sub("", title).split()))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {form.width} {form.height}" width="{form.width}"'
        f' height="{form.height}" role="img" aria-labelledby="title"><title id="title">{said}</title>'
        f'<g font-family="{family(look)}" font-stretch="condensed">{drawn}</g></svg>\n'
    )


def family(look: Look) -> str:
    """The fonts of a card: the one that lies with the program, else what there is of its kind."""
    return "'DejaVu Sans', sans-serif" if look.sans else "'DejaVu Serif', serif"


@cache
def _register_fonts() -> None:
    import vl_convert  # noqa: PLC0415 - only drawing pays for it

    vl_convert.register_font_directory(str(font_folder()))


def png_of(svg: str) -> bytes:
    """The document as a PNG, transparent where nothing is drawn."""
    import vl_convert  # noqa: PLC0415 - only drawing pays for it

    _register_fonts()
    return bytes(vl_convert.svg_to_png(svg))
