"""`live`: a journal built in memory, again and again, while it is being written.

In: a journal, a store, files that were touched. Out: `Preview`s. Steps, inputs and traces are those of `write`;
nothing is written but to the store. A page is made when a browser asks for it, and kept while its trace holds. Drafts
are shown.
"""

from __future__ import annotations

import threading
import traceback
from collections import OrderedDict
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from pathlib import Path

from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.language.catalogue import using_catalogue
from sitegen.core.site.addresses import crop_page, experiment_page, free_page, record_page, season_page
from sitegen.core.site.page import Page
from sitegen.core.site.site_map import RunLink
from sitegen.core.store import Store
from sitegen.ingest import JournalFiles, read_journal
from sitegen.pipeline.checks.told import told_before
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import (
    Digests,
    Inventory,
    digest_of,
    inventory,
    run_folder,
    unbounded_inventory,
)
from sitegen.pipeline.engine.inputs import Inputs, RunMemory, Trace
from sitegen.pipeline.engine.snapshot import Settings, Snapshot, theme_of
from sitegen.render import IndexPage

# What is kept: pages of so many steps, of so many bytes; a page with its charts is some 300 KB.
RESULTS, BYTES = 60, 24_000_000
ASSETS = 100  # files of themes, old ones too: an open window may yet ask for them
RUNS = 8  # runs whose records and facts are kept: those that are being written, and looked at beside them


@dataclass(slots=True)
class _Result:
    """Pages of one step with their trace; `fault` is a traceback where making them failed."""

    pages: Mapping[str, Page]
    trace: Trace
    findings: tuple[Finding, ...] = ()
    fault: str = ""

    @property
    def size(self) -> int:
        """Bytes in memory."""
        return sum(len(page.body) for page in self.pages.values() if isinstance(page.body, bytes))


@dataclass(slots=True)
class _Memory:
    """What a session keeps between builds. Server threads share it.

    `lock` guards the tables; a run's own lock, or that of the index pages, is held while its pages are made.
    """

    # Two kinds of lock: a table is locked for microseconds, so that a page that takes a second to make does not keep a
    # browser from another; two requests for one page wait for each other, and make it once.
    lock: threading.RLock = field(default_factory=threading.RLock)
    index_lock: threading.RLock = field(default_factory=threading.RLock)
    # Pages of runs ask for summaries too: of two threads that add some, neither may put a table without those of the
    # other in its place.
    summary_lock: threading.RLock = field(default_factory=threading.RLock)
    results: OrderedDict[str, _Result] = field(default_factory=OrderedDict)
    runs: OrderedDict[str, RunMemory] = field(default_factory=OrderedDict)
    assets: OrderedDict[str, Page] = field(default_factory=OrderedDict)

    def run(self, run: str) -> RunMemory:
        """The memory of a run; those not asked for longest are dropped."""
        with self.lock:
            found = self.runs.setdefault(run, RunMemory())
            self.runs.move_to_end(run)
            while len(self.runs) > RUNS:
                self.runs.popitem(last=False)
            return found

    def keep(self, step: str, result: _Result) -> _Result:
        """Keep the latest result of a step."""
        with self.lock:
            self.results[step] = result
            self.results.move_to_end(step)
            size = sum(each.size for each in self.results.values())
            while len(self.results) > RESULTS or (size > BYTES and len(self.results) > 1):
                size -= self.results.popitem(last=False)[1].size
        return result

    def keep_assets(self, assets: Collection[Page]) -> None:
        """Keep the files of the theme as it is now; of earlier ones, those added last."""
        with self.lock:
            for page in assets:
                self.assets[page.address] = page
                self.assets.move_to_end(page.address)
            while len(self.assets) > max(ASSETS, len(assets)):
                self.assets.popitem(last=False)


