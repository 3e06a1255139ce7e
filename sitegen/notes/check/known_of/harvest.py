"""What was picked: totals of the whole run, of arms, plants and parts; every pick and every day's picks.

In: a log. Out: `Known`s of weight, of pieces and of numbers of picks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from sitegen.core.facts.figure import NOT_SAID, Named, Share
from sitegen.core.records.rows import Pick
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly, total
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import Kind
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log, PlantSet, amount, count, of_figure, topics
from sitegen.notes.check.sentences.topics import nth

_TOTAL = frozenset({"total"})


def known_harvest(log: Log) -> tuple[Known, ...]:
    """All of it; nothing where nothing was picked."""
    found = (*_totals(log), *_picks(log), *_spoilt(log), *_shares(log), *_numbers(log))
    return tuple(each for each in found if each is not None)


def _totals(log: Log) -> Iterator[Known | None]:
    harvest = log.facts.harvest
    parts = _other_parts(harvest.by_part)
    yield of_figure(harvest.total, "harvest in all", {"harvest"}, ranks=_TOTAL, parts=parts)
    for each in log.sets:
        named: tuple[Named, ...] = getattr(harvest, each.kind)
        figure = next((row.figure for row in named if row.key == each.key), None)
        if figure is not None:
            yield of_figure(figure, "harvest", {"harvest"}, plants=each.plants, who=each.label, ranks=_TOTAL)
        yield _all_picks_of(log, each)
    known_parts = [row for row in harvest.by_part if row.label != NOT_SAID]
    for row in known_parts if len(known_parts) > 1 else ():
        part = row.label.name
        about = {"harvest", f"part:{'leaf' if part == 'leaf' else part}"}
        yield of_figure(row.figure, f"harvest: {part}", about, ranks=_TOTAL)
    for row in harvest.by_flush:
        if row.label != NOT_SAID:
            flush = _TOTAL | topics(nth("flush", int(row.label.name)))
            yield of_figure(row.figure, f"harvest of flush {row.label.name}", {"harvest"}, ranks=flush)
    yield _best_plant(log)
    yield of_figure(harvest.per_spot, "harvest per spot", {"harvest"}, ranks=topics("mean", "each"))
    by_day = {point.day: point for point in sorted(harvest.cumulative, key=lambda each: each.total.low)}
    points = sorted(by_day.values(), key=lambda each: each.day.key)
    for at, point in enumerate(points):
        later = [each.day.last for each in points[at + 1 :] if each.day.last > point.day.last]
        yield amount(
            point.total,
            "harvest so far",
            {"harvest"},
            day=point.day,
            until=later[0] if later else None,
            series=True,
            ranks=_TOTAL,
            sources=(point.source,),
        )
    yield from _nothing(log)


def _best_plant(log: Log) -> Known | None:
    """The plant that gave most, where what was picked together leaves no doubt which."""
    given = {
        row.key: row.figure
        for row in log.facts.harvest.by_plant
        if isinstance(row.figure.value, Quantity) and row.figure.value.known
    }
    values = {key: figure.value for key, figure in given.items() if isinstance(figure.value, Quantity)}
    if len(values) < len(log.every) or len(values) < 2:
        return None
    best = max(values, key=lambda key: values[key].low)
    others = [value.high for key, value in values.items() if key != best]
    if any(high is None or high > values[best].low for high in others):
        return None
    more: dict[str, Any] = {"plants": frozenset({best}), "who": best}
    return of_figure(given[best], "most of one plant", {"harvest"}, ranks=topics("best plant", "max"), **more)


def _nothing(log: Log) -> Iterator[Known | None]:
    """Plants that no pick names, where every pick names its plants."""
    given = {plant for pick in log.rows.picks for plant in pick.which.ids}
    if not log.rows.picks or log.rows.tallies or not all(pick.which.ids for pick in log.rows.picks):
        return
    for plant in log.setup.plant_ids:
        if plant not in given:
            none = Quantity(0.0, 0.0, Dimension.MASS)
            more: dict[str, Any] = {"plants": frozenset({plant}), "who": plant, "ranks": _TOTAL}
            yield amount(none, "harvest", {"harvest"}, **more)


def _other_parts(rows: Iterable[Named]) -> str:
    """What a total holds beside its largest part."""
    weights = [
        (row.figure.value.low, row.label.name)
        for row in rows
        if isinstance(row.figure.value, Quantity) and row.figure.value.low > 0
    ]
    largest, *others = sorted(weights, reverse=True) or [(0.0, "")]
    if not others:
        return ""
    named = " and ".join(f"{weight:g} g of it was {part}" for weight, part in others)
    return f"{' and '.join([largest[1], *(part for _, part in others)])}: {named}"


def _all_picks_of(log: Log, arm: PlantSet) -> Known | None:
    """The sum of all picks of an arm, those of plants that had left it too: a number that looks right."""
    gone = {plant: log.roster.moved_on(plant) for plant in arm.plants}
    moved = {plant: event for plant, event in gone.items() if event is not None}
    if not moved or arm.kind not in ("by_group", "by_tub"):
        return None
    picks = log.picks_of(arm.plants)
    after = [
        pick
        for pick in picks
        if any(plant in moved and pick.day.first >= moved[plant].day.first for plant in pick.which.ids)
    ]
    whole, left = (
        total((p.weight for p in picks), Dimension.MASS),
        total((p.weight for p in after), Dimension.MASS),
    )
    if not after or left.low <= 0:
        return None
    days = ", ".join(f"{plant}, moved on day {event.day}" for plant, event in moved.items())
    return amount(
        whole,
        "all picks",
        {"harvest"},
        plants=arm.plants,
        who=arm.label,
        flaw=f"that sum holds {left.low:g} g of {days}",
        sources=tuple(pick.source for pick in picks),
    )


def _picks(log: Log) -> Iterator[Known | None]:
    days = [(day, picks) for day, picks in log.pick_days()]
    sums = [total((pick.weight for pick in picks), Dimension.MASS).low for _, picks in days]
    for at, ((day, picks), weight) in enumerate(zip(days, sums, strict=True)):
        ranks = _in_row(at, len(days))
        yield _sum(
            picks,
            "picked",
            day,
            None,
            "",
            ranks=ranks | topics("max") if weight == max(sums) else ranks,
        )
        given = frozenset(plant for pick in picks for plant in pick.which.ids)
        if len(picks) > 1 and given != log.every and all(pick.which.ids for pick in picks):
            yield _sum(picks, "picked", day, given, log.who(given), ranks=ranks)
        for arm in log.sets:
            mine = [pick for pick in picks if pick.which.ids and arm.plants >= set(pick.which.ids)]
            if len(mine) > 1:
                yield _sum(mine, "picked", day, arm.plants, arm.label, ranks=ranks)
                yield _mean(mine, day, arm, log)
        for pick in picks:
            plants = log.plants_of(pick.which)
            if len(picks) > 1 or plants is not None:
                yield _sum([pick], "pick", day, plants, log.who(plants), ranks=ranks)
            if pick.count:
                yield count(
                    pick.count,
                    "pieces picked",
                    {"harvest"},
                    "piece",
                    day=day,
                    plants=plants,
                    who=log.who(plants),
                    sources=(pick.source,),
                    ranks=ranks,
                )
        if len(picks) > 1 and all(pick.count for pick in picks):
            yield count(
                sum(pick.count or 0 for pick in picks),
                "pieces picked",
                {"harvest"},
                "piece",
                day=day,
                sources=tuple(pick.source for pick in picks),
                ranks=ranks,
            )


def _in_row(at: int, number: int) -> frozenset[str]:
    """The place of a day's picks among all: first, last, third."""
    first, last = ("first",) if at == 0 else (), ("last",) if at == number - 1 else ()
    return topics(*first, *last, nth("pick", at + 1))


