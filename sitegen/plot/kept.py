"""Drawings made before: the same picture on the same axis is drawn once.

In: a picture, the axis, a store. Out: its two drawings, from the store where it has them. What is asked for is known
before any label is placed or any specification filled. Drawings are kept packed: they are text that repeats itself.
"""

from __future__ import annotations

import base64
import zlib
from hashlib import blake2b

from sitegen.core.chart import FRAMES, NARROW, WIDE
from sitegen.core.day import DayAxis
from sitegen.core.store import Store
from sitegen.plot.drawing import Draw, drawn, svg_of
from sitegen.plot.picture import Picture

__all__ = ["both"]

_QUICK = 3  # of nine levels: a tenth larger than the best, in a quarter of its time


def both(picture: Picture, axis: DayAxis, store: Store | None, draw: Draw = svg_of) -> tuple[str, str]:
    """The wide and the narrow drawing of a picture."""
    if store is None:
        return _both(picture, axis, draw)
    asked = repr((picture, axis, FRAMES)).encode()
    key = store.key("plot", blake2b(asked, digest_size=20).hexdigest())
    kept = store.get(key)
    if kept is not None:
        return _unpacked(kept.value["wide"]), _unpacked(kept.value["narrow"])
    wide, narrow = _both(picture, axis, draw)
    store.put(key, {"wide": _packed(wide), "narrow": _packed(narrow)})
    return wide, narrow


def _both(picture: Picture, axis: DayAxis, draw: Draw) -> tuple[str, str]:
    return drawn(picture, axis, WIDE, draw), drawn(picture, axis, NARROW, draw)


def _packed(svg: str) -> str:
    return base64.b64encode(zlib.compress(svg.encode(), _QUICK)).decode()


def _unpacked(text: str) -> str:
    return zlib.decompress(base64.b64decode(text)).decode()
