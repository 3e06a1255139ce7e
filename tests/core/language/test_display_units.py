"""The numbers of a quantity in both systems: what holds of each, in every dimension."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.language.display_units import (
    DisplayValue,
    differs_by_system,
    display_value,
    displayed_step,
    first_system,
    is_up_to,
    measured_system,
)
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import CANONICAL, UNITS, Dimension, Units, unit_named

MASS, VOLUME, LENGTH = Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH
SYSTEMS: tuple[Units, ...] = ("metric", "us")
ALWAYS_DIFFERENT = sorted(dimension for dimension in Dimension if differs_by_system(dimension))
EPSILON = 1e-9  # relative: floats hold about 16 digits, facts 12
POINTS = (Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE)


@st.composite
def written(draw: st.DrawFn) -> Quantity:
    """A value as people write it, in any unit, with up to three decimals, maybe a range or a bound."""
    unit = draw(st.sampled_from(UNITS))
    decimals = draw(st.integers(0, 3))
    step = Fraction(1, 10**decimals)
    low = draw(st.integers(1, 30_000)) * step
    high = low + draw(st.integers(0, 300)) * step
    quantity = Quantity(
        unit.to_canonical(float(low)),
        unit.to_canonical(float(high)),
        unit.dimension,
        step=float(step * unit.factor),
    )
    form = draw(st.sampled_from(("exact", "range", "at least", "up to")))
    if form == "exact":
        return replace(quantity, high=quantity.low)
    if form == "at least":
        return replace(quantity, high=None, open=1)
    return replace(quantity, low=min(0.0, quantity.low)) if form == "up to" else quantity


@st.composite
def computed(draw: st.DrawFn) -> Quantity:
    """A written value shared among a number of days or plants: finer than its step."""
    quantity = draw(written())
    if quantity.dimension in POINTS:
        return quantity
    parts = draw(st.integers(1, 60))
    return replace(quantity.times(1 / parts), step=quantity.step)


def _width(number: Decimal, shown: DisplayValue) -> float:
    """One in the last digit shown, in the canonical unit."""
    return float(Fraction(10) ** int(number.as_tuple().exponent) * shown.unit.factor)


def _ends(shown: DisplayValue) -> list[tuple[float, float]]:
    """Each number shown in the canonical unit, with the width of its last digit."""
    if shown.ounces is not None:
        ounce = unit_named("oz", Dimension.MASS)
        assert ounce is not None
        pounds = shown.low if shown.high is None else shown.high
        end = ounce.to_canonical(float(pounds * 16 + shown.ounces))
        last = float(Fraction(10) ** int(shown.ounces.as_tuple().exponent) * ounce.factor)
        low = end if shown.low == pounds else 0.0  # of an "up to"
        return [(end, last)] if shown.high is None else [(low, last), (end, last)]
    numbers = [shown.low] if shown.high is None else [shown.low, shown.high]
    return [(shown.unit.to_canonical(float(number)), _width(number, shown)) for number in numbers]


def _known(quantity: Quantity) -> list[float]:
    return [quantity.low] if quantity.high is None else [quantity.low, quantity.high]


@given(quantity=st.one_of(written(), computed()))
def test_both_systems_state_one_value(quantity: Quantity) -> None:
    """The numbers of the two systems differ by half a last digit of the coarser at most, also where they are bounds."""
    metric, us = (_ends(display_value(quantity, system)) for system in SYSTEMS)

    for (first, its), (second, others) in zip(metric, us, strict=False):
        assert abs(first - second) <= max(its, others) / 2 * (1 + EPSILON) + EPSILON * abs(first)


@given(quantity=st.one_of(written(), computed()))
def test_a_number_is_rounded_to_the_nearest(quantity: Quantity) -> None:
    """In the system of measurement a value differs from its record by half a last digit at most."""
    if quantity.high is None or is_up_to(quantity):
        return
    shown = _ends(display_value(quantity, measured_system(quantity) or "metric"))

    for (number, width), known in zip(shown, _known(quantity), strict=False):
        assert abs(number - known) <= width / 2 * (1 + EPSILON) + EPSILON * abs(known)


@given(quantity=st.one_of(written(), computed()))
def test_a_bound_stays_on_its_safe_side(quantity: Quantity) -> None:
    """In the system of measurement a lower bound is never above its record and an upper one never below."""
    shown = _ends(display_value(quantity, measured_system(quantity) or "metric"))
    slack = EPSILON * abs(quantity.high or quantity.low)
    if quantity.high is None:
        assert shown[0][0] <= quantity.low + slack
    elif is_up_to(quantity):
        assert shown[-1][0] >= quantity.high - slack


@given(quantity=written(), system=st.sampled_from(SYSTEMS))
def test_a_bound_has_the_conversion_of_the_value(quantity: Quantity, system: Units) -> None:
    """`at least 130 g` and `130 g` have the same numbers in both systems."""
    value = replace(quantity, high=quantity.low, open=0)
    (full, _), *_ = _ends(display_value(value, measured_system(value) or "metric"))
    assume(full == pytest.approx(value.low))  # more than five digits are cut off

    assert display_value(_at_least(value), system).low == display_value(value, system).low
    assert display_value(_at_least(value), system).ounces == display_value(value, system).ounces


@given(quantity=st.one_of(written(), computed()), figures=st.integers(3, 4))
def test_a_sentence_has_so_many_figures(quantity: Quantity, figures: int) -> None:
    """In the system of measurement no number has more significant figures than asked for, and none more than in full."""
    system = measured_system(quantity) or "metric"
    full, brief = display_value(quantity, system), display_value(quantity, system, figures)
    for number in (brief.low, brief.high):
        if number and brief.ounces is None:
            digits = "".join(map(str, number.as_tuple().digits)).strip("0")
            assert len(digits) <= figures
    if full.unit is brief.unit and full.high is None and brief.ounces is None:
        assert brief.low <= full.low


def test_sentences() -> None:
    """A computed total has three figures in a sentence; a bound keeps to its safe side, and counts stay whole."""
    said = [
        Wording().say_in_sentence(each).replace(NBSP, " ")
        for each in (
            exactly(1330, MASS, 1),
            _at_least(exactly(1339, MASS, 1)),
            exactly(513, MASS, 1),
            exactly(85_470, VOLUME, 10),
            exactly(1234, Dimension.COUNT, 1),
            exactly(206.4, VOLUME),
        )
    ]
    assert said == [
        "1.33 kg (2 lb 15 oz)",
        "at least 1.33 kg (2 lb 15 oz)",
        "513 g (1 lb 2.1 oz)",
        "85.5 L (22.59 gal)",
        "1,234",
        "206 ml (6.97 fl oz)",
    ]


@pytest.mark.parametrize(
    ("quantity", "metric", "us"),
    [
        # 620 ml are 20.96 fl oz, and ten millilitres a third of one; by hand with 29.5735 ml (NIST Handbook 44, App. C).
        (Quantity(615, 615, VOLUME), "620 ml", "21 fl oz"),
        # 260 g are 9.17 oz, and ten grams a third of one; with 28.3495 g (the same).
        (Quantity(260, 260, MASS, step=10), "260 g", "9.2 oz"),
    ],
)
def test_tens_are_converted_as_tens(quantity: Quantity, metric: str, us: str) -> None:
    """A number that was rounded to tens has no finer conversion than that."""
    shown = [display_value(quantity, system, 2) for system in SYSTEMS]
    assert [f"{each.low:f} {each.unit.symbol}" for each in shown] == [metric, us]


@given(quantity=st.one_of(written(), computed()), system=st.sampled_from(SYSTEMS))
def test_an_amount_is_never_nothing(quantity: Quantity, system: Units) -> None:
    """No positive bound is displayed as 0; a temperature may be."""
    if quantity.dimension is Dimension.TEMPERATURE:
        return
    shown = _ends(display_value(quantity, system))

    assert [number != 0 for number, _ in shown] == [known != 0 for known in _known(quantity)][: len(shown)]


@given(quantity=st.one_of(written(), computed()), system=st.sampled_from(SYSTEMS))
def test_the_step_is_that_of_the_numbers(quantity: Quantity, system: Units) -> None:
    """Each number displayed is a multiple of the width that it is said to be rounded to."""
    if quantity.dimension is Dimension.TEMPERATURE:
        return
    width = displayed_step(quantity, system).low

    for number, _ in _ends(display_value(quantity, system)):
        assert number / width == pytest.approx(round(number / width), abs=1e-6)


@given(quantity=written(), system=st.sampled_from(SYSTEMS))
def test_a_range_has_one_unit(quantity: Quantity, system: Units) -> None:
    """Both ends are numbers of one unit, in order, without pounds beside ounces."""
    shown = display_value(quantity, system)
    if quantity.high is None or quantity.single:
        return
    if not is_up_to(quantity):
        assert shown.ounces is None
    assert shown.high is not None
    assert shown.low <= shown.high


def test_dimensions_that_differ() -> None:
    """The properties above hold of all units; in these dimensions the two systems have units of their own."""
    assert (
        sorted(
            [
                Dimension.MASS,
                Dimension.VOLUME,
                Dimension.LENGTH,
                Dimension.AREA,
                Dimension.TEMPERATURE,
                Dimension.TEMPERATURE_DIFFERENCE,
                Dimension.VOLUME_DOSE,
                Dimension.MASS_DOSE,
                Dimension.HEAT_SUM,
            ]
        )
        == ALWAYS_DIFFERENT
    )


def _of(value: float, unit: str, dimension: Dimension, step: float = 1.0) -> Quantity:
    known = unit_named(unit, dimension)
    assert known is not None
    canonical = known.to_canonical(value)
    return Quantity(canonical, canonical, dimension, step=float(known.factor) * step)


def _at_least(quantity: Quantity) -> Quantity:
    return replace(quantity, high=None, open=1)


WORDS = [
    # 292 g are 10.29999 oz: the bound exceeds its record by 0.0001 g
    (exactly(292, MASS, 1), "292 g (10.3 oz)"),
    (_at_least(exactly(292, MASS, 1)), "at least 292 g (10.3 oz)"),
    (_of(6.5, "oz", MASS, 0.1), "184 g (6.5 oz)"),
    (_at_least(_of(6.5, "oz", MASS, 0.1)), "at least 184 g (6.5 oz)"),
    # 189 g are 6.667 oz, 46.4 g are 1.637 oz; 130 g are 4.586 oz, and 4.6 oz are 130 g; 129 g are 4.550 oz
    (exactly(189, MASS, 1), "189 g (6.67 oz)"),
    (exactly(130, MASS, 1), "130 g (4.6 oz)"),
    (_at_least(exactly(130, MASS, 1)), "at least 130 g (4.6 oz)"),
    (exactly(129, MASS, 1), "129 g (4.55 oz)"),
    (_at_least(exactly(129, MASS, 1)), "at least 129 g (4.55 oz)"),
    (exactly(46.4, MASS, 1), "46 g (1.62 oz)"),
    (_at_least(exactly(46.4, MASS, 1)), "at least 46 g (1.62 oz)"),
    (_at_least(exactly(189, MASS, 1)), "at least 189 g (6.67 oz)"),
    (_at_least(_of(1.637, "oz", MASS)), "at least 46.2 g (1.63 oz)"),
    (_at_least(exactly(1.97, Dimension.CONDUCTIVITY, 0.1)), "at least 1.97 mS/cm"),
    (exactly(0.2, MASS, 1), "0.2 g (0.0071 oz)"),
    (_at_least(exactly(0.2, MASS, 1)), "at least 0.2 g (0.0071 oz)"),
    (replace(_of(0.4, "oz", MASS), high=None, about=True), "at least about 11 g (0.4 oz)"),
    (exactly(29286.669, MASS, 0.001), "29.287 kg (64 lb 9.07 oz)"),
    (exactly(166.6, Dimension.ENERGY, 10), "170 kWh"),
    (Quantity(0, 16, Dimension.DURATION, step=1), "0–16 h"),
    (Quantity(0.3, 70, MASS, step=1), "0.3–70 g (0.01–2.47 oz)"),
    (Quantity(0, None, MASS, step=1), "not weighed"),
]


@pytest.mark.parametrize(("quantity", "words"), WORDS, ids=[words for _, words in WORDS])
def test_words(quantity: Quantity, words: str) -> None:
    """Values whose rounding has to be both true and the same wherever it stands."""
    assert Wording().say(quantity).replace(NBSP, " ") == words


DOSES = [
    (_of(20, "ml", VOLUME), "20 ml (0.68 fl oz)"),
    (_of(5, "ml", VOLUME), "5 ml (1.0 tsp)"),
    (_of(1240, "ml", VOLUME), "1.240 L (41.93 fl oz)"),
    (_of(2, "ml/L", Dimension.VOLUME_DOSE), "2 ml/L (7.6 ml/gal)"),
    (_of(1, "tsp", VOLUME), "1 tsp (4.9 ml)"),
    (_of(10, "ml/gal", Dimension.VOLUME_DOSE), "10 ml/gal (2.6 ml/L)"),
    (_of(11, "L", VOLUME), "2.9 gal (11 L)"),
]


@pytest.mark.parametrize(("quantity", "words"), DOSES, ids=[words for _, words in DOSES])
def test_a_dose_in_a_us_journal(quantity: Quantity, words: str) -> None:
    """A dose typed in ml is displayed in ml first; other amounts stand in US units first."""
    assert Wording("us").say(quantity).replace(NBSP, " ") == words


@given(quantity=written())
def test_the_first_system_is_the_journals_or_that_of_the_record(quantity: Quantity) -> None:
    """A metric journal is metric; in a US one only volumes and doses measured in metric units come first in those."""
    first = first_system(quantity, "us")

    assert first_system(quantity, "metric") == "metric"
    assert first == "us" or (
        quantity.dimension in (VOLUME, Dimension.VOLUME_DOSE) and measured_system(quantity) == "metric"
    )


STEPS = [
    (exactly(166.6, Dimension.ENERGY, 10), "10 kWh"),
    (exactly(1443, Dimension.LIGHT_SUM, 9.5), "10 mol/m²"),
    (exactly(84, MASS, 1), "1 g"),
    (_of(0.5, "tsp", VOLUME, 0.5), "0.5 tsp"),
    (_of(20, "oz", MASS), "1 oz"),
    (_at_least(_of(1.637, "oz", MASS)), "0.01 oz"),
]


@pytest.mark.parametrize(("quantity", "words"), STEPS, ids=[words for _, words in STEPS])
def test_rounding_notes(quantity: Quantity, words: str) -> None:
    """A note on rounding states the width of the numbers displayed."""
    assert Wording().rounding_of(quantity).replace(NBSP, " ") == words


def test_an_imperial_gallon_is_read_by_its_name() -> None:
    """It has 4.54609 L by the Weights and Measures Act 1985 (from memory), a US one 3.785411784 L."""
    imperial, us = (unit_named(name, VOLUME) for name in ("imp gal", "gal"))
    assert imperial is not None
    assert us is not None

    assert (imperial.to_canonical(1), us.to_canonical(1)) == (4546.09, 3785.411784)
    assert (unit_named("imperial gallons", VOLUME), CANONICAL[VOLUME].symbol) == (imperial, "ml")