def _sum(
    picks: list[Pick],
    what: str,
    day: Day,
    plants: frozenset[str] | None,
    who: str,
    ranks: frozenset[str] = frozenset(),
) -> Known | None:
    missing = sum(pick.weight.unweighed for pick in picks)
    return amount(
        total((pick.weight for pick in picks), Dimension.MASS),
        what,
        {"harvest"},
        day=day,
        plants=plants,
        who=who,
        ranks=ranks,
        sources=tuple(pick.source for pick in picks),
        least=f"{missing} pick was not weighed"
        if missing == 1
        else f"{missing} picks were not weighed"
        if missing
        else "",
    )


def _mean(picks: list[Pick], day: Day, arm: PlantSet, log: Log) -> Known | None:
    """The mean of plants that were each weighed alone, all on one day."""
    members = log.members(arm, day.first)
    alone = [pick for pick in picks if len(pick.which.ids) == 1 and pick.which.ids[0] in members]
    if len(alone) != len(members) or {pick.which.ids[0] for pick in alone} != members or len(alone) < 2:
        return None
    whole = total((pick.weight for pick in alone), Dimension.MASS)
    return amount(
        whole.times(1 / len(alone)),
        f"mean of {' and '.join(f'{pick.weight.low:g}' for pick in alone)}",
        {"harvest"},
        day=day,
        plants=arm.plants,
        who=arm.label,
        ranks=topics("mean", "each"),
        sources=tuple(pick.source for pick in alone),
    )


