"""Lines without a colon, without a space after it, and lines that begin in the wrong column."""

from __future__ import annotations

import pytest

from tests.ingest.builders import tree


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        (
            "day: 3\nharvest:2 g\nnote: x\n",
            "2:8: yaml-syntax: there is no space after the colon of `harvest` (write `harvest: 2 g`)",
        ),
        (
            "day: 3\nharvest:2 g\n",
            "2:8: yaml-syntax: there is no space after the colon of `harvest` (write `harvest: 2 g`)",
        ),
        (
            "day: 3\nheight = 2 cm\nnote: x\n",
            "2:1: yaml-syntax: there is no colon after `height` (write `height: 2 cm`)",
        ),
        (
            "- day 3\n  note: x\n",
            "1:3: yaml-syntax: there is no colon after `day` (write `day: 3`)",
        ),
        (
            "- day: 0\n-day: 3\n  note: x\n",
            "2:1: yaml-syntax: there is no space between `-` and `day` (write `- day: 3`)",
        ),
        (
            "- day: 0\n* day: 3\n  note: x\n",
            "2:1: yaml-syntax: an entry begins with `- `, not with `*` (write `- day: 3`)",
        ),
        (
            "- day: 0\nday: 3\n",
            "2:1: yaml-syntax: an entry begins with `- `, and this `day` has none (write `- day: 3`)",
        ),
        (
            "- day: 3\n   note: x\n",
            (
                "2:4: yaml-syntax: `note` does not line up with `day` "
                "(write 2 spaces before `note`, so that it stands under `day`)"
            ),
        ),
        (
            "title: x\n crop: y\n",
            (
                "2:2: yaml-syntax: `crop` does not line up with `title` "
                "(write no spaces before `crop`, so that it stands under `title`)"
            ),
        ),
        (
            "log:\n  - day: 3\n - day: 4\n",
            (
                "3:2: yaml-syntax: `- ` does not line up with the `- ` above "
                "(write 2 spaces before `- `, so that it stands under the `- ` above)"
            ),
        ),
        (
            "note: first line\n  the water was low: some\n",
            (
                "2:20: yaml-syntax: the text of `note` goes on here, and its `: ` begins a mapping "
                "(write `note: |` and the text on the next line, indented)"
            ),
        ),
        (
            "lost: {P1: dry,\n",
            (
                "1:7: yaml-syntax: the bracket that opens here is not closed "
                "(write `}` before line 2, column 1)"
            ),
        ),
        (
            "harvest: [{P1: 2 g}, {P2: 3 g\n",
            "1:22: yaml-syntax: the bracket that opens here is not closed (write `{P2: 3 g}]`)",
        ),
    ],
)
def test_fault(text: str, finding: str) -> None:
    """A line that is no `key: value`, or begins in the wrong column, is shown with the line as it was meant."""
    assert tree(text)[1] == [finding]
