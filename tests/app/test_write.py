"""`sitegen write`: the options of the build, and the summary of its result."""

from __future__ import annotations

import datetime as dt
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from sitegen import pipeline
from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.site.page import WriteResult
from sitegen.pipeline.publishing import standalone
from sitegen.pipeline.results import Copied, Published

DAY = dt.date(2026, 5, 1)
SITE = Path("public")
GAP = Finding("long-gap", Source("e.yaml", 9, 3), "nothing is recorded between day 0 and day 40")
GAP_TEXT = "warning[long-gap]: nothing is recorded between day 0 and day 40\n --> e.yaml:9:3\n\n1 warning in 1 file\n\n"


NONE = "0 files written, 0 unchanged, 0 removed"


@dataclass
class Build:
    """A build that returns a result at once, and records its options."""

    result: Published | Copied
    asked: dict[str, Any] = field(default_factory=dict)
    during: Callable[[dict[str, Any]], None] = lambda _: None

    def __call__(
        self, root: Path, today: dt.date, experiment: str = "", **options: Any
    ) -> Published | Copied:
        """Build nothing."""
        self.asked = {"root": root, "today": today, "experiment": experiment, **options}
        self.during(options)
        return self.result


@dataclass
class Clock:
    """A clock that is read twice."""

    seconds: float
    begun: bool = False

    def __call__(self) -> float:
        """The time now."""
        self.begun = not self.begun
        return 100.0 if self.begun else 100.0 + self.seconds


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """A journal that nothing reads."""
    (tmp_path / "journal.yaml").touch()
    return tmp_path


def published(written: int = 0, unchanged: int = 0, removed: int = 0, **more: Any) -> Published:
    """A result of publishing so many files."""
    files = WriteResult(("a",) * written, unchanged, ("b",) * removed)
    return Published(more.pop("findings", ()), SITE, files, **more)


