"""What build steps read, and the record of it.

In: a `Snapshot`, the run that a step is about. Out: `Inputs`: the only object that a step is given. Each question is
recorded with the digest of its answer; the record is the step's trace, and the step is made again when a digest in it
has changed. So no cache key is written by hand, and a step cannot read an input that its trace does not name.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Any, TypeVar, cast

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.language.catalogue import ENGLISH, using_catalogue
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import FreePage, Prices
from sitegen.core.site.site_map import Neighbours, RunLink
from sitegen.core.store import Store
from sitegen.ingest import ExperimentFolder, read_recap, read_records
from sitegen.pipeline.snapshot import Snapshot

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

    The lock is held while a step of the run is made: a browser asks for a page and for its data at the same time, and
    both would measure the run otherwise.
    """

    lock: threading.RLock = field(default_factory=threading.RLock)
    parts: dict[str, _Part] = field(default_factory=dict)


class Inputs:
    """What one step reads of a snapshot, recorded."""

    def __init__(self, snapshot: Snapshot, run: str = "", memory: RunMemory | None = None) -> None:
        self.trace: Trace = {}
        self.store: Store = snapshot.store  # results of drawing and encoding by their content: never an input
        self._snapshot = snapshot
        self._run = run
        self._memory = memory or RunMemory()

    def _read(self, kind: str, name: str = "") -> None:
        dependency = f"{kind} {name}" if name else kind
        self.trace[dependency] = self._snapshot.digest(dependency)

    def part(self, make: Callable[[Inputs], _T]) -> _T:
        """An intermediate result of this run; made again only where an input of it has changed."""
        held = self._memory.parts.get(make.__name__)
        if held is None or not self._snapshot.holds(held.trace):
            inner = Inputs(self._snapshot, self._run, self._memory)
            held = self._memory.parts[make.__name__] = _Part(make(inner), inner.trace)
        self.trace |= held.trace
        return cast("_T", held.value)

    @property
    def today(self) -> date:
        """The day of the build. Not part of a trace: a result that depends on it says for which days it holds."""
        return self._snapshot.today

    @property
    def photos_later(self) -> bool:
        """Whether photos are encoded when a browser asks for them; their addresses are the same either way."""
        return self._snapshot.photos_later

    # the run itself

    @property
    def folder(self) -> ExperimentFolder:
        """The folder of the run; for addresses of photo files, whose content `records` stands for."""
        self._read("records", self._run)
        return next(each for each in self._snapshot.settings.journal_files.folders if each.id == self._run)

    def records(self) -> tuple[Run | None, tuple[Finding, ...]]:
        """The run without its recap, and findings; None where its set-up cannot be known."""
        self._read("library")
        with using_catalogue(ENGLISH):  # findings are English, whatever the language of the pages
            return read_records(self.folder, self._snapshot.settings.journal_files, self.store)

    def recap(self) -> tuple[str, tuple[Finding, ...]]:
        """The author's text about the run, and findings."""
        self._read("recap", self._run)
        folder = next(each for each in self._snapshot.settings.journal_files.folders if each.id == self._run)
        with using_catalogue(ENGLISH):
            return read_recap(folder, self._snapshot.settings.journal_files.root)

    # the journal

    @property
    def prices(self) -> Prices:
        """The journal's prices."""
        self._read("prices")
        return self._snapshot.settings.journal_files.journal.prices

    @property
    def wording(self) -> Wording:
        """Units and language of the journal."""
        self._read("wording")
        journal = self._snapshot.settings.journal_files.journal
        return Wording(journal.units, journal.language)

    @contextmanager
    def speaking(self) -> Iterator[None]:
        """Words in the language of the journal for a while."""
        self._read("wording")
        with using_catalogue(self._snapshot.settings.journal_files.catalogue):
            yield

    def context(self, findings: Findings) -> Context:
        """What templates are filled with: settings, theme and words as one dependency, other pages one by one."""
        self._read("site")
        return self._snapshot.settings.context.page_context(self, findings)

    # other pages: `sitegen.render.OtherPages`, recorded

    def neighbours(self, run: str) -> Neighbours:
        """The runs sown before and after one."""
        return cast("Neighbours", self._ask("neighbours", run))

    def address(self, name: str) -> str | None:
        """The address of a page that an author names in a link."""
        return cast("str | None", self._ask("address", name))

    def names(self) -> Collection[str]:
        """Every name that `address` knows."""
        return cast("Collection[str]", self._ask("names"))

    def published(self, run: str) -> bool:
        """Whether a run has a page."""
        return cast("bool", self._ask("published", run))

    def has_feed(self) -> bool:
        """Whether any run has a date that a feed can list."""
        return cast("bool", self._ask("has_feed"))

    def runs(self) -> Sequence[RunLink]:
        """All published runs."""
        return cast("Sequence[RunLink]", self._ask("runs"))

    def text(self, name: str) -> FreePage:
        """One of the author's free pages."""
        return cast("FreePage", self._ask("text", name))

    def texts(self) -> Sequence[FreePage]:
        """All of the author's free pages."""
        return cast("Sequence[FreePage]", self._ask("texts"))

    def summaries(self, field: str = "", name: str = "") -> Sequence[Any]:
        """Summaries of the runs whose `field` is `name`; without a field, of all."""
        self._read("summaries", f"{field} {name}" if field else "")
        snapshot = self._snapshot
        return [snapshot.summaries[link.id].decode() for link in snapshot.site_map.selected(field, name)]

    def _ask(self, kind: str, *names: str) -> Any:
        self._read(kind, *names)
        return getattr(self._snapshot.site_map, kind)(*names)
