"""Draws charts, and stores the drawings.

In: the data of a chart and the day axis. Out: its wide and its narrow drawing, whose bytes depend on nothing but the
data. No address is ever fetched.
"""

from __future__ import annotations

import base64
import json
import zlib
from dataclasses import asdict
from hashlib import blake2b
from typing import Any

from sitegen.core.site.chart import FRAMES, Drawing, Frame
from sitegen.core.store import Store
from sitegen.core.values.day import DayAxis
from sitegen.plot.chart_data import ChartData
from sitegen.plot.drawing.fill import filled
from sitegen.plot.drawing.svg import drawing_of

_QUICK = 3  # of nine levels of compression: a tenth larger than the best, in a quarter of its time


def drawn(name: str, data: ChartData, axis: DayAxis, frame: Frame) -> Drawing:
    """One drawing of a chart, by the name of its specification."""
    import vl_convert  # noqa: PLC0415 - only drawing pays for it

    specification = filled(name, data, axis, frame)
    graph = vl_convert.vega_to_scenegraph(specification, allowed_base_urls=[])
    return drawing_of(graph, specification["usermeta"]["text_size"])


def drawings(name: str, data: ChartData, axis: DayAxis, store: Store | None) -> tuple[Drawing, ...]:
    """A drawing for each frame; `store` keeps them."""
    if store is None:
        return tuple(drawn(name, data, axis, frame) for frame in FRAMES)
    asked = repr((name, data, axis, FRAMES)).encode()
    key = store.key("plot", blake2b(asked, digest_size=20).hexdigest())
    kept = store.get(key)
    if kept is not None:
        return tuple(Drawing(**drawing) for drawing in _unpacked(kept.value["drawings"]))
    found = drawings(name, data, axis, None)
    store.put(key, {"drawings": _packed([asdict(drawing) for drawing in found])})
    return found


def _packed(value: object) -> str:
    return base64.b64encode(zlib.compress(json.dumps(value).encode(), _QUICK)).decode()


def _unpacked(text: str) -> Any:
    return json.loads(zlib.decompress(base64.b64decode(text)))
