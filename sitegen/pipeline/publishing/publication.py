"""`write`: a journal into its output folder, only what changed.

In: a journal, an output folder. Out: `Published`. All runs are checked before any page is made, so errors keep
everything back before the output is touched. New files wait beside their places until all are made.
"""

from __future__ import annotations

import errno
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import TypeVar

from sitegen.cache_folder import is_kept, lock_folder
from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.ingest import JournalFiles, read_journal
from sitegen.pipeline.checks.whole_check import check_all, held_back, template_findings
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, Inventory, inventory
from sitegen.pipeline.engine.processes import Processes
from sitegen.pipeline.engine.snapshot import Settings, theme_of
from sitegen.pipeline.engine.stored_results import PageFiles
from sitegen.pipeline.engine.unchanged import Command, remember_publication
from sitegen.pipeline.engine.workers import cores
from sitegen.pipeline.results import Published
from sitegen.write import Fingerprint, Output, open_output

_T = TypeVar("_T")
TRIES = 5  # each takes up what the one before has made; an editor saves a file at a time


@dataclass(frozen=True, slots=True)
class Options:
    """How to publish. `jobs`: processes at once (0: one a core)."""

    output: Path | None
    keep_going: bool
    jobs: int
    progress: Callable[[int, int], None]
    waiting: Callable[[], None]


class ChangedMeanwhileError(Exception):
    """A file of the journal was saved while it was being read."""


def published(command: Command, options: Options) -> Published:
    """Publish a journal that has changed: as it is at one moment.

    Raises
    ------
    OSError
        Where files are saved again and again: the output is as it was.

    """
    return at_one_moment(
        command.root, command.files, lambda files: _published(replace(command, files=files), options)
    )


def at_one_moment(root: Path, files: Inventory, work: Callable[[Inventory], _T]) -> _T:
    """What work has made of a journal whose files stayed as they were, asked again where they did not."""
    for _ in range(TRIES):
        try:
            return work(files)
        except ChangedMeanwhileError:
            pass
        except Exception as error:
            # What was sound when it was checked may not be any more, and then nothing is as it should be.
            gone = isinstance(error, FileNotFoundError) and is_kept(error)
            if not gone and inventory(root).digest == files.digest:
                raise
        # Little is made again: what was made of other files is in the store.
        files = inventory(root)
    raise OSError(errno.EAGAIN, "its files change while they are read", str(root))


def _published(command: Command, options: Options) -> Published:
    journal_files, findings = read_journal(command.root)
    if journal_files is None:
        return Published(findings, command.root)
    folder = output_folder(journal_files, options.output)
    # The lock of the output is held from before the first check: what is taken as already written must stay there.
    with lock_folder() as locks, open_output(folder, locks, options.waiting) as output:
        if isinstance(output, Finding):
            return Published(sorted_findings([*findings, output]), folder)
        with Processes(options.jobs or cores()) as processes:
            return _built(command, options, journal_files, findings, output, processes)


def _built(
    command: Command,
    options: Options,
    journal_files: JournalFiles,
    findings: Sequence[Finding],
    output: Output,
    processes: Processes,
) -> Published:
    theme, more = theme_of(journal_files)
    settings, digests = Settings(journal_files, theme), Digests(command.root, command.files, command.store)
    build = Build(settings, digests, command.store, command.today, jobs=processes.most, processes=processes)
    check_all(build)
    digests.keep()
    found = [*findings, *more]
    if theme is None:
        return Published(sorted_findings([*found, *build.findings]), output.folder)
    publication = _Publication(build, output, options, found)
    try:
        result = publication.run(partial(require_unchanged, command.root, command.files))
    except BaseException:  # an interrupt too: no staged file stays behind
        output.discard()
        raise
    if result.outcome is not None:
        remember_publication(command, result, build.validity, tuple(publication.written))
    return result


@dataclass(slots=True)
class _Publication:
    """One build written to one output."""

    build: Build
    output: Output
    options: Options
    findings: Sequence[Finding]  # of the journal itself
    pages: list[PageFiles] = field(default_factory=list)
    written: dict[str, Fingerprint] = field(default_factory=dict)

    def run(self, require: Callable[[], None]) -> Published:
        """Check, render and commit; where errors keep everything back, nothing that can be seen has changed."""
        # Templates are filled by the pages themselves, but for those that have none.
        unseen = template_findings(self.build, held_back(self.build))
        if self._kept_back([*self.findings, *self.build.findings, *unseen]):
            return self._all_found()
        checks = self.build.checks
        own = list(self.build.run_pages(self.output, self.options.progress).values())
        self.pages += own
        # Index pages list the runs: they are made once all of those are known to be sound.
        if not self._kept_back(self._page_findings()):
            self.pages += self.build.index_pages(self.output)
        if self._kept_back(self._page_findings()):
            self.output.discard()
            return self._all_found()
        found = [*self.build.findings, *unseen, *self._page_findings()]
        staged = [one for files in self.pages for one in files.staged]
        if in_the_way := self.output.in_the_way(staged):
            self.output.discard()
            return self._result([*found, *in_the_way])
        for files in self.pages:
            self.written.update(files.files)
        require()  # no page is of one moment, and another page of a later one
        return replace(
            self._result(found),
            outcome=self.output.commit(staged, self.written),
            left_out=tuple(run for run, check in checks.items() if not check.sound),
            charts=sum(files.charts for files in own if files.staged),
            photos=sum(files.photos for files in own if files.staged),
        )

    def _all_found(self) -> Published:
        # No page tells what is wrong with the pages that were not made.
        return self._result([*self.build.findings, *template_findings(self.build), *self._page_findings()])

    def _page_findings(self) -> list[Finding]:
        # A link is looked at beforehand: one to a run that is left out for its errors has no error of its own.
        found = (finding for files in self.pages for finding in files.findings)
        return [finding for finding in found if finding.code != "unknown-experiment"]

    def _kept_back(self, findings: Sequence[Finding]) -> bool:
        return not self.options.keep_going and any(finding.is_error for finding in findings)

    def _result(self, found: Sequence[Finding]) -> Published:
        return Published(sorted_findings([*self.findings, *found]), self.output.folder)


def require_unchanged(root: Path, files: Inventory) -> None:
    """Nothing has changed in a journal since its files were listed, or all is to be made again."""
    if inventory(root).digest != files.digest:
        raise ChangedMeanwhileError


def output_folder(journal_files: JournalFiles, chosen: Path | None) -> Path:
    """Where the site goes: `-o`, else `output:` in journal.yaml, else output/ inside the journal."""
    if chosen is not None:
        return chosen.resolve()
    return (journal_files.root / (journal_files.journal.output or "output")).resolve()
