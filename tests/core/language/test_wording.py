"""What values are called on a page."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sitegen.core.facts.figure import Figure, Share
from sitegen.core.language.catalogue import Catalogue, using_catalogue
from sitegen.core.language.wording import NBSP, Pieces, Wording, localized_number, mid_sentence, opening
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly, total, unknown
from sitegen.core.values.units import Dimension, unit_named


def written(
    value: float, unit: str, dimension: Dimension, step: float = 1.0, high: float | None = None
) -> Quantity:
    """A quantity as the reader makes it of `value unit`."""
    known = unit_named(unit, dimension)
    assert known is not None
    top = known.to_canonical(value if high is None else high)
    return Quantity(known.to_canonical(value), top, dimension, step=float(known.factor) * step)


def open_ended(quantity: Quantity) -> Quantity:
    """The same as "at least"."""
    return replace(quantity, high=None, open=1)


MASS, VOLUME, LENGTH = Dimension.MASS, Dimension.VOLUME, Dimension.LENGTH
TEMPERATURE, EC = Dimension.TEMPERATURE, Dimension.CONDUCTIVITY

METRIC = [
    (written(84, "g", MASS), "84 g (2.96 oz)"),
    (written(196, "g", MASS), "196 g (6.9 oz)"),
    (open_ended(exactly(196.45, MASS, 1)), "at least 196 g (6.9 oz)"),
    (open_ended(exactly(196.95, MASS, 1)), "at least 196 g (6.9 oz)"),
    (written(2.3, "oz", MASS, 0.1), "65 g (2.3 oz)"),
    (written(20, "oz", MASS), "570 g (1 lb 4 oz)"),
    (written(1.5, "lb", MASS, 0.1), "680 g (1.5 lb)"),
    (written(4.6, "kg", MASS, 0.1), "4.6 kg (10.1 lb)"),
    (written(1400, "g", MASS), "1.400 kg (3 lb 1.4 oz)"),
    (written(9, "oz", MASS), "260 g (9 oz)"),
    (written(683, "g", MASS, high=693), "683–693 g (24.09–24.44 oz)"),
    (written(60, "g", MASS, high=70), "60–70 g (2.12–2.47 oz)"),
    (replace(written(150, "g", MASS), by_eye=True), "150 g (5.3 oz) by eye"),
    (replace(written(205, "g", MASS), about=True), "about 205 g (7.23 oz)"),
    (replace(written(205, "g", MASS), about=True, high=None), "at least about 205 g (7.23 oz)"),
    (unknown(MASS), "not weighed"),
    (unknown(VOLUME), "not measured"),
    (unknown(Dimension.COUNT), "not counted"),
    (total((), MASS), "0 g"),
    (exactly(-0.0, MASS, 1), "0 g"),
    (written(11, "L", VOLUME), "11 L (2.9 gal)"),
    (written(1.5, "L", VOLUME, 0.1), "1.5 L (51 fl oz)"),
    (written(2, "L", VOLUME), "2 L (0.53 gal)"),
    (written(20, "ml", VOLUME), "20 ml (0.68 fl oz)"),
    (written(10, "ml", VOLUME), "10 ml (2.0 tsp)"),
    (written(0.5, "tsp", VOLUME, 0.5), "2.5 ml (0.5 tsp)"),
    (written(5, "gal", VOLUME), "19 L (5 gal)"),
    (replace(written(9, "in", LENGTH), about=True), "about 23 cm (9 in)"),
    (written(8, "in", LENGTH, high=9), "20–23 cm (8–9 in)"),
    (replace(written(60, "cm", LENGTH), low=0.0), "up to 60 cm (23.6 in)"),
    (open_ended(written(9, "cm", LENGTH)), "at least 9 cm (3.5 in)"),
    (written(3.5, "cm", LENGTH, 0.1), "3.5 cm (1.38 in)"),
    (written(2, "ft", LENGTH), "61 cm (2 ft)"),
    (written(21, "°C", TEMPERATURE), "21 °C (70 °F)"),
    (written(-2, "°C", TEMPERATURE), "−2 °C (28 °F)"),
    (written(70, "°F", TEMPERATURE), "21 °C (70 °F)"),
    (written(0, "°C", TEMPERATURE), "0 °C (32 °F)"),
    (open_ended(written(0, "°C", TEMPERATURE)), "not measured"),
    (written(5, "K", Dimension.TEMPERATURE_DIFFERENCE), "5 °C (9.0 °F)"),
    (written(1.4, "mS/cm", EC, 0.1), "1.4 mS/cm"),
    (written(2, "ml/L", Dimension.VOLUME_DOSE), "2 ml/L (7.6 ml/gal)"),
    (written(6.1, "", Dimension.ACIDITY, 0.1), "6.1"),
    (written(14, "h", Dimension.DURATION), "14 h"),
    (written(65, "%", Dimension.SHARE), "65 %"),
    (counted(1204), "1,204"),
    (written(1, "days", Dimension.DAYS), "1 day"),
    (written(168, "days", Dimension.DAYS), "168 days"),
]


def spaced(text: str) -> str:
    """A text with plain spaces."""
    return text.replace(NBSP, " ")


@pytest.mark.parametrize(("quantity", "text"), METRIC, ids=[text for _, text in METRIC])
def test_quantity_in_metric(quantity: Quantity, text: str) -> None:
    """A quantity is said in metric first, the other system in brackets, each rounded to what was recorded."""
    assert spaced(Wording().say(quantity)) == text


US = [
    (written(84, "g", MASS), "2.96 oz (84 g)"),
    (written(9, "in", LENGTH), "9 in (23 cm)"),
    (written(1, "in", LENGTH), "1 in (2.5 cm)"),
    (written(20, "oz", MASS), "1 lb 4 oz (570 g)"),
    (open_ended(exactly(196.45, MASS, 1)), "at least 6.9 oz (196 g)"),
    (written(2, "gal", VOLUME), "2 gal (7.6 L)"),
    (written(1, "cup", VOLUME), "8 fl oz (240 ml)"),
    (written(70, "°F", TEMPERATURE), "70 °F (21 °C)"),
]


@pytest.mark.parametrize(("quantity", "text"), US, ids=[text for _, text in US])
def test_quantity_in_us_units(quantity: Quantity, text: str) -> None:
    """A journal in US units says those first."""
    assert spaced(Wording("us").say(quantity)) == text


HALVES = [
    (exactly(2.5, MASS, 1), "3 g (0.11 oz)"),
    (exactly(0.285, MASS, 0.01), "0.29 g (0.0102 oz)"),
    (exactly(1.005, EC, 0.01), "1.01 mS/cm"),
    (exactly(2.675, EC, 0.01), "2.68 mS/cm"),
    (exactly(-0.04, TEMPERATURE, 0.1), "0.0 °C (32.0 °F)"),
    (exactly(-0.5, TEMPERATURE, 1), "−1 °C (30 °F)"),
    (exactly(0.1 + 0.2, EC, 0.1), "0.3 mS/cm"),
]


@pytest.mark.parametrize(("quantity", "text"), HALVES, ids=[text for _, text in HALVES])
def test_halves_are_rounded_away_from_zero(quantity: Quantity, text: str) -> None:
    """Halves go up as on paper, float noise does not count, and minus zero is zero."""
    assert spaced(Wording().say(quantity)) == text


DAYS = [
    (Day.on(26), "day 26"),
    (Day(33, 38), "days 33–38"),
    (Day.on(36, about=True), "about day 36"),
    (Day(0, 39, before=True), "before day 40"),
    (Day(0, 39), "by day 39"),
    (Day(0, 1), "days 0–1"),
    (Day(-3, 4), "by day 4"),
]


@pytest.mark.parametrize(("day", "text"), DAYS, ids=[text for _, text in DAYS])
def test_days(day: Day, text: str) -> None:
    """A day is said with its word, a span with both ends."""
    assert spaced(Wording().say(day)) == text


def test_days_in_a_column_leave_out_their_word() -> None:
    """In a column headed "Day" only the number stands."""
    said = [Wording().days(day) for day, _ in DAYS[:5]]

    assert said == ["26", "33–38", "about 36", "before 40", "by 39"]


SHARES = [
    # Wilson intervals with z = 1.959964 (Wilson 1927), as statsmodels gives them
    (Share(8, 8, 0.6756, 1.0), "all 8 (95 % interval 68–100 %)"),
    (Share(2, 4, 0.15, 0.85), "2 of 4 (95 % interval 15–85 %)"),
    (Share(0, 5, 0.0, 0.4345), "none of 5 (95 % interval 0–43 %)"),
    (Share(1, 1, 0.2065, 1.0), "1 of 1 (95 % interval 21–100 %)"),
    (Share(18, 20, 0.699, 0.9721), "18 of 20 (90 %; 95 % interval 70–97 %)"),
    (Share(399, 400, 0.986, 0.9996), "399 of 400 (99 %; 95 % interval 99–100 %)"),
]


@pytest.mark.parametrize(("share", "text"), SHARES, ids=[text for _, text in SHARES])
def test_shares(share: Share, text: str) -> None:
    """A share carries its interval, and a percentage only from twenty on."""
    assert spaced(Wording().say(share)) == text


OTHER = [
    (None, "not recorded"),
    (14, "14"),
    (date(2025, 10, 19), "19 October 2025"),
    ("both", "both"),
    (Figure("length", exactly(64, Dimension.DAYS, 1), "day_count"), "64 days"),
    (Figure("harvest.total", None, "total_harvest"), "not recorded"),
]


@pytest.mark.parametrize(("value", "text"), OTHER, ids=[text for _, text in OTHER])
def test_other_values(value: Figure | date | str | int | None, text: str) -> None:
    """Counts, dates, texts, figures and what is missing are said plainly."""
    assert spaced(Wording().say(value)) == text


def test_a_number_is_never_parted_from_its_unit() -> None:
    """Number and unit, and the word day and its number, are joined by no-break spaces."""
    said = [Wording().say(value) for value in (written(20, "ml", VOLUME), Day(33, 38))]

    assert said == [f"20{NBSP}ml (0.68{NBSP}fl{NBSP}oz)", f"days{NBSP}33–38"]


def test_pieces_part_flag_amount_and_other_system() -> None:
    """A template gets the flag, the amount, the other system and what follows apart."""
    quantity = replace(written(150, "g", MASS), high=None, open=1, by_eye=True)

    assert Wording().pieces(quantity) == Pieces("at least", f"150{NBSP}g", f"(5.3{NBSP}oz)", "by eye")


def test_numbers_and_dates_follow_the_language() -> None:
    """Decimal sign, order and month are those of the journal's language."""
    german = Wording(language="de")

    said = [german.say(value) for value in (written(4.6, "kg", MASS, 0.1), date(2025, 10, 19))]

    assert [spaced(text) for text in said] == ["4,6 kg (10,1 lb)", "19. Oktober 2025"]


