"""What was picked, heaped on the plate of the scale.

In: a canvas, chance and how many pieces. Out: paint, the pieces behind first. The plate itself and
the reading are drawn in `scenes`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from random import Random

from drawing.leaves import LEAVES, blunt_fruit, leaf, long_root, pod, round_fruit, round_root
from drawing.plants import PAINTERS, RIPE, Plant, frond
from drawing.shapes import Canvas, Point, mix

Heap = Callable[[Canvas, Random, int], None]


def _heap(chance: Random, amount: int, step: float) -> list[Point]:
    """Return places for a heap, back rows first and higher."""
    places: list[Point] = []
    row, base = 0, max(3, round(math.sqrt(amount * 2.6)))
    while len(places) < amount and base - row > 0:
        count = base - row
        for index in range(count):
            x = 800 + (index - (count - 1) / 2) * step + chance.uniform(-6, 6)
            places.append((x, 676 - row * step * 0.66 + chance.uniform(-5, 5)))
        row += 1
    return sorted(places[:amount], key=lambda place: place[1])


def _leaf_heap(kind: str, length: float) -> Heap:
    def heap(canvas: Canvas, chance: Random, amount: int) -> None:
        for index in range(amount):
            front = index / amount
            x = 800 + chance.uniform(-250, 250) * (0.75 + 0.25 * front)
            y = 566 + 108 * front - 60 * math.cos((x - 800) / 250) * (1 - front)
            angle = math.copysign(chance.uniform(0.7, 1.7), chance.uniform(-1, 1))
            size = length * chance.uniform(0.8, 1.1)
            start = (x - math.sin(angle) * size / 2, y)
            leaf(
                canvas,
                chance,
                LEAVES[kind],
                start,
                angle,
                size,
                bend=math.copysign(0.5, angle),
                shade=0.6 * (1 - front),
            )

    return heap


def _tomato_heap(kind: str, size: float) -> Heap:
    def heap(canvas: Canvas, chance: Random, amount: int) -> None:
        for place in _heap(chance, amount, size * 1.75):
            tone = mix(RIPE[kind], (232, 140, 50), chance.uniform(0.0, 0.25))
            round_fruit(canvas, (place[0], place[1] - size * 0.4), size * chance.uniform(0.9, 1.1), tone)

    return heap


def _radishes(canvas: Canvas, chance: Random, amount: int) -> None:
    for index in range(amount):
        x = 800 + (index - (amount - 1) / 2) * 138
        for turn in (-0.5, 0.45, -0.15, 0.2):
            leaf(
                canvas,
                chance,
                LEAVES["radish"],
                (x, 610),
                turn,
                250 * chance.uniform(0.85, 1.1),
                bend=turn,
                shade=0.3 if abs(turn) < 0.3 else 0.0,
            )
        round_root(canvas, (x, 640), 52 * chance.uniform(0.85, 1.1))


def _pods(*, old: bool) -> Heap:
    def heap(canvas: Canvas, chance: Random, amount: int) -> None:
        for index in range(amount):
            y = 580 + 100 * index / amount
            x = 610 + chance.uniform(-90, 120)
            pod(
                canvas,
                (x, y),
                1.57 + chance.uniform(-0.35, 0.35),
                300 * chance.uniform(0.85, 1.15),
                chance.uniform(-0.5, 0.5),
                old=old,
            )

    return heap


def _carrots(forked: bool) -> Heap:
    def heap(canvas: Canvas, chance: Random, amount: int) -> None:
        places = [
            (600 + 210 * (step % 2) + chance.uniform(-30, 30), 680 - 22 * step) for step in range(amount)
        ]
        for place in reversed(places):
            for turn in (-2.0, -1.6, -1.2):
                tilt = turn + chance.uniform(-0.15, 0.15)
                green = mix((62, 118, 56), (120, 170, 84), chance.random())
                frond(canvas, place, tilt, 150 * chance.uniform(0.9, 1.2), green)
        for index, place in enumerate(reversed(places)):
            split = forked and index % 2 == 1
            tilt = 1.57 + chance.uniform(-0.1, 0.1)
            long_root(canvas, place, tilt, 235 * chance.uniform(0.86, 1.1), forked=split)

    return heap


def _head(canvas: Canvas, chance: Random, amount: int) -> None:
    for number in range(amount):
        PAINTERS["quiet-harbour"](canvas, chance, Plant("quiet-harbour", 1.45), (800 + number * 120, 690))


def _two_lettuces(canvas: Canvas, chance: Random, amount: int) -> None:
    for kind, shift in (("saltmarsh-oak", -170), ("quiet-harbour", 170)):
        for index in range(amount // 2):
            front = index / (amount // 2)
            angle = chance.uniform(0.5, 1.3) * (1 if index % 2 else -1)
            place = (800 + shift - math.sin(angle) * 70 + chance.uniform(-40, 40), 600 + 84 * front)
            leaf(
                canvas,
                chance,
                LEAVES[kind],
                place,
                angle,
                190,
                bend=angle * 0.4,
                shade=0.5 - 0.5 * front,
            )


def _bunch(canvas: Canvas, chance: Random, amount: int) -> None:
    for place in ((640, 690), (760, 694), (880, 692)):
        PAINTERS["coriander"](canvas, chance, Plant("coriander", amount / 10), place)


def _peppers(canvas: Canvas, chance: Random, amount: int) -> None:
    for place in _heap(chance, amount, 84):
        blunt_fruit(canvas, (place[0], place[1] - 60), 36, RIPE["windlass-yellow"])


HEAPS: dict[str, Heap] = {
    "emberfrill": _leaf_heap("emberfrill", 210),
    "basil": _leaf_heap("basil", 170),
    "two lettuces": _two_lettuces,
    "one lettuce": _head,
    "pebble-lantern": _tomato_heap("pebble-lantern", 44),
    "cinder-button": _tomato_heap("cinder-button", 38),
    "radishes": _radishes,
    "pods": _pods(old=False),
    "old pods": _pods(old=True),
    "carrots": _carrots(False),
    "forked carrots": _carrots(True),
    "coriander": _bunch,
    "peppers": _peppers,
}
