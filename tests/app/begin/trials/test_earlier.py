"""Which earlier runs the spread of differences is taken from."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from sitegen.app.begin.trials import earlier
from sitegen.app.begin.trials.earlier import MOST_RUNS, Earlier, earlier_differences
from sitegen.ingest import read_journal, read_records
from tests.app.begin.planning import LEAF, bench

TODAY = dt.date(2026, 1, 1)
NEAR_LESS_FAR = (60 - 80) / 70  # of the run `leaf`: 80 g and 60 g a plant


def found(root: Path, arms: tuple[str, ...] = ("near", "far")) -> Earlier:
    """The differences for the planned run of leaf."""
    files, _ = read_journal(root)
    assert files is not None
    run, _ = read_records(files.folder("plan"), files)
    assert run is not None
    return earlier_differences(run.setup, arms, files, TODAY)


def journal(root: Path, **more: str) -> Path:
    """A bench with a planned run of leaf."""
    planned = LEAF[: LEAF.index("log:")].replace("2025-02-01", "2026-02-01") + "log: []\n"
    return bench(root, plan=planned.replace("was: [first-try]\n", ""), **more)


def other(start: str = "2025-02-01") -> str:
    """The run of leaf under no earlier name, with another start."""
    return LEAF.replace("was: [first-try]\n", "").replace("2025-02-01", start)


def test_the_relative_difference_of_a_run(tmp_path: Path) -> None:
    """80 g against 60 g a plant: the second less the first over their mean, in the order asked for."""
    root = journal(tmp_path)
    assert found(root).differences == {"leaf": {(0, 1): pytest.approx(NEAR_LESS_FAR)}}
    assert found(root, ("far", "near")).differences == {"leaf": {(0, 1): pytest.approx(-NEAR_LESS_FAR)}}
    assert found(root, ("other", "near", "far")).differences == {
        "leaf": {(1, 2): pytest.approx(NEAR_LESS_FAR)}
    }


@pytest.mark.parametrize("arms", [("near", "spot"), ("nea", "far"), ("filled", "spot"), ("one", "two")])
def test_arms_that_no_run_held(
    arms: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Words of the log, and parts of other names, are no arms: no run is read for them."""
    monkeypatch.setattr(earlier, "facts_of", None)
    assert found(journal(tmp_path), arms) == Earlier({})


def test_a_file_in_another_order(tmp_path: Path) -> None:
    """A log that stands before the rest of the set-up is stepped over."""
    begin = LEAF.index("groups:")
    log = LEAF.index("log:")
    root = journal(tmp_path, turned=other()[: other().index("groups:")] + LEAF[log:] + LEAF[begin:log])
    assert list(found(root).differences) == ["leaf", "turned"]


def test_only_the_latest_are_looked_at(tmp_path: Path) -> None:
    """Of many runs those that began last count, and that is said; one without a date comes first."""
    many = {f"run-{n}": other(start=f"2025-{n:02}-11") for n in range(1, MOST_RUNS)}
    all_there = journal(tmp_path / "a", **many)
    assert len(found(all_there).differences) == MOST_RUNS
    assert not found(all_there).latest

    one_more = journal(tmp_path / "b", **many, old=other(start="unknown"))
    assert sorted(found(one_more).differences) == sorted([*many, "leaf"])
    assert found(one_more).latest


def test_runs_in_one_tub_count_once(tmp_path: Path) -> None:
    """Of two runs that shared a tub the first counts."""
    first = other().replace("\nlight:", "\nshares: [{with: second}]\nlight:", 1)
    second = other().replace("\nlight:", "\nshares: [{with: first}]\nlight:", 1)
    root = journal(tmp_path, first=first, second=second)
    assert list(found(root).differences) == ["first", "leaf"]


def test_nothing_from_either_arm(tmp_path: Path) -> None:
    """Where neither arm gave anything there is no difference relative to their mean."""
    three = other().replace("far: P4-P6", "far: P4-P5, rest: P6")
    some = (
        three[: three.index("    harvest:")]
        + "    harvest: {P6: 20 g}\n  - {day: 41, end: {plants: cleared}}\n"
    )
    root = journal(tmp_path, third=some)
    assert list(found(root).differences) == ["leaf"]
    assert found(root, ("near", "rest")).differences == {"third": {(0, 1): 2.0}}


def test_differences_by_pair() -> None:
    """Each pair of arms has its own differences, from the runs that held it."""
    runs = {"a": {(0, 1): 0.1, (0, 2): 0.2, (1, 2): 0.3}, "b": {(1, 2): 0.4}, "c": {(0, 1): 0.5}}
    assert Earlier(runs).by_pair() == [[0.1, 0.5], [0.2], [0.3, 0.4]]
