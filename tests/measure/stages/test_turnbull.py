"""The median of times that lie between two looks, against second implementations and by its own rules."""

from __future__ import annotations

import warnings

from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.records.rows import Deed
from sitegen.core.values.day import Day
from sitegen.measure.stages.milestones import milestones_facts
from sitegen.measure.stages.survival import Observation, kaplan_meier_median
from sitegen.measure.stages.turnbull import Interval, turnbull_median, turnbull_span
from tests.measure.builders import event, joint, milestone, of, run_of, seeds

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # what the library's own imports warn of
    from lifelines.fitters.npmle import npmle

FOUR = ("P1", "P2", "P3", "P4")
SPELLS = st.lists(st.builds(Observation, st.integers(0, 60), reached=st.booleans()), min_size=1, max_size=12)
BETWEEN = st.builds(
    lambda first, length: Interval(first, None if length is None else first + length),
    st.integers(0, 30),
    st.none() | st.integers(0, 15),
)
# Visits: a day, and the plants first seen with the stage there.
VISITS = st.dictionaries(st.integers(1, 60), st.sets(st.sampled_from(FOUR)), min_size=1, max_size=6)


@given(SPELLS)
def test_daily_looks_are_kaplan_and_meier(found: list[Observation]) -> None:
    """Where everyone was looked at on every day, the median is that of Kaplan and Meier, one day."""
    exact = [Interval(s.day, s.day) if s.reached else Interval(s.day + 1, None) for s in found]
    known = kaplan_meier_median(found)
    assert turnbull_median(exact) == (None if known is None else (known, known))


@given(st.lists(BETWEEN, min_size=1, max_size=10))
def test_against_lifelines(found: list[Interval]) -> None:
    """The stretch that passes one half is that of lifelines, which reads both ends as closed."""
    assume(any(interval.last is not None for interval in found))
    ends = [(i.first, float("inf") if i.last is None else i.last) for i in found]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        weights, spans = npmle(*zip(*ends, strict=True), tol=1e-12, max_iter=100_000)
    total, half = 0.0, None
    for weight, span in zip(weights, spans, strict=True):
        assume(abs(total + weight - 0.5) > 1e-4)  # floats cannot tell on which side of one half it is
        total += weight
        half = half or (span if total > 0.5 else None)
    assert half is not None
    wanted = None if half.right == float("inf") else (int(half.left), int(half.right))
    assert turnbull_span(found) == wanted


@given(st.lists(BETWEEN, min_size=1, max_size=10))
def test_the_median_holds_that_of_every_true_day(found: list[Interval]) -> None:
    """Whatever days inside their intervals the plants reached the stage on, their median is inside the one given."""
    closed = [interval for interval in found if interval.last is not None]
    assume(closed)
    span = turnbull_median(closed)
    assert span is not None
    for share in (0.0, 0.3, 0.5, 1.0):
        days = [round(i.first + share * ((i.last or 0) - i.first)) for i in closed]
        median = kaplan_meier_median(Observation(day, reached=True) for day in days)
        assert median is not None
        assert span[0] <= median <= span[1]


@given(VISITS)
def test_naming_and_counting_are_the_same(visits: dict[int, set[str]]) -> None:
    """Where no plant was lost, a log that names the plants and one that counts them give one median and share."""
    named, counted, so_far = [], [], set[str]()
    for day, plants in sorted(visits.items()):
        so_far |= plants
        listing = joint(*sorted(so_far)) if so_far else of(0)
        named.append(milestone("ripe", day, listing, reached=bool(so_far)))
        counted.append(milestone("ripe", day, of(len(so_far), 4), reached=bool(so_far)))
    sown = seeds(0, 1, *FOUR)
    (one,) = milestones_facts(run_of(milestones=named, events=[sown]))
    (other,) = milestones_facts(run_of(milestones=counted, events=[sown]))
    assert (one.median.value, one.share.value) == (other.median.value, other.share.value)
    assert one.interval.value == other.interval.value


@given(VISITS, st.integers(1, 60), st.sampled_from(FOUR))
def test_every_plant_is_in_one_state(visits: dict[int, set[str]], day: int, lost: str) -> None:
    """A plant that was lost without the stage is lost, never `not yet`; one never looked at is unknown."""
    rows = [milestone("ripe", when, joint(*sorted(plants))) for when, plants in visits.items() if plants]
    assume(rows)
    gone = event(Deed.LOST, day, joint(lost))
    (found,) = milestones_facts(run_of(milestones=rows, events=[seeds(0, 1, *FOUR), gone]))
    seen = {plant for plants in visits.values() for plant in plants}
    for arrival in found.arrivals:
        wanted = "reached" if arrival.plant in seen else "lost" if arrival.plant == lost else "not yet"
        assert arrival.state == wanted
    last = Day.on(max(row.day.last for row in rows))
    assert all(arrival.last_look == last for arrival in found.in_state("not yet"))
