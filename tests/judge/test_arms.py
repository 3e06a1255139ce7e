"""The split that a run's question is about."""

from __future__ import annotations

from dataclasses import replace

from sitegen.judge.arms import compare_crossed, compare_without_split
from tests.judge.builders import by, run, setup


def test_crossed_splits() -> None:
    """Groups that cut across tubs need a word of which is compared; with it there is no finding."""
    four = setup().plants[:4]
    left, right = (replace(setup().tubs[0], id=name) for name in ("left", "right"))
    head = setup(
        tubs=(left, right),
        plants=tuple(replace(plant, tub="left" if n < 2 else "right") for n, plant in enumerate(four)),
        groups=(("early", (four[0].id, four[2].id)), ("late", (four[1].id, four[3].id))),
    )
    crossing = by(compare_crossed, run(head=head))
    assert len(crossing) == 1
    assert (
        " warning[compare-crossed]: groups and tubs divide the plants in ways that cross each other; "
        "nothing says which is compared (write `compare: groups` or `compare: tubs`)"
    ) in crossing[0]
    assert by(compare_crossed, run(head=replace(head, compare="tubs"))) == []


def test_nothing_to_compare() -> None:
    """A split that is named must be there."""
    head = setup(groups=(), compare="groups")
    (found,) = by(compare_without_split, run(head=head))
    assert " error[compare-without-split]: the run does not have several groups to compare" in found
