"""The site as it would be with everything that is held back, for one who is writing it.

In: a journal, a store, the last preview. Out: `Preview`. An edit reads one experiment; pages that stay as they were are
the same objects as before; what was made before and is known, or is one of very many, is made when it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from sitegen.core.addresses import crop_page, experiment_page, free_page, season_page
from sitegen.core.finding import Finding, Findings, sorted_findings
from sitegen.core.page import Page
from sitegen.core.store import Store
from sitegen.core.tongue import speaking
from sitegen.ingest import Shelf, read_experiment, read_journal
from sitegen.pipeline.digests import Digests
from sitegen.pipeline.inventory import inventory
from sitegen.pipeline.later import later
from sitegen.pipeline.making import (
    Filed,
    Made,
    Pages,
    Record,
    keep,
    kept_filed,
    kept_record,
    make_pages,
    needs_of,
    record_key,
)
from sitegen.pipeline.peeking import peek
from sitegen.pipeline.shared import Bench, theme_of
from sitegen.pipeline.tasks import Task, tasks_of
from sitegen.pipeline.verdicts import Verdict, kept_verdict, read_and_judged
from sitegen.render import Bundle, Outline, bundles_of
from sitegen.write import contents_of

__all__ = ["Preview", "previewed"]

AT_ONCE = 40  # experiments; of more that change at once, the others are made when they are asked for


@dataclass(frozen=True, slots=True)
class Shown:
    """An experiment as it was shown, under the keys of what it was made from."""

    task: Task
    terms: str
    verdict: Verdict
    record: Record
    needs: str
    pages: tuple[Page, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class List:
    """Pages that are not one experiment's."""

    pages: tuple[Page, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Preview:
    """The site as it would be with everything that is held back.

    `page_of` leads from a file or folder of the journal to its page; `beside` are the folders of the theme; `shown` and
    `lists` are for a next preview, which may take them over.
    """

    pages: Mapping[str, Page] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    unpublished: frozenset[str] = frozenset()
    page_of: Mapping[str, str] = field(default_factory=dict)
    beside: tuple[Path, ...] = ()
    shown: Mapping[str, Shown] = field(default_factory=dict)
    lists: Mapping[str, List] = field(default_factory=dict)


def previewed(root: Path, today: date, store: Store, last: Preview | None = None) -> Preview:
    """All pages, of drafts too. An experiment with errors is shown as it was when it last was sound."""
    found = inventory(root)
    shelf, findings = read_journal(root)
    theme, more = theme_of(shelf) if shelf is not None else (None, ())
    if shelf is None or theme is None:
        return Preview(findings=sorted_findings([*findings, *more]))
    digests = Digests(root, found, store)
    look = _Look(Bench(shelf, store, today, theme), last or Preview())
    with speaking(shelf.tongue):
        look.experiments(tasks_of(shelf, digests, store))
        lists = look.lists()
    digests.keep()
    look.findings += [*findings, *(finding for each in lists.values() for finding in each.findings)]
    pages = [page for each in lists.values() for page in each.pages]
    pages += [page for each in look.shown.values() for page in each.pages]
    by_address = {page.address: page for page in pages}
    return Preview(
        by_address,
        sorted_findings(look.findings),
        _unpublished(look.shown, today),
        {file: page for file, page in _page_of(shelf) if page in by_address},
        theme.folders,
        look.shown,
        lists,
    )


class _Look:
    """One look at a journal."""

    def __init__(self, bench: Bench, last: Preview) -> None:
        self.bench = bench
        self.last = last
        self.findings: list[Finding] = []
        self.shown: dict[str, Shown] = {}
        self.made = 0

    def experiments(self, tasks: list[Task]) -> None:
        """Every experiment, as it is or as it was last."""
        known = [(task, *self._known(task)) for task in tasks]
        outlines = [o for each in known if (o := self._outline(*each)) is not None]
        self.bench = self.bench.knowing(outlines)
        for each in known:
            task, (verdict, shown) = each[0], self._experiment(*each)
            self.findings += [*verdict.findings, *(shown.findings if shown else ())]
            if shown is not None:
                self.shown[task.folder.id] = shown
        self.bench = self.bench.knowing([shown.record.outline for shown in self.shown.values()])

    def _known(self, task: Task) -> tuple[Verdict | None, Record | None]:
        before = self.last.shown.get(task.folder.id)
        if before is not None and self._same(task, before) and before.verdict.held.on(self.bench.today):
            return before.verdict, before.record
        store = self.bench.store
        verdict = kept_verdict(store.get(task.key), self.bench.today)
        return verdict, kept_record(store.get(record_key(task, self.bench)))

    def _same(self, task: Task, before: Shown) -> bool:
        return before.task.key == task.key and before.terms == self.bench.terms

    def _outline(self, task: Task, verdict: Verdict | None, record: Record | None) -> Outline | None:
        """What links to it say; of a broken one, what they said."""
        if verdict is not None and not verdict.sound:
            before = self.last.shown.get(task.folder.id)
            return before.record.outline if before is not None else None
        return record.outline if record is not None else peek(task.folder, self.bench.shelf)

    def _experiment(
        self, task: Task, verdict: Verdict | None, record: Record | None
    ) -> tuple[Verdict, Shown | None]:
        before = self.last.shown.get(task.folder.id)
        if verdict is not None and not verdict.sound:
            return verdict, before
        if verdict is not None and record is not None:
            needs = needs_of(task, record, self.bench)
            if before is not None and before.needs == needs:
                return verdict, before
            addresses, findings = self._addresses(needs, task, before)
            if addresses:
                pages = self._later(task, addresses)
                return verdict, Shown(task, self.bench.terms, verdict, record, needs, pages, findings)
        run, verdict = read_and_judged(task.folder, self.bench.shelf, self.bench.today, self.bench.store)
        if run is None or not verdict.sound:
            return verdict, before
        return verdict, self._shown(task, verdict, make_pages(task.folder, run, self.bench))

    def _addresses(
        self, needs: str, task: Task, before: Shown | None
    ) -> tuple[tuple[str, ...], tuple[Finding, ...]]:
        """The addresses of pages that can wait, and what was found while they were made."""
        filed = kept_filed(self.bench.store.get(needs))
        if filed is not None:
            return tuple(address for address, _ in filed.files), filed.findings
        if before is not None and before.task.key == task.key and self.made >= AT_ONCE:
            return tuple(page.address for page in before.pages), ()
        return (), ()

    def _later(self, task: Task, addresses: tuple[str, ...]) -> tuple[Page, ...]:
        bench = self.bench

        def make() -> tuple[Page, ...]:
            run, _ = read_experiment(task.folder, bench.shelf, bench.store)
            with speaking(bench.shelf.tongue):
                return () if run is None else make_pages(task.folder, run, bench).pages

        return later(addresses, make)

    def _shown(self, task: Task, verdict: Verdict, made: Pages) -> Shown:
        self.made += 1
        needs = needs_of(task, made.record, self.bench)
        if task.untouched():
            filed = Filed(contents_of(made.pages), made.findings, made.charts, made.photos)
            keep(Made(task, verdict, made.record, needs, filed), self.bench)
        return Shown(task, self.bench.terms, verdict, made.record, needs, made.pages, made.findings)

    def lists(self) -> dict[str, List]:
        """Every page that is not one experiment's, by the key of what it was made from."""
        listed = [shown.record.listed for shown in self.shown.values()]
        store, lists = self.bench.store, dict[str, List]()
        for bundle in bundles_of(self.bench.site, listed, store):
            key = store.key("pages", self.bench.look, *bundle.needs)
            lists[key] = self.last.lists.get(key) or self._list(bundle)
        return lists

    def _list(self, bundle: Bundle) -> List:
        findings = Findings()
        pages = tuple(bundle.make(self.bench.context.apart(findings)))
        return List(pages, tuple(findings))


def _unpublished(shown: Mapping[str, Shown], today: date) -> frozenset[str]:
    """The pages that would not be there without the experiments that are held back."""

    def addresses(outline: Outline) -> Iterator[str]:
        yield from map(experiment_page, (outline.id, *outline.was))
        yield from (season_page(outline.season), crop_page(outline.crop))

    all_pages = {a for each in shown.values() for a in addresses(each.record.outline)}
    public = {
        a for each in shown.values() if each.verdict.public(today) for a in addresses(each.record.outline)
    }
    return frozenset(all_pages - public)


def _page_of(shelf: Shelf) -> Iterator[tuple[str, str]]:
    yield from ((f.path.relative_to(shelf.root).as_posix(), experiment_page(f.id)) for f in shelf.folders)
    yield from ((f"seasons/{season.id}", season_page(season.id)) for season in shelf.seasons)
    yield from ((page.source.file, free_page(page.name)) for page in shelf.pages)