def test_a_month_stays_with_its_day() -> None:
    """No line ends between a day and its month, where the day comes first."""
    when = date(2025, 7, 25)

    says = Wording(language="de"), Wording()

    assert [each.calendar_day(when) for each in says] == [f"25.{NBSP}Juli 2025", f"25{NBSP}July 2025"]
    assert [each.calendar_day(when, short=True) for each in says] == [
        f"25.{NBSP}Juli 2025",
        f"25{NBSP}Jul 2025",
    ]
    assert [each.day_of_year(when) for each in says] == [f"25.{NBSP}Juli", f"25{NBSP}July"]


def test_an_unknown_language_is_met_with_english_numbers() -> None:
    """A tag that names no language does not stop a page."""
    assert Wording(language="xx-nowhere").number(1.25, 1) == "1.3"


def test_plain_stands_in_the_system_it_was_measured_in() -> None:
    """A dense table shows only what was written."""
    said = [Wording().plain(q) for q in (written(9, "in", LENGTH), written(84, "g", MASS), unknown(MASS))]

    assert [spaced(text) for text in said] == ["9 in", "84 g", "not weighed"]


def test_a_name_inside_a_sentence() -> None:
    """A name keeps its capitals in German, and in English those of words that are written with them."""
    names = ("Dwarf tomato", "pH up and pH down", "LED panel")
    assert [mid_sentence(name) for name in names] == ["dwarf tomato", "pH up and pH down", "LED panel"]
    with using_catalogue(Catalogue("de")):
        assert mid_sentence("Busch-Tomate") == "Busch-Tomate"


def test_opening_begins_a_sentence() -> None:
    """The first letter becomes a capital, the rest stays."""
    assert opening("at least 196 g of pH 6") == "At least 196 g of pH 6"


def test_a_number_in_a_remark_has_the_sign_of_the_language() -> None:
    """The point is German's comma while German is spoken."""
    with using_catalogue(Catalogue("de")):
        german = localized_number("4.6")

    assert (german, localized_number("4.6")) == ("4,6", "4.6")
