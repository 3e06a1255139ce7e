"""What is taken for personal in sentences, and what is not."""

from __future__ import annotations

from collections.abc import Callable

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


# Told by a capital letter: of a name, of a place, of a point of the compass.
IN_CAPITALS = {"the name of a person", "words about a home", "words about work or school", "coordinates"}
BLIND = [
    (text, kind, part)
    for text, kind, part in PERSONAL
    if kind not in IN_CAPITALS and "ß" not in text
    if any(detail.form == "capitals" for detail, _, _ in personal_parts(text))
]


@pytest.mark.parametrize("change", [str.upper, str.lower], ids=["capitals", "small letters"])
@pytest.mark.parametrize(("text", "kind", "part"), BLIND, ids=[text for text, _, _ in BLIND])
def test_either_case(text: str, kind: str, part: str, change: Callable[[str], str]) -> None:
    """What is looked for in either case of letters is found in both."""
    found = [(detail.name, part) for detail, _, part in personal_parts(change(text))]

    assert (kind, change(part)) in found


def test_tables() -> None:
    """There are enough sentences of both kinds, no two alike, and one at least for each kind."""
    assert len(dict.fromkeys(PLAIN)) == len(PLAIN) >= 60
    assert len({text for text, _, _ in PERSONAL}) == len(PERSONAL) >= 60
    assert {kind for _, kind, _ in PERSONAL} == set(KINDS)