@pytest.mark.parametrize(
    ("result", "seconds", "status", "text"),
    [
        (published(41, 3), 6.14, 0, "41 files written, 3 unchanged, 0 removed; 6.1 s: public\n"),
        (published(1, 0, 2), 0.123, 0, "1 file written, 0 unchanged, 2 removed; 0.12 s: public\n"),
        (published(charts=1), 9.96, 0, f"{NONE}; 1 chart on the pages made; 10 s: public\n"),
        (published(photos=2), 10, 0, f"{NONE}; 2 photos on the pages made; 10 s: public\n"),
        (
            published(5, charts=24, photos=1),
            123.6,
            0,
            "5 files written, 0 unchanged, 0 removed; 24 charts and 1 photo on the pages made; 124 s: public\n",
        ),
        (
            published(5, left_out=("one", "two")),
            1,
            4,
            "5 files written, 0 unchanged, 0 removed; 1 s: public\nleft out: one and two\n",
        ),
        (published(findings=(GAP,)), 1, 0, f"{GAP_TEXT}{NONE}; 1 s: public\n"),
        (Published((GAP,), SITE), 1, 1, f"{GAP_TEXT}nothing was written: the errors come first\n"),
    ],
)  # fmt: skip
def test_summary(
    result: Published,
    seconds: float,
    status: int,
    text: str,
    bench: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Findings come first, then the numbers of files and pictures with the time, or that nothing was written."""
    monkeypatch.setattr(pipeline, "publish", Build(result))
    monkeypatch.setattr(time, "perf_counter", Clock(seconds))

    assert status_of(["write", str(bench)]) == status
    assert capsys.readouterr() == ("", text)


def test_options_of_a_site(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The options of the command are those of the build."""
    build = Build(published())
    monkeypatch.setattr(pipeline, "publish", build)
    status_of(
        ["write", str(bench), "-o", "out", "--keep-going", "--jobs", "3", "--fresh", "--today", "2026-05-01"]
    )
    asked = {name: value for name, value in build.asked.items() if name not in {"progress", "waiting"}}
    status_of(["write", str(bench)])
    defaults = {name: build.asked[name] for name in ("output", "keep_going", "jobs", "fresh", "today")}

    options = {"output": Path("out"), "keep_going": True, "jobs": 3, "fresh": True}
    assert asked == {"root": bench, "today": DAY, "experiment": "", **options}
    assert defaults == {
        "output": None,
        "keep_going": False,
        "jobs": 0,
        "fresh": False,
        "today": dt.date.today(),
    }


def report_progress(options: dict[str, Any]) -> None:
    """Wait for another process, then render eleven experiments."""
    options["waiting"]()
    options["progress"](0, 11)
    options["progress"](10, 11)
    options["progress"](1, 1)


@pytest.mark.parametrize(
    ("terminal", "line"),
    [
        (False, ""),
        (True, "\r0 of 11 experiments\r10 of 11 experiments\r1 of 1 experiment   \r" + " " * 17 + "\r"),
    ],
)
def test_progress(
    terminal: bool,
    line: str,
    bench: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """On a terminal one line counts the experiments, and is blank in the end; elsewhere nothing does."""
    monkeypatch.setattr(pipeline, "publish", Build(published(), during=report_progress))
    monkeypatch.setattr(time, "perf_counter", Clock(1))
    monkeypatch.setattr(sys.stderr, "isatty", lambda: terminal)
    status_of(["write", str(bench)])

    waiting = "another process writes to this folder; waiting until it has done\n"
    summary = "0 files written, 0 unchanged, 0 removed; 1 s: public\n"
    assert capsys.readouterr().err == f"{waiting}{line}{summary}"


def test_options_of_a_copy(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The options of the command are those of the copy."""
    build = Build(Copied((), SITE, WriteResult()))
    monkeypatch.setattr(standalone, "copy", build)
    status_of(["write", str(bench), "--only", "one", "-o", "out", "--fresh", "--today", "2026-05-01"])
    asked = {name: value for name, value in build.asked.items() if name != "waiting"}

    assert asked == {
        "root": bench,
        "today": DAY,
        "experiment": "one",
        "output": Path("out"),
        "fresh": True,
    }


@pytest.mark.parametrize(
    ("result", "status", "text"),
    [
        (
            Copied((), SITE, WriteResult(("a", "b"), 3)),
            0,
            "2 files written, 3 unchanged; 12 s: public/index.html\n",
        ),
        (
            Copied((GAP,), SITE, WriteResult(("a",), 0), held_back=True),
            0,
            f"{GAP_TEXT}1 file written, 0 unchanged; 12 s: public/index.html\n`one` is not published; its copy says so\n",
        ),
        (Copied((), SITE), 1, "nothing was written: the errors come first\n"),
    ],
)
def test_summary_of_a_copy(
    result: Copied,
    status: int,
    text: str,
    bench: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The summary of a copy has the number of files and its first page, and names a page that is not published."""
    monkeypatch.setattr(standalone, "copy", Build(result))
    monkeypatch.setattr(time, "perf_counter", Clock(12.3))

    assert status_of(["write", str(bench), "--only", "one"]) == status
    assert capsys.readouterr().err == text


def test_copy_of_an_unknown_experiment(
    bench: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """An experiment that is not there is wrong usage."""
    monkeypatch.setattr(standalone, "copy", Build(Copied((), SITE, known=("one", "two"))))

    assert status_of(["write", str(bench), "--only", "onee"]) == Status.USAGE
    assert "Error: there is no experiment `onee`: write `one`\n" in capsys.readouterr().err


def test_copy_with_keep_going(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """There is nothing to keep going with in one page."""
    assert status_of(["write", str(bench), "--only", "one", "--keep-going"]) == Status.USAGE
    message = "Error: `--only` makes one page: there is nothing to keep going with\n"
    assert message in capsys.readouterr().err


def test_warnings_told_before_are_one_line(
    bench: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Of warnings told before only their number is said; `validate` tells them."""
    seeds = Finding("long-gap", Source("f.yaml", 2), "nothing is recorded between day 0 and day 50")
    monkeypatch.setattr(
        pipeline, "publish", Build(Published((GAP, seeds), SITE, WriteResult(), told=(seeds,)))
    )
    monkeypatch.setattr(time, "perf_counter", Clock(12.3))

    assert status_of(["write", str(bench)]) == 0
    assert capsys.readouterr().err == (
        f"{GAP_TEXT}1 warning told before: sitegen validate\n{NONE}; 12 s: public\n"
    )
