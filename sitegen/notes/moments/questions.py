"""Questions that the log leaves open: what came shortly before a change, and what nobody looked at.

In: the material of a run. Out: moments. A coincidence is a question: in order, with days, never a cause, and only where
what was done touched every plant of the change.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import tr
from sitegen.core.records.rows import Deed, Tasting, Trouble, Watering
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.notes.draft import Number, Passage, passage, told
from sitegen.notes.material import Material
from sitegen.notes.moments.moment import Moment

NEAR_DAYS = 14  # before a change in which something is worth standing beside it; common practice, no source
_JUMP = 1.5  # times the water a day from which it is a jump; common practice, no source


def questions(material: Material) -> Iterator[Moment]:
    """The coincidence, the turning point, and what is still unknown."""
    yield from _coincidence(material)
    yield from _turning_point(material)
    yield from _unknown(material)


@dataclass(frozen=True, slots=True)
class _Before:
    """Something that came before a change; `what` names it within a sentence."""

    day: Day
    what: str
    source: Source


def _coincidence(material: Material) -> Iterator[Moment]:
    """Everything that touched all plants in the two weeks before the taste fell."""
    change = _fall_of_taste(material)
    if change is None:
        return
    day, place = change
    before = sorted(
        (each for each in _whole_run(material) if 0 < day.first - each.day.last <= NEAR_DAYS),
        key=lambda each: each.day,
    )
    if len(before) < 2:
        return
    opened = passage(tr("What had come before the taste fell?"))
    listed = [
        passage(
            tr("{on_day} it was {what}."),
            each.source,
            on_day=Number("log.day", each.day, "on"),
            what=each.what,
        )
        for each in before
    ]
    then = passage(tr("The taste fell {by_day}."), place, by_day=Number("log.day", day, "by"))
    which = passage(tr("Which of these was it?"))
    end = passage(tr("A single run cannot tell them apart."), place, *(each.source for each in before))
    yield Moment("coincidence", told(opened, *listed, then, which, end), place="meaning")


def _fall_of_taste(material: Material) -> tuple[Day, Source] | None:
    """The day of the first taste with a lower score than the one before."""
    before: Quantity | None = None
    for event in material.rows.of(Tasting):
        if event.score is None or not event.score.exact:
            continue
        if before is not None and event.score.low < before.low and event.day.single:
            return event.day, event.source
        before = event.score
    return None


def _whole_run(material: Material) -> Iterator[_Before]:
    """What touched all plants: settings of all lamps, trouble, a change of all water, the hottest day."""
    several = len(material.setup.tubs) > 1
    for row in material.rows.lights:
        if row.entry is not None and not several:
            yield _Before(row.day, tr("a new setting of the lamp"), row.source)
    for event in material.rows.of(Trouble):
        if event.which is None:
            yield _Before(event.day, tr("the trouble"), event.source)
    troubled = {event.entry for event in material.rows.of(Trouble)}
    for change in material.rows.of(Deed.CHANGE):
        if not several and change.entry not in troubled:
            yield _Before(change.day, tr("a change of all the water"), change.source)
    days, exports = material.facts.climate.air_daily, material.rows.exports
    if len(days) > 1 and exports:
        hottest = max(days, key=lambda each: each.high)
        if sum(each.high == hottest.high for each in days) == 1:
            yield _Before(Day.on(hottest.day), tr("the highest temperature"), exports[0].source)


def _turning_point(material: Material) -> Iterator[Moment]:
    """A stronger feed, and a jump in the water that a lone tub took from then on."""
    if len(material.setup.tubs) != 1:
        return
    filled = [
        event
        for event in material.rows.of(Watering)
        if event.deed is Deed.WATER and event.amount is not None and event.amount.single and event.day.single
    ]
    for change in material.rows.routines:
        if change.what != "feed" or change.amount is None or not change.day.single:
            continue
        earlier = [
            r for r in material.rows.routines if r.product == change.product and r.entry < change.entry
        ]
        if not earlier or earlier[-1].amount is None or change.amount.low <= earlier[-1].amount.low:
            continue
        before = _a_day([each for each in filled if each.day.first <= change.day.first])
        after = _a_day([each for each in filled if each.day.first >= change.day.first])
        if before is None or after is None or after < before * _JUMP:
            continue
        places = (change.source, *(each.source for each in filled))
        words = passage(
            tr("Before the stronger feed the tub drank {before} a day, and after it {after}."),
            places,
            before=Number("log.water.a_day", exactly(before, Dimension.VOLUME, 10.0), "own"),
            after=Number("log.water.a_day", exactly(after, Dimension.VOLUME, 10.0), "own"),
        )
        asked = passage(tr("Was it the feed, or bigger plants?"))
        yield Moment("turning point", told(words, asked), change.day, order=4)
        return


def _a_day(filled: list[Watering]) -> float | None:
    """The water a day [ml] from the first of some fillings to the last: what was added after the first."""
    if len(filled) < 3:
        return None
    days = filled[-1].day.first - filled[0].day.first
    if days <= 0:
        return None
    return sum(each.amount.low for each in filled[1:] if each.amount) / days


def _unknown(material: Material) -> Iterator[Moment]:
    """What a viewer will ask and the log does not say."""
    rows, picked = material.rows, material.rows.picks
    if picked and not rows.of(Tasting):
        words = passage(tr("I did not write down how it tasted."), picked[-1].source)
        yield Moment("unknown", told(words), place="meaning", order=4, unsaid=True)


def caveat(material: Material) -> Passage | None:
    """What so small a trial cannot say: once, and about this run."""
    arms = [arm for arm in material.arms if arm.arm.kind != "varieties"]
    tubs, place = len(material.setup.tubs), material.setup.at("plants")
    if len(material.arms) > 1 and arms and tubs == len(arms):
        return passage(tr("{tubs}, once, cannot say."), place, tubs=Number("setup.tubs", tubs, noun="tub"))
    if len(material.arms) > 1:
        return passage(tr("A few plants, once, cannot say."), place)
    return passage(tr("This was a single run, and the next may go otherwise."), place)
