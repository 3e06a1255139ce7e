"""The plants table: what became of each, where it stood, what it gave."""

from __future__ import annotations

import pytest

from sitegen.core.facts.tree import Arrival, Fate, PlantFacts
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Pick
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from tests.measure.builders import event, grams, joint, milestone, of, pick, place, run_of, seeds, setup_of
from tests.measure.values import lines

FOUR = ("P1", "P2", "P3", "P4")
SOWN = seeds(0, 1, *FOUR)


def plants(*rows: Event | Pick | MilestoneRow, tubs: tuple[str, ...] = ("tub",)) -> dict[str, PlantFacts]:
    """The plants of a run by their id."""
    run = run_of(
        setup_of(tubs=tubs, varieties=("amber", "rust")),
        events=[row for row in rows if isinstance(row, Event)],
        picks=[row for row in rows if isinstance(row, Pick)],
        milestones=[row for row in rows if isinstance(row, MilestoneRow)],
    )
    return {plant.plant: plant for plant in measure(run).plants}


def fates(*events: Event) -> list[tuple[str, Day | None, int | None]]:
    """Word, day and line of each plant's fate."""
    return [
        (p.fate.word, p.fate.day, p.fate.source.line if p.fate.source else None)
        for p in plants(SOWN, *events).values()
    ]


STANDING = ("standing", None, None)
CLEARED = ("cleared", Day.on(90), 1090)


def end(*ids: str, kept: bool | None = False) -> Event:
    """The end of a run, of all plants or of some."""
    return event(Deed.END, 90, joint(*ids) if ids else None, what="cold", kept=kept)


@pytest.mark.parametrize(
    ("events", "found"),
    [
        ((), [STANDING] * 4),
        ((end(),), [CLEARED] * 4),
        ((end(kept=True),), [STANDING] * 4),
        ((end(kept=None),), [STANDING] * 4),
        ((end("P1", "P2"),), [CLEARED, CLEARED, STANDING, STANDING]),
        ((event(Deed.END, 90, of(2, 4), kept=False),), [CLEARED] * 4),
        (
            (event(Deed.LOST, 60, joint("P4"), what="rot"), end()),
            [CLEARED] * 3 + [("lost", Day.on(60), 1060)],
        ),
        (
            (event(Deed.LOST, 20, joint("P4")), seeds(30, 1, "P4")),
            [STANDING] * 4,
        ),
        (
            (event(Deed.LOST, 20, joint("P4")), seeds(30, 1, "P4"), event(Deed.LOST, 50, joint("P4"))),
            [STANDING] * 3 + [("lost", Day.on(50), 1050)],
        ),
    ],
)
def test_fates(events: tuple[Event, ...], found: list[tuple[str, Day | None, int | None]]) -> None:
    """A plant stands until it was lost, or cleared by an end that did not keep it."""
    assert fates(*events) == found


def test_the_reasons_of_fates() -> None:
    """A loss and a clearing keep what was said of them."""
    found = plants(event(Deed.LOST, 60, joint("P4"), what="rot"), end())
    assert found["P4"].fate == Fate("lost", Day.on(60), "rot", place(1060))
    assert found["P1"].fate == Fate("cleared", Day.on(90), "cold", place(1090))


def test_where_a_plant_stood_and_since_when() -> None:
    """Variety, tub and groups as declared, the day of its last sowing, its arrivals by stage."""
    rows = (
        SOWN,
        seeds(9, 1, "P3"),
        milestone("first_flower", 40, joint("P1", "P3")),
        milestone("seed_leaves", 8, joint("P1")),
    )
    found = plants(*rows, tubs=("left", "right"))
    assert [(p.variety, p.tub, p.groups, p.sown) for p in found.values()] == [
        ("amber", "left", (), Day.on(0)),
        ("amber", "left", (), Day.on(0)),
        ("rust", "right", (), Day.on(9)),
        ("rust", "right", (), Day.on(0)),
    ]
    assert found["P1"].milestones == (
        ("seed_leaves", Arrival("P1", Day.on(8), None, Day.on(8), place(4008))),
        ("first_flower", Arrival("P1", Day.on(40), None, Day.on(40), place(4040))),
    )
    assert plants()["P1"].sown is None


def test_only_a_plant_that_moved_has_moved() -> None:
    """The first move of a plant is said, of no other plant."""
    moves = (
        event(Deed.MOVE, 40, joint("P2"), tub="right"),
        event(Deed.MOVE, 50, joint("P2", "P3"), tub="left"),
    )
    found = plants(SOWN, *moves, tubs=("left", "right"))
    assert [bool(p.moved) for p in found.values()] == [False, True, True, False]


def test_what_a_plant_gave() -> None:
    """The same figure as in the harvest, by its own path; where nothing was picked from anyone, none."""
    found = plants(pick(80, joint("P1"), grams(30)), pick(81, joint("P1", "P2"), grams(9)))
    values = {plant: (p.harvest.value, lines(p.harvest), p.harvest.name) for plant, p in found.items()}
    assert values == {
        "P1": (Quantity(30, 39, Dimension.MASS, step=1), [2080, 2081], "plants.P1.harvest"),
        "P2": (Quantity(0, 9, Dimension.MASS, step=1), [2081], "plants.P2.harvest"),
        "P3": (None, [], "plants.P3.harvest"),
        "P4": (None, [], "plants.P4.harvest"),
    }
    bare = plants()["P1"].harvest
    assert (bare.value, bare.name, bare.formula, lines(bare)) == (
        None,
        "plants.P1.harvest",
        "total_weight",
        [],
    )
