"""`write --only`: one experiment's page as a folder that stands alone, for a reviewer; drafts too.

In: a journal, an experiment's id, a folder. Out: `Copied`. Findings in other experiments are not reported. The folder
of the whole site is never written to.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from sitegen.core.findings.finding import Finding, Findings, Source, sorted_findings
from sitegen.core.language.catalogue import tr, using_catalogue
from sitegen.core.site.addresses import COMPARE
from sitegen.core.site.page import Page, WriteResult
from sitegen.core.store import Store
from sitegen.ingest import ExperimentFolder, JournalFiles, read_journal
from sitegen.pipeline.build import Build
from sitegen.pipeline.files import Digests, inventory
from sitegen.pipeline.inputs import Inputs
from sitegen.pipeline.publication import output_folder
from sitegen.pipeline.results import Copied
from sitegen.pipeline.snapshot import Settings, theme_of
from sitegen.pipeline.steps import run_pages
from sitegen.render import shared_pages, standalone_pages
from sitegen.write import Output, open_output, stage


@dataclass(frozen=True, slots=True)
class Day:
    """The day of the copy, and results of earlier builds."""

    today: date
    store: Store


def copied(
    root: Path, today: date, experiment: str, output: Path | None, store: Store, waiting: Callable[[], None]
) -> Copied:
    """Write the copy. Where there is no such experiment nothing is, and the ids there are come back."""
    journal_files, findings = read_journal(root)
    if journal_files is None:
        return Copied(findings, root)
    folder = next((each for each in journal_files.folders if each.id == experiment), None)
    if folder is None:
        return Copied((), root, known=tuple(each.id for each in journal_files.folders))
    place = _place(journal_files, experiment, output)
    refused = _refused(journal_files, place)
    if refused is not None:
        return Copied((refused,), place)
    with open_output(place, waiting) as found, using_catalogue(journal_files.catalogue):
        if isinstance(found, Finding):
            return Copied((found,), place)
        return _into(found, journal_files, folder, findings, Day(today, store))


def _into(
    output: Output,
    journal_files: JournalFiles,
    folder: ExperimentFolder,
    findings: Sequence[Finding],
    day: Day,
) -> Copied:
    if COMPARE in output.manifest.files:
        return Copied((_taken(output.folder),), output.folder)
    pages, more, held_back = _made(journal_files, folder, day)
    found = sorted_findings([*findings, *more])
    outcome = None if any(finding.is_error for finding in found) else _written(pages, output)
    return Copied(found, output.folder, outcome, held_back)


def _place(journal_files: JournalFiles, experiment: str, chosen: Path | None) -> Path:
    """`-o`, else beside the folder of the site, named after both."""
    if chosen is not None:
        return chosen.resolve()
    usual = output_folder(journal_files, None)
    return usual.with_name(f"{usual.name}-{experiment}")


def _refused(journal_files: JournalFiles, place: Path) -> Finding | None:
    """A finding where a copy would take the place of the site, or lie in it, or it in the copy."""
    usual = output_folder(journal_files, None)
    return _taken(place) if place.is_relative_to(usual) or usual.is_relative_to(place) else None


def _taken(place: Path) -> Finding:
    return Finding(
        "output-not-ours",
        Source(place.name),
        f"`{place}` is the place of the whole site; a copy of one page does not go there",
        mend="choose another folder with `-o`, or leave it out",
        found=str(place),
    )


def _made(
    journal_files: JournalFiles, folder: ExperimentFolder, day: Day
) -> tuple[tuple[Page, ...], tuple[Finding, ...], bool]:
    """The pages of the copy, findings, and whether the page is not published."""
    # A copy has no address of its own: it names none, and stands in no feed.
    journal_files = replace(journal_files, journal=replace(journal_files.journal, address=""))
    theme, more = theme_of(journal_files)
    digests = Digests(journal_files.root, inventory(journal_files.root), day.store)
    build = Build(Settings(journal_files, theme), digests, day.store, day.today)
    build.check()
    checks = build.checks
    check = checks[folder.id]
    if theme is None or not check.sound:
        return (), (*more, *check.findings), False
    held_back = not check.public(day.today)
    # A title that is held back is told to nobody, but a link to its page may stand in the text.
    shown = [
        c.link
        for run, c in checks.items()
        if c.link and (run == folder.id or (c.sound and c.public(day.today)))
    ]
    build.publish(shown, [c.link for c in checks.values() if c.link])
    inputs = Inputs(build.snapshot, folder.id)
    rendered = run_pages(inputs)
    found = (*check.findings, *rendered.findings)
    if any(finding.is_error for finding in found):
        return (), found, held_back
    pages = (*rendered.pages, *shared_pages(inputs.context(Findings())))
    return standalone_pages(pages, folder.id, _ribbon(held_back=held_back)), found, held_back


def _ribbon(*, held_back: bool) -> str:
    if held_back:
        return tr("Not published. A copy of one page, for review.")
    return tr("A copy of one page, for review.")


def _written(pages: tuple[Page, ...], output: Output) -> WriteResult:
    try:
        output.begin()
        return output.commit([stage(page, output.folder) for page in pages], {})
    except BaseException:
        output.discard()
        raise