@dataclass(frozen=True, slots=True)
class Found:
    """The file at an address, which a step makes; without a step it is a file of the theme.

    `preview` is of the moment at which it was asked for.
    """

    preview: Preview
    step: str
    address: str

    @property
    def state(self) -> str:
        """Changes when the file has to be made again; asked for after the page, it is the state of that page."""
        # Of a theme's file, the address changes with the content.
        return self.preview.state_of(self.step) if self.step else self.address

    @property
    def page(self) -> Page | None:
        """The file, made where it is not up to date; None where it cannot be made, and never was."""
        return self.preview.page_at(self.address, self.step)


class Preview:
    """A journal at one moment; without a build it could not be read yet. Threads share it."""

    def __init__(
        self,
        memory: _Memory | None = None,
        build: Build | None = None,
        findings: tuple[Finding, ...] = (),
        page_of: Mapping[str, str] | None = None,
    ) -> None:
        self._memory = memory or _Memory()
        self._build = build
        self._findings = findings
        self.page_of = page_of or {}

    # addresses

    def find(self, address: str) -> Found | None:
        """The file at an address of the site."""
        if self._build is None:
            return None
        step = "" if address in self._memory.assets else self._step_at(address)
        return None if step is None else Found(self, step, address)

    def _step_at(self, address: str) -> str | None:
        """The name of the step that makes an address: `run ID`, or that of an index page."""
        run = _run_at(address)
        if run not in self._links:
            run = self._moved.get(address, "")
        if run:
            return f"run {run}"
        index = next((page.name for page in self._index.values() if page.address == address), None)
        if index is not None or address.endswith(".html"):
            return index
        # Feeds, the sitemap and pictures for links: their addresses are known once they are made.
        unplaced = [page.name for page in self._index.values() if not page.address and page.name != "assets"]
        return next((name for name in unplaced if address in self._result(name).pages), None)

    @cached_property
    def _links(self) -> dict[str, RunLink]:
        return {link.id: link for link in self._snapshot.site_map.links} if self._build is not None else {}

    @cached_property
    def _moved(self) -> dict[str, str]:
        # By the addresses of earlier ids; an id that another run has now leads there.
        links = self._links.items()
        return {
            page(was): run
            for run, link in links
            for was in link.was
            if was not in self._links
            for page in (experiment_page, record_page)
        }

    @cached_property
    def _index(self) -> dict[str, IndexPage]:
        return {page.name: page for page in self._build.index()} if self._build is not None else {}

    # making

    @property
    def _snapshot(self) -> Snapshot:
        assert self._build is not None
        return self._build.snapshot

    def state_of(self, step: str) -> str:
        """Digests, as they are now, of everything that the pages of a step were made from when they were last made."""
        result, snapshot = self._memory.results.get(step), self._snapshot
        return digest_of([(each, snapshot.digest(each)) for each in result.trace] if result else ["not made"])

    def page_at(self, address: str, step: str) -> Page | None:
        """One of the files that a step makes, or that a theme has."""
        return self._result(step).pages.get(address) if step else self._memory.assets.get(address)

    def _result(self, step: str) -> _Result:
        """The pages of a step, made again where an input has changed."""
        assert self._build is not None
        run = step.removeprefix("run ") if step.startswith("run ") else ""
        memory = self._memory.run(run) if run else RunMemory()
        with memory.lock if run else self._memory.index_lock:
            last = self._memory.results.get(step)
            if run and not self._build.checks[run].sound:
                return last or _Result({}, {})  # shown as it last was
            trace: Trace = {}  # of a page that cannot be made: what it had read by then
            try:
                with self._memory.summary_lock:
                    self._build.summarize(self._memory.run, self._earlier(run) if run else None)
                # A page that could not be made is tried again at each request.
                if last is not None and not last.fault and self._snapshot.holds(last.trace):
                    return last
                inputs = Inputs(self._snapshot, run, memory)
                trace = inputs.trace
                result = self._memory.keep(step, self._made(step, inputs, last))
                if run:  # index pages show a run with errors as it last was: they need its last summary
                    self._build.summarize_run(run, memory)
                return result
            except Exception as error:  # a fault of ours must not end the preview
                fault = "".join(traceback.format_exception(error))
                return self._memory.keep(step, _Result(last.pages if last else {}, trace, fault=fault))

    def _earlier(self, run: str) -> frozenset[str]:
        """The runs that the page of a run shows something of."""
        return frozenset(link.id for link in self._snapshot.site_map.before(run))

    def _made(self, step: str, inputs: Inputs, last: _Result | None) -> _Result:
        index = self._index.get(step)
        rendered = steps.run_pages(inputs) if index is None else steps.rendered_index(index, inputs)
        errors = any(finding.is_error for finding in rendered.findings)
        pages = {page.address: _encoded(page) for page in rendered.pages}
        # A template that cannot be filled leaves the page as it last was.
        return _Result({**last.pages, **pages} if errors and last else pages, inputs.trace, rendered.findings)

    # problems and drafts

    @property
    def theme_folders(self) -> tuple[Path, ...]:
        """The folders of the theme."""
        theme = self._snapshot.settings.theme if self._build is not None else None
        return theme.folders if theme is not None else ()

    def errors(self) -> tuple[Finding, ...]:
        """Errors of the journal, and of the pages made so far."""
        return tuple(finding for finding in self.findings() if finding.is_error)

    def findings(self) -> tuple[Finding, ...]:
        """Everything found in the journal, and in the pages made so far."""
        found = [*self._findings, *(self._build.findings if self._build is not None else ())]
        found += [finding for result in self._failed() for finding in result.findings]
        return sorted_findings(found)

    def fault(self) -> str:
        """A fault of ours in making a page whose inputs are still the same."""
        return next((result.fault for result in self._failed() if result.fault), "")

    def _failed(self) -> Iterator[_Result]:
        with self._memory.lock:  # other threads add results meanwhile
            results = list(self._memory.results.values())
        for result in results:
            if (result.findings or result.fault) and self._build and self._snapshot.holds(result.trace):
                yield result

    def holds_back(self) -> bool:
        """Whether any page is shown that would not be published."""
        return any(self._held_back.values())

    def unpublished(self, address: str) -> bool:
        """Whether a page would not be there without the runs that are held back."""
        return self._held_back.get(address) is True

    @cached_property
    def _held_back(self) -> dict[str, bool]:
        # By address: a season or a crop is unpublished only where all of its runs are.
        found: dict[str, bool] = {}
        checks = self._build.checks if self._build is not None else {}
        for run, link in self._links.items():
            back = not checks[run].public(self._snapshot.today)
            own = (page(name) for name in (run, *link.was) for page in (experiment_page, record_page))
            for address in (*own, season_page(link.season), crop_page(link.crop)):
                found[address] = found.get(address, True) and back
        return found


