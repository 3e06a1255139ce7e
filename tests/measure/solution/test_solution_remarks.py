"""What is said with the figures of water and feed, and what tubs, products and routines are called."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.facts.figure import NOT_RECORDED, Label, Remark, RemarkCode, remark
from sitegen.core.facts.tree import Dosing, Solution, TubFacts
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Event, Reading
from sitegen.core.records.setup import Crop
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.solution.solution import solution_of
from tests.measure.builders import (
    SYRUP,
    event,
    grams,
    joint,
    litres,
    ml,
    place,
    reading,
    routine,
    run_of,
    setup_of,
)

FILLED = event(Deed.WATER, 0, filled=True)
WEEKLY = routine(5, "every week", ml(10))
REFILLING = routine(5, "every refill", ml(10))


def water(day: int, amount: Quantity | None = None, **more: Any) -> Event:
    """Water into a tub."""
    return event(Deed.WATER, day, amount=amount, **more)


def feed(day: int, amount: Quantity | None = None, **more: Any) -> Event:
    """Syrup into a tub."""
    more = {"product": "syrup", "line": 1500 + day, **more}
    return event(more.pop("deed", Deed.FEED), day, amount=amount, **more)


def solution(*rows: Event | Reading | Routine, tubs: tuple[str, ...] = ("tub",), **head: Any) -> Solution:
    """The solution of a run."""
    return solution_of(
        run_of(
            replace(setup_of(tubs=tubs), products=(SYRUP,), **head),
            events=[row for row in rows if isinstance(row, Event)],
            readings=[row for row in rows if isinstance(row, Reading)],
            routines=[row for row in rows if isinstance(row, Routine)],
        )
    )


def tub(*rows: Event | Reading | Routine, **more: Any) -> TubFacts:
    """Its first tub."""
    return solution(*rows, **more).tubs[0]


def dose(*rows: Event | Routine) -> Dosing:
    """Its only product."""
    (found,) = tub(*rows).doses
    return found


def said(*codes: RemarkCode) -> tuple[Remark, ...]:
    """Remarks without values."""
    return tuple(remark(code) for code in codes)


def counts(**codes: int) -> tuple[Remark, ...]:
    """Remarks on so many things each."""
    return tuple(remark(code, n=n) for code, n in codes.items())  # type: ignore[arg-type]


def days(number: int) -> Quantity:
    """A length of time to the day."""
    return exactly(number, Dimension.DAYS, 1)


BY_EYE = replace(litres(1), by_eye=True)
AT_LEAST = replace(litres(1), high=None, open=1)


@pytest.mark.parametrize(
    ("rows", "remarks"),
    [
        ((), (NOT_RECORDED,)),
        ((FILLED, water(9, litres(1))), ()),
        ((FILLED, water(9), water(10)), counts(fillings_not_measured=2)),
        ((FILLED, water(9, BY_EYE), water(10, BY_EYE)), counts(fillings_by_eye=2)),
        ((FILLED, water(9, AT_LEAST)), counts(amounts_are_lower_bounds=1)),
        (
            (FILLED, water(9), water(10, BY_EYE), water(11, AT_LEAST), REFILLING),
            (
                *counts(fillings_not_measured=1, fillings_by_eye=1, amounts_are_lower_bounds=1),
                remark("water_by_routine"),
            ),
        ),
        ((FILLED, WEEKLY), ()),
    ],
)
def test_water(rows: tuple[Event | Routine, ...], remarks: tuple[Remark, ...]) -> None:
    """What is uncertain of the water is counted, of a tub and of all alike; water by routine is said."""
    found = solution(*rows)
    assert found.water.remarks == found.tubs[0].water.remarks == remarks


def test_refills() -> None:
    """Refills by routine are said, of all tubs once; changes need no remark."""
    two = solution(water(9, litres(1), tub="left"), REFILLING, tubs=("left", "right"))
    by_routine = said("water_by_routine")
    assert [t.refills.remarks for t in two.tubs] == [by_routine, by_routine]
    assert (two.refills.remarks, two.tubs[0].changes.remarks) == (by_routine, ())
    own = solution(water(9, litres(1), tub="left"), replace(REFILLING, tub="left"), tubs=("left", "right"))
    assert ([t.refills.remarks for t in own.tubs], own.refills.remarks) == ([by_routine, ()], by_routine)
    assert solution(FILLED).refills.remarks == ()


def test_readings() -> None:
    """How many readings a range is of."""
    ec = [reading("ec", day, exactly(1, Dimension.CONDUCTIVITY), line=day) for day in (9, 12)]
    found = tub(*ec, reading("ph", 9, exactly(6, Dimension.ACIDITY)))
    assert (found.ec.remarks, found.ph.remarks) == (counts(readings=2), counts(readings=1))
    assert (tub().ec.remarks, tub().ph.remarks) == ((NOT_RECORDED,), (NOT_RECORDED,))


def test_doses() -> None:
    """Doses not measured, in another unit and by eye are each counted; a routine is said of total and times."""
    rows = (
        feed(1, ml(9)),
        feed(2),
        feed(3),
        feed(4, grams(4)),
        feed(5, replace(ml(1), by_eye=True)),
        WEEKLY,
    )
    found = dose(*rows)
    assert found.total.remarks == (
        *counts(doses_not_measured=2, doses_in_other_unit=1, doses_by_eye=1),
        remark("feed_by_routine"),
    )
    assert found.times.remarks == said("feed_by_routine")
    plain = dose(feed(1, ml(9)))
    assert (plain.total.remarks, plain.times.remarks) == ((), ())


def test_feed_a_litre() -> None:
    """Remarks of feed and water, or what was not measured of the two."""
    both = dose(FILLED, water(9, BY_EYE), feed(5, ml(20)), feed(6)).per_litre
    assert both.remarks == counts(doses_not_measured=1, fillings_by_eye=1)
    opened = dose(FILLED, water(9), feed(5, ml(20)), feed(6)).per_litre
    assert (opened.value, opened.remarks) == (None, counts(doses_not_measured=1, fillings_not_measured=1))
    assert dose(feed(5, ml(20))).per_litre.remarks == said("water_not_measured")
    assert dose(water(9), feed(5, ml(20))).per_litre.remarks == said("water_not_measured")
    strange = feed(5, exactly(2, Dimension.COUNT, 1))
    assert dose(FILLED, strange).per_litre.remarks == said("feed_not_measured")


def test_uptake() -> None:
    """Over how many days, and how many refills were not measured; or why nothing is known."""
    found = tub(FILLED, water(5, litres(2)), water(10)).uptake
    over = (remark("over_days", days=days(10)), *counts(refills_not_measured=1))
    assert (found.per_day.remarks, found.per_plant_day.remarks) == (over, over)
    assert found.interval.remarks == counts(between_fillings=3)
    bare = tub(FILLED).uptake
    assert [f.remarks for f in (bare.per_day, bare.per_plant_day, bare.interval)] == [
        said("no_refill"),
        said("no_refill"),
        said("no_second_filling"),
    ]
    lost = event(Deed.LOST, 0, joint("P1", "P2", "P3", "P4"))
    empty = tub(lost, FILLED, water(10, litres(2))).uptake
    assert empty.per_plant_day.remarks == said("no_plant_in_tub")
    assert empty.per_day.remarks == (remark("over_days", days=days(10)),)
    routine_ = tub(FILLED, water(10, litres(2)), REFILLING).uptake
    for figure in (routine_.per_day, routine_.per_plant_day, routine_.interval):
        assert figure.remarks == said("water_by_routine")


def ec(day: int, value: float) -> Reading:
    """A reading of EC."""
    return reading("ec", day, exactly(value, Dimension.CONDUCTIVITY, 0.1))


def test_drift() -> None:
    """How many pairs over how many days, or why there is none."""
    assert tub(ec(12, 1.5), ec(14, 1.75), ec(18, 2)).trend.ec.remarks == (
        remark("over_days_pairs", n=2, days=days(6)),
    )
    assert tub(ec(12, 1.5)).trend.ec.remarks == said("no_undisturbed_readings")
    assert tub().trend.ec.remarks == tub().trend.ph.remarks == (NOT_RECORDED,)


def test_bands() -> None:
    """The band of the crop and what a share of readings is worth, or that no band is known.

    Tomato EC 2.0-4.0: Oklahoma State University Extension HLA-6722, Table 2, read in a transcription.
    """
    tomato = Crop("tomato", "Tomato", "fruiting", "Solanum lycopersicum")
    found = tub(ec(12, 1.5), crop=tomato).trend
    assert found.ec_within.remarks == (
        remark("band_of_crop", low=2.0, high=4.0),
        remark("readings_not_independent"),
    )
    assert found.ph_within.remarks == (NOT_RECORDED,)
    assert tub(ec(12, 1.5)).trend.ec_within.remarks == said("band_unknown")


def test_what_things_are_called() -> None:
    """A lone tub goes by its system; a product by its name, else its id, else as feed; a routine by what it gives."""
    assert tub().label == "Bucket"
    assert [t.label for t in solution(tubs=("left", "right")).tubs] == ["left", "right"]
    doses = tub(feed(1, ml(9)), feed(2, ml(9), product="bloom"), feed(3, ml(9), product="")).doses
    assert [(d.product, d.label) for d in doses] == [
        ("syrup", Label("Syrup")),
        ("bloom", Label("bloom")),
        ("feed", Label("feed", "cost")),
    ]
    daily = Routine("water", Day.on(6), 6, place(9), often="daily")
    routines = solution(WEEKLY, replace(WEEKLY, product="bloom"), daily).routines
    assert [r.label for r in routines] == [Label("Syrup"), Label("bloom"), Label("water", "routine")]
