"""Cards of a run of the demo, in the colours of its theme."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from sitegen.ingest import read_journal
from sitegen.memo import Memo
from sitegen.notes.cards import Card
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.engine.snapshot import Settings, theme_of
from sitegen.pipeline.notes.cards import cards_of_run
from tests.conftest import DEMO, TODAY


def cards(root: Path, run: str) -> tuple[Card, ...]:
    """The cards of a run."""
    journal_files, _ = read_journal(root)
    assert journal_files is not None
    theme, _ = theme_of(journal_files)
    assert theme is not None
    with Memo() as memo:
        build = Build(Settings(journal_files, theme), Digests(root, inventory(root), memo), memo, TODAY)
        build.check(only=[run])
        found, findings = cards_of_run(Inputs(build.snapshot, run), theme)
    assert findings == ()
    return found


def words(card: Card) -> list[str]:
    """The lines of a card, but those inside its chart."""
    return re.findall(r"<text [^>]*textLength[^>]*>([^<]*)</text>", card.svg)


@pytest.mark.parametrize(
    "look", [pytest.param("", marks=pytest.mark.full), ":root { --paper: #010203; }"], ids=["theirs", "own"]
)
def test_cards_of_the_demo(tmp_path: Path, look: str) -> None:
    """The beans have a card for each day of their log, a total, a chart, plant 3 twice; the own colour holds."""
    root = tmp_path / "demo"
    shutil.copytree(DEMO, root)
    for other in root.glob("seasons/*/*/experiment.yaml"):
        if other.parent.name != "bean-signal-box":
            shutil.rmtree(other.parent)
    if look:
        (root / "look" / "assets").mkdir(parents=True, exist_ok=True)
        (root / "look" / "assets" / "look.css").write_text(look, "utf-8")
    found = cards(root, "bean-signal-box")
    wide = {card.name: card for card in found if card.format == "16x9"}

    days = re.findall(
        r"(?m)^  - day: (\d+)", (next(root.glob("seasons/*/*/experiment.yaml"))).read_text("utf-8")
    )
    assert list(wide) == [*(f"day-{int(day):03}" for day in days), "total", "chart", "before-and-after"]
    assert [card.name for card in found if card.format == "9x16"] == list(wide)
    assert words(wide["day-063"]) == ["Day 63", "21 June 2025", "Signal Box beans in the flood tray"]
    assert words(wide["total"])[1:3] == ["At least", "465 g"]
    assert words(wide["before-and-after"])[:3] == ["Day 15", "Day 50", "P3"]
    assert ('fill="#010203"' in wide["total"].svg) is bool(look)
