"""Walks over the finished texts of a site: pairs of units, and texts that no page may have.

In: texts as a reader sees them. Out: faults in words, and the number of cases. The numbers are read off the text alone;
nothing of the program is asked but its table of units.
"""

from __future__ import annotations

import csv
import html
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path

from sitegen.core.values.units import UNITS, Dimension, Unit

__all__ = [
    "Amount",
    "Walk",
    "amounts",
    "conversions",
    "figures_in",
    "forbidden",
    "numbers_in",
    "pairs",
    "rounding_notes",
    "texts_of",
]

_NUMBER = r"−?\d+(?:[.,]\d+)*"
_SYMBOLS = sorted({unit.symbol for unit in UNITS if unit.symbol}, key=len, reverse=True)
_US = {unit.symbol for unit in UNITS if unit.system == "us"}
_UNIT = "|".join(map(re.escape, _SYMBOLS))


def _amount(name: str) -> str:
    return (
        rf"(?P<{name}>(?P<{name}_low>{_NUMBER})(?:–(?P<{name}_high>{_NUMBER}))? (?P<{name}_unit>{_UNIT})"
        rf"(?![\w/²])(?: (?P<{name}_ounces>{_NUMBER}) oz)?)"
    )


_LOWER, _UPPER = ("at least", "mindestens"), ("up to", "at most", "bis zu", "höchstens")
_FLAGS = "|".join((*_LOWER, *_UPPER))
# `12 g per litre of water (1.6 oz per gallon of water)`: a divisor may stand after each amount.
_DIVISOR = r"(?: [^\W\d_²]+(?: [^\W\d_]+²?){1,3})?"
_PAIR = re.compile(
    rf"(?P<flag>{_FLAGS})?(?: ?(?:about|etwa|ungefähr))? ?{_amount('own')}(?P<per>{_DIVISOR}) "
    rf"\({_amount('other')}(?P<other_per>{_DIVISOR})\)"
)
_AMOUNT = re.compile(_amount("own"))
_FACTORS = {  # of US divisors, as multiples of litres, square metres and kilograms
    "gallon": 3.785411784,
    "je gal ": 3.785411784,
    "sq ft": 0.09290304,
    " lb": 0.45359237,
}


@dataclass(frozen=True)
class Amount:
    """Numbers with a unit; `width` is one in the last digit of each, in the canonical unit."""

    low: float
    high: float
    width: float
    dimension: Dimension


@dataclass
class Walk:
    """Faults found, the number of cases, and the conversion of each amount met so far."""

    faults: list[str] = field(default_factory=list)
    cases: int = 0
    bounds: int = 0
    notes: int = 0
    conversions: dict[str, set[str]] = field(default_factory=dict)


def texts_of(path: Path) -> Iterator[str]:
    """The texts of a file of a site: of markup what stands between tags, and attributes that are read aloud."""
    text = path.read_text("utf-8")
    if path.suffix in (".html", ".svg", ".xml"):
        body = re.sub(r"<(script|style)\b.*?</\1>", " ", text, flags=re.DOTALL)
        for said in re.findall(r'(?:alt|title|content|aria-label)="([^"]*)"', body):
            yield _plain(said)
        # Elements inside a line join their texts; those of a block part them.
        body = re.sub(r"</?(?:a|span|b|i|em|strong|small|time|code)\b[^>]*>", "", body)
        yield from map(_plain, re.split(r"<[^>]*>", body))
    elif path.suffix == ".csv":
        yield from (_plain(cell) for row in csv.reader(text.splitlines()) for cell in row)
    else:
        yield from map(_plain, text.splitlines())


def _plain(text: str) -> str:
    return " ".join(html.unescape(text).replace("\\u00a0", " ").split())


