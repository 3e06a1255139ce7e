"""The whole line, for the part of a journal that has changed.

In: a journal, an output folder. Out: `Published`. What an experiment needs is compared with what it was made from; only
what differs is read again. Errors keep everything back before the output is touched.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

from sitegen.core.findings.finding import Finding, Findings, sorted_findings
from sitegen.core.language.catalogue import using_catalogue
from sitegen.core.values.date_range import DateRange
from sitegen.ingest import JournalFiles, read_journal
from sitegen.pipeline.checking import checked_now
from sitegen.pipeline.crew import cores
from sitegen.pipeline.digests import Digests
from sitegen.pipeline.inventory import inventory
from sitegen.pipeline.known import Asked, remember_publication
from sitegen.pipeline.makers import Order, made_by
from sitegen.pipeline.making import (
    Filed,
    Made,
    Record,
    file_pages,
    keep_filed,
    kept_filed,
    kept_record,
    needs_of,
    record_key,
)
from sitegen.pipeline.peeking import peek
from sitegen.pipeline.results import Published
from sitegen.pipeline.shared import Bench, theme_of
from sitegen.pipeline.tasks import Task, tasks_of
from sitegen.pipeline.verdicts import Verdict, kept_verdict
from sitegen.render import Bundle, RunLink, bundles_of
from sitegen.write import Content, Output, Staged, opened
from sitegen.write.staging import beside

Progress = Callable[[int, int], None]


def _silent(_done: int, _of: int) -> None:
    pass


@dataclass(frozen=True, slots=True)
class Wishes:
    """How to publish. `jobs`: processes at once (0: as many as there are cores); `since`: nothing older is known."""

    output: Path | None = None
    keep_going: bool = False
    jobs: int = 0
    since: float = 0.0
    progress: Progress = _silent
    waiting: Callable[[], None] = lambda: None


@dataclass(slots=True)
class _Known:
    """What is known of one experiment before, and after, it is made."""

    task: Task
    verdict: Verdict | None = None
    record: Record | None = None
    needs: str = ""
    filed: Filed | None = None
    staged: tuple[Staged, ...] = ()

    def shown(self, today: date) -> bool:
        """Whether it has a page."""
        return self.verdict is not None and self.verdict.sound and self.verdict.public(today)

    def take(self, made: Made) -> None:
        """Know what came of making it."""
        self.verdict = made.verdict
        if made.filed is not None:
            self.record, self.needs = made.record, made.needs
            self.filed, self.staged = made.filed, made.staged


class _Line:
    """One run of the whole line into one output."""

    def __init__(self, bench: Bench, output: Output, wishes: Wishes, findings: Sequence[Finding]) -> None:
        self.bench = bench
        self.output = output
        self.wishes = wishes
        self.findings = list(findings)  # of the journal and of the lists
        self.unsound = any(finding.is_error for finding in findings)
        self.known: list[_Known] = []
        self.staged: list[Staged] = []  # of the lists
        self.kept: dict[str, Content] = {}
        self.begun = False

    # what is known

    def look(self, tasks: Sequence[Task]) -> None:
        """Everything that is kept of the experiments."""
        store, today = self.bench.store, self.bench.today
        self.known = [_Known(task) for task in tasks]
        verdicts = store.get_all([task.key for task in tasks])
        keys = [record_key(task, self.bench) for task in tasks]
        records = store.get_all(keys)
        for each, key in zip(self.known, keys, strict=True):
            each.verdict = kept_verdict(verdicts.get(each.task.key), today)
            if each.verdict is None or each.shown(today):
                each.record = kept_record(records.get(key))
        self.bench = self.bench.knowing([o for each in self.known if (o := self._expected(each)) is not None])

    def _expected(self, each: _Known) -> RunLink | None:
        """The run_link that an experiment has, or by its head will have."""
        if each.verdict is not None and each.record is not None:
            return each.record.run_link
        if each.verdict is not None and not each.shown(self.bench.today):
            return None
        return peek(each.task.folder, self.bench.journal_files, self.bench.today)

    def missing(self) -> list[_Known]:
        """The experiments to be made, or only to be judged again where the output has their pages."""
        today = self.bench.today
        unknown = [
            each for each in self.known if each.verdict is None or (each.shown(today) and each.record is None)
        ]
        unmade = self._unmade([each for each in self.known if each.record is not None])
        wanted = {each.task.folder.id for each in (*unknown, *unmade)}
        return [each for each in self.known if each.task.folder.id in wanted]

    def _unmade(self, some: Sequence[_Known]) -> list[_Known]:
        """Those whose pages the output has not."""
        for each in some:
            each.needs = self._needs(each)
        filed = self.bench.store.get_all([each.needs for each in some])
        for each in some:
            each.filed = self._held(kept_filed(filed.get(each.needs)))
        return [each for each in some if each.filed is None]

    def _needs(self, each: _Known) -> str:
        assert each.record is not None
        return needs_of(each.task, each.record, self.bench)

    def _held(self, filed: Filed | None) -> Filed | None:
        """Pages that need not be made: the output has them."""
        return filed if filed is not None and self.output.holds(filed.files) else None

    # making

    def experiments(self) -> None:
        """Make what is missing."""
        self.make(self.missing())

    def make(self, some: Sequence[_Known]) -> None:
        """Make some experiments."""
        if not some:
            return
        self.begin()
        wishes, by_id = self.wishes, {each.task.folder.id: each for each in some}
        line = made_by(
            wishes.jobs or cores(),
            [Order(each.task, judge_only=each.filed is not None) for each in some],
            self.bench,
            self.output.folder,
            keep_going=wishes.keep_going,
            halted=self.held_back,
        )
        for number, made in enumerate(line, start=1):
            by_id[made.task.folder.id].take(made)
            wishes.progress(number, len(some))

    def begin(self) -> None:
        """Get ready for the first new file."""
        if not self.begun:
            self.output.begin()
            self.begun = True

    def mend(self) -> None:
        """Make what was made beside experiments that turned out otherwise than their heads promised."""
        shown = [each for each in self.known if each.shown(self.bench.today)]
        real = tuple(each.record.run_link for each in shown if each.record is not None)
        if real == self.bench.run_links:
            return
        self.bench = self.bench.knowing(real)
        before = {each.task.folder.id: each.needs for each in shown}
        wrong = [each for each in shown if self._needs(each) != before[each.task.folder.id]]
        old = _fresh(wrong)
        for each in wrong:
            each.staged = ()
        self.make(self._unmade(wrong))
        for address in old - _fresh(wrong):
            beside(self.output.folder / address).unlink(missing_ok=True)

    def lists(self) -> None:
        """Every page that is not one experiment's."""
        store, shown = self.bench.store, [each for each in self.known if each.shown(self.bench.today)]
        listed = [each.record.listed for each in shown if each.record is not None]
        bundles = list(bundles_of(self.bench.site, listed, store))
        needs = [store.key("pages", self.bench.look, *bundle.needs) for bundle in bundles]
        known = store.get_all(needs)
        for key, bundle in zip(needs, bundles, strict=True):
            filed = self._held(kept_filed(known.get(key))) or self._made(key, bundle)
            self.findings.extend(filed.findings)
            self.kept.update(filed.files)

    def _made(self, key: str, bundle: Bundle) -> Filed:
        self.begin()
        findings = Findings()
        pages = tuple(bundle.make(self.bench.context.apart(findings)))
        filed, staged = file_pages(pages, tuple(findings), self.output.folder)
        self.staged += staged
        keep_filed(key, filed, self.bench.store)
        return filed

    # what came of it

    @property
    def held_back(self) -> bool:
        """Whether an error of the journal or of an experiment keeps all pages back: then none need be made."""
        if self.wishes.keep_going:
            return False
        verdicts = (each.verdict for each in self.known if each.verdict is not None)
        return self.unsound or not all(verdict.sound for verdict in verdicts)

    @property
    def broken(self) -> bool:
        """Whether errors keep everything back, those of pages too."""
        return not self.wishes.keep_going and any(finding.is_error for finding in self.found())

    def found(self) -> Iterator[Finding]:
        """Every finding so far; those of pages only where none is held back: how many are made by then is chance."""
        yield from self.findings
        pages = not self.held_back
        for each in self.known:
            yield from each.verdict.findings if each.verdict is not None else ()
            if pages and each.filed is not None and each.shown(self.bench.today):
                yield from each.filed.findings

    def commit(self) -> Published:
        """Move everything into its place."""
        own = [(k, k.filed) for k in self.known if k.filed is not None and k.shown(self.bench.today)]
        for _, filed in own:
            self.kept.update(filed.files)
        staged = [*self.staged, *(one for each, _ in own for one in each.staged)]
        outcome = self.output.commit(staged, self.kept)
        made = [filed for each, filed in own if each.staged]
        return replace(
            self.result(),
            outcome=outcome,
            left_out=tuple(
                each.task.folder.id for each in self.known if not each.verdict or not each.verdict.sound
            ),
            charts=sum(filed.charts for filed in made),
            photos=sum(filed.photos for filed in made),
        )

    def result(self) -> Published:
        """What was found."""
        return Published(sorted_findings(self.found()), self.output.folder)

    def held(self) -> DateRange:
        """The days on which the same would come of it."""
        held = DateRange()
        for verdict in (each.verdict for each in self.known if each.verdict is not None):
            held = held.intersection(verdict.held).intersection(_until_published(verdict, self.bench.today))
        return held


