"""What build steps read, and the record of it.

In: a `Snapshot`, the run that a step is about. Out: `Inputs`: the only object that a step is given. Each question is
recorded with the digest of its answer; the record is the step's trace, and the step is made again when a digest in it
has changed. So no cache key is written by hand, and a step cannot read an input that its trace does not name.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar, cast

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.language.catalogue import ENGLISH, using_catalogue
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Prices
from sitegen.core.site.site_map import OtherPages
from sitegen.core.store import Store
from sitegen.ingest import ExperimentFolder, read_recap, read_records
from sitegen.pipeline.engine.snapshot import Encoding, Snapshot

if TYPE_CHECKING:
    from sitegen.render import Context

Trace = dict[str, str]  # dependency → digest of what was read
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class _Part:
    """An intermediate result, and the trace of what it was made from."""

    value: object
    trace: Trace


@dataclass(slots=True)
class RunMemory:
    """Intermediate results of one run, kept in memory.

    `lock` is held while a step of the run is made.
    """

    # A browser asks for a page and for its data at the same time: both would measure the run otherwise. The same thread
    # asks for a summary while it makes the page, hence the reentrant lock.
    lock: threading.RLock = field(default_factory=threading.RLock)
    parts: dict[str, _Part] = field(default_factory=dict)


class _RecordedPages:
    """What a page asks about the others, each question recorded; `sitegen.core.site.site_map.OtherPages`."""

    def __init__(self, snapshot: Snapshot, read: Callable[..., None]) -> None:
        self._snapshot = snapshot
        self._read = read

    def summaries(self, *selection: str) -> list[Any]:
        """Summaries of selected runs: decoded here, since most builds ask for none."""
        self._read("summaries", *selection)
        return self._snapshot.decoded_summaries(*selection)

    def nearest(self, run: str) -> list[Any]:
        """What the page of a run shows of earlier ones."""
        self._read("nearest", run)
        return self._snapshot.decoded_nearest(run)

    def for_outlook(self, run: str, log: str) -> list[Any]:
        """What the outlook of a run reads of earlier ones."""
        self._read("for_outlook", run, log)
        return self._snapshot.decoded_for_outlook(run, log)

    def searched(self) -> list[Any]:
        """What is searched of each run, decoded here as well."""
        self._read("searched")
        return self._snapshot.decoded_searches()

    def __getattr__(self, question: str) -> Callable[..., Any]:
        # By name, not method by method: a question that is new to the site map is recorded from its first day.
        answer = getattr(self._snapshot.site_map, question)

        def ask(*names: str) -> Any:
            self._read(question, *names)
            return answer(*names)

        return ask


class Inputs:
    """What one step reads of a snapshot, recorded."""

    def __init__(self, snapshot: Snapshot, run: str = "", memory: RunMemory | None = None) -> None:
        self.trace: Trace = {}
        self.store: Store = snapshot.store  # results of drawing and encoding by their content: never an input
        self._snapshot = snapshot
        self._files = snapshot.settings.journal_files
        self._run = run
        self._memory = memory or RunMemory()

    def _read(self, kind: str, *names: str) -> None:
        dependency = " ".join((kind, *names))
        # The digest is taken before the value is read. A file that is saved in between then makes the trace out of
        # date, and the step is made again; the other way round it would pass for up to date.
        self.trace[dependency] = self._snapshot.digest(dependency)

    def part(self, make: Callable[[Inputs], _T]) -> _T:
        """An intermediate result of this run; made again only where an input of it has changed."""
        found = self._memory.parts.get(make.__name__)
        if found is None or not self._snapshot.holds(found.trace):
            inner = Inputs(self._snapshot, self._run, self._memory)
            found = self._memory.parts[make.__name__] = _Part(make(inner), inner.trace)
        self.trace |= found.trace  # what a part was made from, the step was made from
        return cast("_T", found.value)

    @property
    def today(self) -> date:
        """The day of the build."""
        # Not part of a trace, or everything would be made again at midnight: a check says for which days it holds.
        return self._snapshot.today

    @property
    def encoding(self) -> Encoding:
        """When photos are encoded."""
        # No input: pages of a preview are kept in its own memory, and its summaries have a key of their own.
        return self._snapshot.encoding

    @property
    def name(self) -> str:
        """The run or page that the step is about."""
        return self._run

    # the run itself

    @property
    def folder(self) -> ExperimentFolder:
        """The folder of the run; for addresses of photo files, whose content `records` stands for."""
        self._read("records", self._run)
        return self._files.folder(self._run)

    def records(self) -> tuple[Run | None, tuple[Finding, ...]]:
        """The run without its recap, and findings; None where its set-up cannot be known."""
        self._read("library")
        with using_catalogue(ENGLISH):  # findings are English, whatever the language of the pages
            return read_records(self.folder, self._files, self.store)

    def records_of(self, run: str) -> Run | None:
        """Another run of the journal without its recap; None where there is none, or its set-up cannot be known.

        What is found in it is a finding of its own check.
        """
        self._read("records", run)
        self._read("library")
        if run not in self.run_ids():
            return None
        with using_catalogue(ENGLISH):
            return read_records(self._files.folder(run), self._files, self.store)[0]

    def public_records_of(self, run: str) -> Run | None:
        """Another run as `records_of` reads it; None too while it is held back: no page rests on what its log says."""
        found = self.records_of(run)
        if found is None or found.setup.draft:
            return None
        if found.setup.publish is not None:
            # The day is no input, whether a date has come is one.
            self._read("reached", found.setup.publish.isoformat())
            if found.setup.publish > self.today:
                return None
        return found

    def run_ids(self) -> tuple[str, ...]:
        """The ids of all runs of the journal, published or not."""
        self._read("run_ids")
        return tuple(folder.id for folder in self._files.folders)

    def recap(self) -> tuple[str, tuple[Finding, ...]]:
        """The author's text about the run, and findings."""
        self._read("recap", self._run)
        with using_catalogue(ENGLISH):
            return read_recap(self._files.folder(self._run), self._files.root)

    # the journal

    @property
    def prices(self) -> Prices:
        """The journal's prices."""
        self._read("prices")
        return self._files.journal.prices

    @property
    def wording(self) -> Wording:
        """Units and language of the journal."""
        self._read("wording")
        return Wording(self._files.journal.units, self._files.journal.language)

    @property
    def takes_html(self) -> bool:
        """Whether texts may hold HTML."""
        self._read("raw_html")
        return self._files.journal.raw_html

    @property
    def note_templates(self) -> Path:
        """The folder of the journal, whose templates of notes are read from it."""
        self._read("note_templates")
        return self._files.root

    @property
    def others(self) -> OtherPages:
        """What texts and pages may ask about the other pages of the site."""
        return cast("OtherPages", _RecordedPages(self._snapshot, self._read))

    @contextmanager
    def speaking(self) -> Iterator[None]:
        """Words in the language of the journal for a while."""
        self._read("wording")
        with using_catalogue(self._files.catalogue):
            yield

    def context(self, findings: Findings) -> Context:
        """What templates are filled with: settings, theme and words as one dependency, other pages one by one."""
        self._read("site")
        return self._snapshot.settings.context.page_context(self.others, findings)
