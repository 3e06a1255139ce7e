"""Single leaves, flowers, fruits and roots.

In: a canvas, a place, a direction and a size. Out: paint. What is drawn by whom, and how many, is
decided in `plants` and `scenes`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random

from drawing.shapes import Canvas, Colour, Point, along, curve, mix, strip

STEPS = 72
DARK: Colour = (24, 34, 28)
PALE: Colour = (244, 246, 226)
CALYX: Colour = (70, 112, 52)


@dataclass(frozen=True, slots=True)
class LeafKind:
    """How one kind of leaf is cut and coloured."""

    body: Colour
    edge: Colour | None = None
    broad: float = 0.5
    belly: float = 0.8
    lobes: float = 0.0
    lobe_count: float = 3.0
    frill: float = 0.0
    stalk: float = 0.0
    rib: Colour | None = None
    gloss: float = 0.0


LEAVES: dict[str, LeafKind] = {
    "emberfrill": LeafKind((112, 146, 62), (142, 38, 52), 0.66, 0.62, frill=0.13, rib=(196, 150, 130)),
    "quiet-harbour": LeafKind((142, 186, 84), (164, 204, 104), 0.74, 0.62, frill=0.03),
    "saltmarsh-oak": LeafKind((96, 138, 66), (140, 94, 58), 0.5, 0.62, lobes=0.42),
    "tomato": LeafKind((58, 112, 56), None, 0.52, 0.95, lobes=0.22, lobe_count=2.5),
    "pepper": LeafKind((52, 116, 58), None, 0.46, 1.0, stalk=0.16, gloss=0.35),
    "bean": LeafKind((88, 146, 66), None, 0.74, 1.15),
    "basil": LeafKind((62, 136, 58), None, 0.6, 0.9, gloss=0.45),
    "radish": LeafKind((92, 146, 66), None, 0.4, 0.6, lobes=0.3, stalk=0.3, rib=(184, 92, 92)),
    "coriander": LeafKind((92, 152, 72), None, 0.95, 0.6, lobes=0.36, lobe_count=2.0),
    "chard": LeafKind((62, 118, 58), None, 0.52, 0.8, frill=0.05, stalk=0.34, rib=(236, 190, 58)),
    "seed-leaf": LeafKind((122, 172, 84), None, 0.56, 0.8),
}


def leaf(
    canvas: Canvas,
    chance: Random,
    kind: LeafKind,
    place: Point,
    angle: float,
    length: float,
    *,
    bend: float = 0.0,
    shade: float = 0.0,
) -> None:
    """Draw one leaf from its base; `shade` 0 is lit, 1 is deep in the plant."""
    body = mix(kind.body, DARK, shade * 0.5)
    spine = curve(place, angle, length, bend, STEPS)
    first = round(kind.stalk * STEPS)
    rib = mix(kind.rib or mix(kind.body, PALE, 0.35), DARK, shade * 0.4)
    if first:
        canvas.line(spine[: first + 4], rib, max(1.6, length * 0.03))
    blade = spine[first:]
    wave = chance.uniform(0.0, math.tau)
    widths = [_half_width(kind, wave, i / (len(blade) - 1), length) for i in range(len(blade))]
    outer = mix(kind.edge or kind.body, DARK, shade * 0.5)
    _blade(canvas, blade, widths, outer)
    if kind.edge:
        inner = len(blade) * 7 // 8
        _blade(canvas, blade[:inner], [width * 0.66 for width in widths[:inner]], body)
    _veins(canvas, blade, widths, mix(body, DARK, 0.12), length)
    canvas.line(blade[: len(blade) * 9 // 10], rib, max(1.0, length * 0.013))
    if kind.gloss:
        _gloss(canvas, blade, widths, mix(body, PALE, kind.gloss * (1 - shade)))


def _half_width(kind: LeafKind, wave: float, share: float, length: float) -> float:
    swell = math.sin(math.pi * math.pow(share, kind.belly))
    round_part = math.pow(max(0.0, swell), 0.8)
    lobes = 1.0 - kind.lobes * (0.5 + 0.5 * math.cos(2 * math.pi * kind.lobe_count * share))
    frill = 1.0 + kind.frill * math.sin(wave + 2 * math.pi * 7.3 * share)
    return length * kind.broad / 2 * round_part * lobes * frill


def _blade(canvas: Canvas, spine: list[Point], widths: list[float], colour: Colour) -> None:
    left, right = strip(spine, widths)
    canvas.polygon([*left, *reversed(spine)], mix(colour, PALE, 0.1))
    canvas.polygon([*right, *reversed(spine)], mix(colour, DARK, 0.13))


def _veins(canvas: Canvas, spine: list[Point], widths: list[float], colour: Colour, length: float) -> None:
    if length < 50:
        return
    for index in range(6, len(spine) - 14, 9):
        left, right = strip(spine[index : index + 9], [width * 0.72 for width in widths[index:]])
        canvas.line([spine[index], left[8]], colour, 1.1)
        canvas.line([spine[index], right[8]], colour, 1.1)


def _gloss(canvas: Canvas, spine: list[Point], widths: list[float], colour: Colour) -> None:
    left, _ = strip(spine, [width * 0.6 for width in widths])
    inner, _ = strip(spine, [width * 0.34 for width in widths])
    start, end = len(spine) // 4, len(spine) * 7 // 10
    canvas.polygon([*left[start:end], *reversed(inner[start:end])], colour)


def star_flower(canvas: Canvas, place: Point, size: float, petal: Colour, heart: Colour) -> None:
    """Draw a five-petalled flower seen from the front."""
    for turn in range(5):
        angle = turn * math.tau / 5 + 0.3
        tip, side = along(place, angle, size), size * 0.36
        middle = along(place, angle, size * 0.45)
        wings = (along(middle, angle + 1.57, side), along(middle, angle - 1.57, side))
        canvas.polygon([place, wings[0], tip, wings[1]], mix(petal, DARK, 0.05 * (turn % 2)))
    canvas.ellipse(place, size * 0.24, size * 0.3, heart)


def pea_flower(canvas: Canvas, place: Point, size: float) -> None:
    """Draw a white bean flower with a breath of lilac."""
    canvas.ellipse((place[0], place[1] - size * 0.3), size * 0.8, size * 0.55, (246, 240, 250))
    canvas.ellipse((place[0] - size * 0.3, place[1] + 2), size * 0.42, size * 0.34, (216, 196, 232))
    canvas.ellipse((place[0] + size * 0.3, place[1] + 2), size * 0.42, size * 0.34, (232, 216, 242))


def round_fruit(canvas: Canvas, place: Point, size: float, colour: Colour) -> None:
    """Draw a tomato with light from above left and a green star on top."""
    x, y = place
    canvas.ellipse(place, size * 1.03, size * 0.98, mix(colour, DARK, 0.35))
    canvas.ellipse((x - size * 0.05, y - size * 0.05), size * 0.95, size * 0.9, colour)
    lit = mix(colour, PALE, 0.22)
    canvas.ellipse((x - size * 0.22, y - size * 0.22), size * 0.58, size * 0.52, lit)
    shine = mix(colour, PALE, 0.75)
    canvas.ellipse((x - size * 0.38, y - size * 0.36), size * 0.17, size * 0.12, shine)
    star_flower(canvas, (x, y - size * 0.84), size * 0.42, CALYX, CALYX)


def blunt_fruit(canvas: Canvas, place: Point, size: float, colour: Colour) -> None:
    """Draw a hanging dwarf pepper; the place is where its stalk meets it."""
    x, y = place
    spine = curve((x, y), math.pi, size * 2.1, 0.15)
    widths = [size * 0.62 * min(1.0, 0.72 + 0.5 * i / 14, (15.4 - i) / 4.2) for i in range(15)]
    left, right = strip(spine, widths)
    canvas.polygon([*left, *reversed(right)], mix(colour, DARK, 0.16))
    inner, _ = strip(spine, [width * 0.1 for width in widths])
    canvas.polygon([*right, *reversed(inner)], mix(colour, PALE, 0.08))
    canvas.line([(x - size * 0.28, y + size * 0.4), (x - size * 0.24, y + size * 1.3)], PALE, 3)
    canvas.ellipse((x, y), size * 0.46, size * 0.16, CALYX)


def pod(canvas: Canvas, place: Point, angle: float, length: float, bend: float, *, old: bool = False) -> None:
    """Draw a slim bean pod; an old one is pale, thick and lumpy with the beans in it."""
    spine = curve(place, angle, length, bend, 24)
    thick = [1.35 + 0.4 * math.sin(i * 1.35) if old else 1.0 for i in range(25)]
    widths = [length * 0.045 * min(1.0, i / 3, (24 - i) / 3) * thick[i] + 0.6 for i in range(25)]
    left, right = strip(spine, widths)
    dark, pale = ((158, 146, 84), (196, 184, 122)) if old else ((104, 156, 66), (136, 184, 88))
    canvas.polygon([*left, *reversed(right)], dark)
    canvas.polygon([*left, *reversed(spine)], pale)
    canvas.line(spine[2:-3], mix(dark, (60, 50, 36), 0.25) if old else (92, 140, 62), 1.2)


def round_root(canvas: Canvas, place: Point, size: float) -> None:
    """Draw a scarlet radish, its tail downward."""
    x, y = place
    canvas.polygon(
        [
            (x - size * 0.2, y + size * 0.8),
            (x + size * 0.2, y + size * 0.8),
            (x + size * 0.12, y + size * 2.0),
        ],
        (236, 214, 206),
    )
    canvas.ellipse(place, size, size * 1.02, (168, 28, 56))
    canvas.ellipse((x - size * 0.06, y - size * 0.06), size * 0.92, size * 0.92, (206, 44, 72))
    canvas.ellipse((x - size * 0.3, y - size * 0.34), size * 0.28, size * 0.2, (238, 128, 138))


def long_root(canvas: Canvas, place: Point, angle: float, length: float, *, forked: bool) -> None:
    """Draw a short blunt carrot from its crown."""
    spine = curve(place, angle, length, 0.08, 20)
    widths = [length * 0.11 * (1.0 - (i / 20.6) ** 3) * min(1.0, 0.7 + i / 8) for i in range(21)]
    left, right = strip(spine, widths)
    canvas.polygon([*left, *reversed(right)], (214, 108, 34))
    canvas.polygon([*left, *reversed(spine)], (238, 138, 52))
    for index in range(3, 18, 4):
        canvas.line([left[index], spine[index]], (206, 104, 34), 1.6)
    if forked:
        long_root(canvas, spine[11], angle + 0.5, length * 0.42, forked=False)
    canvas.line([spine[-1], along(spine[-1], angle, length * 0.2)], (230, 150, 84), 2.4)
