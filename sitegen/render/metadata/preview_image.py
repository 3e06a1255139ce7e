"""Draws a `Card` as a PNG, or with its photo as a JPEG.

In: a card, the bytes of its photo. Out: bytes, the same on every machine with the same Pillow: texts are laid out
as `core.site.typesetting` does, and edges are smoothed by drawing larger and averaging. A
text with a sign that the fonts lack is left out: the tags beside the picture say it. A message shows the picture at about
a quarter of its width: no letter is smaller than 44 px, 11 px there (common practice, no source).
"""

from __future__ import annotations

import io
from functools import cache
from itertools import chain
from typing import Final

from PIL import Image, ImageColor, ImageDraw, ImageOps

from sitegen.core.site.typesetting import first_lines, font, has_glyph, lines_of
from sitegen.render.metadata.preview_card import Card, Text
from sitegen.render.story.days.day_scale import Segment

PAPER, INK, SOFT, LINE = "#f4f7ef", "#1d2520", "#525d54", "#c6cfbe"
GROWTH, HARVEST = "#38773d", "#b04f14"
MARGIN: Final = 64
LARGER: Final = 4  # times, for lines with smooth edges
# Inks, and in how many steps each goes from paper to itself at a smooth edge: letters need the most (by eye).
STEPS: Final = {INK: 24, SOFT: 16, GROWTH: 8, HARVEST: 8, LINE: 3}
LINE_AT: Final = 556
SIZES: Final = (72, 64, 58, 52, 48, 44)  # of letters, the largest that fits
LEADING: Final = 1.2
GAP: Final = 0.55  # between two texts, in lines
PHOTO: Final = 580  # the width of a photo beside the text
QUALITY: Final = 84  # no blocks around letters (by eye)
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


def drawn(card: Card, size: tuple[int, int], photo: bytes = b"") -> bytes:
    """The picture of a card."""
    image = Image.new("RGB", size, PAPER)
    if card.photo:
        if photo:
            _photo(image, photo)
        area = (PHOTO + MARGIN - 20, 74, size[0] - MARGIN + 20, size[1] - 26)
    else:
        area = (MARGIN, 84, size[0] - MARGIN, LINE_AT - 56 if card.line else size[1] - 60)
    _rule(image, area[0], area[2])
    _texts(ImageDraw.Draw(image), card.texts, area)
    if card.line:
        _run(image, card)
    return _jpeg(image) if card.photo else _png(image)


def _png(image: Image.Image) -> bytes:
    body = io.BytesIO()
    few = image.quantize(palette=_palette(), dither=Image.Dither.NONE)
    few.save(body, "PNG", compress_level=6)
    return body.getvalue()


@cache
def _palette() -> Image.Image:
    """The colours of a picture without a photo; looking for them in each picture takes as long as all else of it."""
    paper = ImageColor.getrgb(PAPER)
    colours: list[tuple[int, ...]] = [paper]
    for ink, steps in STEPS.items():
        parts = [step / steps for step in range(1, steps + 1)]
        ends = list(zip(paper, ImageColor.getrgb(ink), strict=True))
        colours += [tuple(round(p + (i - p) * part) for p, i in ends) for part in parts]
    found = Image.new("P", (1, 1))
    found.putpalette([*chain.from_iterable(colours)])
    return found


def _jpeg(image: Image.Image) -> bytes:
    body = io.BytesIO()
    image.save(body, "JPEG", quality=QUALITY, progressive=True, subsampling=0)
    return body.getvalue()


def _photo(image: Image.Image, body: bytes) -> None:
    """The photo at the left, from edge to edge, cut to its middle."""
    with Image.open(io.BytesIO(body)) as found:
        place = (PHOTO, image.height)
        image.paste(ImageOps.fit(found.convert("RGB"), place, Image.Resampling.LANCZOS), (0, 0))


def _rule(image: Image.Image, left: int, right: int) -> None:
    """The double rule that pages begin with."""
    draw = ImageDraw.Draw(image)
    draw.rectangle((left, 44, right, 47), fill=INK)
    draw.rectangle((left, 52, right, 53), fill=INK)


def _texts(draw: ImageDraw.ImageDraw, texts: tuple[Text, ...], area: tuple[int, int, int, int]) -> None:
    """Texts below each other in the largest letters that fit; else the first is cut before the last."""
    left, top, right, bottom = area
    shown = [each for each in texts if each.words.strip() and _drawable(each)]
    size = _fitting(shown, right - left, bottom - top)
    if size is None:
        shown = [each for each in shown if not each.spare]
        size = _fitting(shown, right - left, bottom - top)
    smallest = size or SIZES[-1]
    lines = [lines_of(each.words, font(smallest, bold=each.strong), right - left) for each in shown]
    if size is None:
        lines = _shortened(lines, shown, _room(shown, smallest, bottom - top), smallest, right - left)
    for each, broken in zip(shown, lines, strict=True):
        ink = INK if each.strong or each.spare else SOFT
        for line in broken:
            draw.text((left, top), line, fill=ink, font=font(smallest, bold=each.strong))
            top += round(smallest * LEADING)
        top += round(smallest * LEADING * GAP)


def _room(texts: list[Text], size: int, height: int) -> int:
    """How many lines there is room for."""
    return int(height / (size * LEADING) - GAP * (len(texts) - 1))


def _fitting(texts: list[Text], width: int, height: int) -> int | None:
    """The largest letters in which all texts fit; None where none do."""
    for size in SIZES:
        lines = sum(len(lines_of(each.words, font(size, bold=each.strong), width)) for each in texts)
        if lines <= _room(texts, size, height):
            return size
    return None


def _drawable(text: Text) -> bool:
    smallest = font(SIZES[-1], bold=text.strong)
    return all(has_glyph(smallest, sign) for sign in text.words)


def _shortened(
    lines: list[list[str]], texts: list[Text], room: int, size: int, width: int
) -> list[list[str]]:
    """Lines for which there is room: strong texts keep theirs but for two of each other, then these what is left."""
    others = sum(min(2, len(own)) for own, text in zip(lines, texts, strict=True) if not text.strong)
    left = room
    for number in sorted(range(len(texts)), key=lambda number: not texts[number].strong):
        strong = texts[number].strong
        most = max(1, left - others if strong else left)
        lines[number] = first_lines(lines[number], most, font(size, bold=strong), width)
        left -= len(lines[number])
    return lines


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
    image.paste(large.resize(size, Image.Resampling.BOX), (MARGIN, LINE_AT - size[1] // 2))


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
