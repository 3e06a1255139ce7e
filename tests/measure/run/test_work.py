"""Visits, waterings, feedings and work by hand: what counts once, and in which phase."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.facts.tree import Work
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Pick
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.measure.run.work import HANDS_ON, visit_count
from tests.measure.builders import (
    event,
    grams,
    joint,
    litres,
    milestone,
    ml,
    of,
    pick,
    place,
    remarks_of,
    routine,
    run_of,
)
from tests.measure.exactness import faults
from tests.measure.loose_cells import on_day
from tests.measure.values import amount, lines

ALL = joint("P1", "P2", "P3", "P4")


def work(*rows: Event | Pick) -> Work:
    """The work of a run."""
    return measure(
        run_of(
            events=[row for row in rows if isinstance(row, Event)],
            picks=[row for row in rows if isinstance(row, Pick)],
        )
    ).work


def kept(figure: Figure) -> tuple[object, list[int]]:
    """Value and rows; an entry's line is 100 more than its number."""
    return figure.value, lines(figure)


def by_key(named: tuple[Named, ...]) -> list[tuple[str, object, list[int], str]]:
    """Key, value, rows and name of each."""
    return [(n.key, n.figure.value, lines(n.figure), n.figure.name) for n in named]


def test_an_entry_counts_once() -> None:
    """The same entry twice is one visit."""
    assert (visit_count([3, 3, 5]), visit_count([])) == (counted(2), counted(0))


def test_each_kind_of_visit() -> None:
    """Water and full changes are waterings; each kind counts its own entries, and leads to them."""
    found = work(
        event(Deed.WATER, 3),
        event(Deed.WATER, 3, line=1),
        event(Deed.CHANGE, 5),
        event(Deed.FEED, 5),
        event(Deed.FEED, 6),
        event(Deed.ADJUST, 7),
        event(Deed.PRUNE, 8, ALL),
        event(Deed.NOTE, 9),
        pick(8, ALL, grams(9)),
        pick(12, ALL, grams(9)),
    )
    assert kept(found.visits) == (counted(7), [103, 105, 106, 107, 108, 109, 112])
    assert kept(found.waterings) == (counted(2), [103, 105])
    assert kept(found.feedings) == (counted(2), [105, 106])
    assert kept(found.hands_on) == (counted(2), [108, 112])
    assert [f.name for f in (found.visits, found.waterings, found.feedings, found.hands_on)] == [
        f"work.{name}" for name in ("visits", "waterings", "feedings", "hands_on")
    ]
    assert by_key(found.tasks) == [
        ("prune", counted(1), [108], "work.tasks.prune"),
        ("harvest", counted(2), [108, 112], "work.tasks.harvest"),
    ]
    assert found.visits.formula == "visit_count"


@pytest.mark.parametrize("deed", list(Deed))
def test_work_by_hand(deed: Deed) -> None:
    """Thinning, transplanting, pruning, training, pollinating, treating and cleaning are work by hand, nothing else."""
    names = ("thin_to", "transplant", "prune", "train", "pollinate", "treat", "clean")
    found = work(event(deed, 8, ALL))
    by_hand = deed.value in names
    assert (deed in HANDS_ON) is by_hand
    assert amount(found.hands_on) == counted(int(by_hand))
    assert [task.key for task in found.tasks] == [deed.value] * by_hand


def test_by_phase() -> None:
    """Visits, waterings and work by hand in the phases that had any, in the order of phases, and after the last."""
    found = work(
        event(Deed.SPROUTED, 5, ALL, amount=counted(4)),
        event(Deed.WATER, 4),
        event(Deed.WATER, 20),
        event(Deed.PRUNE, 20, ALL),
        pick(40, ALL, grams(9)),
        event(Deed.WATER, 50),
        event(Deed.CLEAN, 50),
    )
    assert by_key(found.visits_by_phase) == [
        ("germination", counted(1), [104], "work.visits_by_phase.germination"),
        ("seedling", counted(2), [105, 120], "work.visits_by_phase.seedling"),
        ("picking", counted(1), [140], "work.visits_by_phase.picking"),
        ("afterwards", counted(1), [150], "work.visits_by_phase.afterwards"),
    ]
    assert by_key(found.waterings_by_phase) == [
        ("germination", counted(1), [104], "work.waterings_by_phase.germination"),
        ("seedling", counted(1), [120], "work.waterings_by_phase.seedling"),
        ("afterwards", counted(1), [150], "work.waterings_by_phase.afterwards"),
    ]
    assert by_key(found.hands_on_by_phase) == [
        ("seedling", counted(1), [120], "work.hands_on_by_phase.seedling"),
        ("picking", counted(1), [140], "work.hands_on_by_phase.picking"),
        ("afterwards", counted(1), [150], "work.hands_on_by_phase.afterwards"),
    ]


