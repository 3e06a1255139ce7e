"""The circumstances of a run, and those in which two runs differ."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sitegen.core.facts.across import Condition, Differed
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Seed
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure, run_arms
from sitegen.measure.across.conditions import conditions_of
from sitegen.measure.across.differences import differed
from tests.measure.builders import reading, run_of, setup_of

SIDES = (exactly(50, Dimension.LENGTH), exactly(40, Dimension.LENGTH))


def _run(*ec: float) -> Run:
    """Four plants on 0.2 m², sown in March 2025 from seed packed in 2023, with readings of EC."""
    setup = setup_of(4, start=Start(date(2025, 3, 1), "day"))
    tubs = tuple(replace(tub, system=replace(tub.system, footprint=SIDES)) for tub in setup.tubs)
    readings = tuple(
        reading("ec", day, exactly(value, Dimension.CONDUCTIVITY, 0.1), tub="tub")
        for day, value in enumerate(ec)
    )
    return run_of(replace(setup, tubs=tubs, seed=Seed("a swap", "packed 2023")), readings=readings)


def _values(run: Run) -> dict[str, Quantity]:
    return {each.code: each.value for each in conditions_of(measure(run)) if each.value is not None}


def test_the_circumstances_of_a_run_are_what_its_records_tell() -> None:
    """Month, plants, age of the seed, the median EC; by hand: 4 plants on 50 x 40 cm are 20 a m²."""
    found = _values(_run(1.2, 1.8, 1.4))

    assert {code: value.low for code, value in found.items()} == {
        "month": 3,
        "ec": 1.4,
        "plants": 4,
        "density": 20,
        "seed_age": 2,
    }
    assert found["ec"].single


def test_what_is_not_recorded_is_no_circumstance() -> None:
    """Without a footprint, a date, a packet or readings there is nothing to set beside another run."""
    bare = run_of(setup_of(4, start=Start()))

    assert set(_values(bare)) == {"plants"}


def test_two_runs_differ_in_what_is_not_alike() -> None:
    """The variety is what is compared, and no circumstance; what one of them did not record is known of one only."""
    here, there = (run_arms(measure(run)).conditions for run in (_run(1.2), _run()))

    assert differed(here, there) == (
        Differed("ec", Condition("ec", exactly(1.2, Dimension.CONDUCTIVITY, 0.1)), None),
    )
    assert differed(here, here) == ()


def test_a_value_written_more_finely_is_no_difference() -> None:
    """1.2 and 1.20 are one EC."""
    here = run_arms(measure(_run(1.2))).conditions
    finer = tuple(
        replace(each, value=replace(each.value, step=0.01)) if each.value else each for each in here
    )

    assert differed(here, finer) == ()


def test_a_tub_stands_for_its_system_where_each_has_its_own() -> None:
    """Two tubs of two systems are rows by system; two of one system say nothing of the system."""
    setup = setup_of(4, tubs=("left", "right"))
    left, right = setup.tubs
    other = replace(setup, tubs=(left, replace(right, system=replace(right.system, id="raft"))))
    roles = [
        [arm.roles for arm in run_arms(measure(run_of(each))).arms if arm.kind == "tubs"]
        for each in (replace(other, compare="tubs"), replace(setup, compare="tubs"))
    ]

    assert roles == [[("row", "system"), ("row", "system")], [("row",), ("row",)]]
