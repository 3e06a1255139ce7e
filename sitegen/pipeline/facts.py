"""Facts for the command line: of a journal's experiments, or of a Data Package.

In: a folder or a file. Out: facts, and findings.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date
from pathlib import Path

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.records.setup import Journal
from sitegen.ingest import JournalFiles, read_journal
from sitegen.ingest.data_package.run import read_package
from sitegen.measure import measure
from sitegen.memo import Memo
from sitegen.pipeline import steps
from sitegen.pipeline.build import Build
from sitegen.pipeline.files import Digests, inventory
from sitegen.pipeline.inputs import Inputs
from sitegen.pipeline.snapshot import Settings


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


def facts_of_package(path: Path) -> tuple[Journal | None, Facts | None, tuple[Finding, ...]]:
    """The facts of a run that was written as a Data Package, and the journal whose words they are said in."""
    found, findings = read_package(path)
    if found is None:
        return None, None, findings
    run, journal = found
    return journal, measure(run, journal.prices), findings
