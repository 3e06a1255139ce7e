"""One wrong value in a sound journal: what is told first names that value, and what follows from it is held back.

The journal in `tests/journals/sound` is invented; each slip changes one value of it. The numbers are by hand from its files.
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


SLIPS = (Slip("start a year late", PAIRS, "start: 2025", "start: 2026", f"start-unlike-log {PAIRS}:8"),)


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
    """Of the several findings that one wrong value makes, the one at that value is told first."""
    found = validate(changed(slip, tmp_path / "journal"), TODAY).findings
    first = told(found)[0].first

    assert len(found) > 1
    assert f"{first.code} {first.source}" == slip.first
