"""Makes a drawn chart fit to stand inside a page.

In: the SVG text that the drawing library gives, and the sizes of its texts. Out: the same drawing without a size in
pixels, with a title and a description, with ids that no other chart has, and with plain hover texts instead of a role
on every mark.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache, partial
from html import escape
from xml.etree import ElementTree as ET

SVG = "http://www.w3.org/2000/svg"
_LONG_NUMBER = re.compile(r"-?\d+\.\d{3,}(?:e-?\d+)?")
_LAYER = re.compile(r"role-mark (\S+)_marks")
_REFERENCE = re.compile(r"(?<=url\(#)|(?<=^#)")
_NEEDLESS = frozenset(
    {
        *("role", "aria-hidden", "aria-roledescription", "aria-label", "class"),
        *("stroke-miterlimit", "font-family", "font-size", "pointer-events"),
    }
)
_STILL = "translate(0,0)"
_GEOMETRY = frozenset({"d", "transform", "x2", "y2"})
_BARE = len(SVG) + 2  # the name of a tag begins behind its namespace in braces
_text = partial(escape, quote=False)


@dataclass(frozen=True, slots=True)
class _Naming:
    """What a drawing's elements are called, and what its layers' texts measure."""

    key: str
    text_size: Mapping[str, int]


def inlined(
    svg: str, *, key: str, frame: str, title: str, description: str, text_size: Mapping[str, int]
) -> str:
    """The drawing as an element of a page; `key` begins every id in it, `text_size` is by layer."""
    naming = _Naming(key, text_size)
    drawn = ET.fromstring(svg)  # noqa: S314 - comes from our own drawing, not from outside
    return (
        f'<svg xmlns="{SVG}" viewBox="{drawn.get("viewBox", "")}" class="{frame}" role="img"'
        f' aria-labelledby="{key}-title {key}-desc" font-family="var(--chart-font)" fill="none">'
        f'<title id="{key}-title">{_text(title)}</title><desc id="{key}-desc">{_text(description)}</desc>'
        f"{''.join([_tidied(child, naming) for child in drawn])}</svg>"
    )


def _tidied(element: ET.Element, naming: _Naming) -> str:
    """The element without what only the drawing library needs: nothing, itself, or what it holds."""
    tag, layer = element.tag[_BARE:], element.get("class", "")
    if layer in ("background", "foreground"):
        return ""
    held = "".join([_tidied(child, naming) for child in element])
    attributes = _attributes(element, tag, layer, naming)
    if tag == "g" and not (held and attributes):
        return held
    said = element.get("aria-label")
    text = _text(element.text) if element.text else ""
    inside = f"{text}<title>{_text(said)}</title>{held}" if said else text + held
    return f"<{tag}{attributes}>{inside}</{tag}>" if inside else f"<{tag}{attributes} />"


def _attributes(element: ET.Element, tag: str, layer: str, naming: _Naming) -> str:
    """What is kept of an element's attributes, after the name of the layer that it is."""
    kept = []
    if named := _LAYER.search(layer):
        kept.append(f' class="{named[1].replace("_", "-")}"')
        if size := naming.text_size.get(named[1]):
            kept.append(f' font-size="{size}px"')
    for name, value in element.attrib.items():
        if name in _GEOMETRY:
            kept.append(_geometry(name, value))
        elif name not in _NEEDLESS:
            kept.append(_attribute(tag, name, value, naming.key if name == "id" or "#" in value else ""))
    return "".join(kept)


def _geometry(name: str, value: str) -> str:
    """Shorter numbers."""
    short = _LONG_NUMBER.sub(_short, value) if "." in value else value
    return "" if short == _STILL else f' {name}="{short}"'


@lru_cache(maxsize=2048)  # most elements say the same as others
def _attribute(tag: str, name: str, value: str, key: str) -> str:
    """An attribute as it is kept; ids, and references to them, get the name of this drawing."""
    if (name, value) == ("opacity", "1") or (tag, name, value) == ("g", "fill", "none"):
        return ""
    if key:
        value = f"{key}-{value}" if name == "id" else _REFERENCE.sub(f"{key}-", value)
    return f' {name}="{escape(value)}"'


def _short(found: re.Match[str]) -> str:
    """Two decimals: a hundredth of a pixel cannot be seen, and processors differ beyond it."""
    number = float(found[0])
    return f"{round(number, 2) + 0.0:g}" if abs(number) < 1000 else f"{number:.2f}"
