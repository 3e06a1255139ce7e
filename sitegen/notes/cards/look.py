"""What a card looks like: its format, the theme's colours, the face of its letters.

In: custom properties of a theme's style sheets. Out: `Look`, `Format`, the formats of a cut. A property that is not a
plain colour, which is all that a drawn picture can take, is replaced by that of the default theme.

References
----------
EBU R 95 (2017), Safe areas for 16:9 television production: graphics stay 5 % away from each side (from memory). What
players for upright video lay over its foot and head: common practice, no source.

"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

FormatName = Literal["16x9", "9x16"]


@dataclass(frozen=True, slots=True)
class Format:
    """A format of a cut, in pixels, with what stays free at each side."""

    name: FormatName
    width: int
    height: int
    side: int
    head: int
    foot: int

    @property
    def inner(self) -> int:
        """The width that a card may use."""
        return self.width - 2 * self.side

    @property
    def inner_height(self) -> int:
        """The height that a card may use."""
        return self.height - self.head - self.foot

    @property
    def upright(self) -> bool:
        """Whether it is higher than wide."""
        return self.height > self.width


FORMATS: Final = (
    Format("16x9", 1920, 1080, side=96, head=54, foot=54),
    Format("9x16", 1080, 1920, side=64, head=220, foot=400),
)

DEFAULTS: Final = {
    "paper": "#f4f7ef",
    "ink": "#1d2520",
    "ink-soft": "#525d54",
    "line": "#c6cfbe",
    "accent": "#37458f",
    "growth": "#38773d",
    "water": "#19718c",
    "feed": "#84508f",
    "harvest": "#b04f14",
    "trouble": "#b0213a",
    "light": "#8a6b00",
}
_COLOUR = re.compile(r"#(?:[0-9a-f]{3}|[0-9a-f]{6})", re.IGNORECASE)
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_ROOT = re.compile(r"(?:^|})\s*:root\s*\{(?P<body>[^{}]*)", re.DOTALL)
_PROPERTY = re.compile(r"--(?P<name>[\w-]+)\s*:\s*(?P<value>[^;]+)")
_REFERENCE = re.compile(r"var\(\s*--(?P<name>[\w-]+)[^()]*\)")


@dataclass(frozen=True, slots=True)
class Look:
    """The theme's colours by the name of their property; `sans` where its charts have letters without serifs."""

    colours: Mapping[str, str] = field(default_factory=lambda: dict(DEFAULTS))
    sans: bool = False

    def colour(self, name: str) -> str:
        """A colour; that of text where there is none of the name."""
        return self.colours.get(name, self.colours["ink"])


def look_of(stylesheets: Iterable[str]) -> Look:
    """The look of a theme, from the rules that its style sheets have for `:root` outside of any condition."""
    given: dict[str, str] = {}
    for text in stylesheets:
        for rule in _ROOT.finditer(_unconditional(_COMMENT.sub("", text))):
            given |= {each["name"]: each["value"].strip() for each in _PROPERTY.finditer(rule["body"])}
    values = {name: _resolved(value, given) for name, value in given.items()}
    plain = {name: value for name, value in values.items() if _COLOUR.fullmatch(value)}
    return Look({**DEFAULTS, **plain}, "sans-serif" in values.get("chart-font", ""))


def _unconditional(text: str) -> str:
    """A style sheet without the blocks of its at-rules: a picture has one scheme, and no screen."""
    kept, depth, inside, begin = [], 0, False, 0
    for place in re.finditer(r"@|[{};]", text):
        sign = place.group()
        if sign == "@" and depth == 0 and not inside:
            kept.append(text[begin : place.start()])
            inside = True
        elif sign == "{":
            depth += 1
        elif sign == "}":
            depth = max(0, depth - 1)
        if inside and depth == 0 and sign in ";}":
            inside, begin = False, place.end()
            kept.append("}")  # a rule may follow
    return "".join([*kept, "" if inside else text[begin:]])


def _resolved(value: str, given: Mapping[str, str]) -> str:
    """A value whose references are followed, as far as they lead."""
    for _ in range(len(given)):
        found = _REFERENCE.search(value)
        if found is None or len(value) > 1000:
            break
        value = value[: found.start()] + given.get(found["name"], "") + value[found.end() :]
    return value.strip()
