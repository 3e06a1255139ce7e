"""The cells of a sheet as values of the log: `ca. 8`, `12+`, `9,5`, `8-9`, `9 in`.

In: a text, what is measured, the unit of bare numbers, whether numbers have a decimal comma. Out: the value as the
format writes it; None where the text is no such value.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal

from sitegen.core.values.units import Dimension
from sitegen.filing.drafting.sheets.headings import unit_of

EMPTY = frozenset(("", "-", "–", "—", "n/a", "na", "n.a.", "k.a.", "k. a.", "/", "nan", "none", "null"))
_VULGAR = str.maketrans({"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3", "⅛": " 1/8"})
_NUMBER = r"-?(?:\d+ +\d+/\d+|\d+/\d+|\d[\d.,']*|[.,]\d+)"
_LONGEST = 500  # characters of a cell that can be a value
_CELL = re.compile(
    rf"(?P<flag>~|≈|>=|<=|[<>≥≤]|ca\.?|circa|about|approx\.?|approximately|"
    rf"etwa|ungefähr|rund|at least|mind(?:\.|estens)|over|"
    rf"über|up to|max\.?|bis(?: zu)?|höchstens|under|unter)?\s*(?P<low>{_NUMBER})"
    rf"(?:\s*(?:[-–]|to|bis)\s*(?P<high>{_NUMBER}))?(?:\s*+(?P<plus>\+))?\s*+"
    rf"(?P<unit>[^\d\s+?(][^+?(]*?)?\s*(?P<after>[+?]|\(?by eye\)?"
    r"|\(?est\.?(?:imated)?\)?|\(?geschätzt\)?)?",
    re.IGNORECASE,
)
_LEAST = {">", ">=", "≥", "at least", "mind.", "mindestens", "over", "über"}
_MOST = {"<", "<=", "≤", "up to", "max", "max.", "bis", "bis zu", "höchstens", "under", "unter"}
_NOT_KNOWN = {
    "unweighed", "not weighed", "nicht gewogen", "ungewogen", "unmeasured", "not measured", "nicht gemessen", "not kept",
}  # fmt: skip
_WORDS_BEGIN = re.compile(r"\s*(?P<sign>[(;]|,(?=\s)|\s[–—-](?=\s))\s*|\s+(?P<word>(?=[^\W\d_]))")
WHOLE = (Dimension.COUNT,)
_UNITLESS = (Dimension.COUNT, Dimension.ACIDITY)
Decimal = Literal["point", "comma"]


def is_empty(text: str) -> bool:
    """Whether a cell says nothing."""
    return text.lower() in EMPTY


def value_of(text: str, dimension: Dimension, unit: str, decimal: Decimal) -> str | None:
    """A cell as a value of the log."""
    plain = " ".join(text.translate(_VULGAR).split())
    if plain.lower() in _NOT_KNOWN:
        return "unweighed" if dimension is Dimension.MASS else "unmeasured"
    match = _CELL.fullmatch(plain) if len(plain) <= _LONGEST else None
    if match is None:
        return None
    low, high = _number(match["low"], decimal), _number(match["high"], decimal) if match["high"] else ""
    unit = unit_of(match["unit"], dimension) if match["unit"] else unit
    if (
        low is None
        or high is None
        or (match["unit"] and not unit)
        or (not unit and dimension not in _UNITLESS)
    ):
        return None
    if dimension in WHOLE and not re.fullmatch(r"\d+", low + high):
        return None
    return _written(match, low, high, "" if dimension in _UNITLESS else unit)


def value_and_words(text: str, dimension: Dimension, unit: str, decimal: Decimal) -> tuple[str | None, str]:
    """A cell that says more than its value: `9 g (split)`, `9 (split)`, `12 g two were soft`; else None.

    After a number without a unit of its own, only brackets and signs begin words: `3 weeks` is no height.
    """
    if len(text) > _LONGEST:
        return None, ""
    for found in _WORDS_BEGIN.finditer(text):
        value = value_of(text[: found.start()], dimension, unit, decimal)
        bare = value_of(text[: found.start()], dimension, "", decimal) is None or dimension in _UNITLESS
        words = text[found.end() :].strip()
        if found["sign"] == "(" and words.endswith(")") and words.count(")") == 1:
            words = words.removesuffix(")")
        elif found["sign"] == "(":
            words = f"({words}"
        if value is not None and re.search(r"[^\W\d_]", words) and (found["sign"] or not bare):
            return value, words.strip()
    return None, ""


def _written(match: re.Match[str], low: str, high: str, unit: str) -> str | None:
    flag, after = (match["flag"] or "").lower(), (match["after"] or "").lower().strip("()")
    number = f"{low}-{high}" if high else low
    if high and float_of(high) < float_of(low):
        return None
    eye = " by eye" if after and after not in "+?" else ""
    before = (
        "at least "
        if flag in _LEAST
        else "up to "
        if flag in _MOST
        else "about "
        if flag or after == "?"
        else ""
    )
    plus = "+" if match["plus"] or after == "+" else ""
    if (before and plus) or (high and (plus or before in ("at least ", "up to "))):
        return None
    return f"{before}{number}{plus} {unit}".rstrip() + eye


def float_of(number: str) -> float:
    """A number as it is written in the format."""
    whole, _, fraction = number.rpartition(" ")
    if "/" in fraction:
        top, bottom = fraction.split("/")
        return float(whole or 0) + (float(top) / float(bottom) if float(bottom) else 0)
    return float(number)


def _number(text: str, decimal: Decimal) -> str | None:
    """A number with a decimal point; None where it cannot be one."""
    text = text.replace("'", "")
    if "/" in text:
        return text if re.fullmatch(r"(?:\d+ +)?\d+/[1-9]\d*", text) else None
    if "," in text and "." in text:
        thousands, point = (".", ",") if text.rindex(",") > text.rindex(".") else (",", ".")
        text = text.replace(thousands, "").replace(point, ".")
    elif "," in text:
        # One or two places, or four and more, can only be decimals; three depend on how the sheet writes numbers.
        thousands_sign = re.fullmatch(r"-?\d{1,3}(?:,\d{3})+", text) and decimal == "point"
        text = text.replace(",", "" if thousands_sign else ".")
    elif decimal == "comma" and re.fullmatch(r"-?\d{1,3}(?:\.\d{3})+", text):
        text = text.replace(".", "")
    if text.startswith("."):
        text = f"0{text}"
    return text.rstrip(".") if re.fullmatch(r"-?\d+(?:\.\d*)?", text) else None


def decimal_of(texts: Iterable[str]) -> tuple[Decimal, bool]:
    """How numbers are written, and whether that is open: `1,234` alone can be either."""
    open_one = False
    for text in texts:
        if re.search(r"\d,(?:\d{1,2}|\d{4,})(?!\d)", text):
            return "comma", False
        if re.search(r"\d\.(?:\d{1,2}|\d{4,})(?!\d)", text):
            return "point", False
        open_one = open_one or bool(re.search(r"\d,\d{3}(?!\d)", text))
    return "point", open_one
