"""An entry planned: what a file of the journal would be with it, read and judged before anything is written.

In: the journal's folder, an experiment, the day, fields or a line as spoken. Out: `Planned`. Only this run is read, and
the runs that it shares a tub with.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import takewhile
from pathlib import Path

from sitegen.core.findings.finding import Finding, Findings, sorted_findings
from sitegen.core.findings.told import without_values
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Setup
from sitegen.filing.entries.append import CannotAppendError, Change, appending
from sitegen.filing.entries.entry_text import Layout, entry_text, text_value
from sitegen.filing.words.known import Known, Understood
from sitegen.ingest import ExperimentFolder, JournalFiles, read_records, read_shared
from sitegen.ingest.log.entries import day_of_entry
from sitegen.ingest.outside import is_outside
from sitegen.judge import judge, judge_shares
from sitegen.pipeline.filing.experiments import experiments
from sitegen.pipeline.filing.meaning import as_written, meant

_WHEN = re.compile(rb"^[ \t]*(?:-[ \t]+)?(day|date)[ \t]*:", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Planned:
    """A file of the journal with one entry more, not yet written.

    `findings` are those that the entry brings; of a run that cannot be read, all that stand against it.
    """

    run: str
    path: Path
    before: bytes
    after: bytes
    findings: tuple[Finding, ...]
    understood: Understood
    readable: bool = True
    change: Change | None = None

    @property
    def errors(self) -> tuple[Finding, ...]:
        """The findings that keep the entry from being written."""
        return tuple(finding for finding in self.findings if finding.is_error)


def plan_entry(
    root: Path,
    run_id: str,
    when: str,
    text_or_fields: str | Sequence[str] | Sequence[tuple[str, str]],
    today: date,
    *,
    content: bytes | None = None,
) -> Planned:
    """The file with the entry; `when` is `day: 26`, `date: 2025-10-19`, or empty for today.

    `content` is what the file is to hold before, where that is not written yet.

    Raises
    ------
    CannotAppendError
        Where the log is written in a way that nothing can be added to.

    """
    return opened_run(root, run_id, today, content=content).planned(when, text_or_fields)


@dataclass(frozen=True, slots=True)
class OpenRun:
    """A run as it is before an entry is added: its file's content, what it was read as, what stands against it."""

    folder: ExperimentFolder
    content: bytes
    today: date
    journal_files: JournalFiles | None
    run: Run | None
    findings: tuple[Finding, ...]

    @property
    def path(self) -> Path:
        """The file that an entry goes to."""
        return self.folder.path / "experiment.yaml"

    @property
    def known(self) -> Known:
        """What the rules for words are told."""
        if self.journal_files is None or self.run is None:
            return Known()
        return known_of(self.run.setup, self.journal_files)

    def planned(self, when: str, texts: str | Sequence[str] | Sequence[tuple[str, str]]) -> Planned:
        """The file with an entry: of one text, of several, or of keys and values.

        What begins with a key but cannot stand in the file as it is, such as `height: nine inches`, is read as words.
        """
        if isinstance(texts, str):
            texts = [texts]
        spoken = [text for text in texts if isinstance(text, str)]
        if len(spoken) < len(texts):
            pairs = tuple(text for text in texts if not isinstance(text, str))
            return self.with_understood(when, Understood(pairs))
        plan = self.with_understood(when, meant(spoken, self.known))
        if plan.readable and plan.errors and any(as_written(text) for text in spoken):
            in_words = self.with_understood(when, meant(spoken, self.known, as_words=True))
            plan = in_words if len(in_words.errors) < len(plan.errors) else plan
        return plan

    def with_understood(self, when: str, meant: Understood) -> Planned:
        """The file with an entry of what was understood."""
        if self.journal_files is None or self.run is None:
            same = self.content, self.content
            return Planned(self.folder.id, self.path, *same, self.findings, meant, readable=False)
        fields = [*meant.fields, *([("note", text_value(meant.note))] if meant.note else [])]
        day = when or self.today_as_written()
        line = _first_later_entry(self.run, entry_text(day, fields, Layout()))
        change = appending(self.content, day, fields, before=line)
        after = change.made(self.content)
        _, found = _read(self.folder, self.journal_files, after, self.today)
        new = _brought(self.findings, found)
        return Planned(self.folder.id, self.path, self.content, after, new, meant, change=change)

    def today_as_written(self) -> str:
        """Today as the log writes days: by its number where the last entry has one and the start is certain."""
        assert self.run is not None
        start = self.run.setup.start
        if start.date is None:
            raise CannotAppendError("the start is not known, so today has no day", "say the day: `--day 26`")
        day, written = start.day_of(self.today), _WHEN.findall(self.content)
        if day is not None and day.single and not day.about and day.first >= 0 and written[-1:] == [b"day"]:
            return f"day: {day.first}"
        return f"date: {self.today.isoformat()}"


