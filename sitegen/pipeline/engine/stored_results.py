"""Results of build steps as they are stored: each with the trace of what it was made from.

In: the store, results of steps. Out: `Results`, rows by step and run; `Made`, a result in memory; `PageFiles`, what is
kept of pages; the forms in which each kind is stored.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from sitegen.core.facts.across import RunArms
from sitegen.core.findings.finding import Finding
from sitegen.core.records.codec import Codec, codec_for
from sitegen.core.store import StoredResult
from sitegen.pipeline.engine.inputs import Trace
from sitegen.pipeline.engine.snapshot import Snapshot
from sitegen.pipeline.engine.steps import Check, KeptFacts, Rendered

if TYPE_CHECKING:
    from sitegen.write import Fingerprint, StagedFile, Staging

CHECK: Codec[Check] = codec_for(Check)
FINDINGS: Codec[tuple[Finding, ...]] = codec_for(tuple[Finding, ...])

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Made(Generic[_T]):
    """A result in memory, with the trace of what it was made from."""

    value: _T
    trace: Trace


@dataclass(frozen=True, slots=True)
class PageFiles:
    """Pages that were made together, as an output folder holds them, and findings of making them.

    `staged` are those that were written just now, and wait to be moved.
    """

    files: tuple[tuple[str, Fingerprint], ...]
    findings: tuple[Finding, ...] = ()
    charts: int = 0
    photos: int = 0
    staged: tuple[StagedFile, ...] = field(default=(), compare=False)

    @classmethod
    def of(cls, rendered: Rendered, staging: Staging) -> PageFiles:
        """Pages written to where they wait."""
        from sitegen.write import stage  # noqa: PLC0415 - only where pages are written

        # Written by the process that made them: sending a page with its charts to another takes longer.
        staged = tuple(stage(page, staging) for page in rendered.pages)
        files = tuple((one.address, one.fingerprint) for one in staged)
        return cls(files, rendered.findings, rendered.charts, rendered.photos, staged)

    def encoded(self) -> object:
        """As it is stored: without what waits, since that is moved or removed before the command ends."""
        return [self.files, FINDINGS.encode(self.findings), self.charts, self.photos]

    @classmethod
    def decoded(cls, value: Any) -> PageFiles:
        """A stored value."""
        files, findings, charts, photos = value
        # A list first: thousands of files are decoded, and a tuple of a generator takes twice as long.
        named = tuple([(address, (digest, size)) for address, (digest, size) in files])
        return cls(named, FINDINGS.decode(findings) if findings else (), charts, photos)


@cache
def facts_codec() -> Codec[KeptFacts]:
    """The form in which the facts of a run are stored."""
    return codec_for(KeptFacts)


@cache
def _arms_codec() -> Codec[RunArms]:
    return codec_for(RunArms)


def arms_of_facts(value: Any) -> RunArms:
    """The arms of kept facts, which are most of what is kept: they stay as they are."""
    _, arms = value  # in the order of the fields of `KeptFacts`
    return _arms_codec().decode(arms)


class Results:
    """Results of steps in the store, one row for each step of each run."""

    def __init__(self, snapshot: Snapshot) -> None:
        self._store, self._root = snapshot.store, str(snapshot.settings.journal_files.root)
        # A summary made before its photo is encoded names another address: `write` must not take it from a preview.
        summary = "summary" if snapshot.encoding == "now" else f"summary, photos {snapshot.encoding}"
        # Keys hold digests of code: a check depends on less of it than a page does, and stays when a template changes.
        names = {"check": ("check", "check"), "summary": ("pages", summary)}
        names |= {step: ("pages", step) for step in ("run", "index")}
        names["facts"] = ("facts", "facts")
        names |= {
            "texts": ("texts", "texts"),
            "templates": ("pages", "templates"),
            "notes": ("notes", "notes"),
        }
        self._names, self._prefixes = names, dict[str, str]()

    def _prefix(self, step: str) -> str:
        # When it is asked for: the code of all stages is read for all steps, and a command may ask for two.
        if step not in self._prefixes:
            stage, name = self._names[step]
            self._prefixes[step] = f"{self._store.key(stage, name, self._root)} "
        return self._prefixes[step]

    def get(self, step: str, names: Sequence[str]) -> dict[str, StoredResult]:
        """The rows of some runs or pages, by name."""
        prefix = self._prefix(step)
        # One question for all rows: 300 questions would take longer than all that is left to do.
        found = self._store.get_all([prefix + name for name in names])
        return {key[len(prefix) :]: kept for key, kept in found.items()}

    def put(self, step: str, name: str, trace: Trace, value: object) -> None:
        """Store a result with what it was made from."""
        self._store.put(self._prefix(step) + name, {"trace": trace, "value": value})
