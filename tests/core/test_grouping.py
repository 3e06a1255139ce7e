"""Items grouped by a key."""

from __future__ import annotations

from sitegen.plot.marks.point_marks import grouped


def test_items_are_grouped_in_their_order() -> None:
    """Keys come in the order of their first items, the items of a key in theirs."""
    found = grouped(["bean", "aster", "basil", "anise"], lambda word: word[0])

    assert list(found.items()) == [("b", ["bean", "basil"]), ("a", ["aster", "anise"])]
