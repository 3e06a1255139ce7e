"""`sitegen log` on the command line: what it prints, refuses and returns."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import click
import pytest

from sitegen.app.log import questions
from sitegen.app.log.questions import Question, text_of
from sitegen.app.main import status_of
from sitegen.pipeline.filing.planning import opened_run
from tests.pipeline.filing.test_entries import LOG, SETUP, TODAY, root

__all__ = ["root"]  # a fixture

PLACE = "seasons/spring/basil-tub/experiment.yaml"


def _log(root: Path, *words: str) -> int:
    return status_of(["log", *words, "--journal", str(root), "--today", "2026-03-20"])


def test_an_entry_and_its_undo(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What was understood is printed, where it went is told; taking it back prints it and restores the file."""
    assert _log(root, "basil-t", "picked P1 9 g, filled it, P2 looks sad") == 0
    told = capsys.readouterr()
    assert told.out == "  harvest: {P1: 9 g}\n  water: filled\n  note: P2 looks sad\n"
    assert told.err == f"{PLACE}:12: written; `sitegen log basil-tub --undo` takes it back\n"

    assert _log(root, "basil-tub", "--undo") == 0
    assert capsys.readouterr().out == (
        "taken back:\n  - day: 19\n    harvest: {P1: 9 g}\n    water: filled\n    note: P2 looks sad\n"
    )
    assert (root / PLACE).read_text() == SETUP + LOG
    assert _log(root, "basil-tub", "--undo") == 1
    assert capsys.readouterr().err == (
        "`basil-tub` does not end with an entry that this command wrote, or was changed since: nothing was taken back\n"
    )


def test_an_entry_of_an_earlier_day(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It goes before those of later days, and is taken back from there, also after another was added."""
    assert _log(root, "basil-tub", "--day", "2", "a moth on the lid") == 0
    assert _log(root, "basil-tub", "--day", "19", "filled it") == 0
    assert "warning" not in capsys.readouterr().err
    days = [line.strip() for line in (root / PLACE).read_text().splitlines() if "- day:" in line]
    assert days == ["- day: 0", "- day: 2", "- day: 6", "- day: 19"]

    assert [_log(root, "basil-tub", "--undo"), _log(root, "basil-tub", "--undo")] == [0, 0]
    assert (root / PLACE).read_text() == SETUP + LOG


def test_a_refused_entry_is_shown_as_it_would_stand(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The finding has the line that is not in the file yet."""
    assert _log(root, "basil-tub", "height: 9", "--day", "19") == 1

    told = capsys.readouterr()
    assert told.err.startswith("error[no-unit]: `height: 9` has no unit\n")
    assert "13 |     height: 9\n" in told.err
    assert told.err.endswith(f"{PLACE}: nothing was written; mend it, or write it with `--anyway`\n")
    assert (root / PLACE).read_text() == SETUP + LOG


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (
            ["bas", "filled it"],
            "`bas` begins the names of `basil-tub` and `basil-wick`: write more of the one that is",
        ),
        (["mnt", "filled it"], "there is no experiment `mnt`: write `mint`"),
        ([], "name an experiment, and what was seen or done: sitegen log basil 'side shoots on two plants,"),
        (["mint"], "say what was seen or done: sitegen log basil 'side shoots on two plants,"),
        (
            ["mint", "x", "--day", "2", "--date", "2026-03-02"],
            "`--day` and `--date` both say when: leave one out",
        ),
        (["mint", "x", "--day", "soon"], "`soon` is not a day; write it as 26"),
        (["mint", "x", "--date", "2/3"], "`2/3` is not a date; write it as 2025-10-19"),
        (["mint", "x", "--date", "1.2.2026"], "in two ways: day first or month first: write `2026-02-01` or"),
        (["mint", ""], "the text is empty: say what was seen or done: sitegen log basil"),
        (["mint", " ", "-"], "the text is empty: say what was seen or done: sitegen log basil"),
        (["mint", "yesterday:"], "nothing stands after the day: say what was seen or done"),
        (
            ["mint", "on Monday: x"],
            "`on Monday` may be one of several days: write the date in its place, or say when",
        ),
        (["mint", "x", "--undo"], "`--undo` takes an entry back: leave out what to write, and its day"),
        (
            ["mint", "water: 1 L", "filled it"],
            "`mint`: `water` is said twice; say it once, or write two entries",
        ),
    ],
)
def test_wrong_usage(root: Path, words: list[str], message: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Wrong usage is told in one sentence with what to do, and nothing is written."""
    assert _log(root, *words) == 2
    assert message in capsys.readouterr().err
    assert (root / PLACE).read_text() == SETUP + LOG


@pytest.mark.parametrize(
    ("words", "entry"),
    [
        (["height", "9", "cm"], "  - day: 19\n    height: 9 cm\n"),
        (
            ["picked", "P1", "9", "g,", "filled", "it"],
            "  - day: 19\n    harvest: {P1: 9 g}\n    water: filled\n",
        ),
        (["height:", "9", "cm"], "  - day: 19\n    height: 9 cm\n"),
        (["- height: 9 cm"], "  - day: 19\n    height: 9 cm\n"),
        (["yesterday picked P1 9 g"], "  - date: 2026-03-19\n    harvest: {P1: 9 g}\n"),
        (["am 18. März P1 9 g geerntet"], "  - date: 2026-03-18\n    harvest: {P1: 9 g}\n"),
        (["day 17: height 9 cm"], "  - day: 17\n    height: 9 cm\n"),
        (["height: 9 cm", "--date", "18.3.2026"], "  - date: 2026-03-18\n    height: 9 cm\n"),
    ],
)
def test_what_is_typed_without_care(root: Path, words: list[str], entry: str) -> None:
    """Words without quotes are one text, a hyphen of the file says nothing, and a text may begin with its day."""
    assert _log(root, "basil-tub", *words) == 0
    assert (root / PLACE).read_text() == SETUP + LOG + entry


def test_a_journal_without_experiments(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where there is none yet, the message says how one is begun; one without its file is named."""
    (root / PLACE).rename(root / PLACE.replace(".yaml", ".yml"))
    assert _log(root, "basil-tub", "filled") == 2
    assert capsys.readouterr().err.endswith(
        "Error: `seasons/spring/basil-tub` has no experiment.yaml: run `sitegen validate`, which says why\n"
    )

    (root / "seasons").rename(root / "Seasons")
    assert _log(root, "basil-tub", "filled") == 2
    assert capsys.readouterr().err.endswith(
        "Error: there is no experiment `basil-tub`: the journal has none yet: sitegen begin experiment basil-tub\n"
    )


def test_the_rules_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    """`--words` names each key with what is said for it."""
    assert status_of(["log", "--words"]) == 0
    assert "water: changed\n    changed the water, water changed, " in capsys.readouterr().out


def test_questions_are_those_of_the_phase(root: Path) -> None:
    """Before plants are up, seedlings are asked for; later readings, feed, the next stage; picks once there were any."""
    run = opened_run(root, "basil-tub", TODAY).run
    assert run is not None
    asked = [each.asked for each in questions.questions(run)]
    assert asked == [
        "Seedlings up so far?",
        "Height?",
        "Water?",
        "Feed?",
        "Seed leaves open?",
        "Anything else?",
    ]

    (root / PLACE).write_text(SETUP + "  - day: 0\n    sow: 2 a spot\n")
    run = opened_run(root, "basil-tub", TODAY).run
    assert run is not None
    assert [each.asked for each in questions.questions(run)] == [
        "Seedlings up so far?",
        "Water?",
        "Anything else?",
    ]

    later = "  - day: 9\n    milestone: {first_true_leaf: all}\n    harvest: 9 g\n"
    (root / PLACE).write_text(SETUP + LOG + later)
    run = opened_run(root, "basil-tub", TODAY).run
    assert run is not None
    asked = [each.asked for each in questions.questions(run)]
    assert asked == ["Height?", "Water?", "Feed?", "Side shoots?", "Picked?", "Anything else?"]


def test_answers_become_texts(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """On a terminal, answers are written as one entry; an empty answer says nothing."""
    answers = iter(["", "P1 9 cm, P2 11 cm", "two litres", "", "none", "aphids on P2"])
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.prompt", lambda *_, **__: next(answers))

    assert _log(root, "basil-tub") == 0
    assert capsys.readouterr().out == (
        "basil-tub: Basil in a tub. Leave empty what was not looked at.\n"
        "  milestone: {seed_leaves: none}\n  height: {P1: 9 cm, P2: 11 cm}\n  water: 2 L\n"
        "  trouble: {what: aphids, plants: P2}\n"
    )


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("P1", "first flower on P1"),
        ("2 plants", "first flower on 2 plants"),
        ("none", "milestone: {first_flower: none}"),
        ("2 of 4", "milestone: {first_flower: 2 of 4}"),
        ("yes", "milestone: {first_flower: some}"),
        ("Nein.", "milestone: {first_flower: none}"),
        ("", ""),
    ],
)
def test_the_answer_to_a_stage(said: str, text: str) -> None:
    """Plants are read as words, the words of the format as they are."""
    assert text_of(Question("First flower?", "", "first_flower="), said) == text