def test_a_phase_of_two_words_has_one_key() -> None:
    """A later flush goes by a key without a space."""
    found = work(pick(40, ALL, grams(9)), event(Deed.PRUNE, 45), pick(60, ALL, grams(9)))
    assert [n.key for n in found.visits_by_phase] == ["picking", "later-flush"]


PICKED_TWICE = (pick(40, ALL, grams(9)), pick(60, ALL, grams(9)))


@pytest.mark.parametrize(
    ("table", "rows", "picks"),
    [
        ("events", event(Deed.PRUNE, 45, ALL), (pick(40, ALL, grams(9)), pick(54, ALL, grams(9)))),
        ("events", event(Deed.PRUNE, 45, ALL), (pick(40, ALL, grams(9)), pick(53, ALL, grams(9)))),
        ("events", event(Deed.PRUNE, 41, ALL), PICKED_TWICE),
        ("events", event(Deed.PRUNE, 59, ALL), PICKED_TWICE),
        ("milestones", milestone("first flower", 41, of(4)), PICKED_TWICE),
        ("milestones", milestone("first flower", 59, of(4)), PICKED_TWICE),
    ],
)
def test_a_later_flush_that_about_a_day_decides(
    table: str, rows: Event | MilestoneRow, picks: tuple[Pick, Pick]
) -> None:
    """Where "about" a day decides whether there was a later flush, the visits in it are no exact number."""
    run = run_of(picks=picks, **{table: [rows]})
    for visit in run.rows.entries:
        about = on_day(run, visit.index, visit.source, Day.on(visit.day.first, about=True))
        assert list(faults(about, measure)) == []


def fed_by(*rows: Event | Routine) -> Figure:
    """Visits with feed."""
    return measure(
        run_of(
            events=[row for row in rows if isinstance(row, Event)],
            routines=[row for row in rows if isinstance(row, Routine)],
        )
    ).work.feedings


REFILLS = [event(Deed.WATER, day, amount=litres(1)) for day in (0, 5, 9, 12)]
BY_HAND = event(Deed.FEED, 9, tub="tub", product="syrup", amount=ml(3))


def test_a_refill_with_a_routine_is_a_visit_with_feed() -> None:
    """From its day on a routine feeds at each logged refill; a dose by hand at one of them is no other visit."""
    counted_ = fed_by(*REFILLS, BY_HAND, routine(5, "every logged refill", ml(20)))
    assert kept(counted_) == (counted(3), [105, 109, 112])
    at_each = fed_by(*REFILLS, BY_HAND, routine(5, "every refill", ml(20)))
    assert at_each.value == Quantity(3, None, Dimension.COUNT, open=1, step=1)
    assert remarks_of(at_each) == "not counting doses at refills that were not logged"
    weekly = fed_by(*REFILLS, BY_HAND, routine(5, "every week", ml(20)))
    assert weekly.value == Quantity(1, None, Dimension.COUNT, open=1, step=1)
    assert (lines(weekly), remarks_of(weekly)) == ([109, 6005], "not counting doses given as a routine")


def test_a_run_fed_by_routine_has_no_count_of_nothing() -> None:
    """Where a routine gave feed and no dose is known, the visits with feed are not known; without one they are 0."""
    assert fed_by(*REFILLS).value == counted(0)
    weekly = fed_by(*REFILLS, routine(5, "every week", ml(20)))
    assert (weekly.value, remarks_of(weekly)) == (None, "not counting doses given as a routine")
    late = fed_by(*REFILLS, routine(20, "every logged refill", ml(20)))
    assert (late.value, remarks_of(late)) == (None, "no refill was logged while feed was a routine")


def test_a_refill_that_may_lie_before_a_routine() -> None:
    """A refill on day 4 to 6 may have been before the routine of day 5: two or three visits with feed."""
    between = event(Deed.WATER, 4, amount=litres(1))._replace(day=Day(4, 6))
    found = fed_by(between, *REFILLS[2:], routine(5, "every logged refill", ml(20)))
    assert found.value == Quantity(2, 3, Dimension.COUNT, step=1)


