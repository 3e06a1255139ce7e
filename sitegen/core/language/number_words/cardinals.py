"""Whole numbers in words, in English and German: `one hundred and thirty-four`, `hundertvierunddreißig`.

In: a number and a language. Out: words. A small table of our own: the libraries that know more languages have licences
that a program like this cannot take in. Any other language gets digits. In English from the United States no "and" is
said.
"""

from __future__ import annotations

# fmt: off
_UNITS = {
    "en": (
        "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
        "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
    ),
    "de": (
        "null", "eins", "zwei", "drei", "vier", "fünf", "sechs", "sieben", "acht", "neun", "zehn", "elf", "zwölf",
        "dreizehn", "vierzehn", "fünfzehn", "sechzehn", "siebzehn", "achtzehn", "neunzehn",
    ),
}
_TENS = {
    "en": ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"),
    "de": ("", "", "zwanzig", "dreißig", "vierzig", "fünfzig", "sechzig", "siebzig", "achtzig", "neunzig"),
}
# fmt: on
_ORDINALS = {
    "one": "first",
    "two": "second",
    "three": "third",
    "five": "fifth",
    "eight": "eighth",
    "nine": "ninth",
    "twelve": "twelfth",
}
_GERMAN_ORDINALS = {"null": "nullt", "eins": "erst", "drei": "dritt", "sieben": "siebt", "acht": "acht"}
LARGEST = 999_999


def cardinal(number: int, language: str) -> str:
    """A number as it is counted; digits beyond `LARGEST`, and in a language that is not known."""
    base, _, region = language.partition("-")
    if base not in _UNITS or abs(number) > LARGEST:
        return str(number)
    words = _german(abs(number)) if base == "de" else _english(abs(number), "" if region == "US" else "and ")
    if number >= 0:
        return words
    return f"minus {words}"


def ordinal(number: int, language: str) -> str:
    """A number as a place in a row: `fifth`, `fünfte`; digits in a language that is not known."""
    base, words = language.partition("-")[0], cardinal(number, language)
    if words.lstrip("-").isdigit():
        return words
    return _german_ordinal(number, words) if base == "de" else _english_ordinal(words)


def _english(number: int, joint: str) -> str:
    if number < 20:
        return _UNITS["en"][number]
    if number < 100:
        tens, unit = divmod(number, 10)
        return _TENS["en"][tens] + (f"-{_UNITS['en'][unit]}" if unit else "")
    if number < 1000:
        hundreds, rest = divmod(number, 100)
        return f"{_UNITS['en'][hundreds]} hundred" + (f" {joint}{_english(rest, joint)}" if rest else "")
    thousands, rest = divmod(number, 1000)
    said = f"{_english(thousands, joint)} thousand"
    if not rest:
        return said
    return f"{said} {joint if rest < 100 else ''}{_english(rest, joint)}"


def _german(number: int, one: str = "") -> str:
    """One word; a hundred and a thousand that begin it are said without `ein` before them."""
    if number < 20:
        return _UNITS["de"][number]
    if number < 100:
        tens, unit = divmod(number, 10)
        return (f"{_stem(unit)}und" if unit else "") + _TENS["de"][tens]
    if number < 1000:
        hundreds, rest = divmod(number, 100)
        return (_stem(hundreds) if hundreds > 1 else one) + "hundert" + (_german(rest) if rest else "")
    thousands, rest = divmod(number, 1000)
    return (
        (_compound(thousands) if thousands > 1 else "") + "tausend" + (_german(rest, "ein") if rest else "")
    )


def _compound(number: int) -> str:
    """A number before `tausend`: its final `eins` is `ein`."""
    words = _german(number)
    return words[:-1] if words.endswith("eins") else words


def _stem(unit: int) -> str:
    return "ein" if unit == 1 else _UNITS["de"][unit]


def _english_ordinal(words: str) -> str:
    before, joint, last = words.rpartition("-") if "-" in words.rpartition(" ")[2] else words.rpartition(" ")
    if last in _ORDINALS:
        return f"{before}{joint}{_ORDINALS[last]}"
    if last.endswith("y"):
        return f"{before}{joint}{last[:-1]}ieth"
    return f"{before}{joint}{last}th"


def _german_ordinal(number: int, words: str) -> str:
    rest = number % 100
    if 0 < rest < 20 or number == 0:
        unit = _UNITS["de"][rest]
        stem = _GERMAN_ORDINALS.get(unit, f"{unit}t")
        return f"{words[: -len(unit)]}{stem}e"
    return f"{words}ste"
