"""No exact figure rests on an open or fuzzy input: the columns that a formula reads against the flags of its figures."""

from __future__ import annotations

import datetime as dt
import os
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.core.facts.tree import Facts
from sitegen.core.records.files import Export
from sitegen.core.records.rows import Deed, Run
from sitegen.core.records.setup import Prices
from sitegen.core.values import quantity
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.ingest import read_experiment, read_journal
from sitegen.measure import measure
from sitegen.measure.harvest import totals
from sitegen.measure.methods import formulas, reads_of
from tests.measure.builders import event, grams, joint, of, pick, place, reading, run_of
from tests.measure.exactness import faults, resting_on_loose
from tests.measure.loose_cells import on_day
from tests.measure.test_random_runs import (
    ALL,
    DAYS,
    LIGHTS,
    PICKS,
    PRICES,
    ROUTINES,
    STAGES,
    TALLIES,
    events,
    made,
    readings,
    sized,
)

DEMO = Path(__file__).parents[2] / "content_demo"
EXAMPLES = 500 if os.environ.get("HYPOTHESIS_PROFILE") == "full" else 6
BASE = exactly(7, Dimension.TEMPERATURE, 1)
HEADROOM = exactly(50, Dimension.LENGTH, 1)
RESERVOIR = exactly(8000, Dimension.VOLUME, 1000)
CLAIMED_HEIGHT = exactly(30, Dimension.LENGTH, 1)
CLAIMED_SHARE = exactly(85, Dimension.SHARE, 1)


def written(day: int, form: str) -> Day:
    """A day as a log may have it."""
    return {
        "span": Day(day, day + 4),
        "about": Day.on(day, about=True),
        "before": Day(0, max(1, day), before=True),
    }.get(form, Day.on(day))


def loosened(value: Quantity, form: str) -> Quantity:
    """A size of the set-up as it may be written."""
    return {
        "range": replace(value, high=value.low + value.step),
        "about": replace(value, about=True),
        "at least": replace(value, high=None, open=1),
    }.get(form, value)


COUNTS = sized(Dimension.COUNT, 1, 8, 1)
SEEDS = st.one_of(
    st.builds(lambda size: event(Deed.SOW, 0, ALL, amount=size, each=True), COUNTS | st.none()),
    st.builds(
        lambda day, size: event(Deed.SPROUTED, day, ALL, amount=size), st.integers(4, 9), COUNTS | st.none()
    ),
    st.builds(lambda day: event(Deed.LOST, day, of(1)), st.integers(20, 40)),
    st.builds(lambda day, size: event(Deed.THIN, day, joint("P1"), amount=size, each=True), DAYS, COUNTS),
)
MEASURED = {
    "height": sized(Dimension.LENGTH, 1, 60, 1),
    "leaf_temperature": sized(Dimension.TEMPERATURE, 15, 30, 1),
    "air_temperature": sized(Dimension.TEMPERATURE, 15, 30, 1),
    "humidity": sized(Dimension.SHARE, 30, 70, 1),
}
# Of few plants on few days, so that rates, means and pairs come about.
READINGS = st.sampled_from(sorted(MEASURED)).flatmap(
    lambda name: st.builds(
        lambda day, plant, size: reading(
            name, day, size, (plant,) if name == "height" else (), tub="" if name == "height" else "left"
        ),
        st.sampled_from((5, 20, 35)),
        st.sampled_from(("P1", "P2", "P3")),
        MEASURED[name],
    )
)
HOURS = tuple(dt.datetime(2025, 3, 1) + dt.timedelta(hours=hour) for hour in range(72))
EXPORT = Export(
    "air_temperature", "left", place(7), HOURS, tuple(20.0 + hour % 5 for hour in range(72)), "°C"
)
FULL_RUNS = st.builds(
    made,
    events=st.lists(events() | SEEDS, min_size=8, max_size=16),
    readings=st.lists(readings() | READINGS, min_size=8, max_size=16),
    picks=st.lists(PICKS, max_size=6),
    tallies=st.lists(TALLIES, max_size=2),
    milestones=st.lists(STAGES, min_size=3, max_size=8),
    lights=st.lists(LIGHTS, max_size=3),
    routines=st.lists(ROUTINES, max_size=1),
    exports=st.just([EXPORT]),
)

GROWING_RUNS = st.builds(
    made,
    events=st.lists(SEEDS, max_size=4),
    readings=st.lists(READINGS, min_size=10, max_size=20),
    exports=st.just([EXPORT]),
)


