"""Pitfalls of YAML: texts that it reads without an error and not as written, because of a sign, a comma or a comment.

In: the parser's result and its place. Out: findings, each with the mend that keeps the text.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Edit, Mend
from sitegen.core.findings.source import Source
from sitegen.ingest.yaml.keys import TEXT_KEYS
from sitegen.ingest.yaml.line_checks import (
    COMMENT,
    CUT,
    LineFault,
    block_mend,
    is_number_sign,
    mend_of,
    quoted,
    values_on,
)
from sitegen.ingest.yaml.nodes import Pair, Scalar

_PLANTS = re.compile(r"[Pp]\d+(?:-[Pp]\d+)?")
# `9,5 g`, which a comma in braces cuts; `9, 5 g` is no number.
_DECIMAL_COMMA = re.compile(
    r"(?P<whole>(?:(?:about|ca\.?|~|up to|at least) ?)?\d+),(?P<part>(?P<digits>\d+)(?: ?[^\d,].*)?)"
)


def quoted_mend(line: str, start: Source) -> str | Mend:
    """The mend for a value that begins in a line with a sign of YAML; empty where it is not that of a key."""
    text = next((text for text in values_on(line) if text.column == start.column - 1), None)
    mend = mend_of(text) if text else ""
    return mend.at(start._replace(column=1)) if isinstance(mend, Mend) else mend


def report_split(fault: LineFault, text: str, source: Source, findings: Findings) -> Pair | None:
    """A finding for a text in braces that lacks the colon of its key, or the space after it; returns what was meant."""
    in_place = isinstance(fault.mend, Mend) and source.width == len(text)
    mend = fault.mend.at(source) if in_place and isinstance(fault.mend, Mend) else str(fault.mend)
    place = source.part(fault.column, fault.width)
    findings.add("yaml-twist", place, fault.message, mend=mend, found=text)
    if not isinstance(fault.mend, Mend):
        return None
    key, _, value = fault.mend.edits[0].text.partition(": ")
    start = len(text) - len(value)
    return Pair(Scalar(key, source.part(0, len(key))), Scalar(value, source.part(start, len(value))))


def report_comma(
    source: Source,
    pieces: Sequence[str],
    key: str,
    value: Scalar | None,
    whole: Scalar | None,
    findings: Findings,
) -> dict[str, Scalar | None]:
    """A finding for a text that commas inside braces cut into keys; returns the text as it was meant, by its key.

    `value` is what is left of it, and `whole` the text as it stands in the line, where it stands in one.
    """
    first = pieces[0]
    meant: dict[str, Scalar | None] = {}
    if not key:
        message = f"`{first}` stands in braces without a value"
        mend: str | Mend = f"write a list, `[{', '.join(pieces)}]`, or a value after `{first}: `"
    else:
        message = f"the comma before `{first}` begins a new key here"
        mend = f"write a value after `{first}: `"
        if value is not None:
            mend = _comma_mend(key, value, whole, pieces)
            meant = _meant_with_comma(key, whole, pieces)
    findings.add("yaml-twist", source, message, mend=mend, found=first)
    return meant


def _meant_with_comma(key: str, whole: Scalar | None, pieces: Sequence[str]) -> dict[str, Scalar | None]:
    """The text that a comma cut, with a point where it is that of a decimal; None where that can be read in two ways."""
    if whole is None:
        return {}
    if number := _DECIMAL_COMMA.fullmatch(whole.text):
        return {key: Scalar(_with_point(number), whole.source) if _is_decimal(number) else None}
    if key in TEXT_KEYS or " " in pieces[0]:
        return {key: Scalar(whole.text, whole.source, plain=False)}
    return {}


def _is_decimal(number: re.Match[str]) -> bool:
    """Whether the comma of a number cannot be one between thousands."""
    return len(number["digits"]) != 3 or (number["whole"].endswith("0") and len(number["whole"]) == 1)


def _with_point(number: re.Match[str]) -> str:
    return f"{number['whole']}.{number['part']}"


def _comma_mend(key: str, value: Scalar, whole: Scalar | None, pieces: Sequence[str]) -> str | Mend:
    text, first = whole.text if whole else ", ".join([value.text, *pieces]), pieces[0]
    if whole is not None and (number := _DECIMAL_COMMA.fullmatch(text)):
        if _is_decimal(number):
            return whole.turned_into(_with_point(number), key=key)
        return f"write `{key}: {_with_point(number)}` or `{key}: {number['whole']}{number['part']}`"
    if whole is not None and all(_PLANTS.fullmatch(name) for name in (value.text, *pieces)):
        return whole.turned_into(f"[{', '.join([value.text, *pieces])}]", key=key)
    if key not in TEXT_KEYS and (plant := _PLANTS.match(first)) and first[plant.end() :].startswith(" "):
        pair = f"{plant.group()}: {first[plant.end() :].strip()}"
        return f"write `{pair}` with a colon, or `{key}: {quoted(text)}` for one text"
    if key in TEXT_KEYS or " " in first:
        return whole.turned_into(quoted(text), key=key) if whole else f"write `{key}: {quoted(text)}`"
    return f"write a value after `{first}: `, or `{key}: {quoted(text)}` for one text"


def report_bracketed(key: str, source: Source, findings: Findings) -> None:
    """A finding for keys and values in square brackets, where a mapping is wanted."""
    message = f"`{key}` wants keys and values in braces, and has them in square brackets"
    ends = ((source.column, "[", "{"), (source.column + source.width - 1, "]", "}"))
    edits = (Edit(source.file, source.line, column, 1, new, old) for column, old, new in ends)
    mend = Mend(tuple(edits), words="write `{` and `}` in place of `[` and `]`")
    findings.add("yaml-twist", source, message, mend=mend, found="a list", expected="a mapping")


def report_braces(key: str, whole: str, source: Source, findings: Findings) -> None:
    """A finding for a text that begins with a brace or a bracket, as a mapping or a list does in YAML."""
    kind = "a list" if whole.startswith("[") else "keys and values"
    message = f"in `{key}`, `{whole[0]}` begins {kind}, and `{key}` is a text"
    mend = Scalar(whole, source).turned_into(quoted(whole), key=key)
    findings.add("yaml-twist", source, message, mend=mend, found=whole)


def report_cut(key: str, value: Scalar, after: str, source: Source, findings: Findings) -> str:
    """A finding for a text whose end YAML took for a comment, because of ` #`; returns the text as written.

    `after` is the rest of the value's last line, and `source` the place where it begins.
    """
    cut = CUT.match(after)
    if cut is None:
        return value.text
    offset = cut.end() - 1
    tail = COMMENT.sub("", after).rstrip()
    whole = f"{value.text}{tail}".strip()
    place = source.part(offset, len(tail) - offset)
    message = f"in `{key}`, what follows ` #` is a comment and would be lost"
    mend = _uncut_mend(key, value, whole, tail)
    findings.add("yaml-twist", place, message, mend=mend, found=tail.strip())
    return whole


def _uncut_mend(key: str, value: Scalar, whole: str, tail: str) -> str | Mend:
    """The mend for a text with ` #`: quotes, where that is the sign of a number and the text stands in one line."""
    if is_number_sign(whole) and value.source.width == len(value.text):
        place = value.source._replace(width=len(value.text) + len(tail))
        return Scalar(f"{value.text}{tail}", place).turned_into(quoted(whole), key=key)
    mend = block_mend(key) if "\n" in value.text or len(whole) >= 60 else f"write `{key}: {quoted(whole)}`"
    return f"{mend}, or two spaces before a comment"
