"""Readings, water, feed, lamps, climate and what the set-up says, as amounts.

In: a log. Out: `Known`s.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sitegen.core.facts.figure import Per, Rate, figures
from sitegen.core.facts.indices import DailyRange
from sitegen.core.records.rows import Addition, Reading, Watering
from sitegen.core.records.setup import LampUse
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log, amount, count, of_figure, topics

_TOPICS = {"water_temperature": "water", "air_temperature": "air"}
_TALL = frozenset({"height", "spread", "leaves"})


def known_readings(log: Log) -> tuple[Known, ...]:
    """All of it."""
    found = (
        *_readings(log),
        *_tallest(log),
        *_water(log),
        *_feed(log),
        *_lamps(log),
        *_climate(log),
        *_setup(log),
    )
    return tuple(each for each in found if each is not None)


def _about(name: str) -> set[str]:
    return {_TOPICS.get(name, name)}


def _readings(log: Log) -> Iterator[Known | None]:
    for row in log.rows.readings:
        plants = log.plants_of(row.which, row.tub, row.day.first)
        if row.plants:
            plants = frozenset(row.plants) if frozenset(row.plants) != log.every else None
        what = row.name.replace("_", " ")
        more: dict[str, Any] = {
            "day": row.day,
            "plants": plants,
            "who": log.who(plants),
            "sources": (row.source,),
        }
        if row.value.dimension is Dimension.COUNT:
            yield count(row.value.low, what, _about(row.name), "leaf", **more)
        else:
            yield amount(row.value, what, _about(row.name), **more)


def _tallest(log: Log) -> Iterator[Known | None]:
    """The largest of each kind: in all, of each arm, and on each day."""
    for name in _TALL:
        rows = [row for row in log.rows.read(name) if row.value.known and row.value.high is not None]
        yield _largest(rows, name, log, None, "", ranks=topics("max", "total"))
        for arm in log.arms:
            mine = [row for row in rows if row.plants and arm.plants >= set(row.plants)]
            yield _largest(mine, name, log, arm.plants, arm.label, ranks=topics("max", "total"))
            for day in sorted({row.day for row in mine}):
                on = [row for row in mine if row.day == day]
                yield _largest(on, name, log, arm.plants, arm.label, ranks=topics("max"))
        for day in sorted({row.day for row in rows}):
            yield _largest([row for row in rows if row.day == day], name, log, None, "", ranks=topics("max"))


def _largest(
    rows: list[Reading], name: str, log: Log, plants: frozenset[str] | None, who: str, ranks: frozenset[str]
) -> Known | None:
    if not rows:
        return None
    row = max(rows, key=lambda each: each.value.low)
    what = {"height": "tallest", "spread": "widest", "leaves": "most leaves"}[name]
    if row.plants and len(row.plants) == 1 and len(log.every) > 1:
        what = f"{what}, {row.plants[0]},"
    more: dict[str, Any] = {
        "day": row.day,
        "plants": plants,
        "who": who,
        "ranks": ranks,
        "sources": (row.source,),
    }
    if row.value.dimension is Dimension.COUNT:
        return count(row.value.low, what, {name}, "leaf", **more)
    return amount(row.value, what, {name}, **more)


def _water(log: Log) -> Iterator[Known | None]:
    solution = log.facts.solution
    yield of_figure(solution.water, "water in all", {"water"}, ranks=topics("total"))
    several = len(solution.tubs) > 1
    for tub in solution.tubs:
        plants = _in_tub(log, tub.key) if several else None
        if several:
            yield of_figure(
                tub.water,
                "water in all",
                {"water"},
                plants=plants,
                who=log.who(plants),
                ranks=topics("total"),
            )
        for rate in figures(tub.uptake):
            value = rate.value.amount if isinstance(rate.value, Rate) and rate.value.per is Per.DAY else None
            if value is not None and value.dimension is Dimension.VOLUME:
                who = log.who(plants) if several else ""
                more: dict[str, Any] = {"plants": plants, "who": who, "ranks": topics("daily")}
                yield amount(value, "water a day", {"water"}, sources=rate.rows, **more)
        for dosing in (*tub.doses, *tub.adjusted):
            yield of_figure(
                dosing.total,
                f"{dosing.label.name} in all",
                {"feed"},
                plants=plants,
                who=log.who(plants) if several else "",
                ranks=topics("total"),
            )
    for row in log.rows.of(Watering):
        if row.amount is not None:
            plants = log.plants_of(row.which, row.tub, row.day.first)
            yield amount(
                row.amount,
                "water",
                {"water"},
                day=row.day,
                plants=plants,
                who=log.who(plants),
                sources=(row.source,),
            )


def _in_tub(log: Log, key: str) -> frozenset[str]:
    return frozenset(plant.id for plant in log.setup.plants if plant.tub == key)


def _feed(log: Log) -> Iterator[Known | None]:
    names = {product.id: product.name for product in log.setup.products}
    for row in log.rows.of(Addition):
        if row.amount is not None:
            plants = log.plants_of(row.which, row.tub, row.day.first)
            what = names.get(row.product, row.product)
            more: dict[str, Any] = {
                "day": row.day,
                "plants": plants,
                "who": log.who(plants),
                "sources": (row.source,),
            }
            yield amount(row.amount, what, {"feed"}, **more)
    for routine in log.rows.routines:
        if routine.amount is not None:
            what = f"{names.get(routine.product, routine.product)}, {routine.often}"
            yield amount(routine.amount, what, {"feed"}, day=routine.day, sources=(routine.source,))


def _lamps(log: Log) -> Iterator[Known | None]:
    for tub in log.setup.tubs:
        plants = _in_tub(log, tub.id) if len(log.setup.tubs) > 1 else None
        if tub.light:
            yield from _lamp(log, tub.light, plants, None)
    for light in log.rows.lights:
        plants = log.plants_of(None, light.tub, light.day.first)
        yield from _lamp(log, light.use, plants, light.day)


def _lamp(log: Log, use: LampUse, plants: frozenset[str] | None, day: Day | None) -> Iterator[Known | None]:
    who = log.who(plants)
    if use.lamp and use.lamp.power:
        yield amount(use.lamp.power, use.lamp.name, {"power", "light"}, plants=plants, who=who, constant=True)
    if use.hours:
        yield amount(use.hours, "light a day", {"light"}, plants=plants, who=who, day=day)
    if use.distance:
        yield amount(
            use.distance, "lamp above the plants", {"distance", "light"}, plants=plants, who=who, day=day
        )


def _climate(log: Log) -> Iterator[Known | None]:
    climate = log.facts.climate
    kinds = (
        (climate.air, climate.air_daily, "air", Dimension.TEMPERATURE),
        (climate.water, climate.water_daily, "water", Dimension.TEMPERATURE),
        (climate.humidity, climate.humidity_daily, "humidity", Dimension.SHARE),
    )
    for figure, daily, topic, dimension in kinds:
        yield from _range(daily, topic, dimension)
        value = figure.value
        if isinstance(value, Quantity) and value.high is not None and not daily:
            for bound, rank in ((value.high, "max"), (value.low, "min")):
                said = exactly(bound, dimension, value.step)
                more: dict[str, Any] = {"ranks": topics(rank, "total"), "sources": figure.rows}
                yield amount(said, f"{_EXTREMES[rank]} {topic}", {topic}, **more)
    yield of_figure(climate.energy, "current used by lamps", {"energy", "power"}, ranks=topics("total"))
    if len(climate.tubs) > 1:
        for tub in climate.tubs:
            plants = _in_tub(log, tub.key)
            yield of_figure(
                tub.energy,
                "current used",
                {"energy", "power"},
                plants=plants,
                who=log.who(plants),
                ranks=topics("total"),
            )


_EXTREMES = {"max": "highest", "min": "lowest", "mean": "mean"}


def _range(daily: tuple[DailyRange, ...], topic: str, dimension: Dimension) -> Iterator[Known | None]:
    """The extremes of a sensor: of each day, and in all."""
    if not daily:
        return
    hottest, coldest = max(daily, key=lambda day: day.high), min(daily, key=lambda day: day.low)
    for each in daily:
        values = (("max", each.high), ("min", each.low), ("mean", each.mean))
        for rank, value in values:
            over = (rank == "max" and each is hottest) or (rank == "min" and each is coldest)
            ranks = topics(rank, "total") if over else topics(rank)
            said = exactly(value, dimension, 0.1)
            yield amount(said, f"{_EXTREMES[rank]} {topic}", {topic}, day=Day.on(each.day), ranks=ranks)


def _setup(log: Log) -> Iterator[Known | None]:
    setup = log.setup
    for tub in setup.tubs:
        plants = _in_tub(log, tub.id) if len(setup.tubs) > 1 else None
        if tub.system.reservoir:
            yield amount(
                tub.system.reservoir,
                f"{tub.system.name} holds",
                {"water", "change"},
                plants=plants,
                who=log.who(plants),
                constant=True,
            )
    if setup.seed and setup.seed.claims.height:
        source = (setup.at("seed"),)
        yield amount(
            setup.seed.claims.height,
            "height by the packet",
            {"packet", "height"},
            sources=source,
            constant=True,
        )
    if setup.seed and setup.seed.claims.germination:
        yield amount(
            setup.seed.claims.germination, "germination by the packet", {"packet", "sprouted"}, constant=True
        )
    yield of_figure(
        log.facts.growth.headroom, "room left below the lamp", {"headroom", "height"}, constant=True
    )
