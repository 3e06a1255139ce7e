"""Experiments made by several processes."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import partial
from pathlib import Path

import pytest

from sitegen.pipeline import validate
from sitegen.pipeline.engine import build
from sitegen.pipeline.engine.build import PAGES_ALONE
from sitegen.pipeline.engine.workers import AHEAD, cores, spread
from tests.pipeline.bench import TODAY, Site, leaf, tree, visible


def many(folder: Path) -> Site:
    """Enough experiments for worker processes."""
    names = [f"run-{number}" for number in range(PAGES_ALONE + 2)]
    starts = [f"2026-03-{number + 1:02}" for number in range(PAGES_ALONE + 2)]
    return Site.of(folder, {n: leaf(n.title(), start=s) for n, s in zip(names, starts, strict=True)})


def test_the_same_bytes_from_any_number_of_processes(tmp_path: Path) -> None:
    """Two processes write what one does, and find the same; progress is told once for each experiment, in order."""
    site = many(tmp_path)
    done = site.write(jobs=2)
    told = [*site.progress]
    wanted, findings = site.anew()

    assert (tree(site.output), done.findings) == (wanted, findings)
    assert told == [(number, PAGES_ALONE + 2) for number in range(1, PAGES_ALONE + 3)]


def test_an_error_anywhere_leaves_nothing_behind(tmp_path: Path) -> None:
    """Nothing was written before, and no folder is left; every experiment is read for its findings all the same."""
    site = many(tmp_path)
    for name in ("run-1", f"run-{PAGES_ALONE}"):
        path = site.experiment(name) / "experiment.yaml"
        path.write_text(path.read_text("utf-8").replace("plants: 2", "plnats: 2"), "utf-8")
    done = site.write(jobs=2)

    assert (done.outcome, site.output.exists()) == (None, False)
    assert {finding.source.file.split("/")[2] for finding in done.findings} == {"run-1", f"run-{PAGES_ALONE}"}


def test_no_page_leads_to_an_experiment_with_errors(tmp_path: Path) -> None:
    """Errors in a log are known before any page is made: the neighbours of the broken experiment do without it."""
    site = many(tmp_path)
    path = site.experiment("run-3") / "experiment.yaml"
    path.write_text(path.read_text("utf-8").replace("height: 9 cm", "height: 9 parsecs"), "utf-8")
    done = site.write(jobs=2, keep_going=True)
    wanted, _ = site.anew(keep_going=True)

    assert done.left_out == ("run-3",)
    assert visible(site.output) == {place: body for place, body in wanted.items() if place[0] != "."}
    assert b"run-3.html" not in (site.output / "experiments" / "run-2.html").read_bytes()


def _ready(factor: int) -> Callable[[int], tuple[int, int]]:
    return partial(_times, factor)


def _times(factor: int, number: int) -> tuple[int, int]:
    time.sleep(0.002)
    return factor * number, os.getpid()


@pytest.mark.parametrize("works_too", [False, True], ids=["workers only", "this process too"])
def test_work_is_shared(*, works_too: bool) -> None:
    """Results stand in the order of the orders; this process does its part where it is asked to."""
    here = partial(_times, 3) if works_too else None
    done = list(spread(2, iter(range(400)), partial(_ready, 3), here))

    assert [result for result, _ in done] == [3 * number for number in range(400)]
    assert len({process for _, process in done}) == 2
    assert (os.getpid() in {process for _, process in done}) is works_too


def test_findings_are_the_same_from_two_processes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Many experiments are judged by two processes as by one."""
    site = many(tmp_path)
    path = site.experiment("run-2") / "experiment.yaml"
    path.write_text(path.read_text("utf-8").replace("height: 9 cm", "height: 9 parsecs"), "utf-8")
    found = []
    for number in (1, 2):
        monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / f"cache-{number}"))
        monkeypatch.setattr(build, "CHECKS_ALONE", 2)
        monkeypatch.setattr(build, "cores", lambda number=number: number)
        found.append(validate(site.root, TODAY))

    assert found[0] == found[1]
    assert [finding.code for finding in found[0].findings if finding.is_error] == ["unknown-unit"]
    assert found[0].experiments == PAGES_ALONE + 2


