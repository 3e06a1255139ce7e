"""`sitegen validate`: findings in three forms, and the exit status."""

from __future__ import annotations

import datetime as dt
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path

import pytest

from sitegen import pipeline
from sitegen.app.console.report import findings_json, findings_lines, findings_text
from sitegen.app.main import status_of
from sitegen.app.validate.privacy import REMOVED
from sitegen.cache_folder import lock_folder
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.filing.journal_lock import journal_lock
from sitegen.pipeline.checks import privacy
from sitegen.pipeline.checks.privacy import Personal
from sitegen.pipeline.filing import mending
from sitegen.pipeline.results import Checked
from tests.cases import Case

PLACE = "seasons/spring/crate-run/experiment.yaml"

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


DAY = ["--today", "2025-04-01"]


def _slips(root: Path) -> Path:
    """A journal with a slip that can be mended, and one that cannot."""
    head = "format: 1\ntitle: Sorrel in a crate\ncrop: sorrel\nsystem: crate\nstart: 2025-03-01\nplants: 4\nlog:\n"
    log = "  - {day: 0, sow: 2 a spot}\n  - {day: 20, height: 10-8 cm, leaves: many}\n"
    Case("slips", "", ((PLACE, (head + log).encode()),), "").write(root)
    return root / PLACE


def test_fix(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--fix` tells each change with its place, reports what is left, and has the status of that."""
    place = _slips(tmp_path)

    assert status_of(["validate", str(tmp_path), "--fix", *DAY]) == 1
    out, err = capsys.readouterr()
    assert out.startswith(
        f"{PLACE}:9: `10-8 cm` → `8-10 cm`\nerror[not-a-quantity]: `many` is not a whole number\n"
    )
    assert (out.endswith("\n1 error in 1 file\n\n"), err) == (True, "")
    assert "height: 8-10 cm, leaves: many" in place.read_text("utf-8")


def test_fix_beside_data(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With findings as lines or JSON on stdout, what was changed is told on stderr."""
    _slips(tmp_path)

    assert status_of(["validate", str(tmp_path), "--fix", "--line", *DAY]) == 1
    out, err = capsys.readouterr()
    assert err == f"{PLACE}:9: `10-8 cm` → `8-10 cm`\n"
    assert [line.partition(": ")[0] for line in out.splitlines()] == [f"{PLACE}:9:40"]


def test_diff(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--diff` prints a patch and nothing else, writes nothing, and has the status of the journal as it is."""
    place = _slips(tmp_path)
    before = place.read_bytes()

    assert status_of(["validate", str(tmp_path), "--diff", *DAY]) == 1
    out, err = capsys.readouterr()
    assert (out.splitlines()[:2], err) == ([f"--- a/{PLACE}", f"+++ b/{PLACE}"], "")
    assert (
        "\n-  - {day: 20, height: 10-8 cm, leaves: many}\n+  - {day: 20, height: 8-10 cm, leaves: many}\n"
        in out
    )
    assert place.read_bytes() == before


@pytest.mark.parametrize("other", ["--fix", "--json", "--line"])
def test_diff_stands_alone(other: str, bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A patch shares stdout with nothing."""
    assert status_of(["validate", str(bench), "--diff", other]) == 2
    assert "`--diff` shows changes and nothing else" in capsys.readouterr().err


def test_fix_while_another_command_writes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """While another command holds the journal, nothing is mended, and the usage error says so."""
    place = _slips(tmp_path)
    before = place.read_bytes()
    monkeypatch.setattr(mending, "journal_lock", partial(journal_lock, wait=0.05))

    # The lock is one of processes and threads; this thread may hold it twice.
    with ThreadPoolExecutor(1) as other, lock_folder() as locks, journal_lock(locks, tmp_path):
        assert other.submit(status_of, ["validate", str(tmp_path), "--fix", *DAY]).result() == 5
    assert capsys.readouterr().err == (
        f"not now: `{tmp_path}`: another command is changing it\n"
        "run the command again when the other one has ended\n"
    )
    assert place.read_bytes() == before


HINT = Finding("personal-hint", Source(PLACE, 3, 8, 4), "m", "n", "found")


@pytest.mark.parametrize(
    ("found", "text"),
    [
        ((), f"nothing looks personal in 7 texts\n\n{REMOVED}\n"),
        ((HINT,), f"{findings_text([HINT], Path())}\n{REMOVED}\n"),
    ],
)
def test_privacy(
    found: tuple[Finding, ...],
    text: str,
    bench: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """`--privacy` tells what looks personal and what is never published; advice is no error."""
    monkeypatch.setattr(privacy, "personal", lambda *_: Personal(found, 7))

    assert status_of(["validate", str(bench), "--privacy"]) == 0
    assert capsys.readouterr() == (text, "")


def test_privacy_in_a_form(
    bench: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """For a program there are findings alone."""
    monkeypatch.setattr(privacy, "personal", lambda *_: Personal((HINT,), 7))

    assert status_of(["validate", str(bench), "--privacy", "--line"]) == 0
    assert capsys.readouterr() == (f"{PLACE}:3:8: advice[personal-hint]: m (n)\n", "")


def test_privacy_without_a_journal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A journal that cannot be read is an error, and nothing is said of it."""
    (tmp_path / "journal.yaml").write_text("title: [", "utf-8")

    assert status_of(["validate", str(tmp_path), "--privacy"]) == 1
    assert "never published" not in capsys.readouterr().out


def test_day(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A journal is checked as on the day given, else today."""
    asked = []
    monkeypatch.setattr(pipeline, "validate", lambda *given: asked.append(given) or Checked(()))
    status_of(["validate", str(bench), "--today", "2026-05-01"])
    status_of(["validate", str(bench)])

    assert asked == [(bench, dt.date(2026, 5, 1)), (bench, dt.date.today())]
