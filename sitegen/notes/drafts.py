"""The kinds of notes by name.

In: the material of a run, what was asked for. Out: `Draft`s; None where a kind has nothing to go by, with the reason.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.notes.draft import Draft
from sitegen.notes.kinds.answers import answers
from sitegen.notes.kinds.description import description
from sitegen.notes.kinds.follow_up import follow_up
from sitegen.notes.kinds.gaps import gaps
from sitegen.notes.kinds.post import LENGTH, post
from sitegen.notes.kinds.script import RATE, script
from sitegen.notes.kinds.shots import shots
from sitegen.notes.material import Material

KINDS = ("script", "description", "post", "follow-up", "answers", "gaps", "shots")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked of a draft: the minutes that a script may take, the words a minute, the characters of a post."""

    kind: str = "script"
    minutes: float | None = None
    rate: int = RATE
    length: int = LENGTH


def draft_of(material: Material, wanted: Wanted) -> Draft | None:
    """A draft of a kind; None where there is nothing to follow up."""
    if wanted.kind == "script":
        return script(material, wanted.minutes, wanted.rate)
    if wanted.kind == "post":
        return post(material, wanted.length)
    make = {
        "description": description,
        "follow-up": follow_up,
        "answers": answers,
        "gaps": gaps,
        "shots": shots,
    }[wanted.kind]
    return make(material)
