"""What is known of a run when a line about it is read.

In: nothing. Out: `Known`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Known:
    """The names of a run: its plants, groups and tubs, the products of the journal, the kind of its crop.

    `tubs` is empty where there is one; `products` are id, name and kind.
    """

    plants: tuple[str, ...] = ()
    groups: tuple[tuple[str, tuple[str, ...]], ...] = ()
    tubs: tuple[str, ...] = ()
    products: tuple[tuple[str, str, str], ...] = ()
    crop_kind: str = ""
    crop: str = ""  # its name, as it is said
    language: str = "en"
    units: Literal["metric", "us"] = "metric"