def test_how_many_processes_there_may_be(monkeypatch: pytest.MonkeyPatch) -> None:
    """As many as this process may use cores; where the system does not say, as there are, or one."""
    monkeypatch.setattr(os, "sched_getaffinity", lambda _: {0, 2, 5}, raising=False)
    allowed = cores()
    monkeypatch.delattr(os, "sched_getaffinity")
    monkeypatch.setattr(os, "cpu_count", lambda: 7)
    there = cores()
    monkeypatch.setattr(os, "cpu_count", lambda: None)

    assert (allowed, there, cores()) == (3, 7, 1)


def test_orders_are_not_handed_out_far_ahead() -> None:
    """Before the first result is taken, each process has its few orders, however many there are."""
    taken: list[int] = []

    def orders() -> Iterator[int]:
        for number in range(100):
            taken.append(number)
            yield number

    results = spread(2, orders(), partial(_ready, 3))
    first, _ = next(results)
    ahead = len(taken)
    results.close()  # type: ignore[attr-defined]

    assert first == 0
    assert 1 <= ahead <= 2 * AHEAD


def _failing() -> Callable[[int], int]:
    return partial(divmod, 1)  # type: ignore[return-value]


def test_a_fault_in_a_process_comes_here() -> None:
    """Results before it are given; then the exception is raised, and no process is left."""
    results, found = spread(2, iter([1, 1, 0, 1]), _failing), []
    with pytest.raises(ZeroDivisionError):
        found.extend(results)

    assert multiprocessing.active_children() == []


BUSY = """\
import os, sys, time
from functools import partial
from pathlib import Path
from sitegen.pipeline.engine.workers import spread

def work(folder, number):
    Path(folder, str(os.getpid())).touch()
    time.sleep(0.05)

def ready(folder):
    return partial(work, folder)

if __name__ == "__main__":
    list(spread(2, iter(range(100_000)), partial(ready, sys.argv[1])))
"""


@pytest.fixture
def busy(tmp_path: Path) -> Iterator[tuple[subprocess.Popen[str], list[int]]]:
    """A process in a group of its own, and its two workers, all at work."""
    if not Path("/proc/self/stat").is_file():
        pytest.skip("processes are looked up in /proc")
    (tmp_path / "busy.py").write_text(BUSY, "utf-8")
    (tmp_path / "pids").mkdir()
    command = [sys.executable, str(tmp_path / "busy.py"), str(tmp_path / "pids")]
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True, start_new_session=True) as process:
        try:
            while len(found := list((tmp_path / "pids").iterdir())) < 2:
                assert process.poll() is None
                time.sleep(0.01)
            yield process, [int(path.name) for path in found]
        finally:
            with suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)


def _alive(pid: int) -> bool:
    stat = Path(f"/proc/{pid}/stat")
    try:
        return stat.read_text("utf-8").rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def test_workers_end_with_a_process_that_is_killed(busy: tuple[subprocess.Popen[str], list[int]]) -> None:
    """Nobody tells them: they notice by themselves."""
    process, workers = busy
    assert [_alive(pid) for pid in workers] == [True, True]
    process.kill()
    process.wait()
    for _ in range(6000):  # a minute, far more than it takes on a busy machine
        if not any(map(_alive, workers)):
            break
        time.sleep(0.01)

    assert [_alive(pid) for pid in workers] == [False, False]


def test_an_interrupted_process_ends_its_workers(busy: tuple[subprocess.Popen[str], list[int]]) -> None:
    """The key reaches all of them; the first one alone says so, once."""
    process, workers = busy
    os.killpg(process.pid, signal.SIGINT)
    said = process.communicate()[1]

    assert process.returncode != 0
    assert said.count("Traceback") == said.count("KeyboardInterrupt") == 1, said
    assert [_alive(pid) for pid in workers] == [False, False]


def test_processes_are_as_many_as_are_allowed(monkeypatch: pytest.MonkeyPatch) -> None:
    """A container may have fewer cores than the machine; where nobody says, all there are, and at least one."""
    monkeypatch.setattr(os, "sched_getaffinity", lambda _: {0, 3, 5}, raising=False)
    allowed = cores()
    monkeypatch.delattr(os, "sched_getaffinity")
    monkeypatch.setattr(os, "cpu_count", lambda: 4)
    there = cores()
    monkeypatch.setattr(os, "cpu_count", lambda: None)

    assert (allowed, there, cores()) == (3, 4, 1)
