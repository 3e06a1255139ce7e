"""Heights: the tallest plant that was measured, by arm where arms are compared, beside the height claimed for the seed.

In: the material of a run. Out: moments.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sitegen.core.language.catalogue import tr
from sitegen.core.records.rows import Reading
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.notes.draft import AuthorWords, Number, Passage, number, passage, told
from sitegen.notes.material import ArmPlants, Material
from sitegen.notes.moments.moment import Moment

_STALE = 21  # days without a height from which it is worth saying; common practice, no source


def growth(material: Material) -> Iterator[Moment]:
    """The tallest plant, and the claim."""
    readings = [each for each in material.rows.read("height") if each.value.known]
    tallest = material.facts.growth.tallest
    if not readings or not isinstance(tallest.value, Quantity):
        return
    top = max(readings, key=lambda each: each.value.high or each.value.low)
    day = top.day
    by_arm = _by_arm(readings, day, material)
    if by_arm:
        said = told(*(_of_arm(arm, best) for arm, best in by_arm))
    else:
        words = passage(
            tr("{on_day} the tallest plant stood at {height}."),
            tallest.rows or top.source,
            on_day=Number("log.day", day, "on"),
            height=number(tallest),
        )
        said = told(words)
    yield Moment("height", said, day, arms=bool(by_arm))
    yield from _claim(material, tallest.value, day)
    yield from _stale(material, readings)


def _by_arm(readings: Sequence[Reading], day: Day, material: Material) -> list[tuple[ArmPlants, Reading]]:
    """The tallest plant of each arm on the day, where every arm was measured then."""
    found = []
    for arm in material.arms:
        own = [
            each
            for each in readings
            if each.day == day and len(each.plants) == 1 and each.plants[0] in material.members(arm, day)
        ]
        if own:
            found.append((arm, max(own, key=lambda each: each.value.high or each.value.low)))
    return found if len(found) == len(material.arms) else []


def _of_arm(arm: ArmPlants, best: Reading) -> Passage | None:
    return passage(
        tr("{on_day}, {where}, the tallest stood at {height}."),
        best.source,
        on_day=Number("log.day", best.day, "on"),
        where=arm.where,
        height=Number("log.height", best.value),
    )


def _claim(material: Material, tallest: Quantity, day: Day) -> Iterator[Moment]:
    """The height claimed, where the tallest plant lies clearly off it."""
    seed = material.setup.seed
    claimed = seed.claims.height if seed else None
    if seed is None or claimed is None or claimed.high is None or tallest.low <= claimed.high:
        return
    place = material.setup.at("seed")
    height = Number("growth.rate.claim", claimed)
    words = (
        passage(tr("{who} says {height}."), place, who=AuthorWords(seed.claims.by), height=height)
        if seed.claims.by
        else passage(tr("The height that I noted for the seed is {height}."), place, height=height)
    )
    yield Moment("claim", told(words), day)


def _stale(material: Material, readings: Sequence[Reading]) -> Iterator[Moment]:
    """That nobody measured later, of a run in which plants stood on."""
    last = max(readings, key=lambda each: each.day.last)
    if material.last_day - last.day.last >= _STALE:
        words = passage(tr("I have not written down a height since."), last.source)
        yield Moment("unknown", told(words), last.day)
