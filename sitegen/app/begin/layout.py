"""A random layout in complete blocks: which arm each spot gets.

In: arms, stretches of spots that are alike, a seed. Out: the blocks of each stretch.

The same seed gives the same layout with every version of Python: of its `random` only `random()` is used, after a seed
that is a whole number, which are the two things that its manual promises not to change ("Notes on Reproducibility").
Blocks: Fisher, R. A. (1935). The Design of Experiments. Oliver and Boyd, chapter 4.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random

Block = tuple[str, ...]


def random_layout(arms: Sequence[str], stretches: Sequence[int], seed: int) -> tuple[tuple[Block, ...], ...]:
    """The arms of each stretch of so many spots, block by block.

    Consecutive spots of a stretch form a block, as large as there are arms: each arm once, in a random order. What is
    left of a stretch is a part of a block: a random choice of arms without repetition, of those with the fewest spots
    so far before others. So no two arms differ by more than one spot, in any stretch or in all.
    """
    draw = Random(seed).random  # noqa: S311 - nothing secret
    spots = dict.fromkeys(arms, 0)
    return tuple(tuple(_blocks(spots, stretch, draw)) for stretch in stretches)


def _blocks(spots: dict[str, int], stretch: int, draw: Callable[[], float]) -> list[Block]:
    blocks = []
    whole, left = divmod(stretch, len(spots))
    for size in [len(spots)] * whole + [left] * (left > 0):
        block = _in_random_order(tuple(spots), draw)
        if size < len(spots):
            # A stable order: chosen at random among equals.
            fewest = sorted(block, key=spots.__getitem__)[:size]
            block = _in_random_order([arm for arm in spots if arm in fewest], draw)
        for arm in block:
            spots[arm] += 1
        blocks.append(block)
    return blocks


def _in_random_order(arms: Sequence[str], draw: Callable[[], float]) -> Block:
    """Each arm takes a number, one after the other; the smallest comes first."""
    numbers = [draw() for _ in arms]
    return tuple(arms[place] for place in sorted(range(len(arms)), key=numbers.__getitem__))
