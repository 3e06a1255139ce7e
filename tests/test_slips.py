"""One wrong value in a sound journal: what is told first names that value, and what follows from it is held back.

The journal in `tests/journals/sound` is invented; each slip changes one value of it. Lines are by hand from its files.
"""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path
from typing import NamedTuple

import pytest

from sitegen.core.findings.told import told
from sitegen.pipeline import validate

SOUND = Path(__file__).parent / "journals" / "sound"
TODAY = dt.date(2025, 8, 1)
SPRING = "seasons/spring"
PAIRS, BESIDE, LATE = (
    f"{SPRING}/{run}/experiment.yaml" for run in ("sorrel-pairs", "sorrel-beside", "physalis-late")
)
LEAVES = f"{SPRING}/sorrel-pairs/leaves.csv"


class Slip(NamedTuple):
    """One value changed in a file; `first` is what is told first, as code and place."""

    name: str
    file: str
    old: str
    new: str
    first: str
    everywhere: bool = False


SLIPS = (
    Slip("a start a year late", PAIRS, "start: 2025", "start: 2026", f"start-unlike-log {PAIRS}:8"),
    Slip("a start a month late", PAIRS, "start: 2025-03", "start: 2025-04", f"start-unlike-log {PAIRS}:8"),
    Slip(
        "a start a year late, with day numbers",
        BESIDE,
        "start: 2025",
        "start: 2026",
        f"start-unlike-log {BESIDE}:10",
    ),
    Slip(
        "a start that is not known",
        PAIRS,
        "start: 2025-03-01",
        "start: unknown",
        f"start-unlike-log {PAIRS}:8",
    ),
    Slip("a spreadsheet a year early", LEAVES, "2025", "2024", f"sheet-unlike-run {LEAVES}:2", True),
    Slip("a spreadsheet a year late", LEAVES, "2025", "2026", f"sheet-unlike-run {LEAVES}:2", True),
    Slip("a sowing a month late", BESIDE, "day: 0", "day: 30", f"sown-after-records {BESIDE}:15"),
    Slip(
        "a second end",
        BESIDE,
        "lost: {P2: wilted}",
        "end: {why: bolted, plants: cleared}",
        f"two-ends {BESIDE}:37",
    ),
    Slip("an end too early", BESIDE, "day: 60", "day: 20", f"end-before-records {BESIDE}:37"),
    Slip("a loss too early", BESIDE, "day: 50\n", "day: 5\n", f"lost-before-records {BESIDE}:33"),
    Slip("a plant too few", PAIRS, "plants: 6", "plants: 5", f"plants-too-few {PAIRS}:9"),
    Slip(
        "a plant named twice",
        PAIRS,
        "plants: 6",
        "plants: [P1, P2, P3, P4, P5, P5]",
        f"duplicate-id {PAIRS}:9",
    ),
    Slip("seeds too few", PAIRS, "sow: 3 a spot", "sow: 2 a spot", f"seeds-unlike-counts {PAIRS}:16"),
    Slip("another crop", PAIRS, "crop: sorrel", "crop: physalis", f"crop-unlike-log {PAIRS}:4"),
    Slip("a block of gear twice", "gear.yaml", "lamps:", "systems:", "duplicate-key gear.yaml:4"),
    Slip("a bracket of gear not closed", "gear.yaml", "8 L}", "8 L", "yaml-syntax gear.yaml:2"),
    Slip("a key of gear misspelt", "gear.yaml", "systems:", "sytems:", "unknown-key gear.yaml:1"),
    Slip("a key of gear in the singular", "gear.yaml", "products:", "product:", "unknown-key gear.yaml:6"),
    Slip(
        "a quote of crops not closed",
        "crops.yaml",
        "name: Sorrel",
        "name: 'Sorrel",
        "yaml-syntax crops.yaml:2",
    ),
    Slip("a group misspelt", PAIRS, "pair: P4-P6", "pairs: P4-P6", f"name-unlike-log {PAIRS}:10"),
    Slip("a tub misspelt", BESIDE, "  right: {system", "  rigth: {system", f"name-unlike-log {BESIDE}:7"),
    Slip("an entry in the future", BESIDE, "day: 25\n", "day: 250\n", f"in-the-future {BESIDE}:25"),
    Slip("an entry a year early", PAIRS, "date: 2025-04-02", "date: 2024-04-02", f"before-start {PAIRS}:32"),
    Slip("an episode too short", LATE, "length: 12:30", "length: 2:30", f"episode-too-short {LATE}:13"),
    Slip(
        "a spreadsheet misspelt", PAIRS, "file: leaves.csv", "file: leafs.csv", f"missing-export {PAIRS}:13"
    ),
    Slip("a plant in two tubs", BESIDE, "plants: P3-P4}", "plants: P2-P3}", f"plants-in-two {BESIDE}:8"),
)


def changed(slip: Slip, root: Path) -> Path:
    """The journal with its slip."""
    shutil.copytree(SOUND, root)
    path = root / slip.file
    text = path.read_text("utf-8")
    assert slip.old in text
    path.write_text(text.replace(slip.old, slip.new, -1 if slip.everywhere else 1), "utf-8")
    return root


def test_the_journal_is_sound(tmp_path: Path) -> None:
    """Without a slip there is no finding."""
    shutil.copytree(SOUND, tmp_path / "journal")

    assert validate(tmp_path / "journal", TODAY).findings == ()


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.name)
def test_the_slip_is_told_first(slip: Slip, tmp_path: Path) -> None:
    """Of the several findings that one wrong value makes, the one at that value is told first, and stands alone."""
    found = validate(changed(slip, tmp_path / "journal"), TODAY).findings
    shown = told(found)

    assert len(found) > 1
    assert [f"{each.first.code} {each.first.source}" for each in shown] == [slip.first]
