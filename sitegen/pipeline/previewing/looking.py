"""Looks at a journal again and again while it is being written.

In: its folder, files that were touched. Out: `Preview`s. A look reads what was edited and nothing else; what is not known
yet is read afterwards, one experiment at a time, so that whoever calls decides what goes first. One thread looks.
"""

from __future__ import annotations

import time
from collections.abc import Collection, Iterator
from datetime import date
from pathlib import Path

from sitegen.core.findings.finding import Finding
from sitegen.core.language.catalogue import using_catalogue
from sitegen.core.site.addresses import experiment_page, free_page, season_page
from sitegen.core.store import Store
from sitegen.ingest import ExperimentFolder, JournalFiles, read_journal
from sitegen.pipeline.making import record_data, record_of
from sitegen.pipeline.previewing.entry import Entry, entries_of, entry_read, live_record_key
from sitegen.pipeline.previewing.ground import Ground, ground_of
from sitegen.pipeline.previewing.site import Preview, Tools
from sitegen.pipeline.previewing.stock import Stock
from sitegen.pipeline.shared import Bench, theme_of
from sitegen.pipeline.verdicts import read_and_judged, verdict_data

SOON = 0.5  # seconds that a look may read on: a small journal is known whole when it is first shown
SHAPING = frozenset({"assets", "templates"})


