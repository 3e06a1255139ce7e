"""Water and feed of each tub, and its readings of EC and pH.

In: what was poured and dosed, EC and pH readings, routines, the products' labels. Out: `Solution`. Acids and bases are
never summed as feed, and a routine is never totalled unless it counts logged refills.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from sitegen.core.facts.figure import (
    NOT_RECORDED,
    Figure,
    Label,
    counted_remark,
    remark,
)
from sitegen.core.facts.tree import PlotPoint, RoutineFacts, Solution, TubFacts
from sitegen.core.findings.source import Source
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Reading, Run, Watering
from sitegen.core.records.setup import Product, SharedTub, Tub
from sitegen.core.values.quantity import Quantity, counted, total
from sitegen.measure.methods import figure
from sitegen.measure.ranges import points, range_remark, reading_range
from sitegen.measure.solution.feed import doses_of, dosings
from sitegen.measure.solution.shared import (
    alone,
    changes_of_others,
    nothing_known,
    part_of_run,
    refills_of_others,
    shared_remark,
    shares_of,
    water_of_others,
)
from sitegen.measure.solution.trend import known, ppm_of, trend_of
from sitegen.measure.solution.uptake import uptake_of
from sitegen.measure.solution.water import (
    Fillings,
    change_count,
    opened,
    refill_count,
    uncounted_water,
    water_added,
)


def _rows(
    events: Iterable[Watering], routines: Iterable[Routine], shares: Iterable[SharedTub]
) -> tuple[Source, ...]:
    return (*(e.source for e in events), *(r.source for r in routines), *(s.source for s in shares))


def _water(name: str, fillings: Fillings, events: Sequence[Watering], tub: str = "") -> Figure:
    run, amounts = fillings.run, [fillings.amount(event) for event in events]
    shares, shared = shares_of(run, tub), shared_remark(run, tub)
    others, loose = water_of_others(shares), fillings.elsewhere if tub else ()
    if not events and not others and not loose:
        return figure(name, None, water_added, (), NOT_RECORDED, shared)
    routines = uncounted_water(run, tub)
    whole = opened(water_added(amounts)) if routines else water_added(amounts)
    if shares:
        own = [fillings.amount(event) for event in events if alone(run, fillings.home(event.tub), event.day)]
        whole = part_of_run(whole, water_added(own), others)
    whole = _with_loose(whole, [fillings.amount(event) for event in loose])
    rows = _rows((*events, *loose), routines, shares)
    without_tub = counted_remark("fillings_without_tub", len(loose))
    if (shares or (loose and not events)) and nothing_known(whole):
        return figure(name, None, water_added, rows, shared, without_tub)
    return figure(
        name,
        whole,
        water_added,
        rows,
        shared,
        without_tub,
        counted_remark("fillings_not_measured", sum(q.unweighed for q in amounts)),
        counted_remark("fillings_by_eye", sum(q.by_eye for q in amounts)),
        counted_remark("amounts_are_lower_bounds", sum(q.open for q in amounts if not q.unweighed)),
        remark("water_by_routine") if routines else None,
    )


def _with_loose(whole: Quantity, loose: Sequence[Quantity]) -> Quantity:
    """The sum of a tub with what may have gone into another: all of it at most, nothing of it at least."""
    return replace(total([whole, *loose], whole.dimension), low=whole.low) if loose else whole


def _refills(
    name: str, fillings: Fillings, tub: str, refills: Sequence[Watering], loose: Sequence[Watering] = ()
) -> Figure:
    run = fillings.run
    routines, shares = uncounted_water(run, tub), shares_of(run, tub)
    number = opened(refill_count(refills)) if routines else refill_count(refills)
    if shares:
        certain = [event for event in refills if not fillings.perhaps_first_filling(event)]
        number = part_of_run(number, refill_count(certain), refills_of_others(shares))
    number = _with_loose(number, [counted(1) for _ in loose])
    rows = _rows((*refills, *loose), routines, shares)
    by_routine = remark("water_by_routine") if routines else None
    without_tub = counted_remark("fillings_without_tub", len(loose))
    return figure(name, number, refill_count, rows, shared_remark(run, tub), without_tub, by_routine)


def _changes(name: str, run: Run, tub: str, changes: Sequence[Watering], loose: Sequence[Watering]) -> Figure:
    shares, number = shares_of(run, tub), change_count(changes)
    if shares:
        number = part_of_run(number, number, changes_of_others(shares))
    number = _with_loose(number, [counted(1) for _ in loose])
    rows, without_tub = (
        _rows((*changes, *loose), (), shares),
        counted_remark("fillings_without_tub", len(loose)),
    )
    return figure(name, number, change_count, rows, shared_remark(run, tub), without_tub)


def _range(name: str, readings: Sequence[Reading]) -> Figure:
    values = [reading.value for reading in readings]
    rows = (reading.source for reading in readings)
    return figure(name, reading_range(values), reading_range, rows, range_remark(len(values)))


def _tub(run: Run, tub: Tub, fillings: Fillings, products: Mapping[str, Product]) -> TubFacts:
    path = f"solution.tubs.{tub.id}"
    events = fillings.into(tub.id)
    water = _water(f"{path}.water", fillings, events, tub.id)
    refills = [event for event in events if event.deed is Deed.WATER and not fillings.first_filling(event)]
    changes = [event for event in events if event.deed is Deed.CHANGE]
    read = {name: [r for r in known(run, name) if fillings.home(r.tub) == tub.id] for name in ("ec", "ph")}
    every_ec = [r for r in run.rows.read("ec") if fillings.home(r.tub) == tub.id]
    return TubFacts(
        key=tub.id,
        label=tub.system.name if len(run.setup.tubs) == 1 else tub.id,
        system=tub.system,
        water=water,
        refills=_refills(f"{path}.refills", fillings, tub.id, refills, _done(fillings.elsewhere, Deed.WATER)),
        changes=_changes(f"{path}.changes", run, tub.id, changes, _done(fillings.elsewhere, Deed.CHANGE)),
        ec=_range(f"{path}.ec", read["ec"]),
        ph=_range(f"{path}.ph", read["ph"]),
        doses=dosings(run, tub.id, fillings, products, deed=Deed.FEED, path=f"{path}.doses", water=water),
        adjusted=dosings(
            run, tub.id, fillings, products, deed=Deed.ADJUST, path=f"{path}.adjusted", water=water
        ),
        uptake=uptake_of(fillings, tub.id, f"{path}.uptake"),
        trend=trend_of(run, tub.id, fillings, f"{path}.trend"),
        ppm=ppm_of(f"{path}.ppm", every_ec),
    )


def _done(events: Iterable[Watering], deed: Deed) -> list[Watering]:
    return [event for event in events if event.deed is deed]


def _label(routine: Routine, products: Mapping[str, Product]) -> Label:
    if not routine.product:
        return Label(routine.what, "routine")
    product = products.get(routine.product)
    return Label(product.name if product else routine.product)


def _routines(run: Run, products: Mapping[str, Product]) -> tuple[RoutineFacts, ...]:
    return tuple(
        RoutineFacts(
            what=routine.what,
            label=_label(routine, products),
            tub=routine.tub,
            amount=routine.amount,
            as_labelled=routine.as_labelled,
            often=routine.often,
            first=routine.day,
            until=routine.until,
            source=routine.source,
            said=routine.said,
        )
        for routine in run.rows.routines
    )


def _added(fillings: Fillings) -> tuple[PlotPoint, ...]:
    return tuple(
        PlotPoint(event.day, fillings.home(event.tub), fillings.amount(event), event.source)
        for event in fillings.events
    )


def _fed(run: Run, fillings: Fillings, products: Mapping[str, Product]) -> tuple[PlotPoint, ...]:
    """The doses by tub; `at` is the product."""
    doses = doses_of(run, fillings, products, Deed.FEED)
    return tuple(PlotPoint(dose.day, dose.tub, dose.amount, dose.source, dose.product) for dose in doses)


def solution_of(run: Run) -> Solution:
    """Water and feed, all tubs together and each."""
    products = {product.id: product for product in run.setup.products}
    fillings = Fillings.of(run)
    refills = [each for each in _done(fillings.events, Deed.WATER) if not fillings.first_filling(each)]
    tubs = tuple(_tub(run, tub, fillings, products) for tub in run.setup.tubs)
    return Solution(
        water=_water("solution.water", fillings, fillings.events),
        refills=_refills("solution.refills", fillings, "", refills),
        tubs=tubs,
        routines=_routines(run, products),
        added=_added(fillings),
        fed=_fed(run, fillings, products),
        ec=points((r, fillings.home(r.tub)) for r in known(run, "ec")),
        ph=points((r, fillings.home(r.tub)) for r in run.rows.read("ph")),
    )
