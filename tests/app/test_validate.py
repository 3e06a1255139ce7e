"""`sitegen validate`: findings in three forms, and the exit status."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from sitegen import pipeline
from sitegen.app.main import status_of
from sitegen.app.report import findings_json, findings_lines, findings_text
from sitegen.core.findings.finding import Finding, Source
from sitegen.pipeline import Checked

GAP = Finding("long-gap", Source("e.yaml", 9, 3), "nothing is recorded between day 0 and day 40")
UNIT = Finding(
    "unknown-unit", Source("e.yaml", 14, 14, 7), "`mL/plnt` is not a known unit", "write `mL/plant`"
)


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """A journal that nothing reads."""
    (tmp_path / "journal.yaml").touch()
    return tmp_path


@pytest.mark.parametrize(
    ("findings", "counted", "status", "text"),
    [
        ((), (2, 5), 0, "no findings: 2 experiments, 5 entries\n"),
        ((), (1, 1), 0, "no findings: 1 experiment, 1 entry\n"),
        ((GAP,), (2, 5), 0, None),
        ((GAP, UNIT), (2, 5), 1, None),
        ((UNIT,), (2, 5), 1, None),
    ],
)
def test_text(
    findings: tuple[Finding, ...],
    counted: tuple[int, int],
    status: int,
    text: str | None,
    bench: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Findings are printed on stdout, or else the numbers of experiments and entries; an error gives the status 1."""
    monkeypatch.setattr(pipeline, "validate", lambda *_: Checked(findings, *counted))

    assert status_of(["validate", str(bench)]) == status
    expected = f"{findings_text(findings, bench)}\n" if text is None else text
    assert capsys.readouterr() == (expected, "")


@pytest.mark.parametrize("findings", [(), (GAP,), (GAP, UNIT)])
@pytest.mark.parametrize(("option", "form"), [("--line", findings_lines), ("--json", findings_json)])
def test_forms(
    option: str,
    form: object,
    findings: tuple[Finding, ...],
    bench: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Lines and JSON go to stdout, and nothing goes to stderr."""
    monkeypatch.setattr(pipeline, "validate", lambda *_: Checked(findings, 1, 1))

    assert status_of(["validate", str(bench), option]) == int(UNIT in findings)
    assert capsys.readouterr() == (form(findings), "")  # type: ignore[operator]


@pytest.mark.parametrize(
    ("personal", "text"), [((), "nothing looks personal\n"), ((GAP,), f"{findings_text([GAP], Path())}\n")]
)
def test_privacy(
    personal: tuple[Finding, ...],
    text: str,
    bench: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """`--privacy` tells what looks personal and nothing else, and no warning is an error."""
    monkeypatch.setattr(pipeline, "validate", lambda *_: Checked((UNIT,), 1, 1, personal))

    assert status_of(["validate", str(bench), "--privacy"]) == 0
    assert capsys.readouterr() == (text, "")


def test_day(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A journal is checked as on the day given, else today."""
    asked = []
    monkeypatch.setattr(pipeline, "validate", lambda *given: asked.append(given) or Checked(()))
    status_of(["validate", str(bench), "--today", "2026-05-01"])
    status_of(["validate", str(bench)])

    assert asked == [(bench, dt.date(2026, 5, 1)), (bench, dt.date.today())]
