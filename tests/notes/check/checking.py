"""Narrations held against runs of the demo, for tests.

In: the id of a run and what was spoken. Out: the report, and its lines without their times.
"""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

from sitegen.core.facts.tree import Facts
from sitegen.core.language.wording import Wording
from sitegen.notes.check import Checked, check_narration
from tests.notes.materials import of_demo


@cache
def facts_of_demo(run: str) -> Facts:
    """The facts of a run of the demo."""
    return of_demo(run).facts


def checked(
    run: str,
    spoken: str,
    *,
    language: str = "en",
    units: str = "metric",
    ending: str = ".txt",
    title: str = "",
) -> Checked:
    """What was spoken of a run of the demo, held against its log."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"narration{ending}"
        path.write_text(spoken, "utf-8")
        wording = Wording("us" if units == "us" else "metric")
        return check_narration(path, facts_of_demo(run), wording, language, title)


def verdicts(run: str, spoken: str, *, language: str = "en", units: str = "metric") -> list[tuple[str, str]]:
    """Each number that was spoken with its verdict."""
    found = checked(run, spoken, language=language, units=units)
    return [(each.claim.words, each.text) for each in found.claims]