class Previewer:
    """Builds a journal again after each edit. One thread builds; server threads read the `Preview`s."""

    def __init__(self, root: Path, today: date, store: Store) -> None:
        self._root = root
        self._today = today
        self._store = store
        self._files = inventory(root)
        self._digests = Digests(root, self._files, store)
        self._theme_files: dict[Path, Inventory] = {}
        self._memory = _Memory()
        self._build: Build | None = None
        self._findings: tuple[Finding, ...] = ()
        self._page_of: dict[str, str] = {}
        self._sound_links: dict[str, RunLink] = {}  # the link of each run when it was last sound

    def refresh(self, files: Collection[str] = ()) -> Preview:
        """The journal after some files were touched; after none, all of it."""
        runs = {run_folder(file) for file in files} - {""}
        others = [file for file in files if not run_folder(file)]
        changed: set[str] | None = None
        # An edit of known runs, or of templates, leaves the list of runs as it is: only their folders are looked at.
        # Anything else may have added a run, or changed what all of them share.
        look = all(file.startswith("look/") for file in others)
        if self._build is not None and files and look and all(map(self._is_known, runs)):
            changed = {place.rpartition("/")[2] for place in runs}
            for place in (*runs, *(["look"] if others else ())):
                self._files = self._files.with_folder(self._root, place)
        else:
            self._files = inventory(self._root)
        self._digests = self._digests.at(self._files)
        if self._build is not None and changed is not None and not others:
            self._rebuild(self._build.snapshot.settings, changed)
        else:
            self._read_journal(changed)
        return Preview(self._memory, self._build, self._findings, self._page_of)

    def _is_known(self, place: str) -> bool:
        # The file too: a run whose folder is still there may have been removed from the journal.
        return place in self._page_of and (self._root / place / "experiment.yaml").is_file()

    def _read_journal(self, changed: Collection[str] | None) -> None:
        journal_files, self._findings = read_journal(self._root)
        if journal_files is None:
            return  # the last build stays: its pages are shown beside the errors
        theme, more = theme_of(journal_files)
        self._findings += more
        if theme is None:
            return
        self._theme_files = {folder: self._inventory(folder) for folder in theme.folders}
        before = self._build.snapshot.settings if self._build is not None else None
        settings = Settings(journal_files, theme, before)
        self._page_of = dict(self._pages_of_files(journal_files))
        self._rebuild(settings, changed)
        with using_catalogue(journal_files.catalogue):  # the navigation is in the language of the journal
            assets = settings.context.assets
        self._memory.keep_assets(assets.values())
        self._digests.keep()

    def _rebuild(self, settings: Settings, changed: Collection[str] | None) -> None:
        """Check every run that has changed."""
        build = Build(
            settings,
            self._digests,
            self._store,
            self._today,
            encoding="later",
            before=self._build,
            changed=changed,
        )
        build.check(self._memory.run)
        for run, check in build.checks.items():
            if check.sound and check.link is not None:
                self._sound_links[run] = check.link
        # A run with errors is shown as it last was; one that was never sound has no page.
        shown = (run for run, check in build.checks.items() if check.sound or build.summarized(run))
        build.publish(self._sound_links[run] for run in shown if run in self._sound_links)
        self._build = build

    def told_before(self, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
        """The warnings that were told before about files that have not changed since; all are told from now on."""
        return told_before(findings, self._root, self._files, self._store)

    def unreported_changes(self) -> frozenset[Path]:
        """Files of the journal and of its theme that are not as the last build knew them."""
        changed: set[Path] = set()
        for folder, before in ((self._root, self._files), *self._theme_files.items()):
            now = self._inventory(folder).stamps.items()
            changed |= {folder / name for name, _ in now ^ before.stamps.items()}
        return frozenset(changed)

    def _inventory(self, folder: Path) -> Inventory:
        """The files of the journal, of a folder in it, or of a folder of the program's."""
        if folder.is_relative_to(self._root):
            return inventory(folder, self._root)
        return unbounded_inventory(folder)

    def _pages_of_files(self, journal_files: JournalFiles) -> Iterator[tuple[str, str]]:
        places = (
            (folder.path.relative_to(self._root).as_posix(), folder.id) for folder in journal_files.folders
        )
        yield from ((place, experiment_page(run)) for place, run in places)
        yield from ((f"seasons/{season.id}", season_page(season.id)) for season in journal_files.seasons)
        yield from ((page.source.file, free_page(page.name)) for page in journal_files.pages)


def _encoded(page: Page) -> Page:
    # A text with one sign beyond Latin-1 takes two bytes for each.
    return replace(page, body=page.body.encode()) if isinstance(page.body, str) else page


def _run_at(address: str) -> str:
    """The run that an address belongs to, going by its form."""
    match address.split("/"):
        case ["experiments", page] if page.endswith(".html"):
            return page.removesuffix(".html")
        case ["experiments", run, "record.html"]:
            return run
        case ["data" | "photos", run, _]:
            return run
        case ["previews", "experiments", picture]:
            return picture.removesuffix(".png")
    return ""
