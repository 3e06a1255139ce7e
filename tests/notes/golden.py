"""The golden files of notes: whole drafts of five different runs. `python -m tests.notes.golden` writes them again.

In: the demo, and one invented run of which nothing was weighed. Out: files under `tests/notes/golden/`.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sitegen.notes.drafts import Wanted, draft_of
from sitegen.notes.markdown import markdown
from sitegen.notes.material import Material
from tests.journal_maker import make_journal
from tests.notes.materials import in_journal, of_demo

FOLDER = Path(__file__).parent / "golden"
RUNS = {
    "rich": "bean-signal-box",
    "running": "cinder-beside-pebble",
    "failed": "emberfrill-hot-loft",
    "two-arms": "pebble-two-lamps",
    "nothing-weighed": "amber-unweighed",
}
KINDS = ("script", "description", "answers", "post", "gaps")
UNWEIGHED = """\
format: 1
title: Amber without a scale
question: Does a dwarf tomato carry through a dark winter?
crop: tomato
variety: amber
system: tray
start: 2025-11-02
plants: 3
light: {lamp: bar}
log:
  - day: 0
    sow: 1 a spot
  - day: 9
    sprouted: 2 of 3
  - day: 30
    lost: {P3: never came up}
  - day: 61
    milestone: {first_flower: [P1]}
    water: filled
  - day: 88
    milestone: {ripe: 1 of 2}
    harvest: {plants: [P1], weight: unweighed, count: 4}
    note: Eaten where they stood.
  - day: 95
    harvest: unweighed
    trouble: pale leaves
"""


@contextmanager
def material_of(kind: str) -> Iterator[Material]:
    """The material of one of the five runs."""
    run = RUNS[kind]
    if run != "amber-unweighed":
        yield of_demo(run)
        return
    with tempfile.TemporaryDirectory() as folder:
        yield in_journal(make_journal(Path(folder), {run: UNWEIGHED}), run)


def text_of(material: Material, kind: str) -> str:
    """A draft as Markdown."""
    draft = draft_of(material, Wanted(kind))
    assert draft is not None
    return markdown(draft, material.wording)


def write() -> None:
    """Write all files again."""
    FOLDER.mkdir(exist_ok=True)
    for name in RUNS:
        with material_of(name) as material:
            for kind in KINDS:
                (FOLDER / f"{name}-{kind}.md").write_text(text_of(material, kind), "utf-8")


if __name__ == "__main__":
    write()
