"""The numbers of a sentence: a weight, a day, a part of a whole, each with the step in which it was spoken.

In: a sentence in English or German, numbers in digits or in words. Out: `Claim`s. Number words are read by text2num (MIT
licence); fractions, and amounts in two units, by the tables here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from sitegen.core.values.units import Dimension, unit_named

Kind = Literal["amount", "day", "date", "part", "count", "per cent", "number"]


@dataclass(frozen=True, slots=True)
class Claim:
    """One number that was spoken: `value` in the canonical unit of its dimension, within half of `step` either way.

    Of a part of a whole, `whole` is the whole. `least`: it was called a lower bound. `by`: a day by which something was
    so. `month` is that of a date. `less`: a percentage that is taken off.
    """

    kind: Kind
    text: str
    value: float
    step: float = 1.0
    dimension: Dimension | None = None
    whole: float | None = None
    about: bool = False
    least: bool = False
    by: bool = False
    month: int = 0
    less: bool = False
    noun: str = ""

    @property
    def tolerance(self) -> float:
        """How far the true value may lie from it."""
        return self.step / 2 * (2 if self.about else 1) * (1 + 1e-9)


# Words of units: their dimension and the symbol of the table of units.
_UNITS: dict[str, tuple[Dimension, str]] = {}
for _dimension, _symbol, _words in (
    (Dimension.MASS, "g", "g gram grams gramme grammes gramm"),
    (Dimension.MASS, "kg", "kg kilo kilos kilogram kilograms kilogramm"),
    (Dimension.MASS, "oz", "oz ounce ounces unze unzen"),
    (Dimension.MASS, "lb", "lb lbs pound pounds"),
    (Dimension.VOLUME, "ml", "ml millilitre millilitres milliliter milliliters"),
    (Dimension.VOLUME, "L", "l litre litres liter liters"),
    (Dimension.VOLUME, "gal", "gallon gallons gal gallone gallonen"),
    (Dimension.VOLUME, "qt", "quart quarts"),
    (Dimension.VOLUME, "tsp", "teaspoon teaspoons teelöffel"),
    (Dimension.LENGTH, "cm", "cm centimetre centimetres centimeter centimeters zentimeter"),
    (Dimension.LENGTH, "mm", "mm millimetre millimetres millimeter"),
    (Dimension.LENGTH, "m", "metre metres meter meters"),
    (Dimension.LENGTH, "in", "inch inches zoll"),
    (Dimension.LENGTH, "ft", "foot feet"),
    (Dimension.TEMPERATURE, "°C", "°c celsius"),
    (Dimension.TEMPERATURE, "°F", "°f fahrenheit"),
    (Dimension.POWER, "W", "w watt watts"),
    (Dimension.ENERGY, "kWh", "kwh kilowattstunde kilowattstunden"),
    (Dimension.DURATION, "h", "h hour hours stunde stunden"),
    (Dimension.DAYS, "days", "day days tag tage tagen"),
    (Dimension.CONDUCTIVITY, "mS/cm", "ms/cm"),
):
    for _word in _words.split():
        _UNITS[_word] = (_dimension, _symbol)
_WEEKS = ("week", "weeks", "woche", "wochen")
_DEGREES = ("degree", "degrees", "grad", "°")
_MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "january januar jänner", "february februar", "march märz", "april", "may mai", "june juni", "july juli",
            "august", "september", "october oktober", "november", "december dezember",
        ),
        1,
    )
    for name in names.split()
}  # fmt: skip
_NUMBER = r"(?P<number>\d+(?:[.,]\d+)?)"
_HALF = re.compile(r"\b(\d+) and (?:a|1) (half|quarter|third)\b|\b(\d+) and (\d) (quarters|3rds?|thirds)\b")
_PARTS = {
    "half": 0.5,
    "quarter": 0.25,
    "third": 1 / 3,
    "3rd": 1 / 3,
    "3rds": 1 / 3,
    "thirds": 1 / 3,
    "quarters": 0.25,
}
_GERMAN_HALF = re.compile(r"\b(\w+?)(einhalb|einviertel|dreiviertel)\b", re.IGNORECASE)
_ALONE = re.compile(
    r"\b(?:(?P<part>\d) (?P<of>3rds?|thirds|quarters|drittel|viertel)|(?:a|1|ein|einem) (?P<one>3rd|third|quarter|half|"
    r"drittel|viertel)|half|halb\w*)\b(?= (?:of )?(?:a |an |more|less|mehr|weniger)|\s+(?:kilo|litre|liter|ounce|inch))",
    re.IGNORECASE,
)
_DATES = (
    re.compile(r"\b(?P<month>[^\W\d]+) (?P<day>\d{1,2})(?:st|nd|rd|th)\b", re.IGNORECASE),
    re.compile(r"\b(?P<day>\d{1,2})(?:st|nd|rd|th)? (?:of )?(?P<month>[^\W\d]+)\b", re.IGNORECASE),
    re.compile(r"\b(?P<day>\d{1,2})\. (?P<month>[^\W\d]+)\b", re.IGNORECASE),
)
_DAYS = re.compile(r"\b(?P<how>by|before|bis|vor|on|an|am)?\s*(?:day|tag) (?P<number>\d+)\b", re.IGNORECASE)
_PART = re.compile(
    r"\b(?P<number>\d+(?:\.\d+)?) (?:out of|of|von|der|aus) (?:the |den |all )?(?P<whole>\d+)\b",
    re.IGNORECASE,
)
_ALL = re.compile(r"\b(?:all|alle) (?P<number>\d+)\b", re.IGNORECASE)
_CENT = re.compile(rf"\b{_NUMBER} ?(?:per cent|percent|%|prozent)", re.IGNORECASE)
_POUNDS = re.compile(
    rf"\b(?P<pounds>\d+) pounds?,? (?:and )?(?:(?:nearly|about|almost|not quite|a little over) )?{_NUMBER} ounces?\b",
    re.IGNORECASE,
)
_KILOS = re.compile(
    r"\b(?P<kilos>\d+|ein) kilos? (?:und |and )?(?P<grams>\d{2,3})(?: grams?| gramm)?\b", re.IGNORECASE
)
_AMOUNT = re.compile(
    rf"{_NUMBER}(?P<joint>[- ]?)(?P<unit>kilowatt hours?|[^\W\d_]+(?:/cm)?|°[CF]?)", re.IGNORECASE
)
_LEAST = re.compile(r"\b(?:at least|more than|over|mindestens|wenigstens|mehr als|über)\b", re.IGNORECASE)
_ABOUT = re.compile(
    r"\b(?:about|around|roughly|nearly|almost|not quite|a little over|a good|some|etwa|rund|ungefähr|knapp|gut|fast)\b",
    re.IGNORECASE,
)
_LESS = re.compile(r"\b(?:less|fewer|weniger)\b", re.IGNORECASE)
_OF_UNIT = re.compile(
    r"\b(?P<number>0\.\d+) (?:of )?(?:a |an |1 )?(?P<unit>kilo|kilogram|litre|liter|ounce|inch|pound|gallon)\b",
    re.IGNORECASE,
)
_MORE = re.compile(r"\b(?P<number>0\.\d+) (?:more|less|mehr|weniger)\b", re.IGNORECASE)
_FRACTION_STEP = 0.1  # of a fraction: a third may be 0.32 or 0.35; common practice, no source
# A number that is no name: of a plant, of a flush, of an episode; and no place in a row.
_BARE = re.compile(
    r"(?<![\w.,])(?<!plant )(?<!pflanze )(?<!episode )(?<!number )(?P<number>\d+(?:[.,]\d+)?)(?![\w])",
    re.IGNORECASE,
)
# What is counted in a log of plants, in both languages.
# Words for them, by the subject that the numbers of a log are about.
_NOUNS = {
    "plants": "plant plants pflanze pflanzen",
    "seeds": "seed seeds seedlings samen sämlinge",
    "tubs": "tub tubs jars wannen gläser",
    "picks": "pick picks ernten",
    "pieces": "piece pieces fruits tomatoes stück früchte tomaten",
    "people": "people leute",
    "spots": "spots plätze",
    "lamps": "lamps lampen",
    "runs": "runs läufe",
}
COUNTED = {word: subject for subject, words in _NOUNS.items() for word in words.split()}
_NEAR = 24  # letters before a number in which "about" and "at least" belong to it


def in_digits(text: str, language: str) -> str:
    """A sentence with its numbers in digits: `two and a half ounces` as `2.5 ounces`."""
    from text_to_num import alpha2digit  # noqa: PLC0415 - only where something is checked

    base = "de" if language.partition("-")[0] == "de" else "en"
    said = text.replace("-", " ") if base == "en" else text
    if base == "de":
        said = _GERMAN_HALF.sub(lambda m: _german_half(m, alpha2digit), said)
    said = alpha2digit(said, base, threshold=0)
    if base == "de":
        said = re.sub(r"(?<=\d),(?=\d)", ".", said)
    said = re.sub(r"\ba (?=1?00\b|1000\b)", "", said)
    said = _HALF.sub(_mixed, said)
    return _ALONE.sub(_fraction, said)


def _german_half(match: re.Match[str], read: object) -> str:
    whole = read(match[1], "de", threshold=0) if callable(read) else match[1]
    if not str(whole).isdigit():
        return match[0]
    part = {"einhalb": 0.5, "einviertel": 0.25, "dreiviertel": 0.75}[match[2].lower()]
    return f"{int(whole) + part:g}".replace(".", ",")


def _mixed(match: re.Match[str]) -> str:
    if match[1]:
        return f"{int(match[1]) + _PARTS[match[2]]:.4g}"
    return f"{int(match[3]) + int(match[4]) * _PARTS[match[5]]:.4g}"


def _fraction(match: re.Match[str]) -> str:
    part = match["part"]
    word = (match["of"] or match["one"] or "half").lower().rstrip("s")
    share = {"3rd": 1 / 3, "third": 1 / 3, "drittel": 1 / 3, "quarter": 0.25, "viertel": 0.25}.get(word, 0.5)
    return f"{(int(part) if part else 1) * share:.4g}"


def claims_of(text: str, language: str) -> tuple[Claim, ...]:
    """The claims of a sentence, in its order."""
    said = in_digits(text, language)
    taken = [False] * len(said)
    found: list[tuple[int, Claim]] = []
    for match, claim in _all(said):
        if any(taken[match.start() : match.end()]):
            continue
        taken[match.start() : match.end()] = [True] * (match.end() - match.start())
        found.append((match.start(), claim))
    return tuple(claim for _, claim in sorted(found, key=lambda each: each[0]))


def _all(said: str) -> Iterator[tuple[re.Match[str], Claim]]:
    """Every reading of every number, the ones that say most first."""
    yield from _days_and_dates(said)
    yield from _parts(said)
    yield from _amounts(said)
    yield from _bare(said)


def _days_and_dates(said: str) -> Iterator[tuple[re.Match[str], Claim]]:
    for pattern in _DATES:
        for match in pattern.finditer(said):
            month = _MONTHS.get(match["month"].lower(), 0)
            if month and 1 <= int(match["day"]) <= 31:
                yield match, Claim("date", match[0], float(match["day"]), month=month)
    for match in _DAYS.finditer(said):
        by = (match["how"] or "").lower() in ("by", "before", "bis", "vor")
        yield (
            match,
            Claim("day", match[0].strip(), float(match["number"]), by=by, about=_is_about(said, match)),
        )


def _parts(said: str) -> Iterator[tuple[re.Match[str], Claim]]:
    for match in _PART.finditer(said):
        yield match, Claim("part", match[0], float(match["number"]), whole=float(match["whole"]))
    for match in _ALL.finditer(said):
        yield match, Claim("part", match[0], float(match["number"]), whole=float(match["number"]))
    for match in _MORE.finditer(said):
        value, less = 100 * float(match["number"]), bool(_LESS.search(match[0]))
        yield match, Claim("per cent", match[0], value, _FRACTION_STEP * value, less=less)
    for match in _CENT.finditer(said):
        less = bool(_LESS.search(said[match.end() : match.end() + 20]))
        value = float(match["number"].replace(",", "."))
        yield (
            match,
            Claim(
                "per cent", match[0], value, _step(match["number"]), less=less, about=_is_about(said, match)
            ),
        )


def _amounts(said: str) -> Iterator[tuple[re.Match[str], Claim]]:
    for match in _POUNDS.finditer(said):
        ounces = 16 * int(match["pounds"]) + float(match["number"])
        yield match, _amount(match, said, ounces, _step(match["number"]), Dimension.MASS, "oz")
    for match in _KILOS.finditer(said):
        kilos = 1 if match["kilos"].lower() == "ein" else int(match["kilos"])
        grams = 1000 * kilos + int(match["grams"])
        yield match, _amount(match, said, grams, 10 if grams % 10 == 0 else 1, Dimension.MASS, "g")
    for match in _OF_UNIT.finditer(said):
        dimension, symbol = _UNITS[match["unit"].lower()]
        value = float(match["number"])
        yield match, _amount(match, said, value, _FRACTION_STEP * value, dimension, symbol)
    for match in _AMOUNT.finditer(said):
        if (claim := _with_unit(match, said)) is not None:
            yield match, claim


def _bare(said: str) -> Iterator[tuple[re.Match[str], Claim]]:
    for match in _BARE.finditer(said):
        value = float(match["number"].replace(",", "."))
        following = re.findall(r"[^\W\d_]+", said[match.end() :].partition(".")[0].lower())[:3]
        noun = next((COUNTED[word] for word in following if word in COUNTED), "")
        kind: Kind = "count" if noun and value.is_integer() else "number"
        step, about = _step(match["number"]), _is_about(said, match)
        yield match, Claim(kind, f"{match[0]} {noun}".strip(), value, step, noun=noun, about=about)


def _with_unit(match: re.Match[str], said: str) -> Claim | None:
    word, number = match["unit"].lower(), match["number"].replace(",", ".")
    if word.startswith("kilowatt h"):
        return _amount(match, said, float(number), _step(number), Dimension.ENERGY, "kWh")
    if word in _WEEKS:
        return _amount(match, said, 7 * float(number), 7 * _step(number), Dimension.DAYS, "days")
    if word in _DEGREES:
        scale = re.match(r"\s*(celsius|fahrenheit)", said[match.end() :], re.IGNORECASE)
        symbol = "°F" if scale and scale[1].lower() == "fahrenheit" else "°C"
        return _amount(match, said, float(number), _step(number), Dimension.TEMPERATURE, symbol)
    if word not in _UNITS or (len(word) == 1 and match["joint"] == "-"):
        return None
    return _amount(match, said, float(number), _step(number), *_UNITS[word])


def _amount(
    match: re.Match[str], said: str, value: float, step: float, dimension: Dimension, symbol: str
) -> Claim:
    unit = unit_named(symbol, dimension)
    assert unit is not None
    return Claim(
        "amount",
        match[0].strip(),
        unit.to_canonical(value),
        float(unit.factor) * step,
        dimension,
        about=_is_about(said, match),
        least=bool(_LEAST.search(said[max(0, match.start() - _NEAR) : match.start()])),
    )


def _step(number: str) -> float:
    """The step of a number: of 84 one, of 1.8 a tenth, of 6.5 a half, of 0.33 a hundredth."""
    _, _, digits = number.replace(",", ".").partition(".")
    if digits == "5":
        return 0.5
    return float(f"1e-{len(digits)}") if digits else 1.0


def _is_about(said: str, match: re.Match[str]) -> bool:
    return bool(_ABOUT.search(said[max(0, match.start() - _NEAR) : match.start()]))


def date_of(claim: Claim, years: range) -> Iterator[date]:
    """The dates that a day of a month may be, in some years."""
    for year in years:
        try:
            yield date(year, claim.month, int(claim.value))
        except ValueError:
            continue
