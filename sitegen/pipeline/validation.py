"""`validate`: every finding of a journal; only runs that have changed are read.

In: a journal. Out: `Checked`.
"""

from __future__ import annotations

from sitegen.core.findings.finding import sorted_findings
from sitegen.ingest import read_journal
from sitegen.pipeline.build import Build
from sitegen.pipeline.files import Digests, inventory
from sitegen.pipeline.results import Checked
from sitegen.pipeline.snapshot import Settings
from sitegen.pipeline.unchanged import Command, remember_check


def checked(command: Command) -> Checked:
    """Check a journal that has changed."""
    journal_files, findings = read_journal(command.root)
    if journal_files is None:
        return Checked(sorted_findings(findings))
    digests = Digests(command.root, command.files, command.store)
    build = Build(Settings(journal_files), digests, command.store, command.today)
    build.check()
    digests.keep()
    found = sorted_findings([*findings, *build.findings])
    result = Checked(found, len(build.checks), sum(check.entries for check in build.checks.values()))
    if inventory(command.root).digest == command.files.digest:
        remember_check(command, result, build.validity)
    return result
