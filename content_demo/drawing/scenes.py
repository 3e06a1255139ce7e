"""The loft: wall, bench, lamps and vessels, and the kitchen scale.

In: a `Bench` or a `Weighing` from the album. Out: a finished picture. Chance is seeded with the
picture's own file name, so that one picture can change without the others.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from PIL import Image

from drawing.heaps import HEAPS
from drawing.plants import PAINTERS, Plant, seedling, stature
from drawing.shapes import Box, Canvas, Colour, Point, mix

WIDE, HIGH = 1600, 1200
BENCH_TOP = 960
INK: Colour = (52, 46, 42)
PAPER: Colour = (246, 240, 224)
SCALE_FRAME: Box = (150, 165, 1450, 1140)


@dataclass(frozen=True, slots=True)
class Bench:
    """A vessel with plants under a lamp; `near` is the one that the picture is taken close to."""

    vessel: str
    lamp: str
    plants: tuple[Plant | None, ...]
    wall: str = "grey"
    near: int | None = None


@dataclass(frozen=True, slots=True)
class Weighing:
    """Something picked, on the scale."""

    produce: str
    amount: int
    reading: str
    dial: bool = False
    wall: str = "grey"


WALLS: dict[str, tuple[Colour, Colour]] = {
    "grey": ((122, 132, 138), (176, 178, 172)),
    "dusk": ((66, 62, 84), (138, 110, 104)),
    "spring": ((134, 152, 148), (200, 204, 180)),
    "summer": ((172, 178, 158), (228, 214, 172)),
    "autumn": ((118, 108, 98), (186, 164, 134)),
}
LIGHT: dict[str, tuple[Colour, float, int]] = {
    "strips": ((255, 246, 222), 0.42, 900),
    "bar": ((255, 240, 208), 0.5, 1000),
    "hood": ((255, 236, 196), 0.52, 700),
    "panel": ((255, 226, 236), 0.56, 820),
}
VESSELS: dict[str, Colour] = {
    "slate": (74, 84, 96),
    "moss": (92, 108, 78),
    "wick": (176, 150, 120),
    "tray": (96, 96, 98),
}


def bench_picture(scene: Bench, name: str) -> Image.Image:
    """Draw a vessel with its plants under its lamp."""
    canvas, chance = Canvas(WIDE, HIGH), Random(name)
    _room(canvas, chance, scene.wall)
    drop = _lamp_height(scene)
    colour, strength, width = LIGHT[scene.lamp]
    half = width / 2
    spread = [
        (800 - half * 0.8, drop + 60),
        (800 + half * 0.8, drop + 60),
        (800 + half * 1.5, 1010),
        (800 - half * 1.5, 1010),
    ]
    canvas.glow(spread, colour, strength, 120)
    _lamp(canvas, scene.lamp, drop)
    places = BUILDERS.get(scene.vessel, _tub)(canvas, scene)
    for place, plant in zip(places, scene.plants, strict=True):
        if plant is not None:
            _plant(canvas, chance, plant, place)
    canvas.glow(spread, colour, strength * 0.22, 160)
    frame = _frame(scene, drop) if scene.near is None else _close(places[scene.near])
    return canvas.finished(frame)


def _lamp_height(scene: Bench) -> float:
    """Return how far down the lamp hangs, so that it stands a hand above the tallest plant."""
    tallest = max(stature(plant) for plant in scene.plants if plant)
    return max(110.0, (690 if scene.vessel == "jars" else 780) - tallest - 230)


def _frame(scene: Bench, drop: float) -> Box:
    """Return the part of the drawing that is kept: left, top, right, bottom."""
    width = max(_half_vessel(scene) * 2 + 250, (1198 - drop) * 4 / 3, 1080.0)
    width = min(width, WIDE)
    bottom = max(1128.0, width * 0.75)
    return 800 - width / 2, bottom - width * 0.75, 800 + width / 2, bottom


def _close(place: Point) -> Box:
    """Return the frame round one plant, with what grows beside it at the edges."""
    return place[0] - 380, place[1] - 470, place[0] + 380, place[1] + 100


def _half_vessel(scene: Bench) -> float:
    count = len(scene.plants)
    if scene.vessel == "jars":
        return 630
    return 150 + (112 if scene.vessel == "wick" else 86) * min(6, count)


def _plant(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    if plant.growth < 0.02:
        seedling(canvas, chance, place, 60)
    else:
        PAINTERS[plant.kind](canvas, chance, plant, place)


def _room(canvas: Canvas, chance: Random, wall: str) -> None:
    top, bottom = WALLS[wall]
    canvas.fade((0, 0), (WIDE, BENCH_TOP), top, bottom)
    for number in range(9):
        x = number * 190 + chance.uniform(-12, 12)
        canvas.line([(x, 0), (x, BENCH_TOP)], mix(mix(top, bottom, 0.4), INK, 0.14), 3)
        canvas.line([(x + 4, 0), (x + 4, BENCH_TOP)], mix(mix(top, bottom, 0.5), PAPER, 0.16), 2)
    canvas.polygon([(0, 0), (520, 0), (0, 300)], mix(top, INK, 0.5))
    canvas.polygon([(520, 0), (572, 0), (0, 330), (0, 300)], mix((148, 108, 72), top, 0.25))
    wood: Colour = (150, 110, 74)
    canvas.fade((0, BENCH_TOP), (WIDE, 110), mix(wood, PAPER, 0.16), wood)
    canvas.fade((0, BENCH_TOP + 110), (WIDE, 130), mix(wood, INK, 0.42), mix(wood, INK, 0.62))
    for number in range(7):
        y = BENCH_TOP + 12 + number * 14 + chance.uniform(-3, 3)
        start = chance.uniform(0, 900)
        grain = [(start + i * 60, y + 2.5 * math.sin(i * 0.9 + number)) for i in range(12)]
        canvas.line(grain, mix(wood, INK, 0.14), 1.6)


def _lamp(canvas: Canvas, lamp: str, drop: float) -> None:
    half = LIGHT[lamp][2] / 2
    steel: Colour = (208, 208, 204)
    for side in (-1, 1):
        canvas.line([(800 + side * half * 0.6, 0), (800 + side * half * 0.6, drop + 10)], (70, 68, 66), 3)
    rows = (0, 34) if lamp == "strips" else (0,)
    depth = {"strips": 20, "bar": 34, "hood": 70, "panel": 52}[lamp]
    for down in rows:
        canvas.box((800 - half, drop + down), (half * 2, depth), mix(steel, INK, 0.3), 12)
        canvas.box((800 - half, drop + down), (half * 2, depth * 0.6), steel, 10)
        lit = (800 - half + 14, drop + down + depth - 8)
        canvas.box(lit, (half * 2 - 28, 11), (255, 250, 228), 5)
    if lamp == "panel":
        for number in range(9):
            canvas.box((800 - half + 60 + number * 80, drop - 18), (34, 20), mix(steel, INK, 0.45), 4)


def _tub(canvas: Canvas, scene: Bench) -> list[Point]:
    colour = VESSELS[scene.vessel]
    count = len(scene.plants)
    half = _half_vessel(scene)
    depth = {"wick": 120, "tray": 84}.get(scene.vessel, 176)
    top = BENCH_TOP + 42 - depth
    canvas.ellipse((800, BENCH_TOP + 46), half * 1.03, 20, (88, 64, 46))
    sides = [
        (800 - half, top),
        (800 + half, top),
        (800 + half - 26, BENCH_TOP + 46),
        (800 - half + 26, BENCH_TOP + 46),
    ]
    canvas.polygon(sides, mix(colour, INK, 0.25))
    shine = [
        (800 - half, top),
        (800 - half + 150, top),
        (800 - half + 150, BENCH_TOP + 46),
        (800 - half + 26, BENCH_TOP + 46),
    ]
    canvas.polygon(shine, mix(colour, INK, 0.1))
    canvas.box((800 - half - 14, top - 26), (half * 2 + 28, 42), mix(colour, PAPER, 0.16), 9)
    canvas.box((800 - half - 14, top - 26), (half * 2 + 28, 12), mix(colour, PAPER, 0.34), 6)
    step = (half * 2 - 120) / max(1, count - 1)
    places = [(800 - half + 60 + step * number, top - 30.0) for number in range(count)]
    for x, y in places:
        _cup(canvas, (x, y), scene.vessel)
    return places


def _cup(canvas: Canvas, place: Point, vessel: str) -> None:
    x, y = place
    if vessel == "tray":
        pot: Colour = (172, 98, 66)
        canvas.polygon([(x - 44, y - 34), (x + 44, y - 34), (x + 34, y + 22), (x - 34, y + 22)], pot)
        canvas.box((x - 49, y - 44), (98, 18), mix(pot, PAPER, 0.2), 5)
        canvas.ellipse((x, y - 42), 43, 9, (128, 118, 104))
        return
    canvas.box((x - 34, y - 8), (68, 18), (36, 38, 40), 5)
    canvas.ellipse((x, y - 8), 31, 8, (86, 68, 54))
    for number in range(6):
        canvas.ellipse((x - 24 + number * 9.6, y - 9 + number % 2 * 3), 6, 4.6, (150, 112, 84))


def _jars(canvas: Canvas, scene: Bench) -> list[Point]:
    places: list[Point] = []
    for number, plant in enumerate(scene.plants):
        x = 305 + number * 330
        places.append((x, 690.0))
        if plant is None:
            canvas.ellipse((x, BENCH_TOP + 40), 84, 12, (132, 96, 64))
            continue
        glass: Colour = (164, 192, 190)
        canvas.ellipse((x, BENCH_TOP + 46), 128, 17, (88, 64, 46))
        canvas.box((x - 116, 730), (232, 278), glass, 44)
        canvas.box((x - 104, 812), (208, 188), (124, 162, 150), 38)
        for root in range(9):
            sway = [(x - 30 + root * 7.5 + 7 * math.sin(root + i * 0.7), 742 + i * 21) for i in range(11)]
            canvas.line(sway, (232, 222, 198), 2.2)
        canvas.box((x - 116, 836), (232, 120), (58, 60, 62), 10)
        canvas.box((x - 92, 752), (16, 76), mix(glass, PAPER, 0.7), 8)
        canvas.box((x - 96, 694), (192, 42), (186, 148, 76), 10)
        canvas.box((x - 96, 694), (192, 13), (222, 190, 122), 6)
        canvas.ellipse((x, 694), 42, 9, (74, 58, 46))
    return places


BUILDERS: dict[str, Callable[[Canvas, Bench], list[Point]]] = {"jars": _jars}


def scale_picture(scene: Weighing, name: str) -> Image.Image:
    """Draw the kitchen scale with what was picked."""
    canvas, chance = Canvas(WIDE, HIGH), Random(name)
    _room(canvas, chance, scene.wall)
    canvas.glow([(260, 40), (1060, 40), (1500, 1100), (200, 1100)], (255, 240, 210), 0.34, 150)
    canvas.ellipse((800, 1040), 470, 30, (86, 62, 44))
    _scale(canvas, scene)
    canvas.ellipse((800, 694), 490, 62, (168, 172, 172))
    canvas.ellipse((800, 682), 490, 58, (226, 228, 224))
    canvas.ellipse((800, 684), 440, 44, (204, 208, 206))
    HEAPS[scene.produce](canvas, chance, scene.amount)
    return canvas.finished(SCALE_FRAME)


def _scale(canvas: Canvas, scene: Weighing) -> None:
    body: Colour = (178, 74, 58) if scene.dial else (222, 218, 206)
    canvas.box((744, 690), (112, 90), mix(body, INK, 0.4), 8)
    canvas.polygon([(520, 770), (1080, 770), (1180, 1040), (420, 1040)], mix(body, INK, 0.12))
    canvas.polygon([(520, 770), (600, 770), (540, 1040), (420, 1040)], mix(body, PAPER, 0.2))
    if scene.dial:
        canvas.ellipse((800, 900), 118, 118, (70, 58, 52))
        canvas.ellipse((800, 900), 106, 106, PAPER)
        for mark in range(24):
            turn = mark * math.tau / 24
            inner = 84 if mark % 6 == 0 else 94
            ends = [(800 + r * math.sin(turn), 900 - r * math.cos(turn)) for r in (inner, 102)]
            canvas.line(ends, INK, 2.4)
        canvas.line([(800, 900), (868, 846)], (190, 46, 40), 5)
        canvas.ellipse((800, 900), 10, 10, INK)
        canvas.write((800, 950), scene.reading, INK, 27)
        return
    canvas.box((640, 838), (320, 130), (66, 72, 70), 14)
    canvas.box((652, 850), (296, 106), (172, 196, 172), 8)
    canvas.write((800, 902), scene.reading, (32, 42, 36), 76)
