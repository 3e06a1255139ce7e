"""A planned run: set up like an earlier one, or with arms dealt at random.

In: the options of `sitegen begin experiment`. Out: a new experiment.yaml that validates, with an empty log; on stderr,
what such runs could show. Nothing is written where the set-up would have an error.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click

from sitegen.app.begin.choosing import unknown_season
from sitegen.app.begin.draft import Draft
from sitegen.app.begin.files import write_new
from sitegen.app.begin.trials.arms import Plan, arms_like, deal
from sitegen.app.begin.trials.like import OldRun, draft_like, read_old
from sitegen.app.begin.trials.outlook import print_outlook
from sitegen.app.begin.yaml_text import text_node
from sitegen.app.console.status import Status
from sitegen.app.options import quoted, report, unknown_run
from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.records.rows import Rows, Run
from sitegen.core.records.setup import Compared, Setup
from sitegen.ingest import JournalFiles, read_journal
from sitegen.ingest.setup.experiment import read_setup
from sitegen.ingest.yaml.nodes import Mapping, check_id
from sitegen.ingest.yaml.parser import parse
from sitegen.ingest.yaml.typed_fields import read_fields
from sitegen.judge import judge


@dataclass(frozen=True, slots=True)
class Wanted:
    """The options; empty or None where one was not given."""

    experiment: str
    season: str
    start: str
    like: str
    crop: str
    system: str
    plants: int
    compare: Compared | None
    arms: tuple[str, ...]
    spots: int | None
    seed: int | None


def begin_trial(root: Path, wanted: Wanted, today: date) -> int:
    """Write the planned run; 1 where the journal or the earlier run cannot be read."""
    journal_files, findings = read_journal(root)
    errors = [finding for finding in findings if finding.is_error]
    if journal_files is None or errors:
        report(errors, root)
        return Status.ERRORS
    old, errors_of_old = _old(journal_files, wanted)
    if errors_of_old:
        report(errors_of_old, root)
        return Status.ERRORS
    season = _season(journal_files, wanted, old)
    _refuse_known(journal_files, wanted.experiment)
    draft = _drafted(wanted, old, today)
    path = root / "seasons" / season / wanted.experiment / "experiment.yaml"
    setup = _checked(draft, path, journal_files, today)
    write_new(path, draft.text())
    print_outlook(setup, journal_files, today)
    click.echo(f"next: sitegen validate {quoted(root)}", err=True)
    return Status.DONE


def _old(journal_files: JournalFiles, wanted: Wanted) -> tuple[OldRun | None, tuple[Finding, ...]]:
    if not wanted.like:
        return None, ()
    known = tuple(folder.id for folder in journal_files.folders)
    if wanted.like not in known:
        raise unknown_run(wanted.like, known)
    return read_old(journal_files.folder(wanted.like), journal_files)


def _season(journal_files: JournalFiles, wanted: Wanted, old: OldRun | None) -> str:
    """The season asked for, else that of the earlier run."""
    season = wanted.season or (old.setup.season if old else "")
    known = [each.id for each in journal_files.seasons]
    if season not in known:
        raise unknown_season(season, known, journal_files.root)
    return season


def _refuse_known(journal_files: JournalFiles, experiment: str) -> None:
    for folder in journal_files.folders:
        if folder.id == experiment:
            place = folder.path / "experiment.yaml"
            raise click.UsageError(f"`{place}` is already there; nothing was written over")


def _drafted(wanted: Wanted, old: OldRun | None, today: date) -> Draft:
    start = wanted.start or today.isoformat()
    if old is not None:
        draft, plants = draft_like(old, wanted.experiment, start, today), len(old.setup.plants)
    else:
        draft, plants = Draft.of(wanted.experiment, start), wanted.plants
        draft.note("question", "question: What is this run to show?")
        draft.values |= {"crop": text_node(wanted.crop), "system": text_node(wanted.system)}
    if wanted.arms or wanted.compare:
        deal(draft, _plan(wanted, old), old, plants)
    return draft


def _plan(wanted: Wanted, old: OldRun | None) -> Plan:
    compare: Compared = wanted.compare or (old.setup.compare if old else None) or "groups"
    arms = wanted.arms or (arms_like(old, compare) if old else ())
    if len(arms) < 2:
        where = f"`{old.id}` has no {compare} to take them from" if old else "nothing else says what they are"
        raise click.UsageError(f"name two arms or more, such as `--arms one,two`: {where}")
    findings = Findings()
    if not all(check_id(text_node(arm), findings) for arm in arms):
        raise _refused(next(iter(findings)))
    return Plan(compare, arms, wanted.spots, _seed() if wanted.seed is None else wanted.seed)


def _refused(finding: Finding) -> click.UsageError:
    return click.UsageError(f"{finding.message}: {finding.mend}; nothing was written")


def _seed() -> int:
    from secrets import randbelow  # noqa: PLC0415 - only where none is given

    return randbelow(1_000_000)


def _checked(draft: Draft, path: Path, journal_files: JournalFiles, today: date) -> Setup:
    """The set-up that the draft is read as; wrong usage where it has an error."""
    findings = Findings(units=journal_files.journal.units)
    node = parse(draft.text(), path.relative_to(journal_files.root).as_posix(), findings)
    assert isinstance(node, Mapping), "a draft is a mapping"
    fields = read_fields(node, "experiment", findings)
    found = read_setup(fields, path.parent.name, path.parent.parent.name, journal_files.library)
    errors = [finding for finding in findings if finding.is_error]
    if found is not None and not errors:
        errors = [finding for finding in judge(Run(found[0], Rows()), today) if finding.is_error]
    if errors or found is None:
        raise _refused(errors[0])
    if not Run(found[0], Rows()).planned:
        raise click.UsageError(
            "a planned run has the date or the month of its `--start`; nothing was written"
        )
    return found[0]