def test_a_wrong_answer_is_asked_for_again(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is wrong with an answer is told at once, and the answers before it are kept; `no` says nothing."""
    answers = iter(["", "9", "9 cm", "fill", "filled", "", "", "no"])
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.prompt", lambda *_, **__: next(answers))

    assert _log(root, "basil-tub") == 0
    assert capsys.readouterr().out == (
        "basil-tub: Basil in a tub. Leave empty what was not looked at.\n"
        "`height: 9` has no unit: write `9 cm`, `9 mm`, `9 m` or `9 in`; or leave it empty\n"
        "`fill` is not an amount of water: write `filled`; or leave it empty\n"
        "  height: 9 cm\n  water: filled\n"
    )


def test_questions_that_are_broken_off(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Who ends the questions is told that nothing was written."""

    def broken_off(*_: object, **__: object) -> str:
        raise click.Abort

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.prompt", broken_off)

    assert _log(root, "basil-tub") == 130
    assert capsys.readouterr().err == "\nnothing was written\ninterrupted\n"
    assert (root / PLACE).read_text() == SETUP + LOG


def test_ids_complete_in_a_shell(root: Path) -> None:
    """A shell is given the ids that begin with what was typed."""
    words = {"COMP_WORDS": f"sitegen log --journal {root} bas", "COMP_CWORD": "4"}
    environment = os.environ | words | {"_SITEGEN_COMPLETE": "bash_complete"}
    code = "from sitegen.app.main import run; run([])"
    done = subprocess.run(
        [sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=False
    )

    assert done.stdout.split() == ["plain,basil-tub", "plain,basil-wick"]


def test_nothing_that_draws_is_imported(root: Path) -> None:
    """Adding an entry loads nothing that measures, draws or renders, and the rules for words only for words."""
    code = (
        "import sys; from sitegen.app.main import status_of\n"
        f"assert status_of(['log', 'mint', 'water: 1 L', '--journal', {str(root)!r}, '--day', '9']) == 0\n"
        "print(' '.join(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())

    stages = {f"sitegen.{stage}" for stage in ("measure", "render", "plot", "photos", "notes", "write")}
    assert not loaded & (stages | {"pandas", "PIL", "jinja2", "babel", "sitegen.filing.words.understanding"})
