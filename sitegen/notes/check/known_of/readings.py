"""Readings of plants, of tubs and of sensors, as amounts.

In: a log. Out: `Known`s.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sitegen.core.facts.indices import DailyRange
from sitegen.core.records.rows import Reading
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log, amount, count, topics

_TOPICS = {"water_temperature": "water", "air_temperature": "air"}
_TALL = frozenset({"height", "spread", "leaves"})


def known_readings(log: Log) -> tuple[Known, ...]:
    """All of it."""
    found = (*_readings(log), *_tallest(log), *_climate(log))
    return tuple(each for each in found if each is not None)


def _about(name: str) -> set[str]:
    return {_TOPICS.get(name, name)}


def _readings(log: Log) -> Iterator[Known | None]:
    for row in log.rows.readings:
        place = log.place(row.which, row.tub)
        if row.plants and not row.tub:
            plants = frozenset(row.plants) if frozenset(row.plants) != log.every else None
            place = {"plants": plants, "who": log.who(plants)}
        what = {"ec": "EC", "ph": "pH"}.get(row.name, row.name.replace("_", " "))
        more: dict[str, Any] = {"day": row.day, "sources": (row.source,), **place}
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
        what = f"{what} ({row.plants[0]})"
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