def _fresh(some: Sequence[_Known]) -> set[str]:
    """The addresses of files that lie beside their places."""
    return {one.address for each in some for one in each.staged if one.fresh}


def _until_published(verdict: Verdict, today: date) -> DateRange:
    """The days on which an experiment is shown, or held back, as it is today."""
    when = verdict.publish
    if when is None or verdict.draft:
        return DateRange()
    return DateRange(since=when) if when <= today else DateRange(until=when - timedelta(days=1))


def published(asked: Asked, digests: Digests, wishes: Wishes) -> Published:
    """Publish a journal that has changed."""
    root = asked.root
    journal_files, findings = read_journal(root)
    if journal_files is None:
        return Published(findings, root)
    folder = output_folder(journal_files, wishes.output)
    with opened(folder, wishes.waiting) as output, using_catalogue(journal_files.catalogue):
        if isinstance(output, Finding):
            return Published(sorted_findings([*findings, output]), folder)
        return _published(asked, digests, wishes, journal_files, findings, output)


def _published(
    asked: Asked,
    digests: Digests,
    wishes: Wishes,
    journal_files: JournalFiles,
    findings: Sequence[Finding],
    output: Output,
) -> Published:
    theme, more = theme_of(journal_files)
    if theme is None:
        checked, _ = checked_now(asked, journal_files, [*findings, *more])
        return Published(checked.findings, output.folder)
    line = _Line(
        Bench(journal_files, asked.store, asked.today, theme, since=wishes.since), output, wishes, findings
    )
    try:
        line.look(list(tasks_of(journal_files, digests, asked.store)))
        result = _run(line)
    except BaseException:
        output.discard()
        raise
    digests.keep()
    if result.outcome is not None and inventory(asked.root).digest == asked.found.digest:
        remember_publication(asked, result, line.held(), tuple(line.kept))
    return result


def _run(line: _Line) -> Published:
    """The stages in order; where errors keep everything back, nothing that can be seen has changed."""
    for step in (line.experiments, line.mend, line.lists):
        step()
        if line.broken:
            line.output.discard()
            return line.result()
    return line.commit()


def output_folder(journal_files: JournalFiles, chosen: Path | None) -> Path:
    """Where the site goes: `-o`, else `output:` in journal.yaml, else output/ inside the journal."""
    if chosen is not None:
        return chosen.resolve()
    return (journal_files.root / (journal_files.journal.output or "output")).resolve()
