"""Experiments made by several processes."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from sitegen.pipeline import checking, validate
from sitegen.pipeline.crew import FEW, Trade, shared
from tests.pipeline.bench import TODAY, Site, leaf, tree, visible


def many(folder: Path) -> Site:
    """Enough experiments for a crew."""
    names = [f"run-{number}" for number in range(FEW + 2)]
    starts = [f"2026-03-{number + 1:02}" for number in range(FEW + 2)]
    return Site.of(folder, {n: leaf(n.title(), start=s) for n, s in zip(names, starts, strict=True)})


def test_the_same_bytes_from_any_number_of_processes(tmp_path: Path) -> None:
    """Two processes write what one does, and find the same."""
    site = many(tmp_path)
    done = site.write(jobs=2)
    wanted, findings = site.anew()

    assert (tree(site.output), done.findings) == (wanted, findings)


def test_an_error_anywhere_leaves_nothing_behind(tmp_path: Path) -> None:
    """Nothing was written before, and no folder is left; every experiment is read for its findings all the same."""
    site = many(tmp_path)
    for name in ("run-1", f"run-{FEW}"):
        path = site.experiment(name) / "experiment.yaml"
        path.write_text(path.read_text("utf-8").replace("plants: 2", "plnats: 2"), "utf-8")
    done = site.write(jobs=2)

    assert (done.outcome, site.output.exists()) == (None, False)
    assert {finding.source.file.split("/")[2] for finding in done.findings} == {"run-1", f"run-{FEW}"}


def test_what_a_head_promised_is_mended(tmp_path: Path) -> None:
    """A broken experiment looks whole by its head: its neighbours are made again without it."""
    site = many(tmp_path)
    path = site.experiment("run-3") / "experiment.yaml"
    path.write_text(path.read_text("utf-8").replace("height: 9 cm", "height: 9 parsecs"), "utf-8")
    done = site.write(jobs=2, keep_going=True)
    wanted, _ = site.anew(keep_going=True)

    assert done.left_out == ("run-3",)
    assert visible(site.output) == {place: body for place, body in wanted.items() if place[0] != "."}
    assert b"run-3.html" not in (site.output / "experiments" / "run-2.html").read_bytes()


def test_progress_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One call for each experiment, in order."""
    from sitegen.pipeline import publish

    site, told = many(tmp_path), list[tuple[int, int]]()
    monkeypatch.setenv("SITEGEN_CACHE", str(site.store))
    publish(site.root, TODAY, output=site.output, jobs=2, progress=lambda done, of: told.append((done, of)))

    assert told == [(number, FEW + 2) for number in range(1, FEW + 3)]


def _ready(factor: int, _halted: Callable[[], bool]) -> Callable[[int], tuple[int, int]]:
    return partial(_times, factor)


def _times(factor: int, number: int) -> tuple[int, int]:
    time.sleep(0.002)
    return factor * number, os.getpid()


def test_work_is_shared() -> None:
    """The first process does its part; what comes of each order stands in the order of the orders."""
    done = list(shared(2, iter(range(400)), Trade(_ready, 3), partial(_times, 3)))

    assert [result for result, _ in done] == [3 * number for number in range(400)]
    assert len({process for _, process in done}) == 2
    assert os.getpid() in {process for _, process in done}


def test_findings_are_the_same_from_two_processes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Many experiments are judged by two processes as by one."""
    site = many(tmp_path)
    path = site.experiment("run-2") / "experiment.yaml"
    path.write_text(path.read_text("utf-8").replace("height: 9 cm", "height: 9 parsecs"), "utf-8")
    found = []
    for number in (1, 2):
        monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / f"cache-{number}"))
        monkeypatch.setattr(checking, "FEW", 2)
        monkeypatch.setattr(checking, "cores", lambda number=number: number)
        found.append(validate(site.root, TODAY))

    assert found[0] == found[1]
    assert [finding.code for finding in found[0].findings if finding.is_error] == ["unknown-unit"]
    assert found[0].experiments == FEW + 2
