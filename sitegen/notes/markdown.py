"""A draft as Markdown, to be read from the screen: the places of the log stand in comments behind each sentence.

In: a draft. Out: Markdown. `lines_comment` is what a sentence rests on, in a form that a viewer of the Markdown hides.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.wording import Wording
from sitegen.notes.draft import Draft, Passage, Section
from sitegen.notes.speech.speech import Speech


def markdown(draft: Draft, wording: Wording, *, plain: bool = False) -> str:
    """The whole draft; `plain` to be pasted elsewhere: without headings, comments and emphasis."""
    text = "\n".join(_lines(draft, wording, plain=plain))
    return re.sub(r"\n{3,}", "\n\n", text).strip() + "\n"


def _lines(draft: Draft, wording: Wording, *, plain: bool) -> Iterator[str]:
    said, written = Speech(wording, spoken=draft.spoken), Speech(wording, spoken=False)
    for place, section in enumerate(draft.sections):
        title = written.say(section.title) if section.title.parts else ""
        yield from _section(section, title, _Look(said, written, plain, "#" if place == 0 else "##"))
        yield ""
    if draft.careful:
        yield f"## {tr('To be careful about')}\n"
        yield from (f"- {written.say(each)}{lines_comment(each.sources)}" for each in draft.careful)
        yield ""
    if draft.left_out:
        yield f"## {tr('Left out for time')}\n"
        yield from (f"- {_left_out(section, written)}" for section in draft.left_out)


@dataclass(frozen=True, slots=True)
class _Look:
    """How the sections of a draft are written."""

    said: Speech
    written: Speech
    plain: bool
    level: str

    def passage(self, passage: Passage) -> str:
        """A sentence, with the places that it rests on."""
        return self.said.say(passage) + ("" if self.plain else lines_comment(passage.sources))


def _section(section: Section, title: str, look: _Look) -> Iterator[str]:
    if section.style == "question":
        answer = " ".join(look.passage(each) for each in section.passages)
        yield f"{title}\n{answer}" if look.plain else f"**{title}** {answer}"
        return
    if section.style == "paragraph":
        yield " ".join(look.passage(each) for each in section.passages)
        return
    if title:
        yield title if look.plain else f"{look.level} {title}\n"
    for shown in section.shows:
        yield f"*{tr('Show: {what}', what=_inside(shown, look.written))}*  "
    if section.shows:
        yield ""
    for each in section.passages:
        if section.style == "list":
            yield f"- {look.passage(each)}"
        else:
            yield look.passage(each) + ("" if look.plain else "  ")


def _left_out(section: Section, written: Speech) -> str:
    n = section.score or 0
    return tr_n("{title}: {n} point", "{title}: {n} points", n, title=written.say(section.title))


def _inside(shown: Passage, written: Speech) -> str:
    """Words that go on after a colon: without a capital."""
    return "".join(written.part(part) for part in shown.parts)


def lines_comment(sources: tuple[Source, ...]) -> str:
    """` <!-- experiment.yaml:45, 53 -->`, by file; nothing for a sentence that rests on no line."""
    if not sources:
        return ""
    by_file = groupby(sorted(sources), key=lambda source: source.file)
    said = (
        f"{file.rpartition('/')[2]}:{', '.join(str(line) for line in dict.fromkeys(s.line for s in places))}"
        for file, places in by_file
    )
    return f" <!-- {'; '.join(said)} -->"
