"""Brackets and quotes of a line that do not fit together, each with the sign that is missing or one too many.

In: a line, and where a bracket opens in it. Out: `LineFault`, and the mend that closes what is open. A sign is put where
the line is sound with it in one place only.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import takewhile

from sitegen.core.findings.mend import Mend, in_line, replacement
from sitegen.core.findings.source import Source
from sitegen.ingest.yaml.keys import KNOWN_KEYS, TEXT_KEYS
from sitegen.ingest.yaml.line_checks import LineFault

_PAIRS = {"{": "}", "[": "]"}
_SHORTENED = re.compile(r"'(?:tis|twas|til|em|cause|bout|round|n)\b")  # an apostrophe, and no opening quote
_QUOTED = re.compile(r"\"(?:[^\"\\]|\\.)*\"|'(?:[^']|'')*'")
_OPENS_QUOTE = re.compile(r"(?:^|[\[{,]\s*|: +)(?P<sign>[\"'])")
_VALUE = re.compile(r" *(?:- +)*(?:[\w-]+: +)?(?P<value>[\[{].*)")
_CLOSERS = re.compile(r"[\]}]+\s*(?:\s#\s.*)?")
_NEXT_KEY = re.compile(
    rf"(?:(?<=[{{,\s])(?P<key>[\w-]+): +(?P<word>[^\s,:\[\]{{}}\"'#][^,:\[\]{{}}\"'#]*?)|(?P<closes>[\]}}\"']))"
    rf" +(?P<next>(?(closes)[\w-]+|(?:{'|'.join(sorted(KNOWN_KEYS))}))): "
)


def bracket_faults(line: str, *, flow: bool) -> LineFault | None:
    """A bracket too many; where the parser stopped inside brackets (`flow`), an open quote or a missing comma too."""
    if not flow:
        return _one_too_many(line)
    return _open_quote(line) or _missing_comma(line)


def _one_too_many(line: str) -> LineFault | None:
    """`{P8: stem rot}}`: what stands before the sign is sound without it."""
    value = _VALUE.fullmatch(line)
    if value is None:
        return None
    opened = 0
    for at, sign in _signs(value["value"]):
        if sign in _PAIRS:
            opened += 1
        elif opened:
            opened -= 1
        else:
            rest = value["value"][at:]
            if crossed_signs(value["value"][:at]) or not _CLOSERS.fullmatch(rest):
                return None
            extra = "".join(takewhile(lambda each: each in "]}", rest))
            start = value.start("value") + at
            message = f"`{extra}` closes nothing here"
            return LineFault(start, len(extra), message, in_line(start, extra, ""), extra)
    return None


def _open_quote(line: str) -> LineFault | None:
    """`[{text: "It was dry.}]`: quotes that can only end before the brackets at the end of the line."""
    outside = _QUOTED.sub(lambda match: "_" * len(match.group()), line)
    opens = _OPENS_QUOTE.search(outside)
    if opens is None:
        return None
    start, sign = opens.start("sign"), opens["sign"]
    closers = "".join(_PAIRS[each] for each in reversed(still_open(outside[:start])))
    rest = line[start:].rstrip()
    text = rest.removesuffix(closers)
    if not closers or text == rest or len(text) < 2 or _SHORTENED.match(rest) or text[-1] in "]}":
        return None
    mend = in_line(start, rest, f"{text}{sign}{closers}")
    return LineFault(start, 1, "the quotes that open here are not closed", mend, rest[:60])


def _missing_comma(line: str) -> LineFault | None:
    """`{time: When columns: {…}}`: a key of the format follows a value without a comma."""
    for found in _NEXT_KEY.finditer(line):
        if found["key"] in TEXT_KEYS or not still_open(line[: found.start()]):
            continue
        at = found.end("word") if found["key"] else found.end("closes")
        start = found.start("word") if found["key"] else found.start("closes")
        message = f"there is no comma before `{found['next']}`"
        mend = in_line(start, line[start : found.end() - 1], f"{line[start:at]}, {found['next']}:")
        return LineFault(at, found.start("next") - at, message, mend, line[start : found.end() - 1][:60])
    return None


def closed(line: str, start: Source, at: Source) -> Mend | str:
    """The mend for a line with an open bracket or quote: to close it at the end, unless the line goes on."""
    opens = start.column - 1
    sign, rest = line[opens : opens + 1], line[opens:].rstrip()
    place = start._replace(width=len(rest))
    if _SHORTENED.match(rest):
        return replacement(place, rest, f'"{rest}"') if _stands_alone(rest) else f'write `"{rest}"`'
    if sign in "'\"":
        ended = replacement(place, rest, f"{rest}{sign}", safe=_stands_alone(rest))
        return ended if len(rest) > 1 else f"write the text and `{sign}` after it"
    if crossed := crossed_signs(rest):
        wanted, found = crossed
        fitting = _uncrossed(line.rstrip())[opens:]
        known = replacement(place, rest, fitting) if fitting and _stands_alone(rest) else None
        return known or f"write `{wanted}` in place of `{found}`, or before it"
    missing = "".join(_PAIRS[s] for s in reversed(still_open(line)))
    if not missing or rest[-1] in ",[{":
        return f"write `{_PAIRS.get(sign, '}')}` before line {at.line}, column {at.column}"
    ended = replacement(place, rest, f"{rest}{missing}", safe=_stands_alone(rest))
    return ended if _stands_alone(rest) else f"write `{missing}` at the end of the line"


def _stands_alone(rest: str) -> bool:
    """Whether what is open can only end where its line does: no comment, no text that goes on behind a bracket."""
    return "#" not in rest and '"' not in rest[1:] and "\\" not in rest


def _uncrossed(text: str) -> str:
    """A text whose brackets cross, with the one sign by which all fit; empty where none or several do so."""
    at = _crossing(text)
    wanted, found = crossed_signs(text) or ("", "")
    opener = next(sign for sign, closer in _PAIRS.items() if closer == found)
    inner = text[text.rfind(still_open(text[:at])[-1], 0, at) + 1 : at].split(", ")
    begins = text.rfind(": ", 0, at) + 2
    # A list that holds a key goes on behind the sign that is missing; a word alone stands in a list.
    fits = all((": " in piece) is (wanted == "}") for piece in inner)
    offers = [f"{text[:at]}{wanted}{text[at:]}", f"{text[:at]}{wanted}{text[at + 1 :]}"] if fits else []
    if begins > 1 and not re.search(r"[\[\]{}]", text[begins:at]):
        offers.append(f"{text[:begins]}{opener}{text[begins:]}")
    fitting = [offer for offer in offers if _is_balanced(offer)]
    return fitting[0] if len(fitting) == 1 else ""


def _is_balanced(text: str) -> bool:
    """Whether each bracket closes the one that opened last, and none is left."""
    while (fewer := re.sub(r"\{[^\[\]{}]*\}|\[[^\[\]{}]*\]", "", text)) != text:
        text = fewer
    return not set(text) & set("[]{}")


def crossed_signs(text: str) -> tuple[str, str] | None:
    """The sign that the innermost open bracket wants, and the other one that stands there; None where all fit."""
    at = _crossing(text)
    return None if at < 0 else (_PAIRS[still_open(text[:at])[-1]], text[at])


def _crossing(text: str) -> int:
    """Where the first sign stands that closes another bracket than the innermost; below 0 where there is none."""
    opened = ""
    for at, sign in enumerate(text):
        if sign in _PAIRS:
            opened += sign
        elif sign in _PAIRS.values() and opened:
            if sign != _PAIRS[opened[-1]]:
                return at
            opened = opened[:-1]
    return -1


def still_open(text: str) -> str:
    """The brackets of a text that it does not close."""
    opened = ""
    for sign in text:
        if sign in _PAIRS:
            opened += sign
        elif opened and sign == _PAIRS[opened[-1]]:
            opened = opened[:-1]
    return opened


def _signs(text: str) -> Iterator[tuple[int, str]]:
    """The brackets of a text outside quotes, each with its place."""
    bare = _QUOTED.sub(lambda match: "_" * len(match.group()), text)
    return ((at, sign) for at, sign in enumerate(bare) if sign in "[]{}")