class _Figures(HTMLParser):
    """Finds the elements that hold a figure; a page has none inside another."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, str, str]] = []
        self._open: tuple[str, str] | None = None
        self._depth = 0
        self._said: list[str] = []
        self._row = ""  # the experiment that a row of a table names for all its figures

    def handle_starttag(
        self,
        tag: str,
        attrs: list[tuple[str, str | None]],
    ) -> None:
        """An element begins."""
        given = dict(attrs)
        if tag == "tr":
            self._row = given.get("data-experiment") or ""
        if self._open:
            self._depth += 1
        elif name := given.get("data-figure"):
            self._open, self._depth, self._said = (given.get("data-experiment") or self._row, name), 1, []

    def handle_endtag(self, tag: str) -> None:
        """An element ends."""
        if tag == "tr":
            self._row = ""
        if self._open:
            self._depth -= 1
            if self._depth == 0:
                self.found.append((*self._open, " ".join("".join(self._said).split())))
                self._open = None

    def handle_data(self, data: str) -> None:
        """A text inside one."""
        self._said.append(data)


def figures_in(path: Path) -> list[tuple[str, str, str]]:
    """The figures that a page shows: of which other experiment, its name, its words."""
    parser = _Figures()
    parser.feed(path.read_text("utf-8"))
    return parser.found


def numbers_in(text: str, language: str) -> float:
    """A number as written in a language."""
    thousands, point = (".", ",") if language == "de" else (",", ".")
    return float(text.replace("−", "-").replace(thousands, "").replace(point, "."))


def _width(text: str, language: str) -> float:
    """One in the last digit; of whole thousands in the last that is not 0."""
    point = "," if language == "de" else "."
    whole, _, decimals = text.replace("−", "").partition(point)
    digits = re.sub(r"\D", "", whole)
    zeros = len(digits) - len(digits.rstrip("0")) if len(digits) > 3 and not decimals else 0
    return float(10 ** (zeros - len(decimals)))


def _units(symbol: str) -> list[Unit]:
    return [unit for unit in UNITS if unit.symbol == symbol]


def amounts(match: re.Match[str], name: str, language: str) -> list[Amount]:
    """An amount of a text in each dimension that its unit may be of: `°F` is a temperature or a difference."""
    texts = [match[f"{name}_low"], match[f"{name}_high"] or match[f"{name}_low"]]
    ounces = match[f"{name}_ounces"]
    found = []
    for unit in _units(match[f"{name}_unit"]):
        if ounces:
            ounce = next(each for each in UNITS if each.symbol == "oz")
            size = numbers_in(texts[0], language) * 16 + numbers_in(ounces, language)
            low = high = ounce.to_canonical(size)
            width = _width(ounces, language) * float(ounce.factor)
        else:
            low, high = (unit.to_canonical(numbers_in(text, language)) for text in texts)
            width = max(_width(text, language) for text in texts) * float(unit.factor)
        found.append(Amount(low, high, width, unit.dimension))
        if unit.symbol == "°C" and unit.dimension is Dimension.TEMPERATURE:
            found.append(Amount(low, high, width, Dimension.TEMPERATURE_DIFFERENCE))
    return found


def pairs(text: str, language: str, walk: Walk) -> None:
    """Every pair of units agrees to half a last digit of its coarser number, and has one conversion."""
    for match in _PAIR.finditer(text):
        walk.cases += 1
        own, other = (amounts(match, name, language) for name in ("own", "other"))
        factor = _factor(match["other_per"]) / _factor(match["per"])
        alike = [(a, b) for a in own for b in other if a.dimension is b.dimension]
        if not any(_agree(a, b, factor, match["flag"] or "") for a, b in alike):
            walk.faults.append(f"pair: {match[0]}")
        walk.bounds += bool(match["flag"])
        said, converted = match["own"] + match["per"], match["other"] + match["other_per"]
        if match["own_unit"] in _US:
            said, converted = converted, said
        walk.conversions.setdefault(said, set()).add(converted)


def conversions(walk: Walk) -> list[str]:
    """Metric amounts with two conversions."""
    return [f"{said}: {sorted(others)}" for said, others in walk.conversions.items() if len(others) > 1]


def _factor(per: str) -> float:
    words = per.lower()
    return next((factor for name, factor in _FACTORS.items() if name in words), 1.0)


def _agree(own: Amount, other: Amount, factor: float, flag: str) -> bool:
    """Whether two amounts are one; a bound's conversion says no more than its numbers resolve."""
    allowed = max(own.width, other.width / factor) / 2 * (1 + 1e-6)
    ends = ((own.low, other.low / factor), (own.high, other.high / factor))
    if flag in _LOWER and ends[0][1] > ends[0][0] + allowed:
        return False
    if flag in _UPPER and ends[1][1] < ends[1][0] - allowed:
        return False
    return all(abs(one - two) <= allowed for one, two in ends)


_NOTE = re.compile(
    rf"{_amount('own')}(?: \({_amount('other')}[^()]*\))?(?:(?!\. )[^;:()])*"
    rf", (?:rounded to|gerundet auf) {_amount('step')}"
)


def rounding_notes(text: str, language: str, walk: Walk) -> None:
    """A note on rounding has the unit of a number beside it, each of whose ends is a multiple of the width."""
    for match in _NOTE.finditer(text):
        walk.notes += 1
        step = amounts(match, "step", language)[0]
        us = match["step_unit"] in _US
        alike = [name for name in ("own", "other") if match[name] and (match[f"{name}_unit"] in _US) is us]
        found = [each for name in alike for each in amounts(match, name, language)]
        ends = [end for each in found if each.dimension is step.dimension for end in (each.low, each.high)]
        if not ends or any(abs(end / step.low - round(end / step.low)) > 1e-6 for end in ends):
            walk.faults.append(f"rounding: {match[0]}")


_ZERO = re.compile(rf"\(0(?:[.,]0+)? (?:{_UNIT})(?![\w/])")  # 0 g alone is a yield of nothing
_FORBIDDEN = {
    "zero as a bound": re.compile(rf"(?:{_FLAGS}) (?:(?:about|etwa) )?0(?:[.,]0+)? "),
    "more than five digits": re.compile(
        rf"(?<![\d.,–])(?=[\d.,]*[.,]\d)(?:0[.,]0*)?[1-9][.,]?(?:\d[.,]?){{6,}} (?:{_UNIT})(?![\w/])"
    ),
    "a unit on both ends of a range": re.compile(rf"{_NUMBER} ({_UNIT})–{_NUMBER} (?:{_UNIT})(?![\w/])"),
    "up to the end of a range of hours": re.compile(rf"(?:up to|bis zu) {_NUMBER} h\b(?= a day| pro Tag)"),
    "two flags": re.compile(rf"(?:{_FLAGS}) (?:{_FLAGS})"),
    "two brackets in a row of one amount": re.compile(rf"\([^()]*(?:{_UNIT})\) \([^()]*(?:{_UNIT})\)"),
}
_GERMAN = {
    "currency before the number": re.compile(rf"EUR {_NUMBER}"),
    "a point": re.compile(r"\b0\.\d+ (?:g|kg|L|oz)\b"),
}


def forbidden(text: str, language: str, walk: Walk) -> None:
    """No text says nothing as an amount, a bound of 0, or a number finer than any scale."""
    walk.cases += bool(_AMOUNT.search(text))
    for name, pattern in (_FORBIDDEN | (_GERMAN if language == "de" else {})).items():
        if match := pattern.search(text):
            walk.faults.append(f"{name}: {match[0]!r} in {text[:160]!r}")
    if match := _ZERO.search(text):
        walk.faults.append(f"an amount of 0: {match[0]!r} in {text[:160]!r}")
