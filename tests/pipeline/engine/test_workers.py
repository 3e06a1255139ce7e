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
from sitegen.pipeline.engine.workers import Worker, cores
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


def test_a_worker_is_one_process_that_carries_out_its_orders_in_turn() -> None:
    """Results are those of its function, and no two workers are the same process."""
    with Worker(partial(_ready, 3)) as one, Worker(partial(_ready, 3)) as other:
        ordered = [(one, other)[number % 2].submit(number) for number in range(60)]
        done = [each.result() for each in ordered]

    assert [result for result, _ in done] == [3 * number for number in range(60)]
    assert len({process for _, process in done[::2]}) == len({process for _, process in done[1::2]}) == 1
    assert len({process for _, process in done} | {os.getpid()}) == 3


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


def _failing() -> Callable[[int], int]:
    return partial(divmod, 1)  # type: ignore[return-value]


def test_a_fault_in_a_process_comes_here() -> None:
    """The result before it is given; then the exception is raised, what follows is dropped, and no process is left."""
    with pytest.raises(ZeroDivisionError), Worker(_failing) as worker:  # noqa: PT012 - the process ends here
        ordered = [worker.submit(number) for number in (1, 0, 1)]
        assert ordered[0].result() == (1, 0)
        ordered[1].result()

    assert multiprocessing.active_children() == []


BUSY = """\
import os, sys, time
from functools import partial
from pathlib import Path
from sitegen.pipeline.engine.workers import Worker

def work(folder, number):
    Path(folder, str(os.getpid())).touch()
    time.sleep(0.05)

def ready(folder):
    return partial(work, folder)

if __name__ == "__main__":
    with Worker(partial(ready, sys.argv[1])) as one, Worker(partial(ready, sys.argv[1])) as other:
        for result in [worker.submit(number) for number in range(1000) for worker in (one, other)]:
            result.result()
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
