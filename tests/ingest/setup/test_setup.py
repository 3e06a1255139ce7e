"""The head of an experiment: what stands above its log."""

# ruff: noqa: E501 - a finding stays whole on its line

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.findings.source import Source
from sitegen.ingest import read_journal
from tests.ingest.builders import HEAD, TUBS, found, read


@pytest.mark.parametrize(
    ("head", "log", "findings"),
    [
        (
            HEAD.replace("plants: 4", "plants: 0"),
            "",
            [
                "6:9: count-of-plants: an experiment has 1 to 2000 plants, not 0 (write how many plants the run had)"
            ],
        ),
        (
            HEAD.replace("plants: 4", "plants: fours"),
            "",
            [
                "6:9: not-a-count: `fours` is not a whole number; `plants` wants one (write a whole number, such as `plants: 6`)"
            ],
        ),
        (
            HEAD.replace("plants: 4", "plants: [P1, grün]"),
            "",
            ["6:14: bad-id: `grün` cannot be an id (write `grun`)"],
        ),
        (
            HEAD.replace("plants: 4", "plants: [P1, all]"),
            "",
            [
                "6:14: reserved-id: `all` is a word of the format and cannot be an id (choose another name, such as `all-1`)"
            ],
        ),
        (
            HEAD.replace("2025-03-01", "spring"),
            "",
            [
                "5:8: not-a-date: `spring` is not a date; `start` wants year-month-day (write year, month and day, such as `start: 2025-10-19`)"
            ],
        ),
        (
            HEAD + "viewer_questions: [{answer: Never}]\n",
            "",
            [
                "7:20: missing-key: `asked` is missing: the question (write it, such as `asked: Did the roots smell?`)"
            ],
        ),
        (
            HEAD + "viewer_questions: [{question: Why?, asked: Why?}]\n",
            "",
            [
                "7:21: unknown-key: `question` is not a key of a viewer's question (write one of `asked`, `answer`)"
            ],
        ),
        (
            HEAD + "viewer_questions: [Why?]\n",
            "",
            [
                "7:20: wrong-type: `viewer_questions` wants a mapping, not a text (write a mapping, such as `viewer_questions: {key: value}`)"
            ],
        ),
        (
            HEAD + "groups: [front]\n",
            "",
            [
                "7:9: wrong-type: `groups` wants a mapping (write each with its plants, such as `groups: {single: P1-P3, pair: P4-P6}`)"
            ],
        ),
        (
            HEAD + "groups: {P1: P1-P2}\n",
            "",
            ["7:10: duplicate-id: `P1` is already the name of a plant (choose another name)"],
        ),
        (
            HEAD + "seed: {claims: {days: 35}}\n",
            "",
            [
                "7:23: missing-key: the claimed days count from sowing or from transplanting; it is not said which (write `from: sowing` or `from: transplant` beside `days`)"
            ],
        ),
        (
            HEAD + "answer: {verdict: maybe}\n",
            "",
            ["7:19: unknown-choice: `verdict` cannot be `maybe` (write `undecided`)"],
        ),
        (
            HEAD + "draft: perhaps\n",
            "",
            ["7:8: unknown-choice: `draft` cannot be `perhaps` (write one of `true`, `false`)"],
        ),
        (
            HEAD + "variety: {P1-P2: broad, P2-P4: red}\n",
            "",
            ["7:25: plants-in-two: `P2` stands in two varieties (name `P2` once)"],
        ),
        (
            HEAD + "variety: {P1-P2: broad}\n",
            "",
            ["7:10: plant-left-out: `variety` leaves out P3 and P4 (say where P3 and P4 belong)"],
        ),
    ],
)
def test_error_head(head: str, log: str, findings: list[str], tmp_path: Path) -> None:
    """What is wrong above the log is said at its place."""
    assert found(tmp_path, log or "  - {day: 0, sow: 2 a spot}\n", head) == findings


def test_head(tmp_path: Path) -> None:
    """The head gives the plants with their tubs, varieties and groups, and everything that a packet claims."""
    head = TUBS + (
        "variety: {P1-P2: broad, P3-P4: red}\n"
        "groups: {front: [P1, P3]}\n"
        "seed: {source: swap table, packed: 2024, claims: {days: 35, from: sowing, height: up to 25 cm}}\n"
        "answer: {verdict: not again, why: slow}\n"
        "episodes: [{title: One, link: https://example.org/e1, published: 2025-05-01, until: day 20}]\n"
        "corrections: [{date: 2025-05-02, text: The bowl was red.}]\n"
        "viewer_questions: [{asked: Did the roots smell?, answer: 'No, they stayed white.'}, {asked: Which lamp?}]\n"
        "was: [old-name]\n"
        "publish: 2025-05-01\n"
        "draft: true\n"
    )
    run, findings = read(tmp_path, "  - {day: 0, sow: 2 a spot}\n", head)

    assert findings == []
    assert run is not None
    setup = run.setup
    assert [(p.id, p.tub, p.variety, p.groups) for p in setup.plants] == [
        ("P1", "left", "broad", ("front",)),
        ("P2", "left", "broad", ()),
        ("P3", "right", "red", ("front",)),
        ("P4", "right", "red", ()),
    ]
    assert setup.seed is not None
    assert (setup.seed.packed, str(setup.seed.claims.days), setup.seed.claims.counted_from) == (
        "2024",
        "35",
        "sowing",
    )
    assert (setup.answer and setup.answer.verdict, setup.draft, setup.was) == (
        "not again",
        True,
        ("old-name",),
    )
    assert [str(episode.until) for episode in setup.episodes] == ["20"]
    assert [correction.text for correction in setup.corrections] == ["The bowl was red."]
    assert [(each.asked, each.answer, each.source.column) for each in setup.viewer_questions] == [
        ("Did the roots smell?", "No, they stayed white.", 28),
        ("Which lamp?", "", 93),
    ]


@pytest.mark.parametrize(("word", "draft"), [("yes", True), ("On", True), ("no", False), ("off", False)])
def test_truth_in_other_words(word: str, draft: bool, tmp_path: Path) -> None:
    """A truth value in another word that YAML has for it is read."""
    run, findings = read(tmp_path, "  - {day: 0, sow: 2 a spot}\n", f"{HEAD}draft: {word}\n")

    assert run is not None
    assert (run.setup.draft, findings) == (draft, [])


def test_places_of_settings(tmp_path: Path) -> None:
    """A setting of the journal knows where it is written; one that is not, where the file begins."""
    (tmp_path / "journal.yaml").write_text("format: 1\ntitle: Bench\ntheme: ledger\n", "utf-8")
    journal_files, findings = read_journal(tmp_path)

    assert journal_files is not None
    assert findings == ()
    assert journal_files.journal.at("theme") == Source("journal.yaml", 3, 8, 6)
    assert journal_files.journal.at("licence") == Source("journal.yaml")
