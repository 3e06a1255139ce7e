"""A journal with earlier runs, and the command that plans the next one, for tests."""

from __future__ import annotations

from pathlib import Path

import yaml

from sitegen.app.main import status_of
from tests.journal_maker import make_journal

LEAF = """\
format: 1
was: [first-try]
title: Leaf under a bar
question: Does the bar carry leaf?
crop: leaf
variety: first
system: tray
start: 2025-02-01
plants: 6
groups: {near: P1-P3, far: P4-P6}
seed: {source: "a neighbour's: envelope", packed: 2024}
light: {lamp: bar, hours: 14 h, distance: 10 in, on: 06:00}
before: Nothing was written down.
disclosure: The bar was lent.
publish: 2025-05-01
episodes: [{title: Leaf, link: https://example.org/e1, published: 2025-05-01}]
corrections: [{date: 2025-06-01, text: "It was 10 in, not 10 cm."}]
answer:
  verdict: again
  why: it did
  change: hang the bar lower,
    and sow thinner
log:
  - day: 0
    sow: 3 a spot
    water: filled
    from_now: {feed: {mix: 2 ml/L, at: every refill}}
  - day: 40
    harvest: {P1: 80 g, P2: 82 g, P3: 78 g, P4: 60 g, P5: 62 g, P6: 58 g}
    from_now: {light: {hours: 12 h}}
  - day: 41
    end: {plants: cleared}
"""

TUBS = """\
format: 1
title: Two trays
crop: tomato
tubs:
  left: {system: tray, plants: low, light: {lamp: bar, hours: 15 h}}
  right: {system: tray, plants: [P4, P5, P6]}
start: 2025-02-01
plants: 6
groups: {low: P1-P3, high: P4-P6}
variety: {low: amber, P4-P6: amber}
compare: tubs
log:
  - {day: 0, sow: 1 a spot}
  - {day: 60, end: {plants: cleared}}
"""


def bench(root: Path, **more: str) -> Path:
    """A journal with a run of leaf, one of two tubs, and others by id."""
    return make_journal(root, {"leaf": LEAF, "two-trays": TUBS, **more})


def plan(root: Path, *options: str, run: str = "next") -> int:
    """The status of `sitegen begin experiment`."""
    return status_of(["begin", "experiment", run, str(root), *options])


def text_of(root: Path, run: str = "next") -> str:
    """The file that was written."""
    return (root / "seasons" / "one" / run / "experiment.yaml").read_text("utf-8")


def values_of(root: Path, run: str = "next") -> dict[str, object]:
    """Its values, every scalar as the text that stands there."""
    values = yaml.load(text_of(root, run), Loader=yaml.BaseLoader)  # noqa: S506 - it makes texts only
    assert isinstance(values, dict)
    return values


def comments_of(root: Path, run: str = "next") -> list[str]:
    """Its comments, without the keys of an entry."""
    before = text_of(root, run).partition("\n# Keys of an entry:")[0]
    return [line for line in before.splitlines() if line.startswith("#")]
