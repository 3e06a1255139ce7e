"""`write --only`: one experiment's page as a folder that stands alone, for a reviewer; drafts too.

In: a journal, an experiment's id, a folder. Out: `Copied`. Findings in other experiments are not reported. The folder
of the whole site is never written to.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from sitegen.cache_folder import lock_folder
from sitegen.core.findings.finding import Finding, Findings, sorted_findings
from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import tr, using_catalogue
from sitegen.core.site.addresses import COMPARE
from sitegen.core.site.page import Page, WriteResult
from sitegen.core.store import Store
from sitegen.ingest import JournalFiles, read_journal
from sitegen.memo import Memo
from sitegen.pipeline import untold
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, Inventory, inventory
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.engine.snapshot import Settings, theme_of
from sitegen.pipeline.engine.steps import Rendered, run_pages
from sitegen.pipeline.publishing.publication import at_one_moment, output_folder, require_unchanged
from sitegen.pipeline.results import Copied
from sitegen.render import shared_pages, standalone_pages
from sitegen.write import Output, open_output, stage


def copy(
    root: Path,
    today: date,
    experiment: str,
    *,
    output: Path | None = None,
    fresh: bool = False,
    waiting: Callable[[], None] = untold,
) -> Copied:
    """Write the copy of a page as it is at one moment.

    Where there is no such experiment nothing is written, and the ids there are come back.

    Raises
    ------
    OSError
        Where files are saved again and again: the copy is as it was.

    """

    def work(files: Inventory) -> Copied:
        return _copied(_Wanted(root, files, today, experiment, output, fresh), waiting)

    return at_one_moment(root, inventory(root), work)


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A copy of a page of a journal that has some files."""

    root: Path
    files: Inventory
    today: date
    experiment: str
    output: Path | None
    fresh: bool


def _copied(wanted: _Wanted, waiting: Callable[[], None]) -> Copied:
    root, experiment, output = wanted.root, wanted.experiment, wanted.output
    journal_files, findings = read_journal(root)
    if journal_files is None:
        return Copied(findings, root)
    ids = tuple(folder.id for folder in journal_files.folders)
    if experiment not in ids:
        return Copied((), root, known=ids)
    site = output_folder(journal_files, None)
    place = site.with_name(f"{site.name}-{experiment}") if output is None else output.resolve()
    # A copy must not take the place of the site: it would remove all other pages.
    if place.is_relative_to(site) or site.is_relative_to(place):
        return Copied((_taken(place),), place)
    with (
        lock_folder() as locks,
        open_output(place, locks, waiting) as found,
        using_catalogue(journal_files.catalogue),
        Memo(since=time.time() if wanted.fresh else 0.0) as memo,
    ):
        if isinstance(found, Finding):
            return Copied((found,), place)
        if COMPARE in found.manifest.files:  # the site was written here, by `-o`
            return Copied((_taken(place),), place)
        rendered, held_back = _rendered(journal_files, wanted, memo)
        errors = any(finding.is_error for finding in rendered.findings)
        done = () if errors else _written(rendered.pages, found, wanted)
        outcome, in_the_way = (done, ()) if isinstance(done, WriteResult) else (None, done)
        shown = sorted_findings([*findings, *rendered.findings, *in_the_way])
        return Copied(shown, place, outcome, held_back)


def _taken(place: Path) -> Finding:
    return Finding(
        "output-not-ours",
        Source(place.name),
        f"`{place}` is the place of the whole site; a copy of one page does not go there",
        mend="choose another folder with `-o`, or leave it out",
        found=str(place),
    )


def _rendered(journal_files: JournalFiles, wanted: _Wanted, store: Store) -> tuple[Rendered, bool]:
    """The pages of the copy with findings, and whether the page is not published."""
    run, today = wanted.experiment, wanted.today
    # A copy has no address of its own: it names none, and stands in no feed.
    journal_files = replace(journal_files, journal=replace(journal_files.journal, address=""))
    theme, more = theme_of(journal_files)
    digests = Digests(journal_files.root, wanted.files, store)
    build = Build(Settings(journal_files, theme), digests, store, today)
    build.check()
    checks = build.checks
    found = (*more, *(each for each in checks[run].findings if each.code != "photo-location"))
    if theme is None or not checks[run].sound:
        return Rendered((), found), False
    held_back = not checks[run].public(today)
    links = {name: check.link for name, check in checks.items() if check.link}
    # A title that is held back is told to nobody, but a link to its page may stand in the text.
    public = {name for name, check in checks.items() if check.sound and check.public(today)}
    build.publish([link for name, link in links.items() if name in {*public, run}], links.values())
    build.summarize(only={link.id for link in build.snapshot.site_map.before(run)})
    inputs = Inputs(build.snapshot, run)
    rendered = run_pages(inputs)
    found = (*found, *rendered.findings)
    if any(finding.is_error for finding in found):
        return Rendered((), found), held_back
    pages = (*rendered.pages, *shared_pages(inputs.context(Findings())))
    note = tr("A copy of one page, for review.")
    if held_back:
        note = tr("Not published. A copy of one page, for review.")
    return Rendered(tuple(standalone_pages(pages, run, note)), found), held_back


def _written(pages: tuple[Page, ...], output: Output, wanted: _Wanted) -> WriteResult | tuple[Finding, ...]:
    try:
        staging = output.begin()
        staged = [stage(page, staging) for page in pages]
        if in_the_way := output.in_the_way(staged):
            output.discard()
            return in_the_way
        require_unchanged(wanted.root, wanted.files)
        return output.commit(staged, {})
    except BaseException:  # an interrupt too: nothing that waits stays behind
        output.discard()
        raise
