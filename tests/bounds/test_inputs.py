"""Inputs far beyond what anybody writes: a finding each, in a short time and little memory."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.pipeline import validate
from tests.bounds.inputs import INPUTS
from tests.bounds.measured import TODAY, measured, written

SECONDS = 6  # of processor time, on a machine that others use, with the imports of a first command (about 2)
MEGABYTES = 500

# What each bound says, in the words of its finding.
SAID = {
    "note: spaces": "this line has 100,024 characters; at most 20,000 are read",
    "log of 15,000 entries": "this list has 15,001 items; at most 10,000 are read",
    "log of a million entries": "`seasons/one/leaf-run/experiment.yaml` has 22.0 MB; at most 1 MB are read",
    "start: last year": "`9999-12-01` is in the year 9999; dates are read from 1900 to 2199",
    "start: first year": "`0001-01-01` is in the year 1; dates are read from 1900 to 2199",
    "date: 9999-12-31": "`9999-12-31` is in the year 9999; dates are read from 1900 to 2199",
    "recap: footnotes": "this line has 120,000 characters; at most 20,000 are read",
    "recap: references": "`seasons/one/leaf-run/recap.md` has 210,000 characters; at most 100,000 are read",
    "recap: wide table": "`seasons/one/leaf-run/recap.md` has 20,002 lines; at most 5,000 are read",
    "recap: paragraph": "this paragraph has 19,999 characters; at most 10,000 are read",
    "recap: signs": "this paragraph has 501 opening brackets; at most 500 are read",
    "recap: wrong values": "this line has 500,000 characters; at most 20,000 are read",
    "recap: many values": "`seasons/one/leaf-run/recap.md` has 1,001 values; at most 1,000 are read",
    "CSV: 100,000 bad cells": "`sheet.csv` has 100,001 rows; at most 10,000 days are read",
    "CSV: 1,000,000 empty rows": (
        "`sheet.csv` is too large: it has 1,000,001 rows; at most 400,000 are read"
    ),
    "XLSX: far cell": (
        "`sheet.xlsx` is too large: a sheet reaches row 1,048,576, column 16,384; "
        "at most 400,000 rows and 2,000,000 cells are read"
    ),
    "photo: png of 60,000": "`2025-03-02.png` has 3600 megapixels; at most 120 are read",
}


@pytest.mark.parametrize("name", SAID)
def test_the_bound_is_said(name: str, tmp_path: Path) -> None:
    """A finding says how much there is, and how much is read."""
    findings = validate(written(name, tmp_path), TODAY).findings

    assert SAID[name] in [finding.message for finding in findings]


@pytest.mark.full
@pytest.mark.parametrize("name", INPUTS)
def test_every_input(name: str) -> None:
    """No input ends in anything but findings, takes long, or much memory."""
    found = measured(name)

    assert not found.said.startswith(("!!", "ended"))
    assert found.seconds < SECONDS
    assert found.megabytes < MEGABYTES
