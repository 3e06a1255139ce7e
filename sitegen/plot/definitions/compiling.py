"""An Altair definition compiled to the Vega specification that is stored; drawing that is many times faster.

In: a definition. Out: Vega as JSON types, without data, without what guards against rows that are not whole (every row
has all its fields), with the lines of a layer as one mark, and with the sizes of texts beside it: Vega measures each
text in its font, which takes longer than all the rest, for bounds that nothing here asks for; a text of size nothing
it does not measure. Never looks at a row.
"""

from __future__ import annotations

import re
from typing import Any

import altair as alt
import vl_convert

_AS_TEXT = re.compile(r'isValid\(datum\["(\w+)"\]\) \? datum\["\1"\] : ""\+datum\["\1"\]')
_MIDDLE = 0.3  # of the size of a text, from its baseline to its middle, as Vega has it
_ENDS = {
    "x": ({"signal": "day_start"}, {"signal": "day_end"}),
    "y": ({"signal": "value_start"}, {"signal": "value_end"}),
}


def vega(definition: alt.LayerChart) -> dict[str, Any]:
    """The stored specification of a definition: marks, fixed scales and signals; rows come with each drawing."""
    spec: dict[str, Any] = _whole(vl_convert.vegalite_to_vega(definition.to_dict()))
    spec["data"] = [{"name": data["name"]} for data in spec["data"]]
    for scale in (scale for scale in spec["scales"] if scale["name"] in _ENDS):
        scale.pop("domainMin"), scale.pop("domainMax")
        scale["domain"] = list(_ENDS[scale["name"]])
    spec["marks"] = [_one_line(mark) if mark["type"] == "group" else mark for mark in spec["marks"]]
    texts = {mark["name"].removesuffix("_marks"): mark for mark in spec["marks"] if mark["type"] == "text"}
    sizes = {name: _unmeasured(mark["encode"]["update"]) for name, mark in texts.items()}
    spec["usermeta"] = {"text_size": sizes}
    return spec


def _one_line(group: dict[str, Any]) -> dict[str, Any]:
    """One line that breaks off between its pieces, instead of a mark for each piece."""
    line: dict[str, Any] = group["marks"][0]
    del line["sort"]  # rows come in their order
    line["from"] = {"data": group["from"]["facet"]["data"]}
    line["encode"]["update"]["defined"] = {"field": "defined"}
    return line


def _unmeasured(looks: dict[str, Any]) -> int:
    """The size of a mark's text, which is taken from it; the text stays where it was."""
    size: int = looks["fontSize"]["value"]
    assert looks.pop("baseline") == {"value": "middle"}, "a text's place is reckoned from its middle"
    looks["fontSize"] = {"value": 0}
    looks["dy"] = {**looks.get("dy", {"value": 0}), "offset": round(_MIDDLE * size)}
    return size


def _whole(node: Any) -> Any:
    """A part of a specification, with each choice between a whole row and a torn one made."""
    if isinstance(node, list):
        torn = bool(node) and isinstance(node[0], dict) and "isValid" in node[0].get("test", "")
        return _whole(node[-1]) if torn else [_whole(item) for item in node]
    if not isinstance(node, dict):
        return node
    field = _AS_TEXT.fullmatch(str(node.get("signal", "")))
    return {"field": field[1]} if field else {key: _whole(value) for key, value in node.items()}
