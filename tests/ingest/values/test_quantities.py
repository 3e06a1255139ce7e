"""Quantities in every form that they are written in, and what is said of those that are none."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.findings.examples import example_of
from sitegen.core.findings.finding import Findings
from sitegen.core.values.quantity import Quantity, unknown
from sitegen.core.values.units import UNITS, Dimension, Unit
from sitegen.ingest.values.quantities import parse_quantity, parse_steps, parse_whole
from tests.ingest.builders import said, scalar

D = Dimension
# Dimensions that a key of the format wants.
COMPUTED = {D.PRESSURE, D.LIGHT_SUM, D.HEAT_SUM, D.DAYS, D.PPM_500, D.PPM_640, D.PPM_700}
MEASURED = [d for d in Dimension if d not in COMPUTED]
OUNCE, POUND, INCH = 28.349523125, 453.59237, 2.54


def _read(text: str, dimension: Dimension, key: str = "key") -> tuple[Quantity | None, list[str]]:
    findings = Findings()
    return parse_quantity(scalar(text), dimension, findings, key), said(findings)


WRITTEN = [
    ("84 g", D.MASS, Quantity(84, 84, D.MASS, step=1)),
    ("84g", D.MASS, Quantity(84, 84, D.MASS, step=1)),
    ("0.5 g", D.MASS, Quantity(0.5, 0.5, D.MASS, step=0.1)),
    (".5 g", D.MASS, Quantity(0.5, 0.5, D.MASS, step=0.1)),
    ("4.60 kg", D.MASS, Quantity(4600, 4600, D.MASS, step=10)),
    ("2.3 oz", D.MASS, Quantity(2.3 * OUNCE, 2.3 * OUNCE, D.MASS, step=0.1 * OUNCE)),
    ("1 lb 4 oz", D.MASS, Quantity(566.9904625, 566.9904625, D.MASS, step=OUNCE)),  # published case Z1
    ("1 lb 4.5 oz", D.MASS, Quantity(20.5 * OUNCE, 20.5 * OUNCE, D.MASS, step=0.1 * OUNCE)),
    ("about 1 lb 4 oz", D.MASS, Quantity(566.9904625, 566.9904625, D.MASS, about=True, step=OUNCE)),
    ("at least 1 lb 4 oz", D.MASS, Quantity(566.9904625, None, D.MASS, open=1, step=OUNCE)),
    ("1 lb 4 oz by eye", D.MASS, Quantity(566.9904625, 566.9904625, D.MASS, by_eye=True, step=OUNCE)),
    ("1 ft 4 in", D.LENGTH, Quantity(40.64, 40.64, D.LENGTH, step=INCH)),
    ("½ oz", D.MASS, Quantity(OUNCE / 2, OUNCE / 2, D.MASS, step=OUNCE / 2)),
    ("1½ oz", D.MASS, Quantity(1.5 * OUNCE, 1.5 * OUNCE, D.MASS, step=OUNCE / 2)),
    ("1 1/2 oz", D.MASS, Quantity(1.5 * OUNCE, 1.5 * OUNCE, D.MASS, step=OUNCE / 2)),
    ("⅞ oz", D.MASS, Quantity(7 / 8 * OUNCE, 7 / 8 * OUNCE, D.MASS, step=OUNCE / 8)),
    ("½ tsp", D.VOLUME, Quantity(2.464460796875, 2.464460796875, D.VOLUME, step=2.464460796875)),
    ("8 oz", D.VOLUME, Quantity(236.5882365, 236.5882365, D.VOLUME, step=29.5735295625)),
    ("150 g by eye", D.MASS, Quantity(150, 150, D.MASS, by_eye=True, step=1)),
    ("about 150 g by eye", D.MASS, Quantity(150, 150, D.MASS, about=True, by_eye=True, step=1)),
    ("80-90 g", D.MASS, Quantity(80, 90, D.MASS, step=1)),
    ("80 – 90 g", D.MASS, Quantity(80, 90, D.MASS, step=1)),
    ("about 80-90 g", D.MASS, Quantity(80, 90, D.MASS, about=True, step=1)),
    ("8.5-9 cm", D.LENGTH, Quantity(8.5, 9, D.LENGTH, step=1)),
    ("at least 9 cm", D.LENGTH, Quantity(9, None, D.LENGTH, open=1, step=1)),
    ("9+ cm", D.LENGTH, Quantity(9, None, D.LENGTH, open=1, step=1)),
    ("up to 60 cm", D.LENGTH, Quantity(0, 60, D.LENGTH, step=1)),
    ("21 C", D.TEMPERATURE, Quantity(21, 21, D.TEMPERATURE, step=1)),
    ("-3 °C", D.TEMPERATURE, Quantity(-3, -3, D.TEMPERATURE, step=1)),
    ("-5 - -3 C", D.TEMPERATURE, Quantity(-5, -3, D.TEMPERATURE, step=1)),
    ("50 F", D.TEMPERATURE, Quantity(10, 10, D.TEMPERATURE, step=5 / 9)),
    ("700 ppm500", D.CONDUCTIVITY, Quantity(1.4, 1.4, D.CONDUCTIVITY, step=0.002)),
    ("6.1", D.ACIDITY, Quantity(6.1, 6.1, D.ACIDITY, step=0.1)),
    ("6.1 pH", D.ACIDITY, Quantity(6.1, 6.1, D.ACIDITY, step=0.1)),
    ("12+", D.COUNT, Quantity(12, None, D.COUNT, open=1, step=1)),
    ("7-8", D.COUNT, Quantity(7, 8, D.COUNT, step=1)),
    ("60%", D.SHARE, Quantity(60, 60, D.SHARE, step=1)),
    ("unweighed", D.MASS, unknown(D.MASS)),
    ("unmeasured", D.LENGTH, unknown(D.LENGTH)),
    ("not kept", D.VOLUME, unknown(D.VOLUME)),
]


@pytest.mark.parametrize(("text", "dimension", "quantity"), WRITTEN, ids=[text for text, _, _ in WRITTEN])
def test_written(text: str, dimension: Dimension, quantity: Quantity) -> None:
    """Each form gives its bounds, its flags and the step that it was written to."""
    read, findings = _read(text, dimension)

    assert findings == []
    assert read is not None
    assert (read.about, read.by_eye, read.open, read.unweighed) == (
        quantity.about,
        quantity.by_eye,
        quantity.open,
        quantity.unweighed,
    )
    assert (read.low, read.high, read.step) == pytest.approx((quantity.low, quantity.high, quantity.step))


REFUSED = [
    # a unit is always written, and a bare number is shown with each it may have
    ("84", D.MASS, "10: no-unit: `harvest: 84` has no unit (write `84 g`, `84 kg`, `84 mg` or `84 oz`)"),
    ("½", D.MASS, "10: no-unit: `harvest: ½` has no unit (write `½ g`, `½ kg`, `½ mg` or `½ oz`)"),
    # two readings are both offered, and the rest of the text stays
    (
        "1,200 g",
        D.MASS,
        "10: ambiguous-number: `1,200` can be read in two ways (write `1200 g` or `1.200 g`)",
    ),
    (
        "about 1,200 g",
        D.MASS,
        "16: ambiguous-number: `1,200` can be read in two ways (write `about 1200 g` or `about 1.200 g`)",
    ),
    ("8,5-9,5 cm", D.LENGTH, "10: ambiguous-number: `8,5` has a decimal comma (write `8.5-9.5 cm`)"),
    (
        "1,200,300 g",
        D.MASS,
        "10: ambiguous-number: `1,200,300` has commas between thousands (write `1200300 g`)",
    ),
    (
        "1.200,5 g",
        D.MASS,
        "10: ambiguous-number: `1.200,5` has a decimal comma and points between thousands (write `1200.5 g`)",
    ),
    ("1 200 g", D.MASS, "12: unknown-unit: `200 g` is not a known unit (write `1200 g`)"),
    # units
    (
        "9 g",
        D.LENGTH,
        "12: wrong-dimension: `g` is a weight; `harvest` wants a length (write a length, such as `9 cm`)",
    ),
    (
        "1 lb 4 in",
        D.MASS,
        "17: wrong-dimension: `in` is a length; `harvest` wants a weight (write a weight, such as `84 g`)",
    ),
    ("250 mll", D.VOLUME, "14: unknown-unit: `mll` is not a known unit (write `ml`)"),
    (
        "5 stone",
        D.MASS,
        "12: unknown-unit: `stone` is not a known unit (write `g`, `kg`, `mg`, `oz` or `lb`)",
    ),
    (
        "5 g or so",
        D.MASS,
        "12: unknown-unit: `g or so` is not a known unit (write `5 g`, and the rest as a `note`)",
    ),
    (
        "700 ppm",
        D.CONDUCTIVITY,
        (
            "14: scale-unknown: ppm means nothing without the meter's scale "
            "(write `700 ppm500`, `700 ppm640` or `700 ppm700`, or the conductivity in mS/cm)"
        ),
    ),
    # words of other people for our own
    ("abuot 9 cm", D.LENGTH, "10: not-a-quantity: `abuot 9 cm` is not a length (write `about 9 cm`)"),
    ("7 leaves", D.COUNT, "10: not-a-quantity: `7 leaves` is not a whole number (write `7`)"),
    # no quantity at all
    (
        "tall",
        D.LENGTH,
        "10: not-a-quantity: `tall` is not a length (write a value such as `9 cm`, or `unmeasured`)",
    ),
    (
        "",
        D.MASS,
        "10: not-a-quantity: an empty text is not a weight (write a value such as `84 g`, or `unweighed`)",
    ),
    ("-5 g", D.MASS, "10: not-a-quantity: `-5 g` is not a weight (write `5 g`)"),
    (
        "3/0 oz",
        D.MASS,
        "10: not-a-quantity: `3/0 oz` is not a weight (write a value such as `84 g`, or `unweighed`)",
    ),
    (
        "7.5",
        D.COUNT,
        "10: not-a-quantity: `7.5` is not a whole number (write a value such as `7`, or `unmeasured`)",
    ),
    ("9-8 cm", D.LENGTH, "10: reversed-range: the range `9-8` ends before it begins (write `8-9 cm`)"),
    (
        "about 9-8 cm",
        D.LENGTH,
        "10: reversed-range: the range `9-8` ends before it begins (write `about 8-9 cm`)",
    ),
]


@pytest.mark.parametrize(("text", "dimension", "finding"), REFUSED, ids=[text for text, _, _ in REFUSED])
def test_error_refused(text: str, dimension: Dimension, finding: str) -> None:
    """What has no reading, or two, is refused once, at its narrowest place, with one thing to do."""
    assert _read(text, dimension, "harvest") == (None, [f"1:{finding}"])


@pytest.mark.parametrize("text", ["9" * 5000, "9" * 16, "0." + "3" * 5000, "1/" + "7" * 5000])
def test_error_a_number_without_end(text: str) -> None:
    """A number of thousands of signs is no quantity, rather than a fault of ours."""
    value, found = _read(f"{text} cm", D.LENGTH, "height")

    assert value is None
    assert [line.split(": ")[1] for line in found] == ["not-a-quantity"]


def test_error_each_time() -> None:
    """A text that is refused is refused each time, at its own place and for its own key."""
    first, again = (_read("9 stone", Dimension.MASS, key)[1] for key in ("weight", "weight"))
    other = _read("9", Dimension.MASS, "each")[1]

    assert first == again != []
    assert other == ["1:10: no-unit: `each: 9` has no unit (write `9 g`, `9 kg`, `9 mg` or `9 oz`)"]


def test_ounces_by_what_is_wanted() -> None:
    """The same text is a weight under one key and a volume under another."""
    weight, volume = (_read("8 oz", dimension)[0] for dimension in (Dimension.MASS, Dimension.VOLUME))

    assert weight is not None
    assert volume is not None
    assert (weight.dimension, volume.dimension) == (Dimension.MASS, Dimension.VOLUME)


def _offers(finding: str) -> list[str]:
    """The values that a mend offers."""
    mend = finding[finding.rindex("(write") :]
    return mend.split("`")[1::2]


WHOLE_MENDS = [
    (text, dimension)
    for text, dimension, finding in REFUSED
    if any(character.isdigit() for character in finding[finding.rindex("(") :])
    and "unit: `g or" not in finding
]


@pytest.mark.parametrize(("text", "dimension"), WHOLE_MENDS, ids=[text for text, _ in WHOLE_MENDS])
def test_the_mend_can_be_read(text: str, dimension: Dimension) -> None:
    """Every value that a mend offers is itself read without a finding."""
    _, findings = _read(text, dimension, "harvest")

    assert [_read(offer, dimension)[1] for offer in _offers(findings[0])] == [[]] * len(_offers(findings[0]))


STEPS = [
    ("7.1, then 5.9", D.ACIDITY, [7.1, 5.9]),
    ("7.1", D.ACIDITY, [7.1]),
    ("7.1 then 5.9", D.ACIDITY, [7.1, 5.9]),
    ("7.1 -> 5.9", D.ACIDITY, [7.1, 5.9]),
    ("1.4 → 1.8 mS/cm", D.CONDUCTIVITY, [1.4, 1.8]),
    ("1.4, then 1.8 mS/cm", D.CONDUCTIVITY, [1.4, 1.8]),
    ("1.4 mS/cm, then 1800 uS/cm", D.CONDUCTIVITY, [1.4, 1.8]),
    ("about 1.4, then 1.8 mS/cm", D.CONDUCTIVITY, [1.4, 1.8]),
]


@pytest.mark.parametrize(("text", "dimension", "values"), STEPS, ids=[text for text, _, _ in STEPS])
def test_before_and_after(text: str, dimension: Dimension, values: list[float]) -> None:
    """A value before and one after share a unit that only the second names."""
    findings = Findings()
    read = parse_steps(scalar(text), dimension, findings, "ec")

    assert ([quantity.low for quantity in read], said(findings)) == (values, [])


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        ("7.1, then 5,9", "1:20: ambiguous-number: `5,9` has a decimal comma (write `5.9`)"),
    ],
)
def test_error_before_and_after(text: str, finding: str) -> None:
    """Other ways to write it are met with the one way."""
    findings = Findings()

    assert (parse_steps(scalar(text), D.ACIDITY, findings, "ph"), said(findings)) == ((), [finding])


@pytest.mark.parametrize("text", ["six plants", "6.5", "-6", "", "1234567890", "6 plants"])
def test_error_whole(text: str) -> None:
    """Only a whole number is one."""
    findings = Findings()

    assert parse_whole(scalar(text), findings, "spots") is None
    meant = text in {"six plants", "-6", "6 plants"}
    mend = "write `spots: 6`" if meant else "write a whole number, such as `spots: 6`"
    assert said(findings) == [
        f"1:10: not-a-count: `{text}` is not a whole number; `spots` wants one ({mend})",
    ]


# Any number and unit, in every form.

NEVER_FINE = ("lux", "W", "µS/cm", "ppm", "ppm500", "ppm640", "ppm700", "mm", "ml")
NUMBERS = st.tuples(st.integers(0, 99999), st.integers(0, 3))
UNITED = [unit for unit in UNITS if unit.symbol and unit.dimension is not Dimension.DAYS]
SPELLED = [(unit, name) for unit in UNITED for name in (unit.symbol, *unit.also)]


def _decimal(number: tuple[int, int]) -> tuple[str, Fraction]:
    digits, places = number
    value = Fraction(digits, 10**places)
    return f"{float(value):.{places}f}", value


def _canonical(value: Fraction, unit: Unit) -> float:
    return float(value * unit.factor + unit.offset)


@given(number=NUMBERS, other=NUMBERS, spelled=st.sampled_from(SPELLED))
def test_every_form_reads_back(
    number: tuple[int, int], other: tuple[int, int], spelled: tuple[Unit, str]
) -> None:
    """Any number and unit reads back in each form, to the number that was written."""
    unit, name = spelled
    (text, value), (far, more) = sorted([_decimal(number), _decimal(other)], key=lambda pair: pair[1])
    # `1.000 W` is one or a thousand: a test of its own.
    assume(unit.symbol not in NEVER_FINE or number[1] < 3 > other[1])
    low, high = _canonical(value, unit), _canonical(more, unit)
    forms = {
        f"{text} {name}": (low, low),
        f"about {text} {name}": (low, low),
        f"{text} {name} by eye": (low, low),
        f"{text}-{far} {name}": (low, high),
        f"at least {text} {name}": (low, None),
        f"{text}+ {name}": (low, None),
        f"up to {far} {name}": (min(0.0, high), high),
    }
    for written, bounds in forms.items():
        read, findings = _read(written, unit.dimension)
        assert findings == []
        assert read is not None
        assert ((read.low, read.high), read.about, read.by_eye) == (
            bounds,
            written.startswith("about"),
            written.endswith("by eye"),
        )


@given(big=st.integers(0, 99), small=st.integers(0, 150), pair=st.sampled_from([("lb", "oz"), ("ft", "in")]))
def test_every_compound_reads_back(big: int, small: int, pair: tuple[str, str]) -> None:
    """Pounds and ounces, feet and inches add up exactly."""
    dimension = D.MASS if pair[0] == "lb" else D.LENGTH
    ounces, inches = Fraction("28.349523125"), Fraction("2.54")
    value = (
        (big * 16 + Fraction(small, 10)) * ounces
        if pair[0] == "lb"
        else (big * 12 + Fraction(small, 10)) * inches
    )

    read, findings = _read(f"{big} {pair[0]} {small / 10} {pair[1]}", dimension)

    assert findings == []
    assert read is not None
    assert (read.low, read.high) == (float(value), float(value))


@given(text=st.text(max_size=40), dimension=st.sampled_from(MEASURED))
def test_any_text_is_a_quantity_or_a_finding(text: str, dimension: Dimension) -> None:
    """Whatever is written, there is a quantity or one finding, and never an exception."""
    read, findings = _read(text, dimension)

    assert (read is None) == (len(findings) == 1)


@pytest.mark.parametrize(
    ("dimension", "example"), [(d, example_of(d, u)) for d in MEASURED for u in ("metric", "us")]
)
def test_examples_can_be_read(dimension: Dimension, example: str) -> None:
    """The example that findings give for a dimension is a value of it."""
    assert _read(example, dimension)[1] == []