def opened_run(root: Path, run_id: str, today: date, *, content: bytes | None = None) -> OpenRun:
    """A run before an entry is added."""
    journal_files, findings = read_shared(root)
    folder = next(each for each in experiments(root) if each.id == run_id)
    outside = Findings()
    if is_outside(folder.path / "experiment.yaml", root, outside):
        return OpenRun(folder, b"", today, None, None, tuple(outside))
    before = (folder.path / "experiment.yaml").read_bytes() if content is None else content
    if journal_files is None:
        return OpenRun(folder, before, today, None, None, findings)
    run, found = _read(folder, journal_files, before, today)
    if run is None:
        found = (*findings, *found)
    return OpenRun(folder, before, today, journal_files, run, found)


def _read(
    folder: ExperimentFolder, journal_files: JournalFiles, content: bytes, today: date
) -> tuple[Run | None, tuple[Finding, ...]]:
    """A run from the content of its file, and all that is found in it but in its recap."""
    run, found = read_records(folder, journal_files, None, content, headers=False)
    if run is None:
        return None, found
    more = [*judge(run, today), *_shared_findings(run, journal_files)]
    if any(finding.is_error for finding in found):  # warnings about what could not be read would be false
        more = [finding for finding in more if finding.is_error]
    return run, sorted_findings([*found, *more])


def _shared_findings(run: Run, journal_files: JournalFiles) -> tuple[Finding, ...]:
    if not run.setup.shares:
        return ()
    folders = {each.id: each for each in experiments(journal_files.root)}
    named = {share.run for share in run.setup.shares if share.run in folders and share.run != run.id}
    others = {name: read_records(folders[name], journal_files, headers=False)[0] for name in named}
    return judge_shares(run, others, tuple(folders))


def _first_later_entry(run: Run, text: str) -> int | None:
    """The line of the entry that one put at the end belongs before; None where it stands right, or cannot be read.

    Where the log is out of order already, only the entries right above the last are looked at.
    """
    # Only the new entry is read: reading the whole run once more would take as long as all else.
    day = day_of_entry(text, run.setup)
    if day is None:
        return None
    above = sorted(run.rows.entries, key=lambda entry: entry.source)
    later = list(takewhile(lambda entry: entry.day.key[0] > day.last, reversed(above)))
    return later[-1].source.line if later else None


def _brought(before: Sequence[Finding], after: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings that were not there before; the lines and values of those that were may have moved.

    A log without an end has none after its next entry either, though another day is now the last.
    """
    known = Counter((each.code, without_values(each.message)) for each in before)
    new: list[Finding] = []
    for each in after:
        same = (each.code, without_values(each.message))
        if known[same]:
            known[same] -= 1
        else:
            new.append(each)
    return tuple(new)


def known_of(setup: Setup, journal_files: JournalFiles) -> Known:
    """The names that the rules for words are told."""
    products = journal_files.library.products
    return Known(
        plants=setup.plant_ids,
        groups=setup.groups,
        tubs=tuple(tub.id for tub in setup.tubs) if len(setup.tubs) > 1 else (),
        products=tuple((each.id, each.name, each.kind) for each in products),
        crop_kind=setup.crop.kind,
        crop=setup.crop.name,
        language=journal_files.journal.language,
        units=journal_files.journal.units,
    )
