"""The names of months in English and German, and their usual short forms.

In: nothing. Out: `MONTHS`, the number of a month by its name in small letters; `month_of` for the beginning of one.
"""

from __future__ import annotations

_NAMES = (
    ("january", "januar", "jänner", "jan"),
    ("february", "februar", "feber", "feb"),
    ("march", "märz", "maerz", "mrz", "mar", "mär"),
    ("april", "apr"),
    ("may", "mai"),
    ("june", "juni", "jun"),
    ("july", "juli", "jul"),
    ("august", "aug"),
    ("september", "sept", "sep"),
    ("october", "oktober", "oct", "okt"),
    ("november", "nov"),
    ("december", "dezember", "dec", "dez"),
)
MONTHS = {name: month for month, names in enumerate(_NAMES, 1) for name in names}


def month_of(word: str) -> int:
    """The month that a word of three letters or more begins; 0 where it begins none, or two."""
    fits = {number for name, number in MONTHS.items() if len(word) >= 3 and name.startswith(word.lower())}
    return fits.pop() if len(fits) == 1 else 0
