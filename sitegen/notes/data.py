"""A draft as plain data: each sentence with its text, its values by name, and the places that it rests on.

In: a draft. Out: dictionaries of JSON types, `NOTES_FORMAT` versioned.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from sitegen.core.facts.data import value_data
from sitegen.core.language.wording import Wording
from sitegen.notes.draft import Draft, Number, Passage, Section
from sitegen.notes.speech.speech import Speech

NOTES_FORMAT = 1


def draft_data(draft: Draft, wording: Wording) -> dict[str, Any]:
    """The whole draft."""
    said, written = Speech(wording, spoken=draft.spoken), Speech(wording, spoken=False)
    return {
        "format": NOTES_FORMAT,
        "kind": draft.kind,
        "experiment": draft.experiment,
        "title": draft.title,
        "sections": [_section(each, said, written) for each in draft.sections],
        "careful": [_passage(each, written) for each in draft.careful],
        "left_out": [{"title": written.say(each.title), "score": each.score} for each in draft.left_out],
    }


def _section(section: Section, said: Speech, written: Speech) -> dict[str, Any]:
    return {
        "title": written.say(section.title) if section.title.parts else "",
        "score": section.score,
        "shows": [written.say(each) for each in section.shows],
        "sentences": [_passage(each, said) for each in section.passages],
    }


def _value(number: Number) -> Any:
    return float(number.value) if isinstance(number.value, Fraction) else value_data(number.value)


def _passage(passage: Passage, speech: Speech) -> dict[str, Any]:
    return {
        "text": speech.say(passage),
        "lines": [str(source) for source in passage.sources],
        "values": [
            {"name": each.name, "value": _value(each), "said": speech.part(each)} for each in passage.numbers
        ],
    }
