"""Steps of many runs from worker processes: a run stays with one of them, which is told what it has to know."""

from __future__ import annotations

import pickle
from collections import Counter
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sitegen.pipeline.engine import build as build_module
from sitegen.pipeline.engine import inputs, processes
from sitegen.pipeline.engine.processes import KEPT, OUT, Order, Processes, RunMaker
from sitegen.pipeline.engine.run_builder import RunBuilder
from sitegen.pipeline.engine.stored_results import Results
from tests.pipeline.bench import Site, leaf, tree
from tests.pipeline.engine.test_run_pages import RUNS, SHARES, site, staging
from tests.pipeline.engine.test_snapshot import built


class _Here:
    """In place of a worker process: it is got ready from the same bytes, and works in this one."""

    started: list[_Here]

    def __init__(self, ready: Callable[[], Callable[[Order], list[Any]]]) -> None:
        self.ready, self.orders = pickle.dumps(ready), list[Order]()
        self.work: Callable[[Order], list[Any]] | None = None
        self.ended = False
        self.started.append(self)

    def submit(self, order: Order) -> Future[list[Any]]:
        """Carried out at once, and waiting until its result is asked for."""
        self.work = self.work or pickle.loads(self.ready)()  # noqa: S301 - pickled above
        self.orders.append(order)
        sent = pickle.dumps(order)
        return _Late(pickle.dumps(self.work(pickle.loads(sent))))  # noqa: S301 - as above

    def __enter__(self) -> _Here:
        return self

    def __exit__(self, *_: object) -> None:
        self.ended = True


class _Late(Future[list[Any]]):
    """A result that is not there until somebody asks for it."""

    def __init__(self, results: bytes) -> None:
        super().__init__()
        self.results = results

    def result(self, timeout: float | None = None) -> list[Any]:
        """Taken from what a process sends."""
        del timeout
        if not self.done():
            self.set_result(pickle.loads(self.results))  # noqa: S301 - pickled by a `_Here`
        return super().result()


@pytest.fixture
def workers(monkeypatch: pytest.MonkeyPatch) -> list[_Here]:
    """The worker processes that were started, all of them in this one."""
    started: list[_Here] = []
    monkeypatch.setattr(_Here, "started", started, raising=False)
    monkeypatch.setattr(processes, "Worker", _Here)
    monkeypatch.setattr(processes, "raise_gc_threshold", lambda: None)
    return started


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often the log of each run was read."""
    found: Counter[str] = Counter()
    original = inputs.read_records

    def counted(folder: Any, *more: Any) -> Any:
        found[folder.id] += 1
        return original(folder, *more)

    monkeypatch.setattr(inputs, "read_records", counted)
    return found


def with_recaps(folder: Path) -> Site:
    """Runs whose texts are judged too, and name one another."""
    journal = site(folder)
    for run, other in zip(RUNS, [*RUNS[1:], RUNS[0]], strict=True):
        (journal.experiment(run) / "recap.md").write_text(f"Beside [[experiment:{other}]].\n", "utf-8")
    return journal


def test_each_run_is_read_and_measured_by_one_process(
    tmp_path: Path, workers: list[_Here], read: Counter[str], measured: Counter[str]
) -> None:
    """Once, from its check to its pages; the site is that of one process."""
    journal = with_recaps(tmp_path)
    journal.write(jobs=2)
    counted = Counter(read), Counter(measured)
    ordered = [
        {name for order in worker.orders for name in order.names if name in RUNS} for worker in workers
    ]

    assert counted == (Counter(RUNS), Counter(RUNS))
    assert sorted(run for runs in ordered for run in runs) == sorted(RUNS)
    assert all(ordered), "each has a part"
    assert tree(journal.output) == journal.anew()[0]


def test_index_pages_are_made_by_the_same_processes(tmp_path: Path, workers: list[_Here]) -> None:
    """They know all summaries by then, and nothing of a run is made again for it."""
    site(tmp_path).write(jobs=2)
    made = [
        name for worker in workers for order in worker.orders if order.step == "index" for name in order.names
    ]

    assert "home" in made
    assert len(made) == len(set(made)) > 5
    for worker in workers:
        assert any(order.step == "index" for order in worker.orders)


def test_index_pages_of_many_runs_are_made_here(
    tmp_path: Path, workers: list[_Here], monkeypatch: pytest.MonkeyPatch
) -> None:
    """They read the summaries of all runs, which would fill the memory of each process; the processes end first."""
    journal = site(tmp_path)
    monkeypatch.setattr(build_module, "KEPT", len(RUNS) - 1)
    monkeypatch.setattr(RunBuilder, "index", _made_when_ended(RunBuilder.index, workers))
    journal.write(jobs=2)

    assert {order.step for worker in workers for order in worker.orders} == {"check", "summary", "pages"}
    assert tree(journal.output) == journal.anew()[0]


def _made_when_ended(index: Callable[..., Any], workers: list[_Here]) -> Callable[..., Any]:
    def made(builder: RunBuilder, name: str, where: Any) -> Any:
        assert all(worker.ended for worker in workers)
        return index(builder, name, where)

    return made


def test_no_more_runs_are_kept_than_there_may_be(
    tmp_path: Path, workers: list[_Here], read: Counter[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Those of later runs are read again for their pages, and the site is the same."""
    journal = site(tmp_path)
    wanted = journal.anew()[0]
    read.clear()
    monkeypatch.setattr(processes, "KEPT", 4)
    journal.write(jobs=2)

    assert len(workers) == 2
    assert sorted(read.values()) == [1] * 4 + [2] * (len(RUNS) - 4)
    assert tree(journal.output) == wanted


