"""`validate --privacy`: what looks personal in the texts of a journal and in its photos, published or held back.

In: the journal's folder. Out: `Personal`: findings, and how many texts were looked through. Nothing is stored: it is
asked for once in a while.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.records.published_text import PublishedText
from sitegen.ingest import read_journal
from sitegen.ingest.published_texts import published_texts
from sitegen.judge.personal import personal_findings
from sitegen.memo import Memo
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.engine.snapshot import Settings


@dataclass(frozen=True, slots=True)
class Personal:
    """What looks personal; without a journal that can be read, the errors that keep it from being looked at."""

    findings: tuple[Finding, ...]
    texts: int = 0


def personal(root: Path, today: date) -> Personal:
    """All that looks personal in a journal."""
    journal_files, findings = read_journal(root)
    if journal_files is None:
        return Personal(sorted_findings(findings))
    with Memo() as memo:
        build = Build(Settings(journal_files), Digests(root, inventory(root), memo), memo, today)
        build.check()
        texts = (*published_texts(journal_files, today), *_beside_dates(build, today))
        found = sorted_findings([*build.located, *personal_findings(texts)])
    return Personal(found, len(texts))


def _beside_dates(build: Build, today: date) -> Iterator[PublishedText]:
    """Words that stand beside dates in spreadsheets, which are published with the readings of their row."""
    for name, check in build.checks.items():
        run, _ = Inputs(build.snapshot, name).part(Inputs.records)
        readings = run.rows.readings if run is not None else ()
        noted = {(each.source.file, each.source.line): each for each in readings if each.note}
        for each in noted.values():
            files = (f"data/{name}/readings.csv",)
            yield PublishedText(each.note, each.source, files, held_back=not check.public(today))
