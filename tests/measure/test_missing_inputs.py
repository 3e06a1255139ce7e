"""A missing amount opens what it goes into: no figure becomes another exact number because something was not measured."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.figure import figures
from sitegen.core.facts.tree import Facts
from sitegen.core.records.rows import Addition, Run, Watering
from sitegen.core.values.quantity import unknown
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from tests.measure.exactness import is_exact
from tests.measure.test_random_runs import FEWER, PRICES, RUNS


def without_one_amount(run: Run) -> Iterator[tuple[str, Run]]:
    """The run again and again, each time with another pick, filling or dose that nobody measured."""
    for position, pick in enumerate(run.rows.picks):
        picks = list(run.rows.picks)
        picks[position] = replace(pick, weight=unknown(Dimension.MASS))
        yield f"weight of the pick of {pick.day}", replace(run, rows=replace(run.rows, picks=tuple(picks)))
    for position, event in enumerate(run.rows.events):
        if not isinstance(event, (Watering, Addition)) or event.amount is None:
            continue
        events = list(run.rows.events)
        events[position] = event._replace(amount=None)
        yield (
            f"amount of {event.deed} of {event.day}",
            replace(run, rows=replace(run.rows, events=tuple(events))),
        )


def exact_figures(facts: Facts) -> dict[str, object]:
    """The figures that are exact, by name."""
    return {each.name: each.value for each in figures(facts) if is_exact(each.value)}


def test_a_missing_amount_gives_no_other_exact_number() -> None:
    """Without one of its amounts a figure stays the number that it was, or is none: never another one."""
    compared, opened = 0, 0

    @FEWER
    @given(RUNS, st.data())
    def hold(run: Run, data: st.DataObject) -> None:
        nonlocal compared, opened
        fewer = list(without_one_amount(run))
        if not fewer:
            return
        missing, without = data.draw(st.sampled_from(fewer))
        before, after = exact_figures(measure(run, PRICES)), exact_figures(measure(without, PRICES))
        compared, opened = compared + len(before), opened + len(before.keys() - after.keys())
        both = before.keys() & after.keys()
        assert {name: (before[name], after[name]) for name in both if before[name] != after[name]} == {}, (
            missing
        )

    hold()
    assert compared > 100
    assert opened > 0  # some of them do rest on what is missing