def worker_of(build: Any) -> RunMaker:
    """What a worker process makes the runs of a build with."""
    snapshot = build.snapshot.for_worker()
    return RunMaker(RunBuilder(snapshot, Results(snapshot)), KEPT)


def test_a_worker_makes_the_pages_from_what_the_summary_was_made_from(
    tmp_path: Path, measured: Counter[str]
) -> None:
    """And forgets the run with its pages; a summary that it is told is not made again with them."""
    where = staging(tmp_path)
    with built(site(tmp_path)) as build:
        build.snapshot = replace(build.snapshot, summaries={})
        made = worker_of(build)
        files = {RUNS[0]: build.snapshot.runs[RUNS[0]]}
        (summary,) = made.carry_out(Order("summary", (RUNS[0],), files, {}, staging=where))
        held = list(made.memories)
        told = {RUNS[0]: summary.value}
        ((pages, again),) = made.carry_out(Order("pages", (RUNS[0],), files, told, staging=where))

    assert measured == Counter(RUNS) + Counter(RUNS[:1])  # once by the build
    assert (held, made.memories, again) == ([RUNS[0]], {}, None)
    assert pages.staged[0].address == f"experiments/{RUNS[0]}.html"


def test_a_summary_is_kept_for_its_pages_however_many_there_are(tmp_path: Path) -> None:
    """Its pages follow soon; what is made for nothing to follow stays only while there is room."""
    with built(site(tmp_path)) as build:
        made = RunMaker(RunBuilder(build.snapshot, Results(build.snapshot)), 1)
        for run in RUNS[:3]:
            made.made("check", run)
        checked = list(made.memories)
        for run in RUNS[:3]:
            made.made("summary", run, staging(tmp_path))

    assert (checked, list(made.memories)) == (RUNS[:1], RUNS[:3])


def test_a_worker_leaves_a_run_that_reads_another_one_to_the_first_process(tmp_path: Path) -> None:
    """It knows only the files of the runs that it was ordered."""
    sharing = site(tmp_path, run_1=leaf("Run-1", start="2026-03-02", more=SHARES.format(RUNS[0])))
    with built(sharing) as build:
        files, where = build.snapshot.runs, staging(tmp_path)
        made = worker_of(build)
        (first,) = made.carry_out(Order("pages", (RUNS[1],), {RUNS[1]: files[RUNS[1]]}, {}, staging=where))
        (second,) = made.carry_out(Order("pages", (RUNS[0],), {RUNS[0]: files[RUNS[0]]}, {}, staging=where))

    assert first is None
    assert second[0].staged[0].address == f"experiments/{RUNS[0]}.html"


def test_a_process_is_told_another_moment_once(tmp_path: Path, workers: list[_Here]) -> None:
    """With the first order after it; then only summaries that were made since, each once."""
    with built(site(tmp_path)) as build, Processes(2) as each:
        early = replace(build.snapshot, summaries={})
        each.start(early, 1)
        each.order(early, "check", (RUNS[0],))
        each.tell({RUNS[0]: build.snapshot.summaries[RUNS[0]]})
        each.order(early, "check", (RUNS[1],))
        each.order(early, "check", (RUNS[2],))
        each.order(build.snapshot, "check", (RUNS[3],))
        each.order(build.snapshot, "check", (RUNS[4],))
    told = [(sorted(order.summaries), order.site_map is not None) for order in workers[0].orders]

    assert told == [([], False), ([RUNS[0]], False), ([], False), (sorted(RUNS), True), ([], False)]


