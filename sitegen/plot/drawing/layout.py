"""Many filled specifications laid out by the drawing library in one call.

In: specifications as `draw.filled` gives them. Out: for each its marks, as in Vega's scene graph. What the library takes
goes by the number of marks that are defined far more than by that of rows: it compiles each definition. So marks that are
placed alike, in whichever chart and frame, are one mark here: each row has the number of its drawing, by which its
scales and the size of its plot are looked up. How a mark is painted has nothing to do with its place, and stays here.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import cache
from itertools import chain
from typing import Any, NamedTuple

Specification = dict[str, Any]
Mark = Mapping[str, Any]  # of Vega's scene graph: `name`, `marktype`, `items`

_OWN = ("name", "from")  # a mark's own, beside its paint; all else is alike in marks that are placed alike
# Channels that the library has to read: the place of a mark, and the size of a text, which is 0 so that none is measured.
_PLACES = ("x", "x2", "y", "y2", "dx", "dy", "fontSize")
_PLOTS = "plots"  # the signal with the size of each plot
_OF = "drawing"  # the field of a row with the number of its drawing
_WHOLE = ("$schema", "autosize", "background", "config")  # the same in all specifications


class _Part(NamedTuple):
    """The rows of one mark of one drawing, among those of all marks that are placed alike, and its paint."""

    name: str
    definition: str
    rows: slice
    paint: Mapping[str, Any]


def laid_out(specifications: Sequence[Specification]) -> list[list[Mark]]:
    """The marks of each specification, in its order."""
    import vl_convert  # noqa: PLC0415 - only drawing pays for it

    if not specifications:
        return []
    rows: dict[str, list[dict[str, Any]]] = {}
    parts = [_parts(number, each, rows) for number, each in enumerate(specifications)]
    graph = vl_convert.vega_to_scenegraph(_together(specifications, rows), allowed_base_urls=[])
    (whole,) = graph["scenegraph"]["items"]
    marks = dict(zip(rows, whole["items"], strict=True))
    return [[_mark(part, marks[part.definition]) for part in own] for own in parts]


def _parts(number: int, spec: Specification, rows: dict[str, list[dict[str, Any]]]) -> list[_Part]:
    """The marks of one drawing, whose rows are added to `rows`, by definition."""
    data = {data["name"]: data["values"] for data in spec["data"]}
    parts = []
    for mark in spec["marks"]:
        channels = mark["encode"]["update"]
        paint = {name: said["value"] for name, said in channels.items() if _is_paint(name, said)}
        placed = {name: said for name, said in channels.items() if name not in paint}
        shared = {key: value for key, value in mark.items() if key not in _OWN}
        definition = json.dumps({**shared, "encode": {"update": placed}})
        alike = rows.setdefault(definition, [])
        begin = len(alike)
        alike += [{**row, _OF: number} for row in data[mark["from"]["data"]]]
        parts.append(_Part(mark["name"], definition, slice(begin, len(alike)), paint))
    return parts


def _is_paint(name: str, said: Mapping[str, Any]) -> bool:
    """Whether a channel is the same for all rows of a mark, and moves none of them."""
    return name not in _PLACES and said.keys() == {"value"}


def _mark(part: _Part, alike: Mark) -> Mark:
    """The mark of one drawing; items are in the order of their rows."""
    # The library gives a paint of its own to items that have none.
    items = [{**item, **part.paint} for item in alike["items"][part.rows]]
    return {"name": part.name, "marktype": alike["marktype"], "items": items}


def _together(
    specifications: Sequence[Specification], rows: Mapping[str, Sequence[dict[str, Any]]]
) -> Specification:
    """One specification for all."""
    shared = {key: specifications[0][key] for key in _WHOLE}
    plots = [{side: each[side] for side in ("width", "height")} for each in specifications]
    return {
        **shared,
        **dict.fromkeys(("width", "height", "padding"), 0),
        "signals": [{"name": _PLOTS, "value": plots}],
        "scales": list(chain.from_iterable(map(_scales, range(len(plots)), specifications))),
        "data": [{"name": f"rows-{n}", "values": values} for n, values in enumerate(rows.values())],
        "marks": [
            {**_looked_up(definition), "from": {"data": f"rows-{n}"}} for n, definition in enumerate(rows)
        ],
    }


def _scales(number: int, spec: Specification) -> list[dict[str, Any]]:
    """The scales of one drawing: their names have its number, and their ends are said."""
    said = {signal["name"]: signal["value"] for signal in spec["signals"]} | {
        side: spec[side] for side in ("width", "height")
    }

    def ends(of: Sequence[Any]) -> list[float]:
        return [said[end["signal"]] if isinstance(end, dict) else end for end in of]

    return [
        {
            **scale,
            "name": f"{scale['name']}{number}",
            "domain": ends(scale["domain"]),
            "range": ends(scale["range"]),
        }
        for scale in spec["scales"]
    ]


@cache  # the stored specifications define some dozens
def _looked_up(definition: str) -> dict[str, Any]:
    """The definition of a mark, with scales and sizes looked up by row; it is shared, and so never changed."""
    mark: dict[str, Any] = _by_row(json.loads(definition))
    return mark


def _by_row(node: Any) -> Any:
    """A part of a mark's definition, with what belongs to a drawing looked up by the number that a row has."""
    if isinstance(node, list):
        return [_by_row(item) for item in node]
    if not isinstance(node, dict):
        return node
    plot = f"{_PLOTS}[datum.{_OF}]"
    found = {key: _by_row(value) for key, value in node.items()}
    if node.get("field") == {"group": "width"}:
        return {"signal": f"{plot}.width"}
    if node.get("signal") == "height":
        found["signal"] = f"{plot}.height"
    if "scale" in node:
        found["scale"] = {"signal": f"'{node['scale']}' + datum.{_OF}"}
    return found
