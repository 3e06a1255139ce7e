"""What reading and judging say of one experiment, kept with the days on which it holds.

In: an experiment's folder. Out: `Verdict`, and the run where it had to be read. Nothing here is published or held back.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sitegen.core.findings.finding import Finding
from sitegen.core.language.catalogue import ENGLISH, using_catalogue
from sitegen.core.records.codec import Codec, codec_for
from sitegen.core.records.rows import Run
from sitegen.core.store import Store, StoredResult
from sitegen.core.values.date_range import DateRange
from sitegen.ingest import ExperimentFolder, JournalFiles, read_experiment
from sitegen.judge import judge
from sitegen.judge.validity import holds
from sitegen.pipeline.chart_blocks import chart_blocks


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was found in an experiment, and on which days that holds; `entries` counts its log."""

    findings: tuple[Finding, ...]
    readable: bool
    held: DateRange
    entries: int = 0
    draft: bool = False
    publish: date | None = None

    @property
    def sound(self) -> bool:
        """Whether it can be published."""
        return self.readable and not any(finding.is_error for finding in self.findings)

    def public(self, today: date) -> bool:
        """Whether it is published by a day: drafts are not, and `publish` holds back until its date."""
        return not self.draft and (self.publish is None or self.publish <= today)


VERDICT: Codec[Verdict] = codec_for(Verdict)


def read_and_judged(
    folder: ExperimentFolder, journal_files: JournalFiles, today: date, store: Store | None
) -> tuple[Run | None, Verdict]:
    """One experiment as read, and the verdict about it."""
    with using_catalogue(ENGLISH):  # findings are, whatever the pages speak
        run, findings = read_experiment(folder, journal_files, store)
        more = judge(run, today) if run is not None else ()
    if any(finding.is_error for finding in findings):
        # What could not be read is missing from the run: doubts about what is missing would be false.
        more = tuple(finding for finding in more if finding.is_error)
    found = (*findings, *more)
    if run is None:
        return None, Verdict(found, readable=False, held=DateRange())
    found = (*found, *chart_blocks(run, sound=not any(finding.is_error for finding in found)))
    setup = run.setup
    entries = len(run.rows.entries)
    return run, Verdict(found, True, holds(run, today), entries, setup.draft, setup.publish)


def verdict_data(verdict: Verdict) -> dict[str, object]:
    """A verdict as the store keeps it."""
    return {"verdict": VERDICT.encode(verdict)}


def kept_verdict(kept: StoredResult | None, today: date) -> Verdict | None:
    """The verdict of an entry, if there is one and it holds on a day."""
    if kept is None:
        return None
    try:
        verdict = VERDICT.decode(kept.value["verdict"])
    except (KeyError, ValueError):
        return None
    return verdict if verdict.held.contains(today) else None
