"""Material of notes for tests: of runs of the demo, and of journals that a test writes.

In: the id of a run, or a folder. Out: `Material`.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from sitegen.core.facts.figure import figures
from sitegen.core.values.quantity import Quantity
from sitegen.notes.data import draft_data
from sitegen.notes.draft import Draft, Number, Passage
from sitegen.notes.drafts import KINDS, Wanted, draft_of
from sitegen.notes.material import Material
from sitegen.notes.speech.speech import Speech
from sitegen.pipeline.notes.material import material_of
from tests.conftest import DEMO, TODAY

LOGGED = (
    "basil-on-a-wick",
    "bean-signal-box",
    "cinder-beside-pebble",
    "cinder-button-flood",
    "coriander-shorter-days",
    "emberfrill-hot-loft",
    "emberfrill-in-jars",
    "harbour-cut-or-whole",
    "oak-beside-harbour",
    "oak-in-jars",
    "pebble-lantern-first",
    "pebble-two-lamps",
    "pepper-on-a-wick",
    "radish-edge-of-tray",
)


@cache
def of_demo(run: str) -> Material:
    """The material of a run of the demo."""
    return in_journal(DEMO, run)


def in_journal(root: Path, run: str) -> Material:
    """The material of a run that has no errors."""
    found = material_of(root, run, TODAY)
    assert found.material is not None, found.findings
    return found.material


def drafts_of(material: Material) -> list[Draft]:
    """The drafts of every kind that there is something for."""
    return [draft for kind in KINDS if (draft := draft_of(material, Wanted(kind))) is not None]


def passages_of(draft: Draft) -> list[Passage]:
    """All sentences of a draft."""
    return [passage for section in draft.sections for passage in section.passages]


def sentences_of(draft: Draft, material: Material) -> list[str]:
    """The same as text."""
    speech = Speech(material.wording, spoken=draft.spoken)
    return [speech.say(passage) for passage in passages_of(draft)]


def misnamed(draft: Draft, material: Material) -> list[Number]:
    """The numbers that stand under the name of a figure and have another value."""
    known = {figure.name: figure.value for figure in figures(material.facts)}
    every = [number for passage in passages_of(draft) for number in passage.numbers]
    return [each for each in every if each.name in known and not _same(each.value, known[each.name])]


def _same(value: object, figure: object) -> bool:
    if isinstance(value, int) and isinstance(figure, Quantity):
        return figure.single and figure.low == value
    return value == figure


def script_of(material: Material) -> list[str]:
    """The sentences of the script."""
    draft = draft_of(material, Wanted("script"))
    assert draft is not None
    return sentences_of(draft, material)


__all__ = [
    "LOGGED",
    "draft_data",
    "drafts_of",
    "in_journal",
    "misnamed",
    "of_demo",
    "passages_of",
    "script_of",
    "sentences_of",
]
