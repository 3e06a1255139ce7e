"""Any sheet at all: whatever stands in its rows stands in the draft or in a copy, and the draft can be read."""

from __future__ import annotations

import csv
import io

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.core.findings.finding import Findings
from sitegen.filing.drafting.draft import SetUp, all_plants, draft_text
from sitegen.ingest.yaml.parser import parse
from tests.filing.drafting.builders import found_in

_NAMES = "P1,P2,Height (cm),Höhe P1 [cm],Plant,Notes,Weather,,Weight P2 (g),EC,Time,all,%,Basil 2,pH,Value,Variable"
HEADINGS = st.sampled_from([*_NAMES.split(","), "Leaves P1", "Unit"])
WHEN = st.sampled_from(["2026-03-01", "3/4/2026", "1. März", "Day 5", "7", "33-38", "", "Mean", "14.3."])
ODD = st.sampled_from(
    ["ca. 4.5", "dead", "12+", "x: y", "# no", "a\nb", "tab\there", "{}", "8-9", "1,5", "~7", "'q", "é\x85f"]
)


@st.composite
def sheets(draw: st.DrawFn) -> list[list[str]]:
    """Titles, headings, rows; numbers are all different, so that each can be looked for."""
    width = draw(st.integers(2, 5))
    titles = draw(st.lists(st.just(["Some title"]), max_size=2))
    headings = draw(st.lists(HEADINGS, min_size=width, max_size=width))
    rows, number = [], 100
    for _ in range(draw(st.integers(1, 5))):
        cells = [draw(WHEN)]
        for _ in range(width - 1):
            number += 7
            cells.append(draw(st.one_of(st.just(str(number)), ODD, st.just(""))))
        rows.append(cells)
    return [*titles, [draw(st.sampled_from(["Date", "Day", "Week", "", "Plant"])), *headings[1:]], *rows]


@settings(max_examples=200)
@given(rows=sheets())
def test_nothing_is_lost(rows: list[list[str]]) -> None:
    """Each number of a sheet stands in the draft or in a copy, and the draft is sound YAML."""
    buffer = io.StringIO()
    csv.writer(buffer).writerows(rows)
    found, choices = found_in("old.csv", buffer.getvalue().encode())
    setup = SetUp("Old", "leaf", "tray", "2026-03-01", all_plants(found) or 2)
    text = draft_text("old.csv", setup, found, choices.assumed)

    findings = Findings()
    assert parse(text, "experiment.yaml", findings) is not None
    assert [finding.message for finding in findings if finding.is_error] == []
    whole = text + "".join(copy.content.decode() for copy in found.copies)
    top = 1 + sum(row == ["Some title"] for row in rows)
    numbers = [cell for row in rows[top:] for cell in row[1:] if cell.isdigit()]
    assert [number for number in numbers if number not in whole] == []
