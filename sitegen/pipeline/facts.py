"""Facts for the command line: of a journal's experiments, or of a Data Package.

In: a folder or a file. Out: facts, and findings.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sitegen.core.facts.across import RunArms
from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.records.setup import Journal
from sitegen.ingest import JournalFiles, read_journal
from sitegen.ingest.data_package.run import read_package
from sitegen.ingest.library import Library
from sitegen.measure import measure
from sitegen.memo import Memo
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.engine.snapshot import Settings, theme_of


def facts_of(
    root: Path, wanted: Collection[str], today: date
) -> tuple[JournalFiles | None, tuple[Facts, ...], tuple[Finding, ...]]:
    """The facts of the experiments named (none: of all) that are sound, drafts included."""
    journal_files, findings = read_journal(root)
    if journal_files is None:
        return None, (), findings
    with Memo() as memo:
        build = Build(Settings(journal_files), Digests(root, inventory(root), memo), memo, today)
        build.check(only=wanted)
        sound = [run for run, check in build.checks.items() if check.sound]
        found = tuple(steps.facts(Inputs(build.snapshot, run)) for run in sound)
    return journal_files, found, sorted_findings([*findings, *build.findings])


@dataclass(frozen=True, slots=True)
class FoundArms:
    """Runs as comparisons take them, with the names of the journal's crops, varieties and systems."""

    journal_files: JournalFiles | None
    arms: tuple[RunArms, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def crops(self) -> list[str]:
        """The ids of all crops."""
        return [crop.id for crop in self.journal_files.library.crops] if self.journal_files else []

    @property
    def names(self) -> dict[str, str]:
        """The names of the varieties of their crops, and of systems, by id."""
        library = self.journal_files.library if self.journal_files else Library()
        grown = {run.crop for run in self.arms}
        varieties = {
            each.id: each.name for crop in library.crops if crop.id in grown for each in crop.varieties
        }
        return varieties | {each.id: each.name for each in library.systems}


def arms_of_runs(root: Path, wanted: Collection[str], crop: str, today: date) -> FoundArms:
    """The runs named (none: all) of a crop (none: of any) that are sound, drafts included, from their kept summaries."""
    journal_files, findings = read_journal(root)
    if journal_files is None:
        return FoundArms(None, (), findings)
    with Memo() as memo:
        theme, _ = theme_of(journal_files)
        build = Build(Settings(journal_files, theme), Digests(root, inventory(root), memo), memo, today)
        build.check(only=wanted)
        links = [check.link for check in build.checks.values() if check.sound and check.link]
        build.publish(links)
        build.summarize(only=[link.id for link in links if not crop or link.crop == crop])
        arms = tuple(build.snapshot.arms())
    return FoundArms(journal_files, arms, sorted_findings([*findings, *build.findings]))


def facts_of_package(path: Path) -> tuple[Journal | None, Facts | None, tuple[Finding, ...]]:
    """The facts of a run that was written as a Data Package, and the journal whose words they are said in."""
    found, findings = read_package(path)
    if found is None:
        return None, None, findings
    run, journal = found
    return journal, measure(run, journal.prices), findings
