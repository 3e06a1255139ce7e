"""`sitegen begin experiment --like`: the set-up of an earlier run as the start of a planned one."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from sitegen.ingest import read_journal, read_records
from tests.app.begin.planning import LEAF, bench, comments_of, plan, text_of, values_of

TODAY = dt.date.today()


def test_the_set_up_is_taken_as_it_is_written(tmp_path: Path) -> None:
    """Values stand as in the old file; log, answer and what is of its page do not."""
    root = bench(tmp_path)

    assert plan(root, "--like", "leaf", "--season", "one") == Status.DONE
    assert values_of(root) == {
        "format": "1",
        "title": "next",
        "question": "hang the bar lower, and sow thinner",
        "crop": "leaf",
        "variety": "first",
        "system": "tray",
        "start": TODAY.isoformat(),
        "plants": "6",
        "groups": {"near": "P1-P3", "far": "P4-P6"},
        "seed": {"source": "a neighbour's: envelope", "packed": "2024"},
        "light": {"lamp": "bar", "hours": "14 h", "distance": "10 in", "on": "06:00"},
        "log": [],
    }
    assert "light: {lamp: bar, hours: 14 h, distance: 10 in, on: 06:00}\n" in text_of(root)


def test_what_is_not_taken_is_said(tmp_path: Path) -> None:
    """Comments name the old run, the keys left out, its question, and routines for the log."""
    root = bench(tmp_path)
    plan(root, "--like", "leaf")

    assert comments_of(root) == [
        "# Set up like leaf. Not taken from it: was, before, episodes, corrections, answer, log.",
        "# leaf asked: Does the bar carry leaf?",
        "# What to change next time, in the words of its answer; make it the question:",
        "# Of leaf: does it hold again?",
        "# disclosure: The bar was lent.",
        "# Routines of leaf, for the log when they begin:",
        "#   - day: 0",
        "#     from_now: {feed: {mix: 2 ml/L, at: every refill}}",
        "#   - day: 40",
        "#     from_now: {light: {hours: 12 h}}",
    ]


@pytest.mark.parametrize("start", ["", "2027-03-01", "2027-03"])
def test_it_is_a_planned_run(start: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The file is read as a run with a set-up, a start and nothing recorded, without a finding."""
    root = bench(tmp_path)
    plan(root, "--like", "leaf", *(["--start", start] if start else []))
    capsys.readouterr()
    files, _ = read_journal(root)
    assert files is not None
    run, findings = read_records(files.folder("next"), files)

    assert findings == ()
    assert run is not None
    assert run.planned
    assert run.setup.start.date == dt.date.fromisoformat(
        {"": str(TODAY), "2027-03": "2027-03-01"}.get(start, start)
    )
    assert status_of(["validate", str(root), "--line"]) == Status.DONE
    assert "/next/" not in capsys.readouterr().out


def test_several_tubs_groups_and_varieties(tmp_path: Path) -> None:
    """Tubs with lamps of their own, groups, and varieties by group stay as they are."""
    root = bench(tmp_path)
    assert plan(root, "--like", "two-trays") == Status.DONE

    values = values_of(root)
    assert values["tubs"] == {
        "left": {"system": "tray", "plants": "low", "light": {"lamp": "bar", "hours": "15 h"}},
        "right": {"system": "tray", "plants": ["P4", "P5", "P6"]},
    }
    assert values["groups"] == {"low": "P1-P3", "high": "P4-P6"}
    assert values["variety"] == {"low": "amber", "P4-P6": "amber"}
    assert values["compare"] == "tubs"


QUESTION = "question: Does the bar carry leaf?\n"
ANSWER = LEAF[LEAF.index("answer:") : LEAF.index("log:")]


@pytest.mark.parametrize(
    ("without", "question", "comment"),
    [
        ([ANSWER], "Does the bar carry leaf?", "# The question of bare; its answer names nothing to change."),
        ([ANSWER, QUESTION], None, "# question: What is this run to show?"),
    ],
)
def test_nothing_to_change(without: list[str], question: str | None, comment: str, tmp_path: Path) -> None:
    """Without a change named the question stays; without a question none is made up."""
    text = LEAF
    for part in without:
        text = text.replace(part, "")
    root = bench(tmp_path, bare=text)
    plan(root, "--like", "bare")

    assert values_of(root).get("question") == question
    assert comments_of(root)[1] == comment


def test_a_change_without_a_question(tmp_path: Path) -> None:
    """What to change is the question of a run like one that asked nothing."""
    root = bench(tmp_path, bare=LEAF.replace(QUESTION, ""))
    plan(root, "--like", "bare")

    assert values_of(root)["question"] == "hang the bar lower, and sow thinner"
    assert comments_of(root)[1].startswith("# What to change next time")


@pytest.mark.parametrize(
    ("key", "held"), [("draft: true", True), ("publish: 2199-01-01", True), ("publish: 2025-05-01", False)]
)
def test_what_is_held_back_stays_so(key: str, held: bool, tmp_path: Path) -> None:
    """A run like one that is not public yet is a draft: its set-up would be published with it."""
    root = bench(tmp_path, hidden=LEAF.replace("publish: 2025-05-01", key))
    plan(root, "--like", "hidden")

    assert values_of(root).get("draft") == ("true" if held else None)
    note = "# hidden is held back, and so is what was taken from it."
    assert (note in comments_of(root)) == held


