"""What is told and what is not: the points of each kind of moment, and the word of the author before them.

The points are common practice, no source; the cases are worked out by hand from the table of points.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.records.rows import Action, Deed, Entry
from sitegen.core.values.day import Day
from sitegen.notes.draft import Passage
from sitegen.notes.kinds.script import moments
from sitegen.notes.material import Material
from sitegen.notes.moments.moment import BASE, Moment
from sitegen.notes.scoring import ALWAYS, KEPT, repeated, score, scored
from tests.notes.materials import of_demo


def _moment(kind: str, day: int = 24, **more: object) -> Moment:
    """A moment of a day on which the two-lamp run has an entry; day 41 has photos."""
    source = next(each.source for each in of_demo("pebble-two-lamps").rows.entries if each.day == Day.on(day))
    return Moment(kind, (Passage(("Something.",), (source,)),), Day.on(day), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("moment", "points", "told"),
    [
        (_moment("loss"), 50, True),
        (_moment("move", arms=True), 60, True),
        (_moment("trouble"), 45, True),
        (_moment("trouble", 41), 55, True),
        (_moment("trouble", some=True), 25, True),
        (_moment("arms alone", arms=True), 55, True),
        (_moment("first pick"), 40, True),
        (_moment("named stage", arms=True), 50, True),
        (_moment("change"), 35, True),
        (_moment("record"), 25, True),
        (_moment("claim"), 25, True),
        (_moment("spoilt"), 25, True),
        (_moment("setting"), 20, True),
        (_moment("longest wait"), 20, True),
        (_moment("note"), 15, True),
        (_moment("note", 41), 25, True),
        (_moment("stage"), 10, False),
        (_moment("stage", 41), 20, True),
        (_moment("stage", arms=True), 20, True),
        (_moment("stage", 41, some=True), 0, False),
        (_moment("pick"), 10, False),
        (_moment("unknown", unsaid=True), -10, False),
        (_moment("reading", 41), 10, False),
        (_moment("refill", 41), 10, False),
        (_moment("total"), ALWAYS, True),
        (_moment("caveat"), ALWAYS, True),
        (_moment("refill", 66), ALWAYS, True),  # its entry says `tell: always`
    ],
)
def test_what_is_told(moment: Moment, points: int, told: bool) -> None:
    """The decision table: points of the kind, of a photo of the day, of the arms, of what is only half known."""
    material = of_demo("pebble-two-lamps")
    assert score(moment, material) == points
    assert [each.kept for each in scored([moment], material)] == [told]


def test_every_kind_has_points() -> None:
    """No run of the demo has a moment without points, and the table has none that no run could have."""
    kinds = {
        each.moment.kind
        for run in ("pebble-two-lamps", "emberfrill-hot-loft")
        for each in moments(of_demo(run))
    }
    assert kinds <= BASE.keys()
    assert len(kinds) > 15


def test_a_first_time_in_the_journal() -> None:
    """The first pick of a crop that was never grown before has ten points more."""
    material = of_demo("pebble-two-lamps")
    first = replace(material, earlier=())
    assert score(_moment("first pick"), first) - score(_moment("first pick"), material) == 10


def test_what_was_told_before_counts_less() -> None:
    """The second setting in one part of a draft loses fifteen points; a second loss does not."""
    material = of_demo("pebble-two-lamps")
    told = [*scored([_moment("setting"), _moment("setting"), _moment("loss"), _moment("loss")], material)]
    assert [each.score for each in repeated(told)] == [20, 5, 50, 50]
    assert KEPT == 15


def _with_word(material: Material, tell: str) -> Material:
    """The run with the same word of the author at every entry."""
    rows = material.rows
    entries = tuple(Entry(each.index, each.day, each.source, tell) for each in rows.entries)  # type: ignore[arg-type]
    run = replace(material.facts.run, rows=replace(rows, entries=entries))
    return replace(material, facts=replace(material.facts, run=run))


def test_never_leaves_out_what_only_such_entries_hold() -> None:
    """With `tell: never` at every entry, nothing is told that rests on the log alone."""
    material = _with_word(of_demo("emberfrill-hot-loft"), "never")
    told = [passage for each in moments(material) for passage in each.moment.passages]
    assert told
    assert all(not passage.sources or not material.entries_of(passage.sources) for passage in told)


def test_always_keeps_what_rests_on_such_an_entry() -> None:
    """With `tell: always` everywhere, every moment that rests on the log is told."""
    material = _with_word(of_demo("emberfrill-hot-loft"), "always")
    resting = [each for each in moments(material) if material.entries_of(each.moment.sources)]
    assert len(resting) > 30
    assert {each.score for each in resting} == {ALWAYS}


def test_a_note_of_an_entry_that_is_never_told_is_not_quoted() -> None:
    """The words of a note do not come in by another way."""
    material = _with_word(of_demo("pebble-two-lamps"), "never")
    notes = [each.what for each in material.rows.of(Deed.NOTE) if isinstance(each, Action)]
    said = " ".join(
        str(part) for each in moments(material) for passage in each.moment.passages for part in passage.parts
    )
    assert notes
    assert not [note for note in notes if note in said]
