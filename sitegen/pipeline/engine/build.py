"""The build engine: brings the steps of a journal up to date, and stores each result with its trace.

In: a `Snapshot`. Out: `Check`s, summaries and pages. A stored result is taken where every input that its trace names
has the same digest; all others are made, in several processes where there are many. `validate`, `write`, `write
--only` and `live` all work on this one description.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, nullcontext
from dataclasses import replace
from datetime import date
from functools import partial
from typing import TYPE_CHECKING, Any, TypeVar

from sitegen.core.facts.across import RunArms
from sitegen.core.findings.finding import Finding
from sitegen.core.site.site_map import RunLink, SiteMap
from sitegen.core.store import Store, StoredResult
from sitegen.core.values.day import DateRange
from sitegen.pipeline.engine import page_checks, steps
from sitegen.pipeline.engine.copies import copied_logs
from sitegen.pipeline.engine.files import Digests
from sitegen.pipeline.engine.inputs import Inputs, RunMemory
from sitegen.pipeline.engine.processes import KEPT, Processes, RunMaker
from sitegen.pipeline.engine.run_builder import RunBuilder, index_of, make
from sitegen.pipeline.engine.run_pages import MadeRun, RunPages
from sitegen.pipeline.engine.snapshot import Encoding, Settings, Snapshot
from sitegen.pipeline.engine.steps import Check, KeptFacts
from sitegen.pipeline.engine.stored_results import (
    CHECK,
    FINDINGS,
    Made,
    PageFiles,
    Results,
    arms_of_facts,
    facts_codec,
)
from sitegen.pipeline.engine.workers import cores

if TYPE_CHECKING:
    from sitegen.render import IndexPage
    from sitegen.write import Output

# Starting a process takes as long as checking some 50 runs, or rendering some 6.
CHECKS_ALONE, PAGES_ALONE = 50, 6
# Runs handed to a process together. A check takes milliseconds: one at a time, passing it on would cost as much.
CHECKS_AT_ONCE = 8

_T = TypeVar("_T")


def _no_memory(_run: str) -> None:
    return None


_MemoryOf = Callable[[str], RunMemory | None]


class Build:
    """The steps of one journal at one moment, as far as they are up to date.

    `before` is the build of an earlier moment in the same process: its results are taken where their traces hold.
    `changed` are the runs whose files may have changed since; None: any may. With `processes`, one and the same worker
    process makes all steps of a run; without, there are some for each kind of step that has many runs.
    """

    def __init__(
        self,
        settings: Settings,
        digests: Digests,
        store: Store,
        today: date,
        *,
        jobs: int = 0,
        encoding: Encoding = "now",
        before: Build | None = None,
        changed: Collection[str] | None = None,
        processes: Processes | None = None,
    ) -> None:
        # Digests of 300 runs take 5 ms: after an edit, those of the other runs are known to be the same.
        same = before.snapshot.runs if before is not None and changed is not None else {}
        runs = {
            folder.id: same[folder.id]
            if folder.id in same and folder.id not in (changed or ())
            else digests.of_run(folder.path)
            for folder in settings.journal_files.folders
        }
        self.snapshot: Snapshot = Snapshot(settings, store, today, runs, encoding=encoding)
        self.results = Results(self.snapshot)
        self._checks: dict[str, Made[Check]] = dict(before._checks) if before is not None else {}
        self._summaries: dict[str, Made[str]] = dict(before._summaries) if before is not None else {}
        self._digests = digests
        self._found: dict[tuple[str, str], tuple[Finding, ...]] = {}
        self._memories: dict[str, RunMemory] = {}
        self._site_map_before = before.snapshot.site_map if before is not None else None
        self._jobs = jobs or cores()
        self._processes = processes

    # checks

    def check(self, memory_of: _MemoryOf = _no_memory, only: Collection[str] = ()) -> None:
        """Bring the check of every run up to date, or of some of them."""
        runs = [run for run in self.snapshot.runs if not only or run in only]
        found = self._up_to_date("check", runs, self._checks, CHECK.decode)
        # Findings may depend on the day (nothing recorded for 60 days): a check says for which days it holds.
        current = {
            run: made for run, made in found.items() if made.value.validity.contains(self.snapshot.today)
        }
        current |= self._each("check", [run for run in runs if run not in current], memory_of)
        self._checks = {run: current[run] for run in runs}

    def _up_to_date(
        self, step: str, runs: Sequence[str], known: Mapping[str, Made[_T]], decode: Callable[[Any], _T]
    ) -> dict[str, Made[_T]]:
        # Those in memory first: a preview asks the store only for what it has never made.
        holds = self.snapshot.holds
        found = {run: known[run] for run in runs if run in known and holds(known[run].trace)}
        for run, kept in self.results.get(step, [run for run in runs if run not in found]).items():
            made = self._stored(decode, kept)
            if made is not None:
                found[run] = made
        return found

    def _stored(self, decode: Callable[[Any], _T], kept: StoredResult | None) -> Made[_T] | None:
        # Rows lie in a folder that anyone may write to, or are from another version: a damaged one counts as absent.
        try:
            if kept is not None and self.snapshot.holds(trace := kept.value["trace"]):
                return Made(decode(kept.value["value"]), trace)
        except (AttributeError, KeyError, ValueError, TypeError):
            return None
        return None

    @property
    def checks(self) -> dict[str, Check]:
        """The check of each run, in the order of the journal."""
        return {run: made.value for run, made in self._checks.items()}

    @property
    def findings(self) -> list[Finding]:
        """The findings of all checks and of texts and templates, and of runs beside one another."""
        # Publishing strips the place of a photo: it is told where what is personal is asked for.
        each = [finding for finding in self._judged() if finding.code != "photo-location"]
        each += [finding for found in self._found.values() for finding in found]
        return [*each, *copied_logs(self.checks)]

    @property
    def located(self) -> list[Finding]:
        """The findings about places in photos."""
        return [finding for finding in self._judged() if finding.code == "photo-location"]

    def _judged(self) -> Iterator[Finding]:
        return (finding for made in self._checks.values() for finding in made.value.findings)

    @property
    def template_findings(self) -> tuple[Finding, ...]:
        """The findings of the journal's own templates."""
        return tuple(f for (step, _), found in self._found.items() if step == "templates" for f in found)

    def without_pictures(self) -> Build:
        """A build of the same moment that draws and encodes nothing."""
        settings = self.snapshot.settings
        build = Build(
            settings,
            self._digests,
            self.snapshot.store,
            self.snapshot.today,
            jobs=self._jobs,
            encoding="never",
        )
        build._checks = self._checks
        return build

    def look_at_index(self) -> None:
        """Bring the findings of the templates of index pages up to date."""
        pages = {
            f"{page_checks.PAGE}{page.name}": page for page in self.index() if page.address.endswith(".html")
        }
        found = self._up_to_date("templates", list(pages), {}, FINDINGS.decode)
        for name in pages.keys() - found.keys():
            inputs = Inputs(self.snapshot)
            findings = steps.rendered_index(pages[name], inputs).findings
            self.results.put("templates", name, inputs.trace, FINDINGS.encode(findings))
            found[name] = Made(findings, inputs.trace)
        self._found |= {("templates", name): made.value for name, made in found.items()}

    def look_for(self, step: str, names: Sequence[str]) -> None:
        """Bring the findings of texts or templates up to date, of the runs or the author's pages named."""
        found = self._up_to_date(step, names, {}, FINDINGS.decode)
        found |= self._each(step, [name for name in names if name not in found])
        self._found |= {(step, name): made.value for name, made in found.items()}

    @property
    def validity(self) -> DateRange:
        """The dates on which the same runs would be published with the same findings."""
        common = DateRange()
        for check in self.checks.values():
            common = common.intersection(check.validity).intersection(check.shown_as_on(self.snapshot.today))
        return common

    def facts(self, run: str) -> KeptFacts:
        """The facts of one sound run, from the store where they are up to date."""
        codec = facts_codec()
        made = self._stored(codec.decode, self.results.get("facts", [run]).get(run))
        return (made or RunBuilder(self.snapshot, self.results).facts(run)).value

    def arms(self, run: str) -> RunArms:
        """One sound run as others are compared with it, from the store where it is up to date."""
        made = self._stored(arms_of_facts, self.results.get("facts", [run]).get(run))
        return made.value if made else RunBuilder(self.snapshot, self.results).facts(run).value.arms

    # published runs

    def publish(self, links: Iterable[RunLink], linked: Iterable[RunLink] = ()) -> None:
        """Say which runs have a page; `linked` are others that texts may name."""
        # A summary that is out of date must not stand for the run: index pages would seem to be unchanged. That of a
        # run with errors stays: a preview shows it as it last was.
        holds, checks = self.snapshot.holds, self._checks
        self._summaries = {
            run: made
            for run, made in self._summaries.items()
            if run in checks and (holds(made.trace) or not checks[run].value.sound)
        }
        site_map = SiteMap(tuple(links), self.snapshot.settings.journal_files.pages, tuple(linked))
        # After most edits the links are the same: the earlier map has its tables of neighbours and addresses made.
        same = site_map == self._site_map_before
        self._renew_snapshot(self._site_map_before if same and self._site_map_before else site_map)

    def _renew_snapshot(self, site_map: SiteMap) -> None:
        # Another snapshot, without digests of other pages: they depend on links and summaries, which are others now.
        summaries = {
            link.id: self._summaries[link.id].value for link in site_map.links if link.id in self._summaries
        }
        self.snapshot = replace(self.snapshot, site_map=site_map, summaries=summaries)

    def summarize(self, memory_of: _MemoryOf = _no_memory, only: Collection[str] | None = None) -> None:
        """Bring the summaries of the published runs up to date, or of some of them: other pages read them."""
        links = [link.id for link in self.snapshot.site_map.links if only is None or link.id in only]
        runs = [run for run in links if self._checks[run].value.sound]
        self._summaries |= (found := self._stored_summaries(runs))
        self._summaries |= self._each("summary", [run for run in runs if run not in found], memory_of)
        self._renew_snapshot(self.snapshot.site_map)

    def _stored_summaries(self, runs: Sequence[str]) -> dict[str, Made[str]]:
        return self._up_to_date("summary", runs, self._summaries, str)

    def summarize_run(self, run: str, memory: RunMemory) -> None:
        """Bring one summary up to date, where the facts of the run are in memory anyway."""
        if run not in self._summaries or not self.snapshot.holds(self._summaries[run].trace):
            self._summaries[run] = RunBuilder(self.snapshot, self.results).summary(run, memory)

    def summarized(self, run: str) -> bool:
        """Whether a run has a summary, if perhaps an old one."""
        return run in self._summaries

    # pages in an output folder

    def run_pages(self, output: Output, progress: Callable[[int, int], None]) -> dict[str, PageFiles]:
        """The pages of every published run; those that the output does not hold are written to where they wait."""
        runs = self.snapshot.site_map.sown()
        rows = self.results.get("run", runs)
        self._summaries |= self._stored_summaries(runs)
        self._renew_snapshot(self.snapshot.site_map)
        found: dict[str, PageFiles] = {}

        def current(run: str) -> bool:
            made = self._stored(PageFiles.decoded, rows.get(run))
            if made is None or run not in self.snapshot.summaries or not output.holds(made.value.files):
                return False
            found[run] = made.value
            return True

        # Without the summaries that are to be made yet, some pages that need them seem to be out of date and are not.
        missing = [run for run in runs if not current(run)]
        for number, made in enumerate(self._made_pages(missing, output, current), start=1):
            if made.pages is not None:
                found[made.run] = made.pages
            if made.summary is not None:
                self._summaries[made.run] = made.summary
            progress(number, len(missing))
        self._renew_snapshot(self.snapshot.site_map)
        return {link.id: found[link.id] for link in self.snapshot.site_map.links}

    def _made_pages(
        self, runs: Sequence[str], output: Output, current: Callable[[str], bool]
    ) -> Iterator[MadeRun]:
        if not runs:  # an output in which everything is up to date is not touched
            return
        first = self.snapshot.site_map.before_others() - self.snapshot.summaries.keys()
        with self._started(len(runs), PAGES_ALONE) as processes:
            yield from RunPages(self._maker(), output.begin(), processes, first, current).made(runs)

    def index_pages(self, output: Output) -> Iterator[PageFiles]:
        """The same for every index page."""
        names = [page.name for page in self.index()]
        found = {}
        for name, row in self.results.get("index", names).items():
            made = self._stored(PageFiles.decoded, row)
            if made is not None and output.holds(made.value.files):
                found[name] = made.value
        missing = [name for name in names if name not in found]
        if self._processes is not None and len(self.snapshot.site_map.links) > KEPT:
            # Index pages read all summaries: of many, they would fill the memory of each process.
            self._processes.end()
        ordered = [(name, self._index_page(name, output)) for name in missing]
        found |= {name: result() for name, result in ordered}
        yield from (found[name] for name in names)

    def _index_page(self, name: str, output: Output) -> Callable[[], PageFiles]:
        """An index page that is made by a worker process, or here when it is asked for."""
        staging = output.begin()
        here = partial(RunBuilder(self.snapshot, self.results).index, name, staging)
        if self._processes is None or self._processes.number == 0:
            return here
        ordered = self._processes.order(self.snapshot, "index", (name,), staging)
        return lambda: ordered.result()[0] or here()

    def index(self) -> list[IndexPage]:
        """Every index page of the site."""
        return index_of(self.snapshot)

    # making

    def _each(self, step: str, runs: Sequence[str], memory_of: _MemoryOf = _no_memory) -> dict[str, Any]:
        """The result of a step of each run, made here where they are few, else by worker processes."""
        builder = RunBuilder(self.snapshot, self.results)
        at_once, alone = (CHECKS_AT_ONCE, CHECKS_ALONE) if step in ("check", "texts") else (1, PAGES_ALONE)
        if self._processes is not None:  # those that render a run later may as well have read it
            alone = PAGES_ALONE
        with self._started(len(runs), alone) as processes:
            if processes is None:
                # What one step has read and measured is kept for the next.
                of = self._maker().memory if memory_of is _no_memory else memory_of
                return {run: make(builder, step, run, of(run)) for run in runs}
            made = dict(processes.each(self.snapshot, step, runs, at_once))
        return {
            run: make(builder, step, run, memory_of(run)) if made[run] is None else made[run] for run in runs
        }

    def _maker(self) -> RunMaker:
        return RunMaker(RunBuilder(self.snapshot, self.results), KEPT, self._memories)

    @contextmanager
    def _started(self, runs: int, alone: int) -> Iterator[Processes | None]:
        """Worker processes for so many runs; none where they are fewer than this process makes alone."""
        if self._jobs < 2 or runs < alone:
            yield None
            return
        with nullcontext(self._processes) if self._processes else Processes(self._jobs) as processes:
            processes.start(self.snapshot, 1 + runs // alone)
            yield processes
