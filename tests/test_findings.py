"""Every code of finding, in the smallest journal that has it, with the whole report as it is shown."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from sitegen.app.console.report import findings_text
from sitegen.core.findings.codes import CODES
from sitegen.pipeline import publish, validate
from tests.cases import BASE, Case, cases

TODAY = dt.date(2025, 4, 1)
CASES = cases()

# Codes without a case file, each with the reason and the place of its test.
ELSEWHERE = {
    "file-too-large": "its file would be too large to keep: tests/ingest/test_files.py",
    "too-many-items": "its file would be too large to keep: tests/bounds/test_inputs.py",
    "bad-transcript": "only what was spoken is read from captions: tests/notes/check/test_transcript.py",
    "bad-caption": "as above",
    "chapters-refused": "only the notes of an episode ask for chapters: tests/notes/test_chapters.py",
    "which-experiment": "only an inbox is filed: tests/pipeline/filing/test_inbox.py",
    "unplaced-line": "as above",
    "filing-unfinished": "as above",
    "personal-hint": "only `validate --privacy` tells it: tests/judge/personal",
    "output-in-the-way": "its message names a folder of this machine: tests/write",
    "output-not-ours": "its message names a folder of this machine: tests/write",
}
# Pictures are no text: their codes are tested where pictures are made, in tests/photos and tests/judge.
PICTURES = {code for code in CODES if code.startswith("photo-")}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_broken_journal(case: Case, tmp_path: Path) -> None:
    """A broken journal gets exactly the report that its file shows."""
    findings = validate(case.write(tmp_path), TODAY).findings

    assert findings_text(findings, tmp_path) == case.findings


@pytest.mark.parametrize(
    "keep_going",
    [pytest.param(False, id="stopped"), pytest.param(True, id="kept going", marks=pytest.mark.full)],
)
@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_writing_finds_what_validating_does(case: Case, keep_going: bool, tmp_path: Path) -> None:
    """Writing a broken journal gives the findings of validating it, also where sound runs are written."""
    root = case.write(tmp_path / "journal")
    validated = validate(root, TODAY).findings

    written = publish(root, TODAY, output=tmp_path / "output", keep_going=keep_going, fresh=True)

    assert written.findings == validated
    assert (written.outcome is None) == (not keep_going and any(f.is_error for f in validated)) or keep_going


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_case_is_about_its_code(case: Case) -> None:
    """A case shows the code that its file is named after, once."""
    assert case.findings.count(f"[{case.code}]") == 1


def test_every_code_has_a_case() -> None:
    """No code is without its broken journal, but for those explained."""
    shown = {case.code for case in CASES}

    assert set(CODES) - shown - PICTURES == set(ELSEWHERE)


def test_the_shared_journal_is_sound(tmp_path: Path) -> None:
    """What all cases share has no finding of its own."""
    Case("sound", "", (), "").write(tmp_path)

    assert validate(tmp_path, TODAY).findings == ()
    assert sorted(path.name for path in BASE.rglob("*.yaml")) == [
        "crops.yaml",
        "gear.yaml",
        "journal.yaml",
        "season.yaml",
    ]


@pytest.mark.parametrize(
    "finding", [f for c in CASES for f in c.findings.split("\n\n")], ids=lambda f: f[:40]
)
def test_every_finding_says_what_to_do(finding: str) -> None:
    """Every finding but the closing line has a mend."""
    assert "\nhelp: " in finding or finding.endswith(("file\n", "files\n", "held back\n"))
