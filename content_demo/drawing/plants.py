"""Whole plants by crop and by how far they have come.

In: a canvas, a `Plant` and the place where it leaves its cup. Out: paint, back leaves first. Sizes
are in picture pixels; growth runs from 0 (seed leaves) to 1 (full size).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from drawing.leaves import LEAVES, blunt_fruit, leaf, pea_flower, pod, round_fruit, star_flower
from drawing.shapes import Canvas, Colour, Point, along, curve, mix

STEM: Colour = (110, 148, 76)
YELLOW: Colour = (246, 210, 66)
GREEN_FRUIT: Colour = (142, 178, 88)
RIPE: dict[str, Colour] = {
    "pebble-lantern": (206, 48, 40),
    "cinder-button": (226, 116, 44),
    "windlass-yellow": (240, 190, 48),
}


@dataclass(frozen=True, slots=True)
class Plant:
    """One plant as it is to be drawn."""

    kind: str
    growth: float
    flowers: int = 0
    green: int = 0
    ripe: int = 0
    lanky: float = 0.0
    bolting: float = 0.0
    cane: bool = False


def seedling(canvas: Canvas, chance: Random, place: Point, size: float) -> None:
    """Draw two seed leaves on a short stem."""
    tip = along(place, chance.uniform(-0.08, 0.08), size * 0.7)
    canvas.line([place, tip], mix(STEM, (240, 240, 220), 0.3), size * 0.07)
    for side in (-1, 1):
        leaf(canvas, chance, LEAVES["seed-leaf"], tip, side * 1.15, size * 0.7, bend=side * 0.3)


def rosette(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    """Draw a lettuce: upright leaves behind, spreading ones in front, a stem when it bolts."""
    kind = LEAVES[plant.kind]
    reach = 56 + 200 * plant.growth
    count = 3 + round(17 * plant.growth)
    upright = 0.72 if plant.kind == "saltmarsh-oak" else 1.0
    for index in range(count):
        front = index / (count - 1)
        swing = (0.25 + 0.95 * front) * upright * (1 if index % 2 else -1)
        angle = swing * chance.uniform(0.75, 1.1)
        length = reach * (1.05 - 0.34 * front) * chance.uniform(0.9, 1.06)
        leaf(canvas, chance, kind, place, angle, length, bend=angle * 0.55, shade=0.75 - 0.75 * front)
    for angle in (-0.24, 0.2, -0.04) if plant.growth > 0.2 else ():
        leaf(canvas, chance, kind, place, angle, reach * 0.56, bend=angle, shade=0.05)
    if plant.bolting:
        _running_up(canvas, chance, plant, place)


def _running_up(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    kind = LEAVES[plant.kind]
    line = curve(place, chance.uniform(-0.04, 0.04), 330 * plant.bolting, 0.05)
    canvas.line(line, mix(STEM, (150, 90, 80), 0.2), 13)
    for index in range(1, len(line)):
        side = 1 if index % 2 else -1
        length = 92 * (1.15 - index / len(line)) * chance.uniform(0.85, 1.1)
        leaf(canvas, chance, kind, line[index], side * 1.0, length, bend=side * 0.5)
    for turn in range(-2, 3):
        canvas.ellipse(along(line[-1], turn * 0.5, 18), 6, 8, mix(STEM, YELLOW, 0.25))


def compound_leaf(
    canvas: Canvas, chance: Random, place: Point, reach: tuple[float, float], shade: float
) -> None:
    """Draw a tomato leaf of a given angle and length: leaflets in pairs along a stalk."""
    angle, length = reach
    kind, bend = LEAVES["tomato"], 0.9 if angle > 0 else -0.9
    stalk = curve(place, angle, length, bend)
    canvas.line(stalk, mix(STEM, (30, 40, 30), shade * 0.4), 3.4)
    for share, size in ((5, 0.3), (8, 0.42), (11, 0.4)):
        turned = angle + bend * (share / 14) ** 1.4
        for side in (-1, 1):
            tilt = turned + side * chance.uniform(0.85, 1.15)
            leaf(
                canvas,
                chance,
                kind,
                stalk[share],
                tilt,
                length * size,
                bend=side * 0.3,
                shade=shade,
            )
    leaf(canvas, chance, kind, stalk[-2], angle + bend, length * 0.5, shade=shade)


def tomato(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    """Draw a dwarf tomato with its trusses."""
    tall = (70 + 250 * plant.growth) * (1.0 + plant.lanky)
    tall *= 0.8 if plant.kind == "cinder-button" else 1.0
    line = curve(place, chance.uniform(-0.06, 0.06), tall, chance.uniform(-0.1, 0.1))
    if plant.cane:
        canvas.line([(place[0] + 9, place[1]), (place[0] + 15, place[1] - tall - 60)], (196, 164, 108), 7)
    reach = (60 + 92 * plant.growth) * (1.0 - 0.2 * plant.lanky)
    levels = max(3, round((5 + 4 * plant.growth) * (1.0 - 0.3 * plant.lanky)))
    for layer, shade in ((0, 0.75), (1, 0.35), (2, 0.05)):
        for level in range(levels):
            share = (level + 0.55 + 0.25 * layer) / levels
            side = 1 if (level + layer) % 2 else -1
            angle = side * (1.25 - 0.75 * share) * chance.uniform(0.85, 1.15)
            length = reach * (1.15 - 0.5 * share) * chance.uniform(0.9, 1.1)
            length *= (1.0, 0.94, 0.6)[layer]
            spot = line[min(13, round(share * 14))]
            compound_leaf(canvas, chance, spot, (angle, length), shade)
        if layer == 0:
            canvas.line(line, STEM, 7 + 5 * plant.growth)
    _trusses(canvas, chance, plant, line)


def _trusses(canvas: Canvas, chance: Random, plant: Plant, line: list[Point]) -> None:
    size = 19 if plant.kind == "pebble-lantern" else 16
    load = [RIPE[plant.kind]] * plant.ripe + [GREEN_FRUIT] * plant.green
    for index, colour in enumerate(load):
        centre = line[5 + (index // 4 * 3) % 8]
        side = 1 if (index // 4) % 2 else -1
        x = centre[0] + side * (26 + 25 * (index % 4)) + chance.uniform(-6, 6)
        y = centre[1] + 14 + 12 * (index % 2) + 9 * (index % 4)
        canvas.line([centre, (centre[0] + side * 40, centre[1] - 6), (x, y - size)], STEM, 3)
        round_fruit(canvas, (x, y), size * chance.uniform(0.85, 1.08), colour)
    for index in range(plant.flowers):
        centre = line[min(13, 9 + index % 5)]
        spot = (centre[0] + chance.uniform(-70, 70), centre[1] + chance.uniform(-40, 26))
        canvas.line([centre, spot], STEM, 2.2)
        star_flower(canvas, spot, 16, YELLOW, (214, 150, 36))


def pepper(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    """Draw a dwarf pepper: a fork, glossy leaves, blunt fruits that hang."""
    tall = 70 + 190 * plant.growth
    trunk = curve(place, 0.02, tall * 0.34, 0.0)
    arms = [curve(trunk[-1], side * 0.45, tall * 0.74, -side * 0.3) for side in (-1, 1)]
    arms.append(curve(trunk[-1], chance.uniform(-0.1, 0.1), tall * 0.8, 0.05))
    reach = 54 + 50 * plant.growth
    for layer, shade in ((0, 0.65), (1, 0.1)):
        for arm in arms:
            for index in range(2 + layer, 15, 2):
                side = 1 if (index // 2 + layer) % 2 else -1
                angle = side * chance.uniform(0.4, 1.5)
                size = reach * chance.uniform(0.8, 1.1)
                leaf(
                    canvas,
                    chance,
                    LEAVES["pepper"],
                    arm[index],
                    angle,
                    size,
                    bend=side * 0.7,
                    shade=shade,
                )
        for line in (trunk, *arms) if layer == 0 else ():
            canvas.line(line, mix(STEM, (60, 90, 50), 0.4), 7)
    load = [RIPE[plant.kind]] * plant.ripe + [(74, 132, 62)] * plant.green
    for index, colour in enumerate(load):
        fork = arms[index % 3][5 + 4 * (index // 3)]
        blunt_fruit(canvas, (fork[0] + (-34, 36, 2)[index % 3], fork[1] + 4), 29, colour)
    for index in range(plant.flowers):
        star_flower(canvas, arms[index % 3][12], 13, (248, 246, 236), (196, 190, 120))


def bean(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    """Draw a dwarf bean: leaves in threes, flowers or pods."""
    line = curve(place, chance.uniform(-0.05, 0.05), 80 + 230 * plant.growth, 0.05)
    canvas.line(line, STEM, 8)
    levels = 2 + round(4 * plant.growth)
    reach = 60 + 26 * plant.growth
    for level in range(levels * 3):
        share = (level // 3 + 1) / levels
        side = 1 if level % 2 else -1
        angle = side * (1.2 - 0.7 * share) * chance.uniform(0.7, 1.15)
        arm = reach * (chance.uniform(0.8, 1.1) if level % 3 else 0.35)
        stalk = curve(line[min(14, round(share * 13))], angle, arm, side * 0.3)
        canvas.line(stalk, STEM, 3.4)
        shade = 0.55 if level % 3 == 0 else 0.05 + 0.1 * (level % 2)
        for turn in (-1.15, 1.15, 0.0):
            size = reach * chance.uniform(0.85, 1.05)
            leaf(
                canvas,
                chance,
                LEAVES["bean"],
                stalk[-1],
                angle + side * 0.3 + turn,
                size,
                bend=side * 0.4,
                shade=shade,
            )
    for index in range(plant.green):
        start = line[4 + index % 6]
        pod(canvas, start, math.pi + (0.4 if index % 2 else -0.4), 92, -0.3 if index % 2 else 0.3)
    for _ in range(plant.flowers):
        centre = line[chance.randint(7, 13)]
        pea_flower(canvas, (centre[0] + chance.uniform(-60, 60), centre[1] + chance.uniform(-20, 30)), 15)


def basil(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    """Draw two stems with leaves in facing pairs."""
    for lean in (-0.17, 0.16):
        line = curve(place, lean, 70 + 180 * plant.growth, -lean * 0.5)
        canvas.line(line, STEM, 6)
        levels = 3 + round(3 * plant.growth)
        for level in range(levels):
            share = (level + 1) / levels
            for side in (-1, 1):
                angle = lean + side * (1.2 - 0.55 * share) * chance.uniform(0.9, 1.1)
                size = (58 + 50 * plant.growth) * (1.15 - 0.5 * share)
                leaf(
                    canvas,
                    chance,
                    LEAVES["basil"],
                    line[round(share * 14)],
                    angle,
                    size,
                    bend=side * 0.6,
                    shade=0.4 * (1 - share),
                )


def tuft(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    """Draw radish or chard: stalked leaves from one crown."""
    count = 4 + round(6 * plant.growth)
    for index in range(count):
        front = index / (count - 1)
        angle = (0.15 + 0.75 * front) * (1 if index % 2 else -1) * chance.uniform(0.7, 1.15)
        length = (70 + 170 * plant.growth) * (1.05 - 0.2 * front) * chance.uniform(0.9, 1.08)
        leaf(
            canvas,
            chance,
            LEAVES[plant.kind],
            place,
            angle,
            length,
            bend=angle * 0.6,
            shade=0.6 - 0.6 * front,
        )


def coriander(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    """Draw many thin stems, each ending in a fan of three."""
    for index in range(8 + round(8 * plant.growth)):
        angle = chance.uniform(-0.75, 0.75)
        stalk = curve(place, angle, (70 + 130 * plant.growth) * chance.uniform(0.7, 1.1), angle * 0.4)
        canvas.line(stalk, mix(STEM, (150, 186, 110), 0.4), 2.6)
        for turn in (-1.1, 1.1, 0.0):
            shade = 0.4 if index % 3 == 0 else 0.05
            size = 30 + 16 * plant.growth
            leaf(canvas, chance, LEAVES["coriander"], stalk[-1], angle + turn, size, shade=shade)


def feather(canvas: Canvas, chance: Random, plant: Plant, place: Point) -> None:
    """Draw carrot tops: fronds that divide twice."""
    for index in range(6 + round(7 * plant.growth)):
        angle = chance.uniform(-0.6, 0.6)
        green = mix((62, 124, 60), (128, 180, 88), chance.random())
        length = (70 + 160 * plant.growth) * chance.uniform(0.75, 1.1)
        frond(canvas, place, angle, length, green if index > 3 else mix(green, (20, 40, 30), 0.4))


def frond(canvas: Canvas, place: Point, angle: float, length: float, colour: Colour) -> None:
    """Draw one feathery leaf."""
    stalk = curve(place, angle, length, angle * 0.9)
    canvas.line(stalk, colour, 2.8)
    for step in range(5, 15):
        turned = angle + angle * 0.9 * (step / 14) ** 1.4
        for side in (-1, 1):
            twig = curve(stalk[step], turned + side * 0.95, length * (0.34 - 0.016 * step), 0.0, 6)
            canvas.line(twig, colour, 1.8)
            for place_on in (2, 4, 5):
                for fork in (-0.7, 0.7):
                    tip = along(twig[place_on], turned + side * 0.95 + fork, length * 0.045)
                    canvas.line([twig[place_on], tip], colour, 1.6)


def stature(plant: Plant) -> float:
    """Return about how high a plant reaches above its cup, for hanging the lamp."""
    base, gain = STATURES[plant.kind]
    tall = (base + gain * plant.growth) * (1.0 + plant.lanky)
    return max(tall, 360 * plant.bolting)


STATURES: dict[str, tuple[float, float]] = {
    "emberfrill": (56, 200),
    "quiet-harbour": (56, 200),
    "saltmarsh-oak": (56, 210),
    "pebble-lantern": (100, 300),
    "cinder-button": (90, 250),
    "windlass-yellow": (110, 240),
    "bean": (150, 260),
    "basil": (120, 210),
    "radish": (80, 180),
    "chard": (80, 180),
    "coriander": (110, 160),
    "carrot": (80, 190),
}
Painter = Callable[[Canvas, Random, Plant, Point], None]
PAINTERS: dict[str, Painter] = {
    "emberfrill": rosette,
    "quiet-harbour": rosette,
    "saltmarsh-oak": rosette,
    "pebble-lantern": tomato,
    "cinder-button": tomato,
    "windlass-yellow": pepper,
    "bean": bean,
    "basil": basil,
    "radish": tuft,
    "chard": tuft,
    "coriander": coriander,
    "carrot": feather,
}
