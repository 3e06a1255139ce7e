"""Names and lists inside sentences."""

from __future__ import annotations

import pytest

from sitegen.core.language.text import name_in_text


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("picked", "“picked”"),
        ("left whole", "“left whole”"),
        ("größer", "“größer”"),
        ("P1", "P1"),
        ("basil-a", "basil-a"),
        ("a", "a"),
        ("row 2", "row 2"),
        ("Quiet Harbour", "Quiet Harbour"),
        ("東", "東"),
    ],
)
def test_a_name_that_could_be_a_word_is_in_quotes(name: str, said: str) -> None:
    """One of lower-case letters alone could be read as a word of the sentence; any other is seen to be a name."""
    assert name_in_text(name) == said
