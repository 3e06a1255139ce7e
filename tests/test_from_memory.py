"""Random runs told from memory, from their files to the site: any of them is read, judged, measured and written."""

from __future__ import annotations

import datetime as dt
import tempfile
from collections import Counter
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.core.facts.figure import figures
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.pipeline import publish
from sitegen.pipeline.facts import facts_of
from tests.journal_maker import make_journal

TODAY = dt.date(2026, 11, 28)
HARVESTS = ("some", "a few small heads", "3 heads", "about 200 g", "150 g by eye", "1-2 kg", "unweighed")
ANSWERS = (
    "{verdict: again}",
    "{result: It stayed small.}",
    "{verdict: undecided, why: too few, change: sow earlier}",
)
# Each key with the values that it may have; a key without a value is left out.
KEYS = {
    "plants": ("unknown", "some", "about 4", "3-4", "at least 2", "3", "[mint, dill]"),
    "start": ("unknown", "2023", "2023-05", "2023-05-06"),
    "system": ("", "tray", "[tray]", "[tray, shelf]"),
    "variety": ("", "first", "[first, second]"),
    "harvest": ("", *HARVESTS),
    "answer": ("", *ANSWERS),
    "question": ("", "Does it grow?"),
    "light": ("", "{lamp: bar, hours: 14 h}"),
    "seed": ("", "{source: a swap, claims: {days: 35, from: sowing}}"),
    "publish": ("", "2026-01-01"),
}
SHELF = "  shelf: {name: Shelf, kind: wick}\n"
LOGGED = (
    "format: 1\ntitle: A logged run\ncrop: leaf\nsystem: tray\nstart: 2025-03-01\nplants: 2\n"
    "log:\n  - {day: 0, sow: 1 a spot}\n  - {day: 20, harvest: 90 g}\n"
    "  - {day: 21, end: {why: done, plants: cleared}}\nanswer: {verdict: again}\n"
)


@st.composite
def heads(draw: st.DrawFn) -> str:
    """The set-up of one run told from memory."""
    drawn = {key: draw(st.sampled_from(values)) for key, values in KEYS.items()}
    lines = "".join(f"{key}: {value}\n" for key, value in drawn.items() if value)
    return f"format: 1\ntitle: Told\ncrop: leaf\nfrom_memory: true\n{lines}"


def journal_in(folder: str, head: str) -> Path:
    """A journal with such a run beside one that has a log."""
    root = make_journal(Path(folder) / "journal", {"told": head, "logged": LOGGED})
    gear = root / "gear.yaml"
    gear.write_text(gear.read_text("utf-8").replace("lamps:\n", f"{SHELF}lamps:\n"), "utf-8")
    return root


def test_any_run_told_from_memory_is_written() -> None:
    """It has no finding and a page, and no figure of a harvest is made of it."""
    met: Counter[str] = Counter()

    @settings(max_examples=12, suppress_health_check=list(HealthCheck))
    @given(heads())
    def write(head: str) -> None:
        with tempfile.TemporaryDirectory() as folder:
            root = journal_in(folder, head)
            result = publish(root, TODAY, output=Path(folder) / "site", jobs=1)
            assert [(finding.code, finding.message) for finding in result.findings] == []
            page = (Path(folder) / "site" / "experiments" / "told.html").read_text("utf-8")
            told = facts_of(root, ("told",), TODAY)[1][0]
        assert page.count("From memory: no log was kept.") == 1
        assert "None" not in page
        assert told.run.stage == "from memory"
        amounts = [figure for figure in figures(told) if isinstance(figure.value, Quantity)]
        assert [each.name for each in amounts if each.value.dimension is Dimension.MASS] == []
        met.update(("plants" if told.run.setup.plants else "no plants", f"{len(told.run.setup.tubs)} tubs"))

    write()
    assert all(met[each] for each in ("plants", "no plants", "0 tubs", "1 tubs", "2 tubs")), met
