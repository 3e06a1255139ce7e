"""The material of episode notes, from facts that are kept in the store.

In: a journal's folder, the id of a run. Out: `Material`, with the runs of its crop that began before it, and findings.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sitegen.core.facts.across import Outlook, RunArms
from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding, Findings, sorted_findings
from sitegen.core.language.catalogue import using_catalogue
from sitegen.core.language.wording import Wording
from sitegen.core.reference.cautions import fitting_cautions
from sitegen.core.site.addresses import absolute, experiment_page
from sitegen.core.site.site_map import RunLink
from sitegen.ingest import JournalFiles, read_journal
from sitegen.memo import Memo
from sitegen.notes.chapters import chapters_of, chapters_text, chapters_vtt
from sitegen.notes.data import draft_data
from sitegen.notes.draft import Draft
from sitegen.notes.drafts import Wanted, draft_of
from sitegen.notes.markdown import markdown
from sitegen.notes.material import Material
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.engine.snapshot import Settings, theme_of
from sitegen.pipeline.notes.clip_files import lengths_of_clips

if TYPE_CHECKING:
    from sitegen.notes.cards import Card
    from sitegen.notes.check import Checked


@dataclass(frozen=True, slots=True)
class FoundMaterial:
    """The material of one run; None where it, or the journal, has errors."""

    journal_files: JournalFiles | None
    material: Material | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def errors(self) -> tuple[Finding, ...]:
        """The errors among the findings."""
        return tuple(finding for finding in self.findings if finding.is_error)


@dataclass(frozen=True, slots=True)
class Drafted:
    """Notes as text, and as data where that is asked for.

    No text where a template has errors, or there is nothing to follow up.
    """

    text: str | None
    data: dict[str, Any]
    findings: tuple[Finding, ...] = ()


def drafted(
    found: FoundMaterial, wanted: Wanted, *, plain: bool = False, vtt: bool = False, as_data: bool = False
) -> Drafted:
    """Notes of one kind, in the language of the journal; with the journal's own template where it has one.

    What is behind them is given `as_data` alone.
    """
    assert found.material is not None
    assert found.journal_files is not None
    findings, root, material = Findings(), found.journal_files.root, found.material
    with using_catalogue(found.journal_files.catalogue):
        if wanted.kind == "chapters":
            return _chapters(material.facts, lengths_of_clips(root, material.facts.run), vtt=vtt)
        draft = draft_of(material, wanted)
        if draft is None:
            return Drafted(None, {})
        text = _by_template(root, draft, material, findings)
        if text is None:
            text = markdown(draft, material.wording, plain=plain)
        data = draft_data(draft, material.wording) if as_data else {}
    return Drafted(None if len(findings) else text, data, tuple(findings))


def _by_template(root: Path, draft: Draft, material: Material, findings: Findings) -> str | None:
    """The draft laid out by the journal's own template; None where it has none."""
    if not (root / "look" / "notes").is_dir():
        return None
    from sitegen.notes.templates import filled, template_file  # noqa: PLC0415 - most journals have none

    own = template_file(root, draft.kind)
    return None if own is None else filled(own, root, draft, material.facts, material.wording, findings)


def cards_of_experiment(root: Path, run: str, today: date) -> tuple[tuple[Card, ...], tuple[Finding, ...]]:
    """The cards of a run that has no errors, in the colours of the journal's theme."""
    journal_files, findings = read_journal(root)
    assert journal_files is not None
    from sitegen.pipeline.notes.cards import cards_of_run  # noqa: PLC0415 - most notes draw nothing

    theme, more = theme_of(journal_files)
    if theme is None:
        return (), (*findings, *more)
    with Memo() as memo:
        build = Build(Settings(journal_files, theme), Digests(root, inventory(root), memo), memo, today)
        return cards_of_run(Inputs(build.snapshot, run), theme)


def checked(found: FoundMaterial, narration: Path, title: str) -> Checked:
    """A narration held against the log."""
    assert found.material is not None
    from sitegen.notes.check import check_narration  # noqa: PLC0415 - most notes check nothing

    material = found.material
    return check_narration(narration, material.facts, material.wording, material.wording.language, title)


def _chapters(facts: Facts, lengths: Mapping[str, int], *, vtt: bool) -> Drafted:
    """The chapters of the last episode; refused where a video host would refuse them."""
    made = chapters_vtt(facts, lengths=lengths) if vtt else chapters_text(facts, lengths=lengths)
    if made.findings:
        return Drafted(None, {}, made.findings)
    data = {
        "kind": "chapters",
        "chapters": [{"at": each.at, "title": each.title} for each in chapters_of(facts, lengths=lengths)],
    }
    return Drafted(made.text, data)


def material_of(root: Path, run: str, today: date) -> FoundMaterial:
    """What the notes of a run are drafted from; drafts of the journal count as earlier runs too."""
    journal_files, findings = read_journal(root)
    if journal_files is None:
        return FoundMaterial(None, None, findings)
    if run not in {folder.id for folder in journal_files.folders}:
        return FoundMaterial(journal_files, None, findings)
    with Memo() as memo, using_catalogue(journal_files.catalogue):
        digests = Digests(root, inventory(root), memo)
        build = Build(Settings(journal_files), digests, memo, today)
        build.check()
        digests.keep()
        own = build.checks[run]
        found = tuple(sorted_findings([*findings, *own.findings]))
        if not own.sound or own.link is None:
            return FoundMaterial(journal_files, None, found)
        material = _material(build, own.link, journal_files)
    return FoundMaterial(journal_files, material, found)


def _material(build: Build, link: RunLink, journal_files: JournalFiles) -> Material:
    journal, kept = journal_files.journal, build.facts(link.id)
    facts, arms = kept.facts, kept.arms if link.logged else None
    earlier = tuple(_earlier(build, link))
    return Material(
        facts,
        Wording(journal.units, journal.language),
        arms,
        earlier,
        _outlook(arms, earlier) if arms is not None and facts.running else None,
        tuple(f"{caution.text} {caution.defers}" for caution in fitting_cautions(facts)),
        absolute(experiment_page(link.id), journal.address),
        tuple(
            chapters_text(facts, lengths=lengths_of_clips(journal_files.root, facts.run)).text.splitlines()
        ),
    )


def _outlook(arms: RunArms, earlier: Sequence[RunArms]) -> Outlook:
    """What is to come in a run that still grows."""
    from sitegen.measure import ACROSS  # noqa: PLC0415 - a run that ended does without

    return ACROSS.outlook(arms, earlier)


def _earlier(build: Build, link: RunLink) -> Iterator[RunArms]:
    """The runs of the crop that were sown before it, oldest first."""
    links = [check.link for check in build.checks.values() if check.sound and check.link]
    before = [
        each for each in links if each.crop == link.crop and each.logged and each.started < link.started
    ]
    for each in sorted(before, key=lambda one: (one.started, one.id)):
        yield build.arms(each.id)
