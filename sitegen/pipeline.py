"""The stages in order: ingest → judge → measure → plot → render → write.

The only module beside `app` that knows all stages. It decides what a finding stops, and nothing else.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from sitegen import __version__
from sitegen.core.addresses import crop_page, experiment_page, free_page, season_page
from sitegen.core.facts import Facts
from sitegen.core.finding import Finding, Findings, Source, sorted_findings
from sitegen.core.page import Page
from sitegen.core.rows import Run
from sitegen.core.setup import Journal
from sitegen.core.site import FreeText, Site, Written
from sitegen.core.store import Store
from sitegen.core.wording import Wording
from sitegen.ingest import ExperimentFolder, Shelf, read_experiment, read_journal
from sitegen.judge import judge
from sitegen.memo import Memo
from sitegen.write import Outcome, write

__all__ = [
    "Checked",
    "Preview",
    "Published",
    "facts_of",
    "facts_of_package",
    "preview",
    "publish",
    "validate",
]


@dataclass(frozen=True, slots=True)
class Judged:
    """One experiment, read and judged; no run where it could not be read."""

    folder: ExperimentFolder
    run: Run | None
    findings: tuple[Finding, ...]

    @property
    def sound(self) -> bool:
        """Whether it can be published."""
        return self.run is not None and not any(f.is_error for f in self.findings)


@dataclass(frozen=True, slots=True)
class Checked:
    """All findings of a journal, and how much was looked at."""

    findings: tuple[Finding, ...]
    experiments: int = 0
    entries: int = 0


@dataclass(frozen=True, slots=True)
class Published:
    """What came of publishing; no outcome where errors kept it back."""

    findings: tuple[Finding, ...]
    folder: Path
    outcome: Outcome | None = None
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Preview:
    """The site as it would be with everything that is held back.

    `page_of` leads from a file or folder of the journal to its page; `beside` are the folders of the theme; `runs` what
    was sound last, by experiment, for a next preview in which it is not.
    """

    pages: Mapping[str, Page] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    unpublished: frozenset[str] = frozenset()
    page_of: Mapping[str, str] = field(default_factory=dict)
    beside: tuple[Path, ...] = ()
    runs: Mapping[str, Run] = field(default_factory=dict)


def judged(shelf: Shelf, today: dt.date, store: Store) -> Iterator[Judged]:
    """Each experiment in turn: none is kept longer than its reader needs it."""
    for folder in shelf.folders:
        run, findings = read_experiment(folder, shelf, store)
        more = judge(run, today) if run is not None else ()
        if any(f.is_error for f in findings):
            # What could not be read is missing from the run: doubts about what is missing would be false.
            more = tuple(f for f in more if f.is_error)
        yield Judged(folder, run, (*findings, *more))


def validate(root: Path, today: dt.date) -> Checked:
    """Every finding that reading and judging give."""
    shelf, findings = read_journal(root)
    found = list(findings)
    experiments = entries = 0
    with Memo.open() as memo:
        for item in judged(shelf, today, memo) if shelf else ():
            found.extend(item.findings)
            experiments += 1
            entries += len(item.run.rows.entries) if item.run else 0
    return Checked(sorted_findings(found), experiments, entries)


def facts_of(
    root: Path, wanted: Collection[str], today: dt.date
) -> tuple[Shelf | None, tuple[Facts, ...], tuple[Finding, ...]]:
    """The facts of the experiments named (none: of all) that are sound, drafts included."""
    from sitegen.measure import measure  # noqa: PLC0415 - validating does without

    shelf, findings = read_journal(root)
    if shelf is None:
        return None, (), findings
    found, facts = list(findings), []
    folders = tuple(f for f in shelf.folders if not wanted or f.id in wanted)
    with Memo.open() as memo:
        items = tuple(judged(replace(shelf, folders=folders), today, memo))
    for item in items:
        found.extend(item.findings)
        if item.sound and item.run is not None:
            facts.append(measure(item.run, shelf.journal.prices))
    return shelf, tuple(facts), sorted_findings(found)


def facts_of_package(path: Path) -> tuple[Journal | None, Facts | None, tuple[Finding, ...]]:
    """The facts of a run that was written as a Data Package, and the journal whose words they are said in."""
    from sitegen.ingest.data_package import read_package  # noqa: PLC0415 - a journal does without
    from sitegen.measure import measure  # noqa: PLC0415 - as above

    found, findings = read_package(path)
    if found is None:
        return None, None, findings
    run, journal = found
    return journal, measure(run, journal.prices), findings


def publish(root: Path, today: dt.date, *, output: Path | None = None, keep_going: bool = False) -> Published:
    """The whole line. Errors keep everything back; with `keep_going`, only the experiments that have them."""
    shelf, findings = read_journal(root)
    if shelf is None:
        return Published(findings, root)
    folder = output_folder(shelf, output)
    with Memo.open() as memo:  # until all is written: pages name files that lie in it
        return _published(shelf, findings, today, folder, keep_going, memo)


def _published(
    shelf: Shelf, findings: tuple[Finding, ...], today: dt.date, folder: Path, keep_going: bool, store: Store
) -> Published:
    items = tuple(judged(shelf, today, store))
    found = [*findings, *(finding for item in items for finding in item.findings)]
    if any(f.is_error for f in found) and not keep_going:
        return Published(sorted_findings(found), folder)
    left_out = tuple(item.folder.id for item in items if not item.sound)
    runs = tuple(item.run for item in items if item.sound and item.run is not None)
    pages, more = _pages(shelf, tuple(run for run in runs if public(run, today)), store)
    found.extend(more)
    if any(f.is_error for f in more) and not keep_going:
        return Published(sorted_findings(found), folder)
    outcome, last = write(pages, folder)
    found.extend(last)
    return Published(sorted_findings(found), folder, None if last else outcome, left_out)


def preview(root: Path, today: dt.date, store: Store, last: Preview | None = None) -> Preview:
    """All pages in memory, of drafts too. An experiment with errors is shown as it was when it last was sound."""
    shelf, findings = read_journal(root)
    if shelf is None:
        return Preview(findings=findings)
    items = tuple(judged(shelf, today, store))
    found = [*findings, *(finding for item in items for finding in item.findings)]
    before = last.runs if last is not None else {}
    kept = ((item.folder.id, item.run if item.sound else before.get(item.folder.id)) for item in items)
    runs = {name: run for name, run in kept if run is not None}
    pages, more = _pages(shelf, tuple(runs.values()), store)
    by_address = {page.address: page for page in pages}
    return Preview(
        by_address,
        sorted_findings([*found, *more]),
        _unpublished(tuple(runs.values()), today),
        {file: page for file, page in _page_of(shelf) if page in by_address},
        _theme_folders(shelf),
        runs,
    )


def _unpublished(runs: tuple[Run, ...], today: dt.date) -> frozenset[str]:
    """The pages that would not be there without the runs that are held back."""

    def addresses(run: Run) -> Iterator[str]:
        setup = run.setup
        yield from map(experiment_page, (run.id, *setup.was))
        yield from (season_page(setup.season), crop_page(setup.crop.id))

    shown = {address for run in runs if public(run, today) for address in addresses(run)}
    return frozenset(address for run in runs for address in addresses(run)) - shown


def _page_of(shelf: Shelf) -> Iterator[tuple[str, str]]:
    yield from ((f.path.relative_to(shelf.root).as_posix(), experiment_page(f.id)) for f in shelf.folders)
    yield from ((f"seasons/{season.id}", season_page(season.id)) for season in shelf.seasons)
    yield from ((page.source.file, free_page(page.name)) for page in shelf.pages)


def _theme_folders(shelf: Shelf) -> tuple[Path, ...]:
    from sitegen.render.themes import find_theme  # noqa: PLC0415 - validating does without

    theme = find_theme(shelf.journal.theme, None, Source("journal.yaml"), Findings())
    return theme.folders if theme is not None else ()


def _pages(shelf: Shelf, runs: tuple[Run, ...], store: Store) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """Measure, prepare photos, draw and render."""
    from sitegen.measure import measure, methods  # noqa: PLC0415 - validating does without
    from sitegen.photos import Album, prepare  # noqa: PLC0415 - as above
    from sitegen.plot import draw  # noqa: PLC0415 - as above
    from sitegen.render import render  # noqa: PLC0415 - as above

    journal = shelf.journal
    say = Wording(journal.units, journal.language).say
    folders = {folder.id: folder.path / "photos" for folder in shelf.folders}
    albums, faults = prepare([Album(run, folders[run.id]) for run in runs], store, say)
    all_facts = (measure(run, journal.prices) for run in runs)
    written = tuple(
        Written(facts, draw(facts, units=journal.units, say=say), album.pictures)
        for facts, album in zip(all_facts, albums, strict=True)
    )
    site = Site(
        journal=journal,
        source=Source("journal.yaml"),
        seasons=shelf.seasons,
        experiments=written,
        texts=tuple(FreeText(page.name, page.text, page.source) for page in shelf.pages),
        methods=methods(),
        products=shelf.library.products,
        look=shelf.root / "look",
        version=__version__,
    )
    pages, more = render(site, store)
    return (*pages, *(page for album in albums for page in album.pages)), (*faults, *more)


def public(run: Run, today: dt.date) -> bool:
    """Whether a run is published by a day: drafts are not, and `publish` holds back until its date."""
    return not run.setup.draft and (run.setup.publish is None or run.setup.publish <= today)


def output_folder(shelf: Shelf, chosen: Path | None) -> Path:
    """Where the site goes: `-o`, else `output:` in journal.yaml, else output/ inside the journal."""
    if chosen is not None:
        return chosen.resolve()
    return (shelf.root / (shelf.journal.output or "output")).resolve()
