"""A chart that was laid out, written as SVG elements.

In: marks of Vega's scene graph, each with its place and its paint, and the sizes of texts by layer. Out: the layers of a
`Drawing`. Elements are written from the scene graph, and not taken from the library's own SVG, because a page has no
use for most of that: roles and labels on every mark, places to sixteen digits, an element for each line of a grid,
colours said again for each mark.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from itertools import groupby
from typing import Any

_Item = Mapping[str, Any]

_PAINT = {
    "fill": "fill",
    "stroke": "stroke",
    "strokeWidth": "stroke-width",
    "strokeDash": "stroke-dasharray",
    "strokeCap": "stroke-linecap",
    "strokeJoin": "stroke-linejoin",
    "align": "text-anchor",
    "opacity": "opacity",
}
_ANCHORS = {"left": "start", "center": "middle", "right": "end"}
# A style sheet that says this is not valid CSS: as an attribute it is valid SVG.
_HALO = {"labels": ' paint-order="stroke"'}
# The outlines of Vega's symbols round their middle, for half their width; any other symbol is an outline itself.
_HIGH = math.sqrt(3) / 2
_OUTLINES = {
    "square": "M-1,-1L1,-1L1,1L-1,1Z",
    "diamond": "M-1,0L0,-1L1,0L0,1Z",
    "triangle-up": f"M0,-{_HIGH}L-1,{_HIGH}L1,{_HIGH}Z",
    "triangle-down": f"M0,{_HIGH}L-1,-{_HIGH}L1,-{_HIGH}Z",
    "triangle-right": f"M{_HIGH},0L-{_HIGH},-1L-{_HIGH},1Z",
}


@dataclass(frozen=True, slots=True)
class _Element:
    """An SVG element: its position, its paint, and its text or the title shown on hover."""

    tag: str
    place: str
    paint: Mapping[str, str]
    text: str = ""
    title: str = ""

    def written(self, begin: str = "", shared: Collection[str] = ()) -> str:
        """The element, whose attributes begin with some; paint that its group has is left out."""
        paint = "".join(f' {name}="{value}"' for name, value in self.paint.items() if name not in shared)
        head = f"<{self.tag}{begin}{self.place}{paint}"
        inside = escape(self.text, quote=False)
        if self.title:
            inside += f"<title>{escape(self.title, quote=False)}</title>"
        return f"{head}>{inside}</{self.tag}>" if inside else f"{head}/>"


def layers_of(marks: Iterable[Mapping[str, Any]], text_sizes: Mapping[str, int]) -> dict[str, str]:
    """The layers of a drawing, by name, from the marks of its scene graph; text sizes are by the name of a mark."""
    layers: dict[str, str] = {}
    for mark in marks:
        mark_name = mark["name"].removesuffix("_marks")
        name = mark_name.replace("_", "-")
        size = text_sizes.get(mark_name)
        begin = f' class="{name}"' + (f' font-size="{size}px"' if size else "") + _HALO.get(name, "")
        layers[name] = _grouped(begin, list(_ELEMENTS[mark["marktype"]](mark["items"])))
    return layers


def _grouped(begin: str, elements: list[_Element]) -> str:
    """A layer: its only element, or a group with the paint that all elements share.

    An element has the opacity of its group once more, so that opacity stays with the elements.
    """
    if len(elements) == 1:
        return elements[0].written(begin)
    first = elements[0].paint
    shared = [
        name
        for name, value in first.items()
        if name != "opacity" and all(each.paint.get(name) == value for each in elements)
    ]
    said = "".join(f' {name}="{first[name]}"' for name in shared)
    return f"<g{begin}{said}>{''.join(each.written(shared=shared) for each in elements)}</g>"


def _rules(items: Iterable[_Item]) -> Iterator[_Element]:
    """Upright and level lines; those without a title that are painted alike are one path."""
    for (title, *_), same in groupby(items, key=lambda item: (item.get("description", ""), _paint(item))):
        paths = [(_rule(item), item) for item in same]
        if title:
            yield from (_Element("path", f' d="{path}"', _paint(item), title=title) for path, item in paths)
        else:
            yield _Element("path", f' d="{"".join(path for path, _ in paths)}"', _paint(paths[0][1]))


def _rule(item: _Item) -> str:
    x, y = item["x"], item["y"]
    across, down = item.get("x2", x) - x, item.get("y2", y) - y
    return f"M{_number(x)},{_number(y)}" + (f"h{_number(across)}" if across else f"v{_number(down)}")


def _line(items: Iterable[_Item]) -> Iterator[_Element]:
    """One path, which breaks off at corners that are not defined."""
    items = list(items)
    path, command = "", "M"
    for item in items:
        if item.get("defined", True):
            path += f"{command}{_number(item['x'])},{_number(item['y'])}"
            command = "L"
        else:
            command = "M"
    yield _Element("path", f' d="{path}"', _paint(items[0]))


def _rects(items: Iterable[_Item]) -> Iterator[_Element]:
    for item in items:
        names = ("x", "y", "width", "height")
        place = "".join(f' {name}="{_number(item[name])}"' for name in names)
        yield _Element("rect", place, _paint(item), title=item.get("description", ""))


def _symbols(items: Iterable[_Item]) -> Iterator[_Element]:
    """A circle, or the outline of another shape moved to its place."""
    for item in items:
        x, y, half = _number(item["x"]), _number(item["y"]), math.sqrt(item["size"]) / 2
        tag, place = "circle", f' cx="{x}" cy="{y}" r="{_number(half)}"'
        if item["shape"] != "circle":
            tag, place = "path", f' transform="translate({x},{y})" d="{_outline(item["shape"], half)}"'
        yield _Element(tag, place, _paint(item), title=item.get("description", ""))


@lru_cache(maxsize=128)
def _outline(shape: str, half: float) -> str:
    """The outline of a symbol at its size."""
    return "".join(f"M{_scaled(piece, half)}" for piece in _OUTLINES.get(shape, shape).split("M")[1:])


def _scaled(piece: str, by: float) -> str:
    """A piece of an outline, corner by corner."""
    end = "Z" if piece.endswith("Z") else ""
    corners = [corner.split(",") for corner in piece.removesuffix("Z").split("L")]
    return "L".join(f"{_number(float(x) * by)},{_number(float(y) * by)}" for x, y in corners) + end


def _texts(items: Iterable[_Item]) -> Iterator[_Element]:
    for item in items:
        x, y = item["x"] + item.get("dx", 0), item["y"] + item.get("dy", 0)
        yield _Element("text", f' x="{_number(x)}" y="{_number(y)}"', _paint(item), text=item["text"])


_ELEMENTS = {"rule": _rules, "line": _line, "rect": _rects, "symbol": _symbols, "text": _texts}


def _paint(item: _Item) -> dict[str, str]:
    """The paint of a mark without the defaults: no fill, no stroke, full opacity."""
    return {
        attribute: _value(item[name])
        for name, attribute in _PAINT.items()
        if item.get(name) not in (None, "none") and (name, item[name]) != ("opacity", 1)
    }


def _value(value: Any) -> str:
    if isinstance(value, list):
        return ",".join(map(_number, value))
    return _ANCHORS.get(value, value) if isinstance(value, str) else _number(value)


def _number(value: float) -> str:
    """Two decimals: a hundredth of a pixel cannot be seen, and processors differ beyond it."""
    return f"{round(value, 2) + 0.0:.10g}"
