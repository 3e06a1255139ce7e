"""Makes small whole journals on disk for tests."""

from __future__ import annotations

from pathlib import Path

__all__ = ["make_journal"]

GEAR = """\
systems:
  tray: {name: Seed tray, kind: standing water, spots: 40, reservoir: 8 L, headroom: 60 cm}
lamps:
  bar: {name: Plain bar, power: 40 W}
products:
  mix: {name: Plain mix, kind: feed, dose: 2 ml/L}
"""
CROPS = """\
orange: {name: Orange tree, kind: fruiting}
tomato: {name: Dwarf tomato, kind: fruiting, varieties: {amber: {name: Amber}}}
leaf: {name: Leaf lettuce, kind: leafy, varieties: {first: {name: First}, second: {name: Second}}}
"""


def make_journal(
    root: Path, experiments: dict[str, str], *, journal: str = "", more: dict[str, str] | None = None
) -> Path:
    """A journal with one season; `experiments` are the texts of experiment.yaml by id, `more` other files by path."""
    files = {
        "journal.yaml": f"format: 1\ntitle: Test bench\n{journal}",
        "gear.yaml": GEAR,
        "crops.yaml": CROPS,
        "seasons/one/season.yaml": "title: Season one\n",
        **{f"seasons/one/{name}/experiment.yaml": text for name, text in experiments.items()},
        **(more or {}),
    }
    for name, text in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return root
