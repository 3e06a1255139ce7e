"""No log and no text stops the check of a narration."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.core.language.number_words.cardinals import cardinal
from sitegen.core.language.wording import Wording
from sitegen.notes.check import check_narration
from tests.notes.check.checking import facts_of_demo
from tests.notes.materials import LOGGED, in_journal
from tests.random_journals import JOURNALS, RandomJournal

_WORDS = """
day Tag by bis on am between zwischen and und to of von out all alle both beide not nicht no one a an ein eine half third
thirds Drittel point Komma hundred hundert thousand minus about nearly at least fast mindestens over grams Gramm kilo
pounds ounces litres Liter degrees Grad % percent per cent more mehr less weniger watts kWh EC pH euros € plants Pflanzen
seeds Samen plant P1 P3 each je twice zweimal once times July Juli 12. 2025-07-12 first erste last picked geerntet ripe
reif flowered sprouted lost taste tall water Wasser fed packet later danach ahead früher left right bar panel Pebble
Lantern Cinder Button in total insgesamt 1.330 1,5 ½ 1/2 0 00 : . , ; ? ! - – 999999999999999
"""
_NUMBERS = st.builds(cardinal, st.integers(-5, 2000), st.sampled_from(["en", "de"]))
_SPOKEN = st.lists(st.sampled_from(_WORDS.split()) | _NUMBERS | st.text(max_size=5), max_size=25).map(
    " ".join
)
_TEXT = _SPOKEN | st.text(max_size=200)
_CAPTIONS = st.lists(_TEXT, max_size=4).map(
    lambda texts: (
        "WEBVTT\n" + "".join(f"\n00:{n:02}.000 --> 00:{n:02}.900\n{text}\n" for n, text in enumerate(texts))
    )
)


def _check(folder: str, run_facts: object, spoken: str, ending: str, language: str, title: str) -> None:
    path = Path(folder) / f"narration{ending}"
    path.write_text(spoken, "utf-8", errors="replace")
    found = check_narration(path, run_facts, Wording(), language, title)  # type: ignore[arg-type]
    assert found.text().endswith(("placed.\n", "found in it.\n"))
    assert json.loads(json.dumps(found.data()))["format"] == 1
    assert all(each.text for each in found.claims)


@settings(max_examples=settings().max_examples)
@given(
    st.sampled_from(LOGGED),
    _TEXT | _CAPTIONS,
    st.sampled_from([".vtt", ".srt", ".txt"]),
    st.sampled_from(["en", "de", "fr", ""]),
    _TEXT,
)
def test_no_text_stops_it(run: str, spoken: str, ending: str, language: str, title: str) -> None:
    """Any text in any kind of file is read, or has a finding."""
    with tempfile.TemporaryDirectory() as folder:
        _check(folder, facts_of_demo(run), spoken, ending, language, title)


@settings(max_examples=settings().max_examples // 4)
@given(JOURNALS, _SPOKEN)
def test_no_log_stops_it(journal: RandomJournal, spoken: str) -> None:
    """Any log is something to hold a narration against."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "journal"
        root.mkdir()
        journal.write(root)
        for run in journal.experiments:
            _check(folder, in_journal(root, run).facts, spoken, ".txt", journal.language, "")
