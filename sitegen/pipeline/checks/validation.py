"""`validate`: every finding of a journal; only what has changed is read.

In: a journal. Out: `Checked`.
"""

from __future__ import annotations

from sitegen.core.findings.finding import sorted_findings
from sitegen.ingest import read_journal
from sitegen.pipeline.checks.whole_check import check_all, template_findings
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.snapshot import Settings, theme_where_needed
from sitegen.pipeline.engine.unchanged import Command, remember_check
from sitegen.pipeline.results import Checked


def checked(command: Command) -> Checked:
    """Check a journal that has changed."""
    journal_files, findings = read_journal(command.root)
    if journal_files is None:
        return Checked(sorted_findings(findings))
    theme, more = theme_where_needed(journal_files)
    digests = Digests(command.root, command.files, command.store)
    build = Build(Settings(journal_files, theme), digests, command.store, command.today)
    check_all(build)
    found = [*findings, *more, *build.findings, *(template_findings(build) if theme is not None else ())]
    digests.keep()
    result = Checked(
        sorted_findings(found),
        len(build.checks),
        sum(check.entries for check in build.checks.values()),
    )
    if inventory(command.root).digest == command.files.digest:
        remember_check(command, result, build.validity)
    return result
