"""Fenced blocks that place a chart, a photo or a strip: found as the renderer finds them."""

from __future__ import annotations

import pytest

from sitegen.core.findings.source import Source
from sitegen.core.site.blocks import Block, blocks_in


def test_a_block_with_its_places() -> None:
    """Kind, name and caption, each where it is written."""
    text = "Text.\n\n```photo\n  first.jpg\nThe *first* cut\n```\n"

    assert blocks_in(text, "recap.md") == (
        Block(
            "photo", "first.jpg", Source("recap.md", 3, 4, 5), Source("recap.md", 4, 3, 9), "The *first* cut"
        ),
    )


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("~~~~ chart\nheight\n~~~~", 2, 1),
        ("> ```chart\n> height\n> ```", 2, 3),
        ("1. one\n\n   ```chart\n   height\n   ```", 4, 4),
        ("```chart\r\nheight\r\n```\r\n", 2, 1),
        ("```chart\nheight", 2, 1),
    ],
)
def test_wherever_a_fence_may_stand(text: str, line: int, column: int) -> None:
    """In lists and quotations too, with either sign, and left open at the end."""
    (found,) = blocks_in(text, "r.md")

    assert (found.kind, found.name, found.at) == ("chart", "height", Source("r.md", line, column, 6))


@pytest.mark.parametrize(
    "text", ["```\nchart\n```", "```charts\nx\n```", "    ```chart\n    x\n", "a ```chart b```"]
)
def test_other_code_is_left_alone(text: str) -> None:
    """Another info word, indented code and code in a line place nothing."""
    assert blocks_in(text, "r.md") == ()


def test_the_anchor_names_what_is_placed() -> None:
    """A photo's is a digest of the name of its file, which is its author's own."""
    text = "```photo\nDay 3 (top).jpg\n```\n```strip\nP1\n```\n```chart\nvpd\n```"

    assert [block.anchor for block in blocks_in(text, "r.md")] == ["photo-efc9be67", "strip-p1", "chart-vpd"]