class Previewer:
    """A journal that is being written."""

    def __init__(self, root: Path, today: date, store: Store) -> None:
        self._root = root
        self._today = today
        self._store = store
        self._stock = Stock(root, store)
        self._tools = Tools()
        self._journal_files: JournalFiles | None = None
        self._ground: Ground | None = None
        self._bench: Bench | None = None
        self._entries: dict[str, Entry] = {}
        self._folders: dict[str, ExperimentFolder] = {}
        self._page_of: dict[str, str] = {}
        self._findings: tuple[Finding, ...] = ()
        self._later: dict[str, None] = {}  # experiments that are to be read or told to lists, in order

    # looking

    def look(self, files: Collection[str] = (), *, soon: float = SOON) -> Preview:
        """The journal after some files were touched; after none, all of it."""
        places = {_experiment(file) for file in files}
        if (
            self._journal_files is not None
            and files
            and places <= self._folders.keys()
            and self._there(places)
        ):
            self._read_again(places)
        elif self._journal_files is not None and files and all(map(self._shapes, files)):
            self._dress(self._journal_files)
        else:
            self._read_all()
            self._read_on_for(soon)
        return self._preview()

    def _there(self, places: Collection[str]) -> bool:
        return all((self._root / place / "experiment.yaml").is_file() for place in places)

    def _shapes(self, file: str) -> bool:
        """Whether a file is of the look or of the theme, and of nothing else."""
        first, _, rest = file.partition("/")
        if first == "look":
            return rest.partition("/")[0] in SHAPING
        return self._ground is not None and first in {
            folder.name for folder in self._ground.bench.theme.folders
        }

    def _read_again(self, places: Collection[str]) -> None:
        assert self._journal_files is not None
        for place in sorted(places):
            folder = self._folders[place]
            before = self._entries[folder.id]
            task = self._stock.task(folder)
            if task.key != before.task.key:
                run, verdict = read_and_judged(folder, self._journal_files, self._today, self._store)
                self._entries = self._entries | {folder.id: entry_read(task, run, verdict, before)}
                self._later = {folder.id: None} | self._later
        self._know()

    def _read_all(self) -> None:
        self._stock.look()
        journal_files, findings = read_journal(self._root)
        if journal_files is None:
            self._findings = findings
            return
        self._journal_files = journal_files
        self._folders = {
            folder.path.relative_to(self._root).as_posix(): folder for folder in journal_files.folders
        }
        self._page_of = dict(self._pages_of_files(journal_files))
        terms = self._bench.terms if self._bench is not None else None
        self._dress(journal_files, findings)
        if self._ground is None:
            return
        tasks = self._stock.tasks(journal_files)
        same = self._ground.bench.terms == terms
        self._entries = entries_of(tasks, self._entries, self._ground.bench, same_terms=same)
        self._later = {name: None for name, entry in self._entries.items() if not entry.known}
        self._bench = None
        self._know()
        self._stock.keep()

    def _dress(self, journal_files: JournalFiles, findings: tuple[Finding, ...] | None = None) -> None:
        """Look at the theme."""
        self._stock.look_again("look")
        own = self._findings if findings is None else findings
        theme, more = theme_of(journal_files)
        self._findings = (*own, *more)
        if theme is None:
            return
        with using_catalogue(journal_files.catalogue):
            self._ground = ground_of(journal_files, theme, self._store, self._today, self._ground)
        self._tools.assets.update((page.address, page) for page in self._ground.assets.values())
        self._bench = None
        self._know()

    def _know(self) -> None:
        """The bench among the experiments that are shown; the same one while links to them stay the same."""
        faces = (entry.face for entry in self._entries.values())
        run_links = tuple(face.head.run_link for face in faces if face is not None and face.head is not None)
        if self._ground is not None and (self._bench is None or self._bench.run_links != run_links):
            self._bench = self._ground.bench.knowing(run_links)

    def _preview(self) -> Preview:
        return Preview(self._tools, self._ground, self._bench, self._entries, self._page_of, self._findings)

    # reading on

    @property
    def unread(self) -> int:
        """How many experiments are yet to be read, or to be told to lists."""
        return len(self._later)

    def read_on(self) -> Preview | None:
        """The journal once one experiment more is known; None where all are."""
        if not self._later:
            return None
        self._settle(next(iter(self._later)))
        return self._preview()

    def strays(self) -> frozenset[str]:
        """Files that have changed and were not told."""
        return self._stock.strays()

    def _read_on_for(self, seconds: float) -> None:
        end = time.monotonic() + seconds
        while self._later and time.monotonic() < end:
            self._settle(next(iter(self._later)))

    def _settle(self, experiment: str) -> None:
        """Read an experiment that is not, and let lists know it."""
        self._later.pop(experiment)
        entry = self._entries.get(experiment)
        if entry is None or self._journal_files is None or self._bench is None:
            return
        if entry.verdict is None:
            run, verdict = read_and_judged(entry.task.folder, self._journal_files, self._today, self._store)
            entry = entry_read(entry.task, run, verdict, entry)
        with using_catalogue(self._journal_files.catalogue):
            entry = self._told(entry, self._bench)
        self._entries = self._entries | {experiment: entry}
        self._keep(entry)
        self._know()

    def _told(self, entry: Entry, bench: Bench) -> Entry:
        """A sound experiment, and what lists say of it."""
        if entry.verdict is None or not entry.verdict.sound:
            return entry
        parts = self._tools.workshop.parts(entry.task, entry.run, bench)
        return entry if parts is None else entry.with_record(record_of(parts, bench))

    def _keep(self, entry: Entry) -> None:
        if entry.verdict is not None and self._bench is not None and entry.task.untouched():
            self._store.put(entry.task.key, verdict_data(entry.verdict))
            if entry.record is not None and entry.settled:
                self._store.put(live_record_key(entry.task, self._bench), record_data(entry.record))

    def _pages_of_files(self, journal_files: JournalFiles) -> Iterator[tuple[str, str]]:
        yield from ((place, experiment_page(folder.id)) for place, folder in self._folders.items())
        yield from ((f"seasons/{season.id}", season_page(season.id)) for season in journal_files.seasons)
        yield from ((page.source.file, free_page(page.name)) for page in journal_files.pages)


def _experiment(file: str) -> str:
    """The folder of the experiment that a file lies in: `seasons/SEASON/EXPERIMENT`."""
    parts = file.split("/", 3)
    return "/".join(parts[:3]) if len(parts) > 3 and parts[0] == "seasons" else ""
