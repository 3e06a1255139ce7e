"""Many runs: each is measured once, in one process; pages wait for the summaries that they show something of."""

from __future__ import annotations

from collections import Counter
from concurrent.futures import Future
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sitegen.pipeline.engine import inputs, run_builder, run_pages
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.processes import KEPT, Processes, RunMaker
from sitegen.pipeline.engine.run_builder import RunBuilder
from sitegen.pipeline.engine.run_pages import AHEAD, RunPages
from sitegen.pipeline.engine.snapshot import _DIGESTS
from sitegen.pipeline.engine.stored_results import Results
from sitegen.pipeline.engine.workers import done
from sitegen.write import Staging
from tests.pipeline.bench import Site, leaf, tree
from tests.pipeline.engine.test_snapshot import built

RUNS = [f"run-{number}" for number in range(9)]
SHARES = "shares: {{with: {}}}\n"


def site(folder: Path, **more: str) -> Site:
    """Runs of one crop, one sown after the other; `more` is the text of some of them."""
    each = {run: leaf(run.title(), start=f"2026-03-{number + 1:02}") for number, run in enumerate(RUNS)}
    return Site.of(folder, each | {run.replace("_", "-"): text for run, text in more.items()})


def test_each_run_is_read_and_measured_once(
    tmp_path: Path, measured: Counter[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """In one process, from its check to its pages."""
    read: Counter[str] = Counter()
    records = run_builder.Inputs.records

    def counted(inputs: Any) -> Any:
        read[inputs.name] += 1
        return records(inputs)

    counted.__name__ = records.__name__
    monkeypatch.setattr(run_builder.Inputs, "records", counted)
    site(tmp_path).write(jobs=1)

    assert measured == Counter(RUNS)
    assert read == Counter(RUNS)


def staging(folder: Path) -> Staging:
    """Where pages wait."""
    return Staging(folder / "site", folder / "waiting", whole=True)


def maker(build: Build) -> RunMaker:
    """What makes the runs of a build."""
    return RunMaker(RunBuilder(build.snapshot, Results(build.snapshot)), KEPT)


def test_shared_tubs_are_the_same_from_two_processes(tmp_path: Path) -> None:
    """What the first process makes itself stands beside what workers make, in the same order."""
    sharing = {
        f"run_{own}": leaf(f"Run-{own}", start=f"2026-03-{own + 1:02}", more=SHARES.format(f"run-{other}"))
        for own, other in ((2, 5), (5, 2))
    }
    journal = site(tmp_path, **sharing)
    done = journal.write(jobs=2)
    wanted, findings = journal.anew()

    assert [each for each in findings if each.is_error] == []
    assert (tree(journal.output), done.findings) == (wanted, findings)
    assert journal.progress == [(number, len(RUNS)) for number in range(1, len(RUNS) + 1)]


@pytest.mark.parametrize("jobs", [1, pytest.param(2, marks=pytest.mark.full)])
def test_a_page_that_is_up_to_date_after_all_is_not_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, jobs: int
) -> None:
    """Notes of all earlier runs have changed, and nothing that the page of the last one shows of them."""
    ordered: list[str] = []
    order = RunPages._order

    def noted(pages: Any, step: str, run: str) -> Any:
        ordered.extend([run] if step == "pages" else [])
        return order(pages, step, run)

    monkeypatch.setattr(RunPages, "_order", noted)
    journal = site(tmp_path)
    journal.write(jobs=jobs)
    assert ordered == RUNS

    ordered.clear()
    for run in RUNS[:-1]:
        journal.edit(f"seasons/one/{run}/experiment.yaml", "as it was", "another word")
    journal.write(jobs=jobs)

    assert ordered == RUNS[:-1]
    assert journal.progress[-1] == (len(RUNS), len(RUNS))
    assert tree(journal.output) == journal.anew()[0]


def test_summaries_are_made_a_few_runs_ahead(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """So many for each process, and never more: what a summary was made from stays in memory until the pages."""
    steps: list[tuple[str, bool]] = []
    monkeypatch.setattr(run_pages, "AHEAD", 2)
    with built(site(tmp_path)) as build:
        build.snapshot = replace(build.snapshot, summaries={})
        here = maker(build)
        monkeypatch.setattr(RunMaker, "made", lambda maker, *what: _noted(steps, maker, *what))
        pages = RunPages(here, staging(tmp_path), _Here(here), frozenset(RUNS[:-1]), lambda _: False)
        made = list(pages.made(RUNS))
    ahead = [
        sum(not pages for _, pages in steps[:place]) - sum(pages for _, pages in steps[:place])
        for place in range(len(steps) + 1)
    ]

    assert AHEAD > 1
    assert [each.run for each in made] == RUNS
    assert max(ahead) == 2 * 2 + 1
    assert [run for run, pages in steps if pages] == RUNS
    assert [run for run, pages in steps if not pages] == RUNS[:-1]
    assert all(steps.index((run, False)) < steps.index((run, True)) for run in RUNS[:-1])


def test_few_orders_are_out_at_a_time(tmp_path: Path) -> None:
    """Of each process, however many runs are out of date, and though all summaries are known."""
    out: list[int] = []

    class Late(Future[Any]):
        def result(self, timeout: float | None = None) -> Any:
            del timeout
            out.append(out[-1] - 1)
            return [(object(), None)]

    class Slow(_Here):
        def order(self, *what: Any) -> Any:
            del what
            out.append(out[-1] + 1 if out else 1)
            return Late()

    with built(site(tmp_path)) as build:
        here = maker(build)
        pages = RunPages(here, staging(tmp_path), Slow(here), frozenset(), lambda _: False)
        made = list(pages.made(RUNS * 3))

    assert [each.run for each in made] == RUNS * 3
    assert max(out) == 2 * AHEAD + 1


class _Here(Processes):
    """In place of two worker processes: orders are carried out by this one."""

    number = 2  # type: ignore[assignment]

    def __init__(self, maker: RunMaker) -> None:
        super().__init__(2)
        self.maker = maker

    def order(self, snapshot: Any, step: str, names: tuple[str, ...], staging: Staging | None = None) -> Any:
        del snapshot
        return done([self.maker.made(step, name, staging) for name in names])


def _noted(
    steps: list[tuple[str, bool]], maker: RunMaker, step: str, run: str, staging: Staging | None
) -> Any:
    assert staging is not None
    steps.append((run, step == "pages"))
    if step == "pages":
        return object(), None
    return maker.builder.summary(run)


def test_what_rests_on_summaries_has_another_digest_with_them(tmp_path: Path) -> None:
    """Every input that can be asked for is as in a snapshot that has had the summaries from its beginning."""
    with built(site(tmp_path)) as build:
        whole = build.snapshot
        early = replace(whole, summaries={})
        asked = [
            *(
                f"{kind} {run}"
                for kind in _DIGESTS
                for run in RUNS
                if kind not in ("summaries", "for_outlook", "reached", "text")
            ),
            *(
                "summaries",
                "summaries crop leaf",
                f"for_outlook {RUNS[3]} none",
                "reached 2026-03-01",
                "text about",
            ),
        ]
        before = {each: early.digest(each) for each in asked}
        early.learn(summaries={run: whole.summaries[run] for run in RUNS[:4]})
        early.learn({RUNS[0]: whole.runs[RUNS[0]]}, summaries={run: whole.summaries[run] for run in RUNS[4:]})

        assert {each: early.digest(each) for each in asked} == {each: whole.digest(each) for each in asked}
        assert before != {each: whole.digest(each) for each in asked}


def test_records_of_so_many_runs_stay_in_memory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Those of later runs are read again for their pages, and the site is the same."""
    read: list[str] = []
    journal = site(tmp_path)
    wanted = journal.anew()[0]
    monkeypatch.setattr("sitegen.pipeline.engine.build.KEPT", 3)
    original = inputs.read_records

    def counted(folder: Any, *more: Any) -> Any:
        read.append(folder.id)
        return original(folder, *more)

    monkeypatch.setattr(inputs, "read_records", counted)
    journal.write(jobs=1)

    assert Counter(read) == Counter(RUNS) + Counter(RUNS[3:])
    assert tree(journal.output) == wanted