DONE = st.lists(
    st.tuples(
        st.integers(0, 30), st.sampled_from((Deed.WATER, Deed.CHANGE, Deed.FEED, Deed.PRUNE, Deed.NOTE))
    ),
    min_size=1,
    max_size=12,
)


@given(DONE)
def test_phases_have_all_visits(done: list[tuple[int, Deed]]) -> None:
    """While a run grows, the visits of its phases are all visits, and no kind of work has more of them."""
    found = work(*[event(deed, day, ALL, line=n + 1) for n, (day, deed) in enumerate(done)])
    assert sum(amount(n.figure).low for n in found.visits_by_phase) == amount(found.visits).low
    assert amount(found.visits) == counted(len({day for day, _ in done}))
    watered = {day for day, deed in done if deed in (Deed.WATER, Deed.CHANGE)}
    assert amount(found.waterings) == counted(len(watered))
    for figure in (found.waterings, found.feedings, found.hands_on):
        assert amount(figure).low <= amount(found.visits).low


def test_a_visit_that_may_be_of_two_phases_makes_a_range_of_both() -> None:
    """Seedlings were seen on day 6 to 9: a visit on day 7 was before or after that; the look itself was not before."""
    found = work(
        event(Deed.SPROUTED, 6, ALL, amount=counted(4))._replace(day=Day(6, 9)),
        event(Deed.WATER, 7),
        event(Deed.WATER, 20),
    )
    assert [(n.key, n.figure.value) for n in found.waterings_by_phase] == [
        ("germination", replace(counted(1), low=0.0)),
        ("seedling", replace(counted(2), low=1.0)),
    ]
    assert [(n.key, n.figure.value) for n in found.visits_by_phase] == [
        ("germination", replace(counted(1), low=0.0)),
        ("seedling", replace(counted(3), low=2.0)),
    ]


def topped_up(*rows: Event | Routine) -> Work:
    """The work of a run with events and routines."""
    events = [row for row in rows if not isinstance(row, Routine)]
    return measure(run_of(events=events, routines=[row for row in rows if isinstance(row, Routine)])).work


WEEKLY = Routine("water", Day.on(9), 9, place(6009), often="every Sunday")


def test_visits_with_water_under_a_routine_are_at_least_those_logged() -> None:
    """A routine of water adds visits that nobody counted, to the run and to the phases in which it may have held."""
    rows = (event(Deed.SPROUTED, 5, ALL, amount=counted(4)), event(Deed.WATER, 2, amount=litres(1)))
    work = topped_up(*rows, event(Deed.WATER, 8, amount=litres(1)), event(Deed.NOTE, 20), WEEKLY)
    by_phase = {row.key: row.figure for row in work.waterings_by_phase}

    assert (amount(work.waterings).low, amount(work.waterings).high) == (2, None)
    assert remarks_of(work.waterings) == "not counting refills done as a routine"
    bounds = {key: (amount(figure).low, amount(figure).high) for key, figure in by_phase.items()}
    assert bounds == {"germination": (1, 1), "seedling": (1, None)}


def test_a_phase_in_which_only_a_routine_watered_is_open() -> None:
    """A phase without a logged visit in which a routine was followed has no number, and not none."""
    rows = (event(Deed.WATER, 2, amount=litres(1)), event(Deed.SPROUTED, 5, ALL, amount=counted(4)))
    work = topped_up(*rows, event(Deed.NOTE, 20), WEEKLY)
    by_phase = {row.key: row.figure.value for row in work.waterings_by_phase}

    assert by_phase == {"germination": counted(1), "seedling": None}


def test_a_routine_of_the_last_day_added_no_visit_yet() -> None:
    """Nothing is recorded after it began: the visits with water are those that were logged, in all and by phase."""
    rows = (event(Deed.WATER, 2, amount=litres(1)), event(Deed.SPROUTED, 5, ALL, amount=counted(4)))
    work = topped_up(*rows, event(Deed.NOTE, 9), WEEKLY)

    assert work.waterings.value == counted(1)
    assert [(row.key, row.figure.value) for row in work.waterings_by_phase] == [("germination", counted(1))]


def test_water_by_routine_alone_is_no_count_of_nothing() -> None:
    """Where only a routine added water, the number of visits with water is not given, and why is said."""
    work = topped_up(event(Deed.SOW, 0), event(Deed.NOTE, 20), WEEKLY)

    assert (work.waterings.value, remarks_of(work.waterings)) == (
        None,
        "not counting refills done as a routine",
    )