@st.composite
def logs(draw: st.DrawFn) -> Run:
    """A random run: each visit, with all its rows, on a day, a span, about a day or before one; a set-up exact or not."""
    run = draw(st.one_of(FULL_RUNS, GROWING_RUNS))
    for entry in run.rows.entries:
        form = draw(st.sampled_from(("", "", "", "span", "about", "before")))
        run = on_day(run, entry.index, entry.source, written(entry.day.first, form) if form else entry.day)

    def loose(value: Quantity) -> Quantity:
        return loosened(value, draw(st.sampled_from(("", "", "range", "about", "at least"))))

    setup = run.setup
    system = setup.tubs[0].system
    assert setup.seed
    system = replace(system, headroom=loose(HEADROOM), reservoir=loose(RESERVOIR))
    claims = replace(
        setup.seed.claims,
        height=loose(CLAIMED_HEIGHT),
        germination=loose(CLAIMED_SHARE),
        days=written(50, draw(st.sampled_from(("", "span", "about")))),
    )
    setup = replace(
        setup,
        tubs=(replace(setup.tubs[0], system=system), *setup.tubs[1:]),
        crop=replace(setup.crop, base_temperature=loose(BASE)),
        seed=replace(setup.seed, claims=claims),
    )
    return replace(run, setup=setup)


def measured(run: Run) -> Facts:
    """The facts of a run with prices."""
    return measure(run, PRICES)


def met(run: Run, facts: Facts) -> Counter[str]:
    """How many figures of each formula rest on an open or fuzzy value."""
    return Counter(figure.formula for figure, _ in resting_on_loose(run, facts))


def test_every_formula_says_what_it_reads() -> None:
    """Each formula of one run names the columns that it reads, but counts of records and what is made of samples."""
    of_one_run = [each for each in formulas() if ".across." not in each.__module__]
    without = [each.__name__ for each in of_one_run if not reads_of(each.__name__).columns]
    assert without == ["pick_count", "change_count", "daily_range", "sensor_gaps", "plants_in"]


def test_a_condition_is_of_columns_that_are_read() -> None:
    """Each condition of a formula is about a column that it reads."""
    for each in formulas():
        reads = reads_of(each.__name__)
        assert all({*columns} & {*reads.columns} for columns in reads.exact_if.values()), each


def test_no_figure_of_random_logs_is_too_exact() -> None:
    """An exact figure rests on no open or fuzzy value, but on one that is declared not to matter, and does not."""
    found: Counter[str] = Counter()
    wrong: list[str] = []

    @settings(max_examples=EXAMPLES)
    @given(logs())
    def walk(run: Run) -> None:
        found.update(met(run, measured(run)))
        wrong.extend(faults(run, measured))

    walk()
    assert wrong == []
    assert len(found) >= 30, found
    assert found.total() >= 50 * EXAMPLES


@pytest.fixture(scope="module")
def demo() -> tuple[Prices, list[Run]]:
    """The prices of the demo, and all its experiments."""
    journal_files, _ = read_journal(DEMO)
    assert journal_files is not None
    found = (read_experiment(folder, journal_files)[0] for folder in journal_files.folders)
    return journal_files.journal.prices, [run for run in found if run is not None]


def test_no_figure_of_the_demo_is_too_exact(demo: tuple[Prices, list[Run]]) -> None:
    """The same of all experiments of the demo."""
    prices, runs = demo
    found: Counter[str] = Counter()
    for run in runs:
        found.update(met(run, measure(run, prices)))
        assert list(faults(run, lambda other: measure(other, prices))) == []
    assert found.total() >= 100, found


@pytest.mark.parametrize("flags", [{"about": False}, {"by_eye": False}], ids=lambda flags: next(iter(flags)))
def test_a_formula_that_drops_a_flag_is_found(flags: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    """A total that loses a flag of its weights is named, with the weight."""
    (flag,) = flags
    run = run_of(picks=[pick(9, joint("P1"), grams(20, **{flag: True}))])

    def dropping(parts: Iterable[Quantity], dimension: Dimension) -> Quantity:
        return replace(quantity.total(parts, dimension), **flags)

    assert list(faults(run, measured)) == []
    monkeypatch.setattr(totals, "total", dropping)
    said = [fault for fault in faults(run, measured) if fault.startswith("harvest.total ")]
    cell = f"picks.weight ({flag.replace('_', ' ')})"
    assert said == [
        f"harvest.total is exact, and another {cell} changes it: not so that a later weight holds it"
    ]
