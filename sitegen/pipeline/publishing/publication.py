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

from sitegen.cache_folder import is_kept, lock_folder
from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.ingest import JournalFiles, read_journal
from sitegen.pipeline.build import Build, PageFiles
from sitegen.pipeline.checks.whole_check import check_all, held_back, template_findings
from sitegen.pipeline.files import Digests, inventory
from sitegen.pipeline.results import Published
from sitegen.pipeline.snapshot import Settings, theme_of
from sitegen.pipeline.unchanged import Command, remember_publication
from sitegen.write import Fingerprint, Output, open_output

TRIES = 5  # each takes up what the one before has made; an editor saves a file at a time


@dataclass(frozen=True, slots=True)
class Options:
    """How to publish. `jobs`: processes at once (0: one a core)."""

    output: Path | None
    keep_going: bool
    jobs: int
    progress: Callable[[int, int], None]
    waiting: Callable[[], None]


class _ChangedMeanwhileError(Exception):
    """A file of the journal was saved while it was being read."""


def published(command: Command, options: Options) -> Published:
    """Publish a journal that has changed: as it is at one moment.

    Raises
    ------
    OSError
        Where files are saved again and again: the output is as it was.

    """
    for _ in range(TRIES):
        try:
            return _published(command, options)
        except _ChangedMeanwhileError:
            # Little is made again: what was made of other files is in the store.
            command = replace(command, files=inventory(command.root))
        except FileNotFoundError as error:
            if not is_kept(error):
                raise
    raise OSError(errno.EAGAIN, "its files change while they are read", str(command.root))


def _published(command: Command, options: Options) -> Published:
    journal_files, findings = read_journal(command.root)
    if journal_files is None:
        return Published(findings, command.root)
    folder = output_folder(journal_files, options.output)
    # The lock of the output is held from before the first check: what is taken as already written must stay there.
    with lock_folder() as locks, open_output(folder, locks, options.waiting) as output:
        if isinstance(output, Finding):
            return Published(sorted_findings([*findings, output]), folder)
        theme, more = theme_of(journal_files)
        digests = Digests(command.root, command.files, command.store)
        build = Build(
            Settings(journal_files, theme), digests, command.store, command.today, jobs=options.jobs
        )
        check_all(build)
        digests.keep()
        found = [*findings, *more]
        if theme is None:
            return Published(sorted_findings([*found, *build.findings]), folder)
        publication = _Publication(build, output, options, found)
        try:
            result = publication.run(partial(_require_unchanged, command))
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

    def run(self, require_unchanged: Callable[[], None]) -> Published:
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
        require_unchanged()  # no page is of one moment, and another page of a later one
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


def _require_unchanged(command: Command) -> None:
    if inventory(command.root).digest != command.files.digest:
        raise _ChangedMeanwhileError


def output_folder(journal_files: JournalFiles, chosen: Path | None) -> Path:
    """Where the site goes: `-o`, else `output:` in journal.yaml, else output/ inside the journal."""
    if chosen is not None:
        return chosen.resolve()
    return (journal_files.root / (journal_files.journal.output or "output")).resolve()
