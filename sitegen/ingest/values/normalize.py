"""Normalization of numbers and flags into the words of the format: `three` is `3`, `~15` is `about 15`.

In: a text. Out: the text rewritten. The result need not be a valid value: a reader takes it where it is one, and a
finding offers it where more would be guessed.
"""

from __future__ import annotations

import re

from sitegen.core.language.text import closest

# fmt: off
_ONES = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
# fmt: on
_NUMBERS = {word: str(number) for number, word in enumerate(_ONES)}
_NUMBERS |= {"fifteen": "15", "twenty": "20", "thirty": "30", "dozen": "12"}
_WORD = re.compile(rf"\b(?:{'|'.join(_NUMBERS)})\b", re.IGNORECASE)
# Word of the format, and what people write for it.
_FLAGS = (
    ("about", r"about|~|≈|ca\.?|c\.|circa|approx\.?|approximately|around|roughly|some(?=\s)"),
    ("at least", r"at least|≥|>=?|more than|over|above|min\.?"),
    ("up to", r"up to|≤|<=?|at most|less than|under|below|max\.?"),
)
_FLAGGED = tuple(
    (flag, re.compile(rf"^(?:{words})\s*(?=[\d½¼¾⅓⅔⅛⅜⅝⅞])", re.IGNORECASE)) for flag, words in _FLAGS
)
_BEFORE_NUMBER = re.compile(r"(?P<word>[a-z]{3,6})\s+(?=\d)")
_OUT_OF = re.compile(r"(\d+)\s*(?:out of(?: the)?|/|from|of(?: the)?)\s*(\d+)(?:\s+\w+)?", re.IGNORECASE)


# Characters; a longer text is no value in other words, and looking for one takes time that grows with its square.
LONGEST_VALUE = 500


def with_digits(text: str) -> str:
    """Numbers in words as digits, `half an inch` and `two and a half` included."""
    if len(text) > LONGEST_VALUE:
        return text
    text = re.sub(r"\band a half\b", "1/2", text)
    text = re.sub(r"^(?:a )?half (?:an? )?", "1/2 ", text)
    text = re.sub(r"^an? (?=[a-z])", "1 ", text)
    return _WORD.sub(lambda match: _NUMBERS[match.group().lower()], text)


_LIKE_DIGITS = str.maketrans({"O": "0", "o": "0", "l": "1", "I": "1"})


def with_digit_signs(text: str) -> str:
    """`2O26` and `l9` with digits for the letters that look like them, in words that hold a digit."""
    return re.sub(r"(?=[OoIl]*\d)[\dOoIl]+\b", lambda match: match.group().translate(_LIKE_DIGITS), text)


def with_signs(text: str) -> str:
    """`~`, `ca.` and `more than` in the words of the format."""
    if len(text) > LONGEST_VALUE:
        return text
    for flag, pattern in _FLAGGED:
        if match := pattern.match(text):
            return f"{flag} {text[match.end() :]}"
    return text


def with_flags(text: str) -> str:
    """The same, and `abuot`."""
    if (flagged := with_signs(text)) != text:
        return flagged
    slip = _BEFORE_NUMBER.match(text)
    return f"about {text[slip.end() :]}" if slip and closest(slip["word"], ("about",)) else text


def out_of(text: str) -> str:
    """`2 out of 5` and `2/5` as `2 of 5`; empty for anything else."""
    match = _OUT_OF.fullmatch(with_digits(text.strip()))
    return f"{match[1]} of {match[2]}" if match else ""


_QUOTES = {"“": "”", "„": "“", "”": "”", "«": "»", "‘": "’", "‚": "‘", "»": "«"}
OPENING_QUOTES = "".join(_QUOTES)


def without_quotes(text: str) -> str:
    """A text without the typographic quotes around it; as it is where they stand around a part of it."""
    inner = text[1:-1]
    if len(text) < 2 or text[0] not in _QUOTES or text[-1] not in ("”", _QUOTES[text[0]]):
        return text
    return text if any(sign in inner for sign in (text[0], text[-1])) else inner
