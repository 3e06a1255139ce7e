"""What the search knows of one run: its names, its answer, the author's words by the day on which they were written.

In: the summary of a run, its records with the recap. Out: `SearchedRun`, plain JSON values: the index is made of those of
all runs, and none of their summaries is decoded for it. What the search can show as it was written (notes, trouble,
what was cut) is kept whole; of longer texts each word is kept once, and none that the run is found by already.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TypedDict

from sitegen.core.format.entry import key_of
from sitegen.core.format.fields import Form
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Deed, Run
from sitegen.core.records.setup import Crop
from sitegen.core.site.addresses import day_anchor
from sitegen.core.site.blocks import plain_words
from sitegen.render.pages.summary import RunSummary

# What an author writes about a day, by the forms that hold words. Footage, a form of its own, is on no page.
_IN_WORDS = (Form.TEXT, Form.DEED, Form.TREATMENT, Form.SCORE, Form.LOST, Form.END)
_TOLD = frozenset(deed for deed in Deed if key_of(deed).form in _IN_WORDS)
_WORD = re.compile(r"[^\W_]+(?:['’-][^\W_]+)*")
_FIGURE = re.compile(r"\{\{(?:(?!\{\{).)*?\}\}")
SHORTEST = 2  # letters of a word that is worth a search


class SearchedRun(TypedDict):
    """One run. `crop`, `varieties`, `systems`: id, name, and a further name, kind or note.

    `days`: the anchor of a day, its words, what was written; `story`: words of the recap.
    """

    title: str
    address: str
    since: str
    season: str
    crop: tuple[str, str, str]
    varieties: list[tuple[str, str, str]]
    systems: list[tuple[str, str, str]]
    sentence: str
    more: str
    days: list[tuple[str, str, str]]
    story: str


def searched_run(summary: RunSummary, run: Run, wording: Wording) -> SearchedRun:
    """What the search knows of a run, whose recap is with it."""
    setup = summary.setup
    sentence = " ".join(filter(None, (summary.answer.plain(wording), summary.lesson)))
    if summary.stage == "planned":
        sentence = summary.in_words(wording)
    change = setup.answer.change if setup.answer else ""
    shown = (summary.title, setup.crop.name, sentence)
    more = (
        summary.variety,
        summary.system,
        setup.question,
        setup.crop.latin or "",
        summary.state(wording),
        change,
    )
    days = _days(run, wording)
    known = (*shown, *more, *(text for _, _, text in days))
    return SearchedRun(
        title=summary.title,
        address=summary.address,
        since=summary.started.isoformat(),
        season=setup.season,
        crop=(setup.crop.id, setup.crop.name, setup.crop.latin or ""),
        varieties=_varieties(setup.crop, setup.variety_ids),
        systems=[(tub.system.id, tub.system.name, tub.system.kind or "") for tub in setup.tubs],
        sentence=sentence,
        more=further_words(" ".join(more), *shown),
        days=days,
        story=further_words(_FIGURE.sub(" ", plain_words(run.recap)), *known),
    )


def further_words(text: str, *known: str) -> str:
    """The words of a text, each once, without those of other texts."""
    seen = {word.casefold() for each in known for word in _WORD.findall(each)}
    found: dict[str, str] = {}
    for word in _WORD.findall(text):
        if len(word) >= SHORTEST and word.casefold() not in seen:
            found.setdefault(word.casefold(), word)
    return " ".join(found.values())


def _days(run: Run, wording: Wording) -> list[tuple[str, str, str]]:
    """What was written about each day, in the order of the log; the same words once."""
    found: dict[tuple[str, str], tuple[str, str, str]] = {}
    for event in run.rows.events:
        text = " ".join(event.what.split()) if event.deed in _TOLD else ""
        if text:
            anchor = day_anchor(event.day)
            found.setdefault((anchor, text), (anchor, wording.say(event.day), text))
    return list(found.values())


def _varieties(crop: Crop, grown: Iterable[str]) -> list[tuple[str, str, str]]:
    names = set(grown)
    return [(each.id, each.name, each.note) for each in crop.varieties if each.id in names]