@pytest.mark.parametrize(
    ("most", "wanted", "started"), [(2, 1, 1), (2, 2, 2), (2, 9, 2), (1, 5, 1), (3, 0, 0)]
)
def test_processes_are_started_as_far_as_there_may(
    tmp_path: Path, workers: list[_Here], most: int, wanted: int, started: int
) -> None:
    """And never one more; those that there are stay."""
    with built(site(tmp_path)) as build, Processes(most) as each:
        each.start(build.snapshot, wanted)
        each.start(build.snapshot, wanted)
        there = each.number

    assert (there, len(workers), each.number) == (started, started, 0)


@pytest.mark.parametrize(("runs", "jobs", "started"), [(5, 2, 0), (6, 1, 0), (6, 8, 2), (9, 2, 2)])
def test_few_runs_are_made_here(
    tmp_path: Path, workers: list[_Here], runs: int, jobs: int, started: int
) -> None:
    """Below six, starting a process would take longer than rendering them; there is one more for each six."""
    journal = site(tmp_path)
    for run in RUNS[runs:]:
        (journal.experiment(run) / "experiment.yaml").unlink()
        journal.experiment(run).rmdir()
    journal.write(jobs=jobs)

    assert len(workers) == started


class _Told(_Here):
    """A process that says what it was ordered."""

    def submit(self, order: Order) -> Future[list[Any]]:
        """A sentence for each name."""
        self.orders.append(order)
        return _Late(pickle.dumps([f"{order.step} of {name}" for name in order.names]))


def test_few_orders_are_out_at_a_time(
    tmp_path: Path, workers: list[_Here], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before the first result is taken, each process has its few; names that belong to one are ordered together."""
    monkeypatch.setattr(processes, "Worker", _Told)
    names = [f"run-{number}" for number in range(96)]
    with built(site(tmp_path)) as build, Processes(2) as each:
        each.start(build.snapshot, 2)
        results = each.each(build.snapshot, "check", names, 4)
        first = next(results)
        out = sum(len(worker.orders) for worker in workers)
        found = dict([first, *results])
        again = dict(each.each(build.snapshot, "texts", names[::-1], 4))
        few = list(each.each(build.snapshot, "notes", names[:5], 4))
    homes = [
        {name for order in worker.orders if order.step == step for name in order.names}
        for worker in workers
        for step in ("check", "texts")
    ]

    assert out == 2 * OUT
    assert found == {name: f"check of {name}" for name in names}
    assert again == {name: f"texts of {name}" for name in names}
    assert homes[0] == homes[1]
    assert homes[2] == homes[3]
    sizes = {(order.step, len(order.names)) for worker in workers for order in worker.orders}
    assert sizes == {("check", 4), ("texts", 4), ("notes", 1)}
    assert [name for name, _ in few] == names[:5]
    assert homes[0] == set(names[::2]), "neighbours are of different processes"


def test_a_run_stays_with_its_process_though_another_has_less_to_do(
    tmp_path: Path, workers: list[_Here], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What its summary was made from is there; an index page goes to whoever has less to do, each time."""
    monkeypatch.setattr(processes, "Worker", _Told)
    with built(site(tmp_path)) as build, Processes(2) as each:
        each.start(build.snapshot, 2)
        for step, name in (
            *(("summary", RUNS[0]), ("pages", RUNS[0])),
            *(("index", "home"), ("index", "home"), ("index", "home")),
        ):
            each.order(build.snapshot, step, (name,), staging(tmp_path))
    ordered = [[(order.step, *order.names) for order in worker.orders] for worker in workers]

    assert ordered[0][:2] == [("summary", RUNS[0]), ("pages", RUNS[0])]
    assert [len(each) for each in ordered] == [3, 2]


def test_a_result_that_is_taken_is_not_held(
    tmp_path: Path, workers: list[_Here], monkeypatch: pytest.MonkeyPatch
) -> None:
    """However many orders a process has had: those of a thousand runs would fill the memory."""
    monkeypatch.setattr(processes, "Worker", _Told)
    with built(site(tmp_path)) as build, Processes(1) as each:
        each.start(build.snapshot, 1)
        each.order(build.snapshot, "check", (RUNS[0],)).result()
        for _ in range(20):
            each.order(build.snapshot, "pages", (RUNS[0],), staging(tmp_path)).result()
        held = [len(process.waiting) for process in each._started]

    assert held == [1]
    assert len(workers[0].orders) == 21
