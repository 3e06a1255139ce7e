"""Water and feed of each tub.

In: what was poured and dosed, EC and pH readings, routines, the products' labels. Out: `Solution`. Acids
and bases are never summed as feed, and a routine is never totalled unless it counts logged refills.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.remark import NOT_RECORDED, Label, counted_remark, remark
from sitegen.core.facts.tree import PlotPoint, RoutineFacts, Solution, TubFacts
from sitegen.core.records.rows import Deed, Reading, Routine, Run, Watering
from sitegen.core.records.setup import Product, Tub
from sitegen.core.values.quantity import Quantity, counted, total
from sitegen.core.values.units import Dimension
from sitegen.measure.ranges import points, range_remark, reading_range
from sitegen.measure.solution.feed import doses_of, dosings
from sitegen.measure.solution.trend import trend_of
from sitegen.measure.solution.uptake import opened, uncounted_water, uptake_of
from sitegen.measure.solution.water import Fillings, change_count, refill_count, water_added
from sitegen.measure.working import figure


def _water(name: str, fillings: Fillings, events: Sequence[Watering], tub: str = "") -> Figure:
    amounts = [fillings.amount(event) for event in events]
    if not events:
        return figure(name, None, water_added, (), NOT_RECORDED)
    routines = uncounted_water(fillings.run, tub)
    whole = opened(water_added(amounts)) if routines else water_added(amounts)
    rows = (*(e.source for e in events), *(routine.source for routine in routines))
    return figure(
        name,
        whole,
        water_added,
        rows,
        counted_remark("fillings_not_measured", sum(q.unweighed for q in amounts)),
        counted_remark("fillings_by_eye", sum(q.by_eye for q in amounts)),
        counted_remark("amounts_are_lower_bounds", sum(q.open for q in amounts)),
        remark("water_by_routine") if routines else None,
    )


def _refills(name: str, run: Run, tub: str, refills: Sequence[Watering]) -> Figure:
    routines = uncounted_water(run, tub)
    number = opened(refill_count(refills)) if routines else refill_count(refills)
    rows = (*(e.source for e in refills), *(routine.source for routine in routines))
    return figure(name, number, refill_count, rows, remark("water_by_routine") if routines else None)


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
    read = {name: [r for r in run.rows.read(name) if fillings.home(r.tub) == tub.id] for name in ("ec", "ph")}
    return TubFacts(
        key=tub.id,
        label=tub.system.name if len(run.setup.tubs) == 1 else tub.id,
        system=tub.system,
        water=water,
        refills=_refills(f"{path}.refills", run, tub.id, refills),
        changes=figure(f"{path}.changes", change_count(changes), change_count, (e.source for e in changes)),
        ec=_range(f"{path}.ec", read["ec"]),
        ph=_range(f"{path}.ph", read["ph"]),
        doses=dosings(run, tub.id, fillings, products, deed=Deed.FEED, path=f"{path}.doses", water=water),
        adjusted=dosings(
            run, tub.id, fillings, products, deed=Deed.ADJUST, path=f"{path}.adjusted", water=water
        ),
        uptake=uptake_of(fillings, tub.id, f"{path}.uptake"),
        trend=trend_of(run, tub.id, fillings, f"{path}.trend"),
    )


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


def _total_refills(tubs: Iterable[TubFacts]) -> Figure:
    refills = [tub.refills for tub in tubs]
    values = [value for each in refills if isinstance(value := each.value, Quantity)]
    number = total(values, Dimension.COUNT) if values else counted(0)
    rows = (row for each in refills for row in each.rows)
    remarks = (remark for each in refills for remark in each.remarks)
    return figure("solution.refills", number, refill_count, rows, *remarks)


def solution_of(run: Run) -> Solution:
    """Water and feed, all tubs together and each."""
    products = {product.id: product for product in run.setup.products}
    fillings = Fillings.of(run)
    tubs = tuple(_tub(run, tub, fillings, products) for tub in run.setup.tubs)
    return Solution(
        water=_water("solution.water", fillings, fillings.events),
        refills=_total_refills(tubs),
        tubs=tubs,
        routines=_routines(run, products),
        added=_added(fillings),
        fed=_fed(run, fillings, products),
        ec=points((r, fillings.home(r.tub)) for r in run.rows.read("ec")),
        ph=points((r, fillings.home(r.tub)) for r in run.rows.read("ph")),
    )
