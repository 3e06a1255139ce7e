"""From a log with open amounts to the words of its page: `some`, drops, tastes in words, side shoots.

The log is invented, and the numbers are by hand from it.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Run
from sitegen.core.records.tables import TABLES
from sitegen.core.values.day import Start
from sitegen.ingest import read_experiment, read_journal
from sitegen.measure import measure
from sitegen.render.story.days.entry_sentences import EntryWording, sentences_of
from sitegen.render.story.days.timeline import lines_of
from tests.cases import Case
from tests.ingest.builders import EXPERIMENT

CROPS = """\
broccoli: {name: Broccoli, kind: flower head}
"""
LOG = """\
format: 1
title: Broccoli in a crate
crop: broccoli
system: crate
start: 2025-03-01
plants: 4
log:
  - {day: 0, sow: some, water: filled}
  - {day: 5, sprouted: some, from_now: {feed: {syrup: 2 capfuls}, at: every refill}}
  - {day: 20, water: topped up, feed: {Syrup: 3 drops}, height: ~9 cm}
  - day: 40
    harvest: [{plants: P1, weight: 38 gm}, {plants: [P2, P3], weight: some, part: side shoots, count: some}]
    taste: sweet and crisp
  - {day: 50, harvest: {P1: 84 g, P2: {weight: 20 g, part: Side shoot, spoilt: some}}, taste: "4/5, mild"}
"""


@pytest.fixture
def run(tmp_path: Path) -> Run:
    """The run of the log, which has no finding."""
    files = ((EXPERIMENT, LOG.encode()), ("crops.yaml", CROPS.encode()))
    journal_files, findings = read_journal(Case("", "", files, "").write(tmp_path))
    assert journal_files is not None
    read, more = read_experiment(journal_files.folders[0], journal_files)
    assert (*findings, *more) == ()
    assert read is not None
    return read


def test_the_page(run: Run) -> None:
    """What was said is shown as it was said, and nothing that was not."""
    wording = EntryWording(measure(run), Wording(), {"syrup": "Syrup"})
    said = [
        [
            *sentences_of(entry.index, wording),
            *(line.text.replace(NBSP, " ") for line in lines_of(entry.index, wording)),
        ]
        for entry in run.rows.entries
    ]

    assert said == [
        ["Sown: some seeds.", "water filled up; holds 8 L (2.1 gal)"],
        [
            "From here on Syrup, 2 capfuls, at every refill. Every logged refill counts as one dose, others as none.",
            "seedlings up so far: some",
        ],
        ["water added, some", "Syrup 3 drops", "height about 9 cm (3.5 in), each plant"],
        [
            "Taste: sweet and crisp.",
            "picked from P1: 38 g (1.34 oz)",
            "picked from P2 and P3 together: some, side shoot",
        ],
        [
            "Taste: 4 out of 5, mild.",
            "picked from P1: 84 g (2.96 oz)",
            "picked from P2: 20 g (0.71 oz), side shoot, some of it spoilt, not weighed",
        ],
    ]


def test_no_total_is_exact(run: Run) -> None:
    """A sum with an open amount is "at least", with the reason once; drops are in no sum."""
    facts = measure(run)
    wording = Wording()
    syrup = facts.solution.tubs[0].doses[0]
    parts = {part.label.name: part.figure for part in facts.harvest.by_part}

    assert wording.say(facts.harvest.total).replace(NBSP, " ") == "at least 142 g (5.0 oz)"  # 38 + 84 + 20
    assert [(remark.code, dict(remark.values)) for remark in facts.harvest.total.remarks] == [
        ("picks_not_weighed", {"n": 1})
    ]
    assert wording.say(parts["side shoot"]).replace(NBSP, " ") == "at least 20 g (0.71 oz)"
    assert wording.say(facts.solution.water).replace(NBSP, " ") == "at least 8 L (2.1 gal)"
    assert wording.say(facts.germination.sown) == "some"
    assert wording.say(syrup.total) == "not measured"


def test_rows_come_back(run: Run) -> None:
    """Open amounts and the words of drops are in the tables, and read back as they were."""
    start = Start(run.setup.start.date)
    for table in TABLES:
        for row in getattr(run.rows, table.name):
            assert table.read(*table.write([row], start)) == row
