"""Single values from which several findings follow: the whole line that is told about each.

The journal is that of `tests/journals/sound`, each time with one value changed; numbers are by hand from its files.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.app.console.report import finding_line
from sitegen.core.findings.told import told
from sitegen.pipeline import validate
from tests.test_slips import SLIPS, TODAY, Slip, changed

LINES = {
    "a start a year late": (
        "8:8: error[start-unlike-log]: `start` is 2026-03-01, which puts all 10 entries before it: is "
        "it 2025-03-01?"
        " (write `start: 2025-03-01`)"
    ),
    "a start a month late": (
        "8:8: error[start-unlike-log]: `start` is 2025-04-01, which puts 5 of 10 entries before it: is "
        "it 2025-03-01?"
        " (write `start: 2025-03-01`)"
    ),
    "a start a year late, with day numbers": (
        "10:8: error[start-unlike-log]: `start` is 2026-03-01, which puts all 9 entries in the future: "
        "is it 2025-03-01?"
        " (write `start: 2025-03-01`)"
    ),
    "a start that is not known": (
        "8:8: error[start-unlike-log]: `start` is unknown, but 10 entries have a date"
        " (write the date of sowing, such as `start: 2025-03-01`)"
    ),
    "a spreadsheet a year early": (
        "2:12: error[sheet-unlike-run]: all 4 rows lie before the start: is it 2025?"
        " (write 2025 for 2024 in its dates)"
    ),
    "a spreadsheet a year late": (
        "2:12: error[sheet-unlike-run]: all 4 rows lie after the last entry, on day 64: is it 2025?"
        " (write 2025 for 2026 in its dates)"
    ),
    "a sowing a month late": (
        "15:10: error[sown-after-records]: sown on day 30, but 12 records of `P1`, `P2`, `P3` and `P4` "
        "are earlier"
        " (check the day of this sowing, or write an earlier `sow`)"
    ),
    "an end too early": (
        "37:10: error[end-before-records]: the plants were cleared on day 20, but 4 entries follow, up "
        "to day 55"
        " (check the day of the `end`, or write `plants: kept` in it)"
    ),
    "a loss too early": (
        "33:12: error[lost-before-records]: `P2` was lost on day 5, but 4 later records are of it "
        "(lines 18, 22 and 26 and further)"
        " (check the day, or which plant was lost)"
    ),
    "a plant too few": (
        "9:9: error[plants-too-few]: `plants` makes 5, but `P4-P6` and `P6` are named in 3 places"
        " (write `plants: 6`, or check those places)"
    ),
    "seeds too few": (
        "16:10: error[seeds-unlike-counts]: 2 later numbers do not fit the seeds sown here (lines 19 "
        "and 22)"
        " (check the number of seeds under `sow`, or those numbers)"
    ),
    "another crop": (
        "4:7: error[crop-unlike-log]: `physalis` is a fruiting crop, and has not the variety `broad` or "
        "the milestone `rosette`"
        " (check `crop`, or its `kind` in crops.yaml)"
    ),
    "a group misspelt": (
        "10:9: error[name-unlike-log]: the log never names `pairs`, but `pair` in 2 places"
        " (write `pair` for `pairs` under `groups`)"
    ),
    "a tub misspelt": (
        "7:3: error[name-unlike-log]: the log never names `rigth`, but `right` in 5 places"
        " (write `right` for `rigth` under `tubs`)"
    ),
}


@pytest.mark.parametrize("slip", [slip for slip in SLIPS if slip.name in LINES], ids=lambda slip: slip.name)
def test_the_line_of_a_cause(slip: Slip, tmp_path: Path) -> None:
    """The cause says what it is, what speaks against it, and what to write."""
    first = told(validate(changed(slip, tmp_path / "journal"), TODAY).findings)[0].first

    assert finding_line(first) == f"{first.source.file}:{LINES[slip.name]}"
