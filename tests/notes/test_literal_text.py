"""The rules that hold for every sentence: no number in its own text, and something in the journal that it rests on."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from sitegen.core.facts.figure import figures
from sitegen.core.values.quantity import Quantity
from sitegen.notes.draft import AuthorWords, Draft, Number, Passage
from sitegen.notes.material import Material
from sitegen.words.extraction import Message, all_messages
from tests.notes.materials import LOGGED, drafts_of, of_demo, passages_of

# Where numbers are put into words, and what holds a narration against the log: there number words are the matter itself.
_NUMBER_MAKERS = ("sitegen/notes/speech/", "sitegen/notes/check/", "sitegen/notes/cards/")
_NUMBER_WORDS = re.compile(
    r"\d|\b(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|\w+ty-\w+|twenty|thirty|forty|fifty|"
    r"hundred|thousand|dozen|per cent)\b",
    re.IGNORECASE,
)
# Names of what is counted from, which every number of theirs leads to.
_ORIGINS = (
    "log.",
    "setup.",
    "sets.",
    "plants.",
    "across.",
    "outlook.",
    "shots.",
    "timeline.",
    "air.",
    "harvest.unweighed",
)


def _messages() -> Iterator[Message]:
    for message in all_messages():
        if message.place.startswith("sitegen/notes/") and not message.place.startswith(_NUMBER_MAKERS):
            yield message


def test_the_text_of_a_sentence_holds_no_number() -> None:
    """Neither a digit nor a number word stands in a message of the notes: each number leads to a figure or to the log."""
    found = list(_messages())
    assert len(found) > 200
    pairs = {(each.one, each.many) for each in found}
    assert [text for pair in pairs for text in pair if _NUMBER_WORDS.search(text)] == []


@pytest.mark.parametrize("word", ["one", "Two", "fourteen", "forty-two", "3 of them", "a hundred"])
def test_a_number_in_a_text_is_seen(word: str) -> None:
    """The search for numbers finds each form of them."""
    assert _NUMBER_WORDS.search(f"there were {word} plants")


def _drafts() -> Iterator[tuple[Material, Draft]]:
    for run in LOGGED:
        material = of_demo(run)
        for draft in drafts_of(material):
            yield material, draft


def test_each_sentence_rests_on_the_journal_or_claims_nothing() -> None:
    """A sentence without lines is a question, an instruction, the words of a caution, or says no number."""
    bare = [passage for _, draft in _drafts() for passage in passages_of(draft) if not passage.sources]
    assert bare
    assert [passage for passage in bare if passage.numbers and not _about_pictures(passage)] == []
    spoken = {
        passage.literal
        for _, draft in _drafts()
        if draft.spoken
        for passage in passages_of(draft)
        if not passage.sources
    }
    assert spoken == {
        "Then the comparison changed.",
        "Was it the lamp, the tub, or luck?",
        "Was it the variety, or luck?",
        "Was it what I compared, or luck?",
        "What had come before the taste fell?",
        "What would I change?",
        "Which of these was it?",
    }


def _about_pictures(passage: Passage) -> bool:
    """Whether its number is the day of a photo, which a file has without a line of the log, or of something to come."""
    return all(
        number.name in ("log.day", "timeline.phases", "outlook.runs") or number.name.startswith("outlook.")
        for number in passage.numbers
    )


def test_a_number_named_by_a_figure_is_that_figure() -> None:
    """What stands under the name of a figure is its value, not a number worked out beside it."""
    compared = 0
    for material, draft in _drafts():
        known = {figure.name: figure.value for figure in figures(material.facts)}
        for passage in passages_of(draft):
            for number in passage.numbers:
                if number.name in known:
                    compared += 1
                    assert _same(number, known[number.name]), (draft.kind, passage.literal, number)
                else:
                    assert number.name.startswith(_ORIGINS), number.name
    assert compared > 300


def _same(number: Number, value: object) -> bool:
    if isinstance(number.value, int):
        return isinstance(value, Quantity) and value.single and value.low == number.value
    return number.value == value


def test_spoken_sentences_are_short_and_without_signs() -> None:
    """Our own spoken sentences have at most 26 words, no brackets, no abbreviations and no digits."""
    from sitegen.notes.speech.speech import Speech

    longest = 0
    for material, draft in _drafts():
        if not draft.spoken:
            continue
        speech = Speech(material.wording, spoken=True)
        for passage in passages_of(draft):
            if any(isinstance(part, AuthorWords) for part in passage.parts):
                continue
            said = speech.say(passage)
            assert not re.search(r"[\d()\[\]{}%°]|\b(?:e\.g|i\.e|etc|ca)\b", said), said
            longest = max(longest, len(said.split()))
    assert longest <= 26
