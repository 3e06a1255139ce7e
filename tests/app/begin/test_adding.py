"""A crop or a system that is new, added with questions on a terminal."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

import pytest

from sitegen.app.begin.adding import with_item
from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from sitegen.pipeline import validate
from tests.journal_maker import CROPS, GEAR, make_journal

DAY = dt.date(2026, 3, 1)


def answering(monkeypatch: pytest.MonkeyPatch, *answers: str) -> list[str]:
    """Somebody at a terminal who gives these answers; the list fills with the questions."""
    left, questions = list(answers), []

    def asked(question: str, options: Sequence[str] = (), default: str | None = None) -> str:
        del options
        questions.append(question)
        return left.pop(0) or default or ""

    for module in ("choosing", "first", "from_source"):
        monkeypatch.setattr(f"sitegen.app.begin.{module}.on_terminal", lambda: True)
        monkeypatch.setattr(f"sitegen.app.begin.{module}.asked", asked)
    monkeypatch.setattr("sitegen.app.begin.adding.asked", asked)
    return questions


def test_both_are_added(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is asked for stands at the end of the crops and of the systems, all else as it was, and it validates."""
    root = make_journal(tmp_path, {})
    questions = answering(monkeypatch, "", "herb", "Wick pot", "wick", "4", "2 qt")
    options = ["--crop", "thai-basil", "--system", "wick-pot", "--start", "2026-03-01"]

    assert status_of(["begin", "experiment", "basil", str(root), *options]) == Status.DONE
    assert (root / "crops.yaml").read_text(
        "utf-8"
    ) == f"{CROPS}thai-basil:\n  name: Thai basil\n  kind: herb\n"
    item = "  wick-pot: {name: Wick pot, kind: wick, spots: 4, reservoir: 2 qt}\n"
    assert (root / "gear.yaml").read_text("utf-8") == GEAR.replace("lamps:", f"{item}lamps:")
    assert questions == [
        "Its name?",
        "Its kind?",
        "Its name?",
        "What kind of system, in words? (empty: left out)",
        "How many spots has it? (empty: left out)",
        "How much water does it hold, such as 11 L? (empty: left out)",
    ]
    assert validate(root, DAY).findings == ()


def test_what_is_not_known_is_left_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A system without spots asks for the number of plants; an answer that is no value is left out, and said."""
    root = make_journal(tmp_path, {})
    answering(monkeypatch, "", "", "", "a lot", "5")

    assert status_of(["begin", "experiment", "one-pot", str(root), "--crop", "leaf", "--system", "jar"]) == 0
    assert "  jar: {name: Jar}\n" in (root / "gear.yaml").read_text("utf-8")
    assert "`a lot` was left out: `reservoir` wants a value such as 11 L\n" in capsys.readouterr().err
    text = (root / "seasons" / "one" / "one-pot" / "experiment.yaml").read_text("utf-8")
    assert "\nplants: 5\n" in text


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", "systems:\n  a: {b}\n"),
        ("lamps:\n  bar: {}", "lamps:\n  bar: {}\nsystems:\n  a: {b}\n"),
        (
            "systems:\n    x: {}\n    # the last\nlamps:\n",
            "systems:\n    x: {}\n    a: {b}\n    # the last\nlamps:\n",
        ),
        ("systems:  # mine\n  x:\n    name: X\n\n", "systems:  # mine\n  x:\n    name: X\n  a: {b}\n\n"),
        ("systems: {x: {}}\n", None),
    ],
)
def test_where_an_item_goes(before: str, after: str | None) -> None:
    """An item stands below the last one of its key, as deep; a key that is written in braces takes none."""
    assert with_item(before, "systems", "a: {b}\n") == after


def test_a_file_in_braces(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where nothing can be added, the lines to add are shown, and nothing is written."""
    root = make_journal(tmp_path, {}, more={"gear.yaml": "systems: {tray: {name: Tray}}\n"})
    answering(monkeypatch, "", "", "4", "")

    assert status_of(["begin", "experiment", "run", str(root), "--crop", "leaf", "--system", "jar"]) == 2
    said = capsys.readouterr().err.rstrip("\n")
    assert said.endswith("add it yourself:\nsystems:\n  jar: {name: Jar, spots: 4}")
    assert (root / "gear.yaml").read_text("utf-8") == "systems: {tray: {name: Tray}}\n"
    assert not (root / "seasons" / "one" / "run").exists()