def _spoilt(log: Log) -> Iterator[Known]:
    for pick in log.rows.picks:
        if pick.spoilt is not None and pick.count:
            plants = log.plants_of(pick.which)
            yield Known(
                Kind.PART,
                pick.spoilt,
                pick.spoilt,
                "pieces spoilt",
                topics("spoilt"),
                day=pick.day,
                plants=plants,
                who=log.who(plants),
                noun="piece",
                wholes=(pick.count,),
                sources=(pick.source,),
            )


def _shares(log: Log) -> Iterator[Known | None]:
    """Which part of the seeds came up, and which part of the harvest had been picked by each day."""
    up = log.facts.germination.share
    if isinstance(up.value, Share):
        share = exactly(100 * up.value.part / up.value.whole, Dimension.SHARE)
        yield amount(share, "of the seeds up", {"sprouted"}, sources=up.rows)
    whole = log.facts.harvest.total.value
    if not isinstance(whole, Quantity) or whole.high is None or whole.low <= 0:
        return
    for point in log.facts.harvest.cumulative:
        share = exactly(100 * point.total.low / whole.low, Dimension.SHARE, 1)
        yield amount(share, "of the harvest", {"harvest"}, day=point.day, sources=(point.source,))


def _numbers(log: Log) -> Iterator[Known | None]:
    harvest = log.facts.harvest
    for figure, what, noun in (
        (harvest.pieces, "pieces picked in all", "piece"),
        (harvest.picks, "picks", "pick"),
    ):
        value = figure.value
        if isinstance(value, Quantity) and value.known:
            yield count(
                value.low, what, {"harvest"}, noun, ranks=_TOTAL, sources=figure.rows, constant=noun == "pick"
            )
    unweighed = [pick for pick in log.rows.picks if pick.weight.unweighed]
    if unweighed:
        places = tuple(pick.source for pick in unweighed)
        yield count(
            len(unweighed),
            "picks not weighed",
            {"unweighed"},
            "pick",
            ranks=_TOTAL,
            sources=places,
            constant=True,
        )
    days = len(list(log.pick_days()))
    if days:
        yield count(days, "days of picking", {"harvest"}, "pick", ranks=_TOTAL, constant=True)
        yield count(days, "days of picking", {"harvest"}, "time", ranks=_TOTAL, constant=True)
