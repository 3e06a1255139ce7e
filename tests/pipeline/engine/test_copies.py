"""Runs whose logs are copies of one another."""

from __future__ import annotations

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.pipeline.engine.copies import FEWEST_ENTRIES, copied_logs
from sitegen.pipeline.engine.steps import Check


def _check(run: str, log: str, entries: int = FEWEST_ENTRIES) -> Check:
    return Check((), entries=entries, log=log, log_at=Source(f"{run}.yaml", 8))


def _finding(run: str, other: str) -> Finding:
    return Finding(
        "copied-log",
        Source(f"{run}.yaml", 8),
        f"the log of `{run}` is the same as that of `{other}`: the two count as one run",
        "write what happened in this run, or remove it",
        run,
        "a log of its own",
    )


def test_each_copy_is_told_of_the_first() -> None:
    """Of five entries and more (common practice, no source); the first has no finding, nor has one with its own log."""
    checks = {"a": _check("a", "x"), "b": _check("b", "y"), "c": _check("c", "x"), "d": _check("d", "x")}

    assert FEWEST_ENTRIES == 5
    assert list(copied_logs(checks)) == [_finding("c", "a"), _finding("d", "a")]


def test_what_cannot_be_a_copy_is_passed_over() -> None:
    """A log of few entries, one without a digest or a place: neither it nor one after it is told."""
    short = {run: _check(run, "x", FEWEST_ENTRIES - 1) for run in "ab"}
    empty = {run: _check(run, "") for run in "cd"}
    placeless = {run: Check((), entries=FEWEST_ENTRIES, log="z") for run in "ef"}
    copies = {run: _check(run, "x") for run in "gh"}

    assert list(copied_logs(short | empty | placeless | copies)) == [_finding("h", "g")]