def test_a_shared_tub_is_not_taken(tmp_path: Path) -> None:
    """That a tub was shared is said by both runs, so that a new one does not share it."""
    root = bench(
        tmp_path,
        one=LEAF.replace("\nlight:", "\nshares: [{with: other}]\nlight:"),
        other=LEAF.replace("\nlight:", "\nshares: [{with: one}]\nlight:"),
    )
    assert plan(root, "--like", "one") == Status.DONE

    assert "shares" not in values_of(root)
    assert ", shares, " in comments_of(root)[0]


def test_an_unknown_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name that there is not is wrong usage, with the nearest that there is."""
    root = bench(tmp_path)
    assert plan(root, "--like", "laef") == Status.USAGE

    assert capsys.readouterr().err.endswith("Error: there is no experiment `laef`: write `leaf`\n")
    assert not (root / "seasons" / "one" / "next").exists()


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (LEAF.replace("crop: leaf", "crop: leef"), "unknown-crop"),
        (LEAF.replace("plants: 6", "plants: {6"), "yaml-syntax"),
        ("", "empty-file"),
    ],
)
def test_an_unreadable_run(text: str, code: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A run whose set-up cannot be known is reported with its findings, and nothing is written."""
    root = bench(tmp_path, broken=text)
    assert plan(root, "--like", "broken") == Status.ERRORS

    printed = capsys.readouterr().err
    assert f"error[{code}]" in printed
    assert " --> seasons/one/broken/experiment.yaml:" in printed
    assert not (root / "seasons" / "one" / "next").exists()


def test_a_journal_with_errors(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Errors in the journal's own files are reported, and nothing is written."""
    root = bench(tmp_path)
    (root / "gear.yaml").write_text("systems: {tray: {spots: many}}\n", "utf-8")
    assert plan(root, "--like", "leaf") == Status.ERRORS

    assert "error[not-a-count]" in capsys.readouterr().err
    assert not (root / "seasons" / "one" / "next").exists()


def test_a_journal_with_warnings(tmp_path: Path) -> None:
    """What is only odd about the journal keeps nothing back."""
    root = bench(tmp_path)
    (root / "notes.yaml").write_text("stray: file\n", "utf-8")
    assert [finding.is_error for finding in read_journal(root)[1]] == [False]
    assert plan(root, "--like", "leaf") == Status.DONE


@pytest.mark.parametrize("run", ["leaf", "two-trays"])
def test_an_existing_run_is_never_touched(
    run: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An experiment that there is stays as it is, in whatever season."""
    root = bench(tmp_path)
    (root / "seasons" / "two").mkdir()
    (root / "seasons" / "two" / "season.yaml").write_text("title: Two\n", "utf-8")
    before = text_of(root, run)
    assert plan(root, "--like", "leaf", "--season", "two", run=run) == Status.USAGE

    path = root / "seasons" / "one" / run / "experiment.yaml"
    assert capsys.readouterr().err.endswith(f"Error: `{path}` is already there; nothing was written over\n")
    assert text_of(root, run) == before
    assert not (root / "seasons" / "two" / run).exists()


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (["--crop", "leaf"], "`--crop` is that of `leaf`: leave it out, or change it in the new file"),
        (["--system", "tray"], "`--system` is that of `leaf`: leave it out, or change it in the new file"),
        (["--plants", "3"], "`--plants` is that of `leaf`: leave it out, or change it in the new file"),
        (
            ["--start", "unknown"],
            "a planned run has the date or the month of its `--start`; nothing was written",
        ),
        (
            ["--season", "tow"],
            "there is no season `tow`: write `one`, or start it: sitegen begin season tow {root}",
        ),
        (["--seed", "1"], "`--seed` belongs to a layout: name its arms, such as `--arms one,two`"),
        (["--spots", "4"], "`--spots` belongs to a layout: name its arms, such as `--arms one,two`"),
    ],
)
def test_options_that_do_not_fit(
    options: list[str], message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An option that contradicts the old run, or has nothing to work on, is wrong usage."""
    root = bench(tmp_path)
    assert plan(root, "--like", "leaf", *options) == Status.USAGE

    assert capsys.readouterr().err.endswith(f"Error: {message.format(root=root)}\n")
    assert not (root / "seasons" / "one" / "next").exists()


def test_a_start_that_is_no_date(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A start that cannot be read is wrong usage, with what would be one."""
    root = bench(tmp_path)
    assert plan(root, "--like", "leaf", "--start", "soon") == Status.USAGE

    assert "Error: `soon` is not a date" in capsys.readouterr().err


def test_the_season_is_that_of_the_old_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a season the run goes where the old one is, and the next step is named."""
    root = bench(tmp_path)
    assert plan(root, "--like", "leaf") == Status.DONE

    printed = capsys.readouterr().err.splitlines()
    assert printed[0] == f"wrote {root / 'seasons' / 'one' / 'next' / 'experiment.yaml'}"
    assert printed[-1] == f"next: sitegen validate {root}"
