"""The varieties of a crop on its page: what was noted of each, its runs, and the most that a spot gave so far.

In: arms with their runs. Out: `GrownVariety`s. A run that still grows takes no part in the most so far.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import Figure
from sitegen.core.records.setup import Crop
from sitegen.core.site.addresses import crop_page, variety_anchor
from sitegen.core.values.quantity import Quantity
from sitegen.render.numbers.compared_arms import ComparedArm
from sitegen.render.pages.summary import RunSummary


@dataclass(frozen=True, slots=True)
class GrownVariety:
    """One variety with its runs; `most` is the largest harvest of a spot, and `run` the one that gave it."""

    name: str
    note: str
    anchor: str
    runs: tuple[RunSummary, ...]
    most: Figure | None = None
    run: RunSummary | None = None

    @property
    def least(self) -> float:
        """What a spot certainly gave at most [g]; 0 where no ended run says so."""
        return _least_of(self.most)


def variety_address(crop: str, variety: str) -> str:
    """Where a variety stands on the page of its crop."""
    return f"{crop_page(crop)}#{variety_anchor(variety)}"


def varieties_grown(crop: Crop, summaries: Sequence[RunSummary]) -> tuple[GrownVariety, ...]:
    """The varieties that had runs, in the order in which the crop lists them."""
    found: list[GrownVariety] = []
    for variety in crop.varieties:
        runs = tuple(each for each in summaries if variety.id in each.setup.variety_ids)
        if runs:
            best = _most(variety.id, runs)
            most, run = (best.figures.per_spot, best.summary) if best else (None, None)
            anchor = variety_anchor(variety.id)
            found.append(GrownVariety(variety.name, variety.note, anchor, runs, most, run))
    return tuple(found)


def _most(variety: str, runs: Sequence[RunSummary]) -> ComparedArm | None:
    """The arm of this variety alone that certainly gave most for each spot."""
    ended = [run for run in runs if run.arms and not run.running]
    arms = [ComparedArm(run, arm) for run in ended if run.arms for arm in run.arms.of_role("variety")]
    own = [row for row in arms if row.arm.varieties == (variety,) and _least(row) > 0]
    return max(own, key=_least, default=None)


def _least(row: ComparedArm) -> float:
    return _least_of(row.figures.per_spot)


def _least_of(figure: Figure | None) -> float:
    value = figure.value if figure else None
    return value.low if isinstance(value, Quantity) and value.known else 0.0
