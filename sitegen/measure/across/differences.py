"""What differed between two runs.

In: the conditions of two runs. Out: those that are not alike, and those that only one of them recorded. Two values are
alike where their ranges meet, or are no further apart than what reads them resolves (`TOLERANCE`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sitegen.core.facts.across import Condition, Differed
from sitegen.core.values.quantity import Quantity

# By code, in the canonical unit: what two thermometers, or meters, of a household may differ by in one room. Common
# practice, no source.
TOLERANCE: Mapping[str, float] = {"temperature": 1.0, "ec": 0.2, "hours": 0.25}
# The same as a share of the larger value.
RELATIVE: Mapping[str, float] = {"ppfd": 0.1, "density": 0.1, "feed": 0.1}

_COMPARED_ITSELF = "variety"


def differed(here: Sequence[Condition], there: Sequence[Condition]) -> tuple[Differed, ...]:
    """Everything besides the variety in which a run differed from an earlier one of its crop, by their conditions."""
    return tuple(_differed({c.code: c for c in here}, {c.code: c for c in there}))


def _differed(here: Mapping[str, Condition], there: Mapping[str, Condition]) -> Iterator[Differed]:
    for code in dict.fromkeys((*here, *there)):
        one, other = here.get(code), there.get(code)
        if code == _COMPARED_ITSELF or (one and other and _alike(one, other)):
            continue
        yield Differed(code, *_telling(one, other))


def _alike(one: Condition, other: Condition) -> bool:
    if set(one.names) != set(other.names):
        return False
    if one.value is None or other.value is None:
        return one.value == other.value or bool(one.names)
    return one.value.dimension == other.value.dimension and _near(one.code, one.value, other.value)


def _near(code: str, one: Quantity, other: Quantity) -> bool:
    """Whether two values can be one, or differ by no more than is tolerated."""
    lower, upper = sorted((one, other), key=lambda value: value.low)
    if lower.high is None or upper.low <= lower.high:
        return True
    allowed = TOLERANCE.get(code, 0.0) + RELATIVE.get(code, 0.0) * upper.low
    return upper.low - lower.high <= allowed * (1 + 1e-9)


def _telling(one: Condition | None, other: Condition | None) -> tuple[Condition | None, Condition | None]:
    """Without the amounts where the names differ: those of other things are not to be compared."""
    if one and other and one.names and set(one.names) != set(other.names):
        return replace(one, value=None), replace(other, value=None)
    return one, other
