"""Draws a `Card` as a PNG.

In: a card. Out: bytes, the same on every machine with the same Pillow: fonts lie beside this module, text is laid out
without the system's shaping library, and edges are smoothed by drawing larger and averaging. A text with a sign that the
fonts lack is left out: the tags beside the picture say it.
"""

from __future__ import annotations

import io
from functools import cache
from importlib.resources import files
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from sitegen.render.metadata.previews import Card
from sitegen.render.story.day_scale import Segment

Font = ImageFont.FreeTypeFont
Point = tuple[float, float]

PAPER, INK, SOFT, LINE = "#f4f7ef", "#1d2520", "#525d54", "#c6cfbe"
GROWTH, HARVEST = "#38773d", "#b04f14"
MARGIN: Final = 72
LARGER: Final = 4  # times, for lines with smooth edges
COLOURS: Final = 64  # enough for six inks and their edges on paper
LINE_AT: Final = 470
# How thick each phase is on the line, in pixels, and in which colour.
WEIGHTS: Final[dict[str, tuple[int, str]]] = {
    "germination": (7, GROWTH),
    "seedling": (5, GROWTH),
    "leaf-growth": (11, GROWTH),
    "flowering": (20, GROWTH),
    "heading": (20, GROWTH),
    "fruiting": (20, GROWTH),
    "root-growth": (15, GROWTH),
    "picking": (27, HARVEST),
    "later-flush": (27, HARVEST),
}
_NO_GLYPH = "\uffff"


def drawn(card: Card, size: tuple[int, int]) -> bytes:
    """The picture of a card."""
    image = Image.new("RGB", size, PAPER)
    _rules(image)
    draw = ImageDraw.Draw(image)
    top = _text(draw, card.above, (MARGIN, 76), _font(30), SOFT, most=1)
    top = _title(draw, card.title, top + 14)
    room = 2 if card.line else 3
    _text(draw, card.text, (MARGIN, max(top + 22, 236)), _font(34), INK, most=room)
    if card.line:
        _run(image, card)
    _text(draw, card.below, (MARGIN, size[1] - 94), _font(30, bold=True), SOFT, most=1)
    return _png(image)


def _png(image: Image.Image) -> bytes:
    body = io.BytesIO()
    few = image.quantize(COLOURS, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    few.save(body, "PNG", compress_level=6)
    return body.getvalue()


def _rules(image: Image.Image) -> None:
    """The double rule that pages begin with."""
    draw = ImageDraw.Draw(image)
    right = image.width - MARGIN
    draw.rectangle((MARGIN, 44, right, 46), fill=INK)
    draw.rectangle((MARGIN, 50, right, 51), fill=INK)
    draw.rectangle((MARGIN, image.height - 112, right, image.height - 112), fill=LINE)


@cache
def _font(size: int, *, bold: bool = False) -> Font:
    name = "DejaVuSerifCondensed-Bold-part.ttf" if bold else "DejaVuSerifCondensed-part.ttf"
    body = io.BytesIO((files(__package__) / "fonts" / name).read_bytes())
    return ImageFont.truetype(body, size, layout_engine=ImageFont.Layout.BASIC)


@cache
def _has(font: Font, sign: str) -> bool:
    return sign == " " or bytes(font.getmask(sign)) != bytes(font.getmask(_NO_GLYPH))


def _title(draw: ImageDraw.ImageDraw, title: str, top: float) -> float:
    """In the largest size that takes two lines."""
    sizes = (64, 56, 48)
    fitting = (s for s in sizes if len(_lines(title, _font(s, bold=True), _width(draw))) <= 2)
    return _text(draw, title, (MARGIN, top), _font(next(fitting, sizes[-1]), bold=True), INK, most=2)


def _width(draw: ImageDraw.ImageDraw) -> int:
    return int(draw.im.size[0]) - 2 * MARGIN


def _text(draw: ImageDraw.ImageDraw, text: str, at: Point, font: Font, ink: str, *, most: int) -> float:
    """A text in lines, from its top left; where it ends."""
    plain = " ".join(text.split())
    if not plain or not all(_has(font, sign) for sign in plain):
        return at[1]
    lines = _lines(plain, font, _width(draw))
    if len(lines) > most:
        lines = [*lines[: most - 1], _cut(lines[most - 1], font, _width(draw))]
    height = round(font.size * 1.28)
    for number, line in enumerate(lines):
        draw.text((at[0], at[1] + number * height), line, fill=ink, font=font)
    return at[1] + len(lines) * height


def _lines(text: str, font: Font, width: int) -> list[str]:
    """Broken between words."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and font.getlength(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _cut(line: str, font: Font, width: int) -> str:
    """A line with an ellipsis at its end, cut between words where one has no room."""
    while " " in line and font.getlength(f"{line} …") > width:
        line = line.rpartition(" ")[0]
    return f"{line.rstrip(',;:')} …"


def _run(image: Image.Image, card: Card) -> None:
    """The run's line, drawn larger and brought down."""
    size = (image.width - 2 * MARGIN, 48)
    large = Image.new("RGB", (size[0] * LARGER, size[1] * LARGER), PAPER)
    draw = ImageDraw.Draw(large)
    middle = large.height // 2
    draw.rectangle((0, middle - LARGER // 2, large.width, middle + LARGER // 2), fill=LINE)
    inner = large.width - 24 * LARGER  # room for the ring at the end
    for segment in card.line:
        _segment(draw, segment, inner, middle)
    _end(draw, round(max(s.until for s in card.line) / 100 * inner), middle, card.open)
    image.paste(large.resize(size, Image.Resampling.BOX), (MARGIN, LINE_AT - size[1] // 2 - 24))


def _segment(draw: ImageDraw.ImageDraw, segment: Segment, width: int, middle: int) -> None:
    begin, end = round(segment.begin / 100 * width), round(segment.end / 100 * width)
    weight, ink = WEIGHTS.get(segment.kind, (5, GROWTH))
    half = weight * LARGER // 2
    for since, until in segment.maybe:
        for x in range(round(since / 100 * width), round(until / 100 * width), 6 * LARGER):
            draw.rectangle((x, middle - half // 2, x + 2 * LARGER, middle + half // 2), fill=ink)
    if segment.kind == "germination":
        for x in range(begin + half, max(end, begin + half + 1), 4 * half):
            draw.ellipse((x - half, middle - half, x + half, middle + half), fill=ink)
        return
    draw.rectangle((begin, middle - half, max(begin, end - 1), middle + half), fill=ink)
    if segment.hollow:
        draw.rectangle((begin, middle - half // 2, max(begin, end - 1), middle + half // 2), fill=PAPER)
    if segment.kind == "later-flush":
        for x in range(begin + 12 * LARGER, end, 20 * LARGER):
            draw.rectangle((x, middle - half, min(x + 8 * LARGER, end), middle + half), fill=PAPER)


def _end(draw: ImageDraw.ImageDraw, x: int, middle: int, still_open: bool) -> None:
    """A bar where the run ended; a ring where it goes on."""
    size = 9 * LARGER
    if still_open:
        draw.ellipse(
            (x, middle - size, x + 2 * size, middle + size), fill=PAPER, outline=INK, width=3 * LARGER
        )
    else:
        draw.rectangle((x, middle - 2 * size, x + 4 * LARGER, middle + 2 * size), fill=INK)
