"""What is longer than what is read in a file that all runs share holds back nothing else of that file."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.app.console.report import finding_line
from sitegen.core.findings.told import told
from sitegen.pipeline import validate
from tests.bounds.measured import TODAY
from tests.cases import BASE, Case
from tests.ingest.builders import HEAD

LONG, VERY_LONG = "x" * 1_001, "x" * 20_001
MANY = "".join(f"    v{number}: {{name: A}}\n" for number in range(2_001))
GEAR, CROPS = ((BASE / name).read_text("utf-8") for name in ("gear.yaml", "crops.yaml"))
OWN = "systems:\n  crate: {name: Crate, spots: 4, reservoir: 8 L}\n"
BAD_LAMP = "lamps: {bulb: {name: Bulb, power: 4 kg}}\n"
SEASON = "seasons/spring/season.yaml"
RUN = "seasons/spring/crate-run/experiment.yaml"


SOUND = (
    HEAD + "log:\n  - {day: 0, sow: 2 a spot}\n  - {day: 3, height: {P1: 9 cm}}\n"
    "  - {day: 9, end: eaten}\nanswer: {verdict: again}\n"
)


def _said(root: Path, *files: tuple[str, str]) -> list[str]:
    """The findings of the shared sound journal with a run and other files, each as a line without its mend."""
    named = {RUN: SOUND, **dict(files)}
    case = Case("", "", tuple((name, text.encode()) for name, text in named.items()), "")
    found = validate(case.write(root), TODAY).findings
    return [finding_line(each.first).partition(" (")[0] for each in told(found)]


def _too_long(what: str, length: str, most: str) -> str:
    return f"error[text-too-long]: {what} has {length} characters; at most {most} are read"


FILES = {
    "gear.yaml, a value": (
        "gear.yaml",
        f"{OWN}  other: {{name: Other, kind: {LONG}, spots: many}}\n{BAD_LAMP}",
        (
            f"3:30: {_too_long('`kind`', '1,001', '1,000')}",
            "3:1040: error[not-a-count]: `many` is not a whole number; `spots` wants one",
            "4:37: error[wrong-dimension]: `kg` is a weight; `power` wants a power",
        ),
    ),
    # The block of the line is left out, and nothing is said of its systems in the runs that name them.
    "gear.yaml, a line": (
        "gear.yaml",
        f"{OWN}  other: {{name: {VERY_LONG}}}\n{BAD_LAMP}",
        (
            f"3:1: {_too_long('this line', '20,018', '20,000')}",
            "4:37: error[wrong-dimension]: `kg` is a weight; `power` wants a power",
        ),
    ),
    # Nor of one whose fields are all in a text that is too long.
    "gear.yaml, the value of an id": (
        "gear.yaml",
        f"systems:\n  crate: {LONG}\n{BAD_LAMP}",
        (
            f"2:10: {_too_long('`crate`', '1,001', '1,000')}",
            "3:37: error[wrong-dimension]: `kg` is a weight; `power` wants a power",
        ),
    ),
    "crops.yaml, a list": (
        "crops.yaml",
        f"{CROPS}bean:\n  name: Bean\n  kind: leafy\n  varieties:\n{MANY}pea: {{name: Pea, kind: green}}\n",
        (
            "14:5: error[too-many-items]: this mapping has 2,001 items; at most 2,000 are read",
            "2015:24: error[unknown-choice]: `kind` cannot be `green`",
        ),
    ),
    "journal.yaml, a value": (
        "journal.yaml",
        f"format: 1\ntitle: Bench\naddress: https://{LONG}\nprices: {{currency: EUR, water: 2}}\n",
        (
            f"3:10: {_too_long('`address`', '1,009', '1,000')}",
            "4:32: error[not-a-price]: `2` is not a price",
        ),
    ),
    # Without it nobody knows which files are not meant: what is read of the file is looked at, and no run.
    "journal.yaml, what all runs need": (
        "journal.yaml",
        f"format: 1\ntitle: Bench\nignore: [{LONG}]\nprices: {{currency: EUR, water: 2}}\n",
        (
            f"3:10: {_too_long('`ignore`', '1,001', '1,000')}",
            "4:32: error[not-a-price]: `2` is not a price",
        ),
    ),
    "season.yaml": (
        SEASON,
        f"title: Spring\nsummary: {VERY_LONG}\nweather: fine\n",
        (
            f"2:1: {_too_long('this line', '20,010', '20,000')}",
            "3:1: error[unknown-key]: `weather` is not a key of season.yaml",
        ),
    ),
}


@pytest.mark.parametrize("case", FILES)
def test_rest_of_a_file(case: str, tmp_path: Path) -> None:
    """One finding for what is too long; the rest of the file has its own."""
    name, text, said = FILES[case]

    assert _said(tmp_path, (name, text)) == [f"{name}:{each}" for each in said]


def test_findings_of_runs_beside_it(tmp_path: Path) -> None:
    """A value that is too long in gear.yaml holds back no unknown name of a run, and none of its other findings."""
    gear = GEAR.replace("power: 20 W", f"power: {LONG}")
    run = SOUND.replace("system: crate", "system: create").replace("P1: 9 cm", "P7: 9 cm")

    assert _said(tmp_path, ("gear.yaml", gear), (RUN, run)) == [
        f"gear.yaml:5:31: {_too_long('`power`', '1,001', '1,000')}",
        f"{RUN}:4:9: error[unknown-system]: `create` is not a system of gear.yaml",
    ]
