"""The kinds of notes by name.

In: the material of a run, what was asked for. Out: `Draft`s; None where a kind has nothing to go by, with the reason.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from sitegen.notes.draft import Draft
from sitegen.notes.kinds.answers import answers
from sitegen.notes.kinds.description import description
from sitegen.notes.kinds.follow_up import follow_up
from sitegen.notes.kinds.gaps import gaps
from sitegen.notes.kinds.post import LENGTH, post
from sitegen.notes.kinds.script import RATE, script
from sitegen.notes.kinds.shots import shots
from sitegen.notes.material import Material
from sitegen.notes.scoring import forbidden

_FOR_THE_AUTHOR = ("gaps", "shots")  # nobody else reads them


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked of a draft: the minutes that a script may take, the words a minute, the characters of a post."""

    kind: str = "script"
    minutes: float | None = None
    rate: int = RATE
    length: int = LENGTH


def draft_of(material: Material, wanted: Wanted) -> Draft | None:
    """A draft of a kind; None where there is nothing to follow up."""
    draft = _made(material, wanted)
    return draft if draft is None or wanted.kind in _FOR_THE_AUTHOR else _told(draft, material)


def _told(draft: Draft, material: Material) -> Draft:
    """A draft without the sentences that only entries hold which are not to be told."""
    sections = (
        replace(section, passages=tuple(p for p in section.passages if not forbidden(p.sources, material)))
        for section in draft.sections
    )
    return replace(draft, sections=tuple(each for each in sections if each.passages))


def _made(material: Material, wanted: Wanted) -> Draft | None:
    return _MAKERS[wanted.kind](material, wanted)


_MAKERS: Mapping[str, Callable[[Material, Wanted], Draft | None]] = {
    "script": lambda material, wanted: script(material, wanted.minutes, wanted.rate),
    "description": lambda material, _: description(material),
    "post": lambda material, wanted: post(material, wanted.length),
    "follow-up": lambda material, _: follow_up(material),
    "answers": lambda material, _: answers(material),
    "gaps": lambda material, _: gaps(material),
    "shots": lambda material, _: shots(material),
}
KINDS = tuple(_MAKERS)
