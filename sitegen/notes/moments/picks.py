"""Picking and tasting: the first pick, the biggest, a day on which each plant was weighed alone, spoilt pieces, tastes.

In: the material of a run. Out: moments.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sitegen.core.facts.figure import Figure
from sitegen.core.language.catalogue import tr
from sitegen.core.records.rows import Pick, Tasting
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.notes.draft import AuthorWords, Number, Passage, Plants, author, number, passage, told
from sitegen.notes.material import ArmPlants, Material
from sitegen.notes.moments.moment import Moment

_MISSED = 0.1  # of the days claimed, from which early or late is worth telling; common practice, no source


def picking(material: Material) -> Iterator[Moment]:
    """The picks worth telling, in the order of days."""
    days = _by_day(material)
    if days:
        yield _first(material, *days[0])
        yield from _claim(material)
        yield from _biggest(days)
        yield from _alone(material, days)
        yield from _each(days)
        yield from _spoilt(material)
    yield from _tastes(material)


def _by_day(material: Material) -> list[tuple[Day, list[Pick]]]:
    found: dict[Day, list[Pick]] = {}
    for pick in material.rows.picks:
        found.setdefault(pick.day, []).append(pick)
    return sorted(found.items())


def _weight(picks: Sequence[Pick]) -> Quantity:
    return total((pick.weight for pick in picks), Dimension.MASS)


def _first(material: Material, day: Day, picks: Sequence[Pick]) -> Moment:
    on, sources = number(material.facts.harvest.first_pick, "on"), [pick.source for pick in picks]
    weight = _weight(picks)
    whose = _whose(picks)
    came = passage(tr("{on_day} came the first pick."), sources, on_day=on)
    if not weight.known or weight.low == 0:
        what = passage(tr("Nobody put it on the scale."), sources)
    elif whose:
        what = passage(
            tr("From {plants}, {weight}."),
            sources,
            plants=Plants(whose),
            weight=Number("log.harvest", weight),
        )
    else:
        what = passage(tr("It came to {weight}."), sources, weight=Number("log.harvest", weight))
    since = material.facts.harvest.timing.from_transplant
    after = (
        passage(
            tr("That is {days} after the plants moved into the tub."), since.rows, days=number(since, "own")
        )
        if isinstance(since.value, Quantity) and since.value.single
        else None
    )
    return Moment("first pick", told(came, what, after), day)


def _whose(picks: Sequence[Pick]) -> tuple[str, ...]:
    """The plants of a few picks that name them."""
    if all(pick.which.named for pick in picks):
        ids = tuple(dict.fromkeys(plant for pick in picks for plant in pick.which.ids))
        return ids if len(ids) <= 3 else ()
    return ()


def _claim(material: Material) -> Iterator[Moment]:
    """The days claimed for the seed, where the first pick missed them."""
    seed, timing = material.setup.seed, material.facts.harvest.timing
    first = material.facts.harvest.first_pick.value
    if seed is None or seed.claims.days is None or not isinstance(first, Day) or not seed.claims.counted_from:
        return
    after: Figure = timing.from_transplant if seed.claims.counted_from == "transplant" else timing.from_sowing
    taken, claimed = after.value, seed.claims.days
    if not isinstance(taken, Quantity) or not taken.single:
        return
    early, late = taken.low < claimed.first * (1 - _MISSED), taken.low > claimed.last * (1 + _MISSED)
    if not (early or late):
        return
    place = material.setup.at("seed")
    said = _claimed(material, claimed)
    by = claimed.first - int(taken.low) if early else int(taken.low) - claimed.last
    days = Number("setup.seed.claims.missed_by", by, noun="day")
    off = (
        passage(tr("So the first pick was {days} early."), after.rows, place, days=days)
        if early
        else passage(tr("So the first pick was {days} late."), after.rows, place, days=days)
    )
    yield Moment("claim", told(said, off), first, order=2)


def _claimed(material: Material, claimed: Day) -> Passage | None:
    seed = material.setup.seed
    assert seed is not None
    source = material.setup.at("seed")
    days = Number("setup.seed.claims.days", claimed.first, noun="day")
    last = Number("setup.seed.claims.days", claimed.last, noun="day")
    first = Number("setup.seed.claims.days", claimed.first)
    if seed.claims.by:
        who = AuthorWords(seed.claims.by)
        if claimed.single:
            return passage(tr("{who} says {days}."), source, who=who, days=days)
        return passage(tr("{who} says {first} to {days}."), source, who=who, first=first, days=last)
    if claimed.single:
        return passage(tr("The claim that I noted for the seed is {days}."), source, days=days)
    return passage(
        tr("The claim that I noted for the seed is {first} to {days}."), source, first=first, days=last
    )


def _biggest(days: Sequence[tuple[Day, list[Pick]]]) -> Iterator[Moment]:
    weights = [(_weight(picks), day, picks) for day, picks in days]
    known = [each for each in weights if each[0].single]
    if len(known) < 2:
        return
    best = max(known, key=lambda each: each[0].low)
    if sum(each[0].low == best[0].low for each in known) > 1 or best[1] == days[0][0]:
        return
    weight, day, _ = best
    places = [pick.source for _, _, some in weights for pick in some]
    open_ = len(known) < len(weights)
    on, amount = Number("log.day", day, "on"), Number("log.harvest", weight)
    words = (
        passage(
            tr("The biggest pick on the scale came {on_day}: {weight}."), places, on_day=on, weight=amount
        )
        if open_
        else passage(tr("The biggest pick came {on_day}: {weight}."), places, on_day=on, weight=amount)
    )
    yield Moment("biggest pick", told(words), day)


# each plant by itself


def _alone(material: Material, days: Sequence[tuple[Day, list[Pick]]]) -> Iterator[Moment]:
    """The fullest day on which every plant of each arm was weighed by itself."""
    if len(material.arms) < 2:
        return
    found = [(day, weights) for day, picks in days if (weights := _by_arm(material, picks)) is not None]
    if not found:
        return
    day, weights = max(found, key=lambda each: sum(len(own) for _, own in each[1]))
    sources = [pick.source for _, own in weights for pick in own]
    opened = passage(
        tr("{on_day} each plant was weighed by itself."), sources, on_day=Number("log.day", day, "on")
    )
    said = [_of_arm(arm, own) for arm, own in weights]
    yield Moment("arms alone", told(opened, *said, _ordered(weights)), day, arms=True, order=1)


def _by_arm(material: Material, picks: Sequence[Pick]) -> list[tuple[ArmPlants, list[Pick]]] | None:
    """The picks of single plants that stayed in their arms; None where an arm has none, or too many to say."""
    single = [
        pick
        for pick in picks
        if len(pick.which.ids) == 1
        and pick.weight.exact
        and pick.part == picks[0].part
        and pick.weight.low > 0
    ]
    by_arm = [
        (arm, [pick for pick in single if pick.which.ids[0] in material.members(arm, pick.day)])
        for arm in material.arms
    ]
    whole = [len(material.members(arm, picks[0].day)) for arm in material.arms]
    each = all(0 < len(own) == n <= 3 for (_, own), n in zip(by_arm, whole, strict=True))
    return by_arm if each else None


def _of_arm(arm: ArmPlants, picks: Sequence[Pick]) -> Passage | None:
    *before, last = picks
    weights = [Number("log.harvest", pick.weight, "plain") for pick in before]
    final, sources = Number("log.harvest", last.weight, "own"), [pick.source for pick in picks]
    if not weights:
        return passage(tr("{where}, {weight}."), sources, where=arm.where, weight=final)
    if len(weights) == 1:
        return passage(
            tr("{where}, {first} and {last}."), sources, where=arm.where, first=weights[0], last=final
        )
    return passage(
        tr("{where}, {first}, {second} and {last}."),
        sources,
        where=arm.where,
        first=weights[0],
        second=weights[1],
        last=final,
    )


def _ordered(weights: Sequence[tuple[ArmPlants, list[Pick]]]) -> Passage | None:
    """That the lightest plant of one arm outweighed the heaviest of the other, where it did."""
    if len(weights) != 2 or not all(len(own) > 1 for _, own in weights):
        return None
    ranges = [
        (min(p.weight.low for p in own), max(p.weight.low for p in own), arm, own) for arm, own in weights
    ]
    low, high = sorted(ranges, key=lambda each: each[0])
    if high[0] <= low[1]:
        return None
    sources = [pick.source for _, own in weights for pick in own]
    return passage(
        tr("So that day the lightest plant {here} beat the heaviest {there}."),
        sources,
        here=high[2].where,
        there=low[2].where,
    )


def _each(days: Sequence[tuple[Day, list[Pick]]]) -> Iterator[Moment]:
    """Every other pick, in a sentence; those that nobody weighed are told with the total."""
    weights = {day: _weight(picks) for day, picks in days}
    most = max((weight.low for weight in weights.values() if weight.single), default=0.0)
    for day, picks in days[1:]:
        weight = weights[day]
        if weight.low < most and weight.known and weight.low > 0:
            sources = [pick.source for pick in picks]
            words = passage(
                tr("{on_day} I picked {weight}."),
                sources,
                on_day=Number("log.day", day, "on"),
                weight=Number("log.harvest", weight),
            )
            yield Moment("pick", told(words), day)


def _spoilt(material: Material) -> Iterator[Moment]:
    """The last pick of which some had spoilt."""
    spoilt = [pick for pick in material.rows.picks if pick.spoilt]
    if not spoilt:
        return
    pick = spoilt[-1]
    part = Number("log.harvest.spoilt", pick.spoilt, "plain", "piece")
    on = Number("log.day", pick.day, "on")
    if pick.count:
        words = passage(
            tr("{on_day}, {part} of the {whole} pieces had spoilt."),
            pick.source,
            on_day=on,
            part=part,
            whole=Number("log.harvest.count", pick.count),
        )
    else:
        words = passage(
            tr("{on_day}, {pieces} had spoilt."),
            pick.source,
            on_day=on,
            pieces=Number("log.harvest.spoilt", pick.spoilt, noun="piece"),
        )
    yield Moment("spoilt", told(words), pick.day, order=2)


# taste


def _tastes(material: Material) -> Iterator[Moment]:
    """Each tasting; one whose score differs from that before is a change."""
    before: float | None = None
    for event in material.rows.of(Tasting):
        score = event.score
        on = Number("log.day", event.day, "on")
        said = None
        if score is not None and score.exact and event.out_of:
            said = passage(
                tr("{on_day} I gave {score} out of {most} for taste."),
                event.source,
                on_day=on,
                score=Number("log.taste", score, "plain"),
                most=Number("log.taste.out_of", event.out_of),
            )
        elif event.what:
            said = passage(tr("{on_day} I tasted it."), event.source, on_day=on)
        words = author(event.what, event.source) if event.what else None
        now = score.low / event.out_of if score is not None and event.out_of else None
        kind = "change" if before is not None and now is not None and now != before else "taste"
        yield Moment(kind, told(said, words), event.day, order=2)
        before = now if now is not None else before
