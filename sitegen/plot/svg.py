"""Makes a drawn chart fit to stand inside a page.

In: the SVG text that the drawing library gives. Out: the same drawing without a size in pixels, with a
title and a description, with ids that no other chart has, and with plain hover texts instead of a role on
every mark.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

__all__ = ["SVG", "inlined"]

SVG = "http://www.w3.org/2000/svg"
_LONG_NUMBER = re.compile(r"-?\d+\.\d{3,}(?:e-?\d+)?")
_LAYER = re.compile(r"role-mark (\S+)_marks")
_REFERENCE = re.compile(r"(?<=url\(#)|(?<=^#)")
_NEEDLESS = (
    "role",
    "aria-hidden",
    "aria-roledescription",
    "stroke-miterlimit",
    "font-family",
    "pointer-events",
)
_GEOMETRY = ("d", "transform", "x2", "y2")
_STILL = "translate(0,0)"


def inlined(svg: str, *, key: str, frame: str, title: str, description: str) -> str:
    """The drawing as an element of a page; `key` begins every id in it."""
    drawn = ET.fromstring(svg)  # noqa: S314 - comes from our own drawing, not from outside
    names = {"title": f"{key}-title", "desc": f"{key}-desc"}
    root = ET.Element(
        _tag("svg"),
        {
            "viewBox": drawn.get("viewBox", ""),
            "class": frame,
            "role": "img",
            "aria-labelledby": " ".join(names.values()),
            "font-family": "var(--chart-font)",
            "fill": "none",
        },
    )
    for tag, text in (("title", title), ("desc", description)):
        ET.SubElement(root, _tag(tag), {"id": names[tag]}).text = text
    for child in drawn:
        root.extend(_tidied(child, key))
    ET.register_namespace("", SVG)
    return ET.tostring(root, encoding="unicode")


def _tidied(element: ET.Element, key: str) -> list[ET.Element]:
    """The element without what only the drawing library needs: none, itself, or what it held."""
    if element.get("class") in ("background", "foreground"):
        return []
    children = [kept for child in element for kept in _tidied(child, key)]
    attributes = _attributes(element, key)
    said = element.get("aria-label", "")
    if element.tag == _tag("g") and (not children or not attributes):
        return children
    made = ET.Element(element.tag, attributes)
    made.text = element.text
    if said:
        ET.SubElement(made, _tag("title")).text = said
    made.extend(children)
    return [made]


def _attributes(element: ET.Element, key: str) -> dict[str, str]:
    kept = {
        name: value
        for name, value in element.attrib.items()
        if name not in (*_NEEDLESS, "aria-label", "class")
    }
    if kept.get("transform") == _STILL:
        del kept["transform"]
    if kept.get("opacity") == "1":
        del kept["opacity"]
    if element.tag == _tag("g") and kept.get("fill") == "none":
        del kept["fill"]
    for name, value in kept.items():
        kept[name] = _renamed(name, value, key)
    layer = _LAYER.search(element.get("class", ""))
    return {"class": layer[1].replace("_", "-"), **kept} if layer else kept


def _renamed(name: str, value: str, key: str) -> str:
    """A value with shorter numbers, and with ids that belong to this drawing alone."""
    if name == "id":
        return f"{key}-{value}"
    if name in _GEOMETRY:
        return _LONG_NUMBER.sub(lambda number: _short(number[0]), value) if "." in value else value
    return _REFERENCE.sub(f"{key}-", value) if "#" in value else value


def _short(number: str) -> str:
    """Two decimals: a hundredth of a pixel cannot be seen, and processors differ beyond it."""
    return f"{round(float(number), 2) + 0.0:g}" if abs(float(number)) < 1000 else f"{float(number):.2f}"


def _tag(name: str) -> str:
    return f"{{{SVG}}}{name}"
