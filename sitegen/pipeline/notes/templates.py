"""The journal's own templates of notes, filled with drafts about one run to find what is wrong in them.

In: the journal's folder, the facts of a run. Out: findings. Earlier runs and the outlook are left out: they add sentences
to a draft, and no names.
"""

from __future__ import annotations

from pathlib import Path

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.language.wording import Wording
from sitegen.notes.chapters import chapters_text
from sitegen.notes.drafts import KINDS, Wanted, draft_of
from sitegen.notes.material import Material
from sitegen.notes.templates import filled, template_file
from sitegen.pipeline.engine.steps import KeptFacts
from sitegen.pipeline.notes.clip_files import lengths_of_clips


def filled_templates(root: Path, kept: KeptFacts, wording: Wording) -> tuple[Finding, ...]:
    """What is wrong in the templates of the kinds that the run has notes of."""
    facts, findings = kept.facts, Findings()
    chapters = chapters_text(facts, lengths=lengths_of_clips(root, facts.run)).text.splitlines()
    material = Material(facts, wording, kept.arms if facts.run.logged else None, chapters=tuple(chapters))
    for kind in KINDS:
        path = template_file(root, kind)
        draft = None if path is None else draft_of(material, Wanted(kind))
        if path is not None and draft is not None:
            filled(path, root, draft, facts, wording, findings)
    return tuple(findings)
