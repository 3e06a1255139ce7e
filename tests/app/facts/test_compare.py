"""`facts --compare` and `--crop`: what they print of several runs of one crop, and how they end."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sitegen.app.console.status import Status
from sitegen.app.main import status_of

DEMO = str(Path(__file__).parents[3] / "content_demo")
AT = ["--journal", DEMO, "--today", "2026-11-28"]


def test_two_runs_as_text(capsys: pytest.CaptureFixture[str]) -> None:
    """Each run with its arms, what may be said of each pair with its test, and what else differed; no code of ours."""
    named = ["facts", "--compare", "pebble-lantern-first", "pebble-two-lamps", *AT]
    assert status_of(named) == Status.DONE
    said = capsys.readouterr().out
    assert said.startswith("2 runs, of which 2 independent\n  pebble-lantern-first: ")
    assert (
        "\nSlate tub and Moss tub (system), by day of the first pick:\n  In these two tubs, this one time: "
        in said
    )
    assert "\npebble-two-lamps differs from pebble-lantern-first:\n  System: " in said
    assert not {"None", "per_spot", "seed_age"} & set(said.replace(":", " ").split())


def test_a_crop_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """The same as data: runs, units, every pair with its values and its row of the decision table."""
    assert status_of(["facts", "--crop", "dwarf-tomato", "--json", *AT]) == Status.DONE
    data = json.loads(capsys.readouterr().out)
    runs = [run["experiment"] for run in data["runs"]]
    assert runs == ["pebble-lantern-first", "pebble-two-lamps", "cinder-button-flood", "cinder-beside-pebble"]
    assert sorted(run for unit in data["units"] for run in unit) == sorted(runs)
    rows = {(each["factor"], each["measure"]): each["row"] for each in data["contrasts"]}
    assert rows["variety", "first_pick"] == "one run"
    assert rows["variety", "per_spot"] == "different runs"


@pytest.mark.parametrize(
    "given",
    [
        ["--compare", "pebble-lantern-frist", "pebble-two-lamps"],
        ["--compare", "pebble-lantern-first", "radish-edge-of-tray"],
        ["--crop", "dwarf-tomatoe"],
    ],
    ids=["unknown run", "two crops", "unknown crop"],
)
def test_what_cannot_be_compared(given: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    """A name that is not there, or runs of two crops, is wrong usage: nothing is printed as data."""
    assert status_of(["facts", *given, *AT]) == Status.USAGE
    assert capsys.readouterr().out == ""
