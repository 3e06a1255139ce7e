"""The author's verdict as a sentence."""

from __future__ import annotations

import pytest

from sitegen.core.records.setup import Answer
from sitegen.render.story.run_sentences import verdict_words


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        (None, ""),
        (Answer("undecided"), "Undecided."),
        (Answer("again", "it fruited."), "Again: it fruited."),
        (Answer("again", "but in a bigger bucket"), "Again, but in a bigger bucket."),
        (Answer("not again", "If not for the light, yes"), "Not again, if not for the light, yes."),
        (Answer("not again", "Button was dull"), "Not again: Button was dull."),
    ],
)
def test_a_verdict_is_a_sentence(answer: Answer | None, words: str) -> None:
    """A reason stands after a colon, one that goes on from the verdict after a comma."""
    assert verdict_words(answer) == words
