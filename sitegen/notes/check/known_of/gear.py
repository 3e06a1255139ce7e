"""Water, feed, lamps and what the set-up and the packet say, as amounts.

In: a log. Out: `Known`s.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.facts.figure import Per, Rate, figures
from sitegen.core.facts.tree import TubFacts
from sitegen.core.records.rows import Addition, Watering
from sitegen.core.records.setup import LampUse
from sitegen.core.values.day import Day
from sitegen.core.values.units import Dimension
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log, amount, of_figure, stems, topics

_TOTAL = frozenset({"total"})


def known_gear(log: Log) -> tuple[Known, ...]:
    """All of it."""
    found = (*_water(log), *_feed(log), *_lamps(log), *_current(log), *_setup(log))
    return tuple(each for each in found if each is not None)


def _water(log: Log) -> Iterator[Known | None]:
    solution = log.facts.solution
    yield of_figure(solution.water, "water in all", {"water"}, ranks=_TOTAL)
    for tub in solution.tubs:
        yield from _of_tub(log, tub)
    for row in log.rows.of(Watering):
        if row.amount is not None:
            place = log.place(row.which, row.tub)
            yield amount(row.amount, "water", {"water"}, day=row.day, sources=(row.source,), **place)


def _of_tub(log: Log, tub: TubFacts) -> Iterator[Known | None]:
    place = log.place(None, tub.key)
    if len(log.setup.tubs) > 1:
        yield of_figure(tub.water, "water in all", {"water"}, ranks=_TOTAL, **place)
    for rate in figures(tub.uptake):
        value = rate.value.amount if isinstance(rate.value, Rate) and rate.value.per is Per.DAY else None
        if value is not None and value.dimension is Dimension.VOLUME:
            daily = topics("daily")
            yield amount(value, "water a day", {"water"}, sources=rate.rows, ranks=daily, **place)
    for dosing in (*tub.doses, *tub.adjusted):
        about = {"feed"} if dosing in tub.doses else {"ph"}
        yield of_figure(dosing.total, f"{dosing.label.name} in all", about, ranks=_TOTAL, **place)


def _feed(log: Log) -> Iterator[Known | None]:
    names = {product.id: product.name for product in log.setup.products}
    for row in log.rows.of(Addition):
        if row.amount is not None:
            what, about = names.get(row.product, row.product), {"feed", "ph"}
            place = log.place(row.which, row.tub)
            yield amount(row.amount, what, about, day=row.day, sources=(row.source,), **place)
    for routine in log.rows.routines:
        if routine.amount is not None:
            what = f"{names.get(routine.product, routine.product)}, {routine.often}"
            place = log.place(None, routine.tub)
            yield amount(routine.amount, what, {"feed"}, day=routine.day, sources=(routine.source,), **place)


def _lamps(log: Log) -> Iterator[Known | None]:
    for tub in log.setup.tubs:
        if tub.light:
            yield from _lamp(log, tub.light, tub.id, None)
    for light in log.rows.lights:
        yield from _lamp(log, light.use, light.tub, light.day)


def _lamp(log: Log, use: LampUse, tub: str, day: Day | None) -> Iterator[Known | None]:
    place = log.place(None, tub)
    if use.lamp and use.lamp.power:
        yield amount(use.lamp.power, use.lamp.name, {"power", "light"}, constant=True, **place)
    if use.hours:
        yield amount(use.hours, "light a day", {"light"}, day=day, **place)
    if use.distance:
        yield amount(use.distance, "lamp above the plants", {"distance", "light"}, day=day, **place)


def _current(log: Log) -> Iterator[Known | None]:
    climate, about = log.facts.climate, {"energy", "power"}
    yield of_figure(climate.energy, "current used by lamps", about, ranks=_TOTAL)
    for tub in climate.tubs if len(climate.tubs) > 1 else ():
        yield of_figure(tub.energy, "current used", about, ranks=_TOTAL, **log.place(None, tub.key))


def _setup(log: Log) -> Iterator[Known | None]:
    setup = log.setup
    for tub in setup.tubs:
        if tub.system.reservoir:
            what, place = f"reservoir of {tub.system.name}", log.place(None, tub.id)
            yield amount(
                tub.system.reservoir,
                what,
                {"holds", "change", "water"},
                constant=True,
                words=stems(tub.system.name),
                **place,
            )
    claims, source = setup.seed.claims if setup.seed else None, (setup.at("seed"),)
    if claims and claims.height:
        what = "height by the packet"
        yield amount(claims.height, what, {"packet", "height"}, sources=source, constant=True)
    if claims and claims.germination:
        what = "germination by the packet"
        yield amount(claims.germination, what, {"packet", "sprouted"}, sources=source, constant=True)
    room = "room left below the lamp"
    yield of_figure(log.facts.growth.headroom, room, {"headroom", "height"}, constant=True)
