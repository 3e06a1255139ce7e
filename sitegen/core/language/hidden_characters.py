"""Characters that cannot be seen and would break or turn round what stands beside them.

In: a text. Out: the place of the first that no text may hold. Those are: control characters, halves of surrogate
pairs and noncharacters (XML 1.0, section 2.2, forbids them in feeds and drawings, or they end a string elsewhere); the
four private-use characters that mark places in pages; overrides of the writing direction; and embeddings and isolates
of it that their own line does not close, since they would reorder what follows them on a page (Unicode Standard Annex
9). Text written from right to left needs none of these: marks of direction (U+200E, U+200F, U+061C), joiners and
isolates that are closed again stay.
"""

from __future__ import annotations

import re
import unicodedata

_CONTROLS = "\\x00-\\x08\\x0b-\\x1f\\x7f-\\x84\\x86-\\x9f"
_NONCHARACTERS = "".join(f"{chr(plane << 16 | 0xFFFE)}{chr(plane << 16 | 0xFFFF)}" for plane in range(17))
_FORBIDDEN = f"{_CONTROLS}\ud800-\udfff\ufdd0-\ufdef{_NONCHARACTERS}\ue000-\ue003"
_OVERRIDES = "\u202d\u202e"
_OPENS = {"\u202a": "\u202c", "\u202b": "\u202c", "\u2066": "\u2069", "\u2067": "\u2069", "\u2068": "\u2069"}
_NEVER = re.compile(f"[{_FORBIDDEN}{_OVERRIDES}]")
_DIRECTION = re.compile("[\u202a-\u202c\u2066-\u2069]")


def hidden_at(text: str, *, controls: bool = True) -> int | None:
    """The offset of the first character that no text may hold; of directions alone without `controls`."""
    if text.isascii() and (not controls or text.isprintable()):
        return None
    found = _NEVER.search(text) if controls else re.search(f"[{_OVERRIDES}\ue000-\ue003]", text)
    turned = _left_open(text) if _DIRECTION.search(text) else None
    places = [place for place in (found.start() if found else None, turned) if place is not None]
    return min(places, default=None)


def without_hidden(text: str) -> str:
    """A text without the characters that no text may hold; of signs of direction without all where one is left open."""
    if hidden_at(text) is None:
        return text
    shown = _NEVER.sub("", text)
    return shown if _left_open(shown) is None else _DIRECTION.sub("", shown)


def _left_open(text: str) -> int | None:
    """The offset of the first sign of direction that its line does not close, or that closes nothing."""
    start = 0
    for line in text.split("\n"):
        waiting: list[tuple[str, int]] = []
        for match in _DIRECTION.finditer(line):
            sign = match.group()
            if sign in _OPENS:
                waiting.append((_OPENS[sign], match.start()))
            elif waiting and waiting[-1][0] == sign:
                waiting.pop()
            else:
                return start + match.start()
        if waiting:
            return start + waiting[0][1]
        start += len(line) + 1
    return None


def said(character: str) -> str:
    """A character in words of a finding: `U+202E, right-to-left override`."""
    name = unicodedata.name(character, "").lower()
    return f"U+{ord(character):04X}, {name}" if name else f"U+{ord(character):04X}"
