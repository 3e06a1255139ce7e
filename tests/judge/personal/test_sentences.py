"""What is taken for personal in sentences, and what is not."""

from __future__ import annotations

import pytest

from sitegen.judge.personal import KINDS, personal_parts
from tests.judge.personal.sentences import PERSONAL, PLAIN


@pytest.mark.parametrize(("text", "kind", "part"), PERSONAL, ids=[text for text, _, _ in PERSONAL])
def test_personal(text: str, kind: str, part: str) -> None:
    """A part that looks personal is found, by its kind, with its place; nothing else of the sentence is."""
    assert [(detail.name, start, found) for detail, start, found in personal_parts(text)] == [
        (kind, text.index(part), part)
    ]


@pytest.mark.parametrize("text", PLAIN)
def test_plain(text: str) -> None:
    """What growers write about plants is left alone."""
    assert [(detail.name, found) for detail, _, found in personal_parts(text)] == []


def test_tables() -> None:
    """There are enough sentences of both kinds, no two alike, and one at least for each kind."""
    assert len(dict.fromkeys(PLAIN)) == len(PLAIN) >= 60
    assert len({text for text, _, _ in PERSONAL}) == len(PERSONAL) >= 60
    assert {kind for _, kind, _ in PERSONAL} == set(KINDS)
