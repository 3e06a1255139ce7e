"""The kinds of notes by name.

In: the material of a run, what was asked for. Out: `Draft`s; None where a kind has nothing to go by, with the reason.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from sitegen.notes.draft import Draft
from sitegen.notes.kinds.script import RATE, script
from sitegen.notes.material import Material
from sitegen.notes.scoring import forbidden

KINDS = ("script", "description", "post", "follow-up", "answers", "gaps", "shots")
LENGTH = 280  # characters of a post; common practice, no source
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
    if wanted.kind == "script":
        return script(material, wanted.minutes, wanted.rate)
    return _of_other_kind(material, wanted)


def _of_other_kind(material: Material, wanted: Wanted) -> Draft | None:
    """A draft of a kind that is no script."""
    # Apart, so that drafting a script, which is asked for most, imports no other kind.
    from sitegen.notes.kinds.answers import answers  # noqa: PLC0415 - see above
    from sitegen.notes.kinds.description import description  # noqa: PLC0415 - see above
    from sitegen.notes.kinds.follow_up import follow_up  # noqa: PLC0415 - see above
    from sitegen.notes.kinds.gaps import gaps  # noqa: PLC0415 - see above
    from sitegen.notes.kinds.post import post  # noqa: PLC0415 - see above
    from sitegen.notes.kinds.shots import shots  # noqa: PLC0415 - see above

    if wanted.kind == "post":
        return post(material, wanted.length)
    makers: Mapping[str, Callable[[Material], Draft | None]] = {
        "description": description,
        "follow-up": follow_up,
        "answers": answers,
        "gaps": gaps,
        "shots": shots,
    }
    return makers[wanted.kind](material)
