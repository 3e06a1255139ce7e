"""Brackets, quotes and commas of a line: the sign that is missing, or one too many."""

from __future__ import annotations

import pytest

from tests.ingest.builders import tree


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        (
            "lost: {P1: wilted}}\nnote: x\n",
            "1:19: yaml-syntax: `}` closes nothing here (remove `}`)",
        ),
        (
            "light: {hours: 9 h on: 06:00}\n",
            "1:19: yaml-syntax: there is no comma before `on` (write `9 h, on:`)",
        ),
        (
            "harvest: {P1: {weight: 3 g} P2: 3 g}\n",
            "1:28: yaml-syntax: there is no comma before `P2` (write `}, P2:`)",
        ),
        (
            'photo: [{alt: "Roots, washed.}]\nnote: "x"\n',
            '1:15: yaml-syntax: the quotes that open here are not closed (write `"Roots, washed."}]`)',
        ),
        (
            "milestone: {ripe: [P1, P2}\n",
            "1:19: yaml-syntax: the bracket that opens here is not closed (write `[P1, P2]}`)",
        ),
        (
            "milestone: {ripe: P1, P2]}\n",
            "1:12: yaml-syntax: the bracket that opens here is not closed (write `{ripe: [P1, P2]}`)",
        ),
        (
            "harvest: {P1: [20 g, note: first}\n",
            (
                "1:15: yaml-syntax: the bracket that opens here is not closed "
                "(write `]` in place of `}`, or before it)"
            ),
        ),
    ],
)
def test_sign(text: str, finding: str) -> None:
    """One sign that makes a line sound is written where it belongs; where it could stand twice, it is advice."""
    assert tree(text)[1] == [finding]


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        (
            "light: lamp: desk, hours: 14 h\n",
            "1:12: yaml-twist: in `light`, `: ` begins a mapping (write `light: {lamp: desk, hours: 14 h}`)",
        ),
        (
            "prune: what: tips, plants: P2}\n",
            "1:12: yaml-twist: in `prune`, `: ` begins a mapping (write `prune: {what: tips, plants: P2}`)",
        ),
        (
            "feed: (leaf: 3 ml)\n",
            "1:12: yaml-twist: in `feed`, `: ` begins a mapping (write `feed: {leaf: 3 ml}`)",
        ),
        (
            "trouble: mould: white, plants: P1\n",
            (
                "1:15: yaml-twist: in `trouble`, `: ` begins a mapping (write "
                "`trouble: 'mould: white, plants: P1'` for one text, or braces around it for `plants` as a key)"
            ),
        ),
        (
            "lost: [P1: dry, P2: wet]\n",
            (
                "1:7: yaml-twist: `lost` wants keys and values in braces, and has them in square brackets "
                "(write `{` and `}` in place of `[` and `]`)"
            ),
        ),
        (
            'note: Seen: white roots."\n',
            '1:11: yaml-twist: in `note`, `: ` begins a mapping (write `note: "Seen: white roots."`)',
        ),
        (
            'note: It measured: 14"\n',
            "1:18: yaml-twist: in `note`, `: ` begins a mapping (write `note: 'It measured: 14\"'`)",
        ),
        (
            "trouble: {what: mould plants: P1}\n",
            (
                "1:29: yaml-twist: in `what`, `: ` begins a mapping "
                "(write `what: 'mould plants: P1'`, or a comma before `plants:`)"
            ),
        ),
        (
            "lost: {P1: dry, P2 wet}\n",
            (
                "1:17: yaml-twist: the comma before `P2 wet` begins a new key here "
                "(write `P2: wet` with a colon, or `P1: 'dry, P2 wet'` for one text)"
            ),
        ),
        (
            "lost: {P2 = wet}\n",
            "1:8: yaml-twist: there is no colon after `P2` (write `P2: wet`)",
        ),
        (
            "- {note: roots white, water low}\n",
            (
                "1:23: yaml-twist: the comma before `water low` begins a new key here "
                "(write `note: 'roots white, water low'`)"
            ),
        ),
    ],
)
def test_mapping(text: str, finding: str) -> None:
    """A mapping that lacks its braces gets them, a text its quotes; where a value could be either, both are named."""
    assert tree(text)[1] == [finding]
