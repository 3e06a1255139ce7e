"""Feed formulas: from a rate, in all, a litre, and how often.

In: amounts and rates of one product. Out: `Quantity`s and plain numbers. Never takes a dose that nobody measured for
nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.figure import Figure, Label, Remark, counted_remark, remark
from sitegen.core.facts.tree import Dosing
from sitegen.core.findings.source import Source
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Addition, Deed, Run, Watering
from sitegen.core.records.setup import OtherDoses, Product, SharedTub
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, propagate, total, unknown
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import DOSES, Conditions, coarse, day_key, figure, formula
from sitegen.measure.solution.shared import (
    alone,
    doses_of_others,
    nothing_known,
    part_of_run,
    shared_remark,
    shares_of,
)
from sitegen.measure.solution.water import FILLED, Fillings, feed_remarks, opened, uncounted_feed

_UNNAMED = Label("feed", "cost")  # of a dose that names no product
# The dimension of a dose rate times water.
MADE_OF = {Dimension.VOLUME_DOSE: Dimension.VOLUME, Dimension.MASS_DOSE: Dimension.MASS}
ML_PER_LITRE = 1000.0
ON_ROUTINE_DAYS: Conditions = {
    "no routine began or ended on these days": ("events.day", "routines.day", "routines.until"),
}
DOSED: Conditions = {
    "the dose is no rate": ("events.amount", "product.dose", "system.reservoir"),
    **ON_ROUTINE_DAYS,
}


@formula(reads=("events.amount", "product.dose", "system.reservoir"))
def feed_from_rate(rate: Quantity, water: Quantity) -> Quantity:
    """Feed from its dose rate.

    Where a visit gives a dose rate, or says "as labelled", and the water added at the same visit is known.

    Parameters
    ----------
    rate
        Dose [ml/L or g/L].
    water
        Water added to the same tub at the same visit [ml].

    Returns
    -------
    Quantity
        Feed [ml or g].

    Notes
    -----
    ::

        feed = rate · water / 1000

    """
    return propagate(
        lambda dose, ml: dose * ml / ML_PER_LITRE,
        increasing=[rate, water],
        dimension=MADE_OF[rate.dimension],
        step=rate.step * water.low / ML_PER_LITRE,
    )


@formula(reads=DOSES, exact_if=DOSED)
def feed_added(doses: Iterable[Quantity], dimension: Dimension = Dimension.VOLUME) -> Quantity:
    """Feed added.

    One product in one tub, as logged. A dose rate counts with the water of the same visit; where that is
    not known, or nothing was measured, the total is given as "at least".

    Parameters
    ----------
    doses
        Each dose [ml or g].
    dimension
        Volume, or mass.

    Returns
    -------
    Quantity
        Feed in all [ml or g].

    Notes
    -----
    For doses by rate, r times the water V added at the same visit::

        feed = Σ dose + Σ r · V

    A routine "at every logged refill" counts one dose for each fill from its day until it was ended,
    except at a visit that logs the same product itself. One "at every refill" counts the same doses, and
    the refills that were not logged make the total "at least". So does any other routine, which is said
    in words and not counted. Where a fill may come before or after the beginning or the end of a routine,
    its dose is between nothing and all of it.

    In a tub that was shared with another run the total is from the doses given while it was not shared, to all that both
    logs have until the end of this run.

    """
    return total(doses, dimension)


@formula(reads=("events.day", "routines.day", "routines.until", "routines.often"), exact_if=ON_ROUTINE_DAYS)
def dose_count(doses: Sequence[Dose]) -> Quantity:
    """Times a product was given.

    Parameters
    ----------
    doses
        The doses logged, and those of a routine at logged refills.

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    ::

        times = number of doses

    A dose that a routine may have given, or not yet, makes it a range.

    """
    certain = sum(dose.certain for dose in doses)
    return replace(counted(len(doses)), low=certain)


@formula(reads=DOSES, exact_if={**DOSED, **FILLED})
def feed_per_litre(fed: float, water: float) -> float:
    """Feed a litre.

    All of a product over all the water of its tub, counting fills without feed.

    Parameters
    ----------
    fed
        Feed in all [ml or g].
    water
        Water in all, more than 0 [ml].

    Returns
    -------
    float
        Feed [ml/L or g/L].

    Notes
    -----
    ::

        feed a litre = 1000 · feed / water

    """
    return ML_PER_LITRE * fed / water


@dataclass(frozen=True, slots=True)
class Dose:
    """One product into one tub at one visit; not `certain` where a routine may not have held on that day."""

    day: Day
    entry: int
    tub: str
    product: str
    amount: Quantity
    source: Source
    certain: bool = True


def _per_litre(name: str, fed: Figure, water: Figure, shared: Remark | None) -> Figure:
    """The concentration of a product in all the water of the tub; none of a tub that is `shared`."""
    if shared is not None:
        return figure(name, None, feed_per_litre, (), shared)
    added, poured = fed.value, water.value
    made = {whole: rate for rate, whole in MADE_OF.items()}
    if not isinstance(added, Quantity) or added.dimension not in made:
        return figure(name, None, feed_per_litre, fed.rows, remark("feed_not_measured"))
    if not isinstance(poured, Quantity) or poured.low <= 0:
        return figure(name, None, feed_per_litre, fed.rows, remark("water_not_measured"))
    if added.high is None and poured.high is None:  # the ratio could be anything
        return figure(name, None, feed_per_litre, fed.rows, *fed.remarks, *water.remarks)
    value = propagate(
        feed_per_litre,
        increasing=[added],
        decreasing=[poured],
        dimension=made[added.dimension],
        step=coarse(feed_per_litre(added.step, poured.low), feed_per_litre(added.low, poured.low)),
    )
    rows = (*fed.rows, *water.rows)
    return figure(name, value, feed_per_litre, rows, *fed.remarks, *water.remarks)


def _measured(
    amount: Quantity | None, as_labelled: bool, product: Product | None, water: Quantity | None
) -> Quantity:
    """An amount as it is, a rate times its water, or an unknown amount."""
    rate = product.dose if as_labelled and product else amount
    if rate is None:
        return unknown(Dimension.VOLUME)
    if rate.dimension not in MADE_OF:
        return rate if not as_labelled else unknown(Dimension.VOLUME)
    made = MADE_OF[rate.dimension]
    if water is None or (water.unweighed and water.high is None and water.low == 0):
        return unknown(made)
    return feed_from_rate(rate, water)


def _logged(run: Run, fillings: Fillings, products: Mapping[str, Product], deed: Deed) -> list[Dose]:
    found = []
    for event in (addition for addition in run.rows.of(Addition) if addition.deed is deed):
        tub = fillings.home(event.tub)
        water = fillings.with_entry(event.entry, tub)
        amount = _measured(event.amount, event.as_labelled, products.get(event.product), water)
        found.append(Dose(event.day, event.entry, tub, event.product, amount, event.source))
    return found


def _begun(routine: Routine, filling: Watering) -> tuple[bool, bool]:
    """Whether a routine may have begun by a filling, and whether it had."""
    if routine.entry == filling.entry:
        return True, True
    return routine.day.first <= filling.day.last, routine.day.last <= filling.day.first


def _going_on(routine: Routine, filling: Watering) -> tuple[bool, bool]:
    """Whether a routine may not have been ended by a filling, and whether it had not."""
    if routine.until is None:
        return True, True
    return filling.day.first < routine.until.last, filling.day.last < routine.until.first


def _by_routine(
    run: Run, fillings: Fillings, products: Mapping[str, Product], logged: Sequence[Dose]
) -> list[Dose]:
    """One dose at each logged filling, for routines that say so; of several the last that certainly held."""
    given = {(dose.entry, dose.tub, dose.product) for dose in logged}
    found: dict[tuple[int, str, str], list[tuple[Routine, Dose]]] = {}
    for routine in (r for r in run.rows.routines if r.at_each_filling and r.product):
        for filling in fillings.events:
            (may_have_begun, begun), (may_go_on, goes_on) = (
                _begun(routine, filling),
                _going_on(routine, filling),
            )
            key = (filling.entry, fillings.home(filling.tub), routine.product)
            elsewhere = routine.tub and fillings.home(routine.tub) != key[1]
            if elsewhere or key in given or not (may_have_begun and may_go_on):
                continue
            # One that begins on the day on which another ends: on a day that is not certain, one of the two held.
            before = [each for each in found.get(key, ()) if each[1].source == filling.source]
            relays = goes_on and any(
                other.until == routine.day and _begun(other, filling)[1] for other, _ in before
            )
            water = fillings.with_entry(filling.entry, key[1])
            amount = _measured(routine.amount, routine.as_labelled, products.get(routine.product), water)
            certain = begun and goes_on
            dose = Dose(filling.day, *key, amount, filling.source, certain or relays)
            found[key] = [*([] if certain else before), (routine, dose)]
    return [_either([dose for _, dose in doses]) for doses in found.values()]


def _either(doses: Sequence[Dose]) -> Dose:
    """One of several doses, or none of them where none is certain."""
    certain = any(dose.certain for dose in doses)
    if len(doses) == 1 and certain:
        return doses[0]
    amounts, _, _ = alike(doses)
    highs = [amount.high for amount in amounts if amount.high is not None]
    least = min(amount.low for amount in amounts) if certain else 0.0
    most = max(highs) if len(highs) == len(amounts) else None
    return replace(doses[-1], amount=replace(amounts[-1], low=least, high=most), certain=certain)


def doses_of(run: Run, fillings: Fillings, products: Mapping[str, Product], deed: Deed) -> tuple[Dose, ...]:
    """All doses of feed, or of acids and bases, in the order of days."""
    doses = _logged(run, fillings, products, deed)
    if deed is Deed.FEED:
        doses += _by_routine(run, fillings, products, doses)
    return tuple(sorted(doses, key=lambda dose: (*day_key(dose.day), dose.entry, dose.source)))


def alike(doses: Sequence[Dose]) -> tuple[list[Quantity], Dimension, int]:
    """Amounts in the dimension of the first that is known; the others as unknown, and how many those are."""
    known = (dose.amount.dimension for dose in doses if dose.amount.low > 0 or dose.amount.high is not None)
    dimension = next(known, Dimension.VOLUME)
    strange = sum(dose.amount.dimension is not dimension and not dose.amount.unweighed for dose in doses)
    amounts = [dose.amount if dose.amount.dimension is dimension else unknown(dimension) for dose in doses]
    return [replace(amount, dimension=dimension) for amount in amounts], dimension, strange


def _dosing(
    given: str,
    doses: Sequence[Dose],
    product: Product | None,
    routines: Sequence[Routine],
    shared: _Shared,
    *,
    deed: Deed,
    path: str,
    water: Figure,
) -> Dosing:
    key, label = given or _UNNAMED.name, Label(product.name if product else given) if given else _UNNAMED
    amounts, dimension, strange = alike(doses)
    rows = [*(d.source for d in doses), *(r.source for r in routines), *(s.source for s in shared.shares)]
    whole, times = feed_added(amounts, dimension), dose_count(doses)
    if routines:
        whole, times = opened(whole), opened(times)
    whole, times = shared.part(given, doses, whole), shared.times(given, times)
    unmeasured = sum(q.unweighed for q in amounts) - strange
    by_routine = feed_remarks(routines)
    fed = figure(
        f"{path}.{key}.total",
        None if shared.shares and nothing_known(whole) else whole,
        feed_added,
        rows,
        shared.remark,
        counted_remark("doses_not_measured", unmeasured),
        counted_remark("doses_in_other_unit", strange),
        counted_remark("doses_by_eye", sum(q.by_eye for q in amounts)),
        *by_routine,
    )
    return Dosing(
        product=key,
        label=label,
        kind=product.kind if product else ("feed" if deed is Deed.FEED else ""),
        total=fed,
        times=figure(f"{path}.{key}.times", times, dose_count, rows, shared.remark, *by_routine),
        per_litre=_per_litre(f"{path}.{key}.per_litre", fed, water, shared.remark),
    )


def dosings(
    run: Run,
    tub: str,
    fillings: Fillings,
    products: Mapping[str, Product],
    *,
    deed: Deed,
    path: str,
    water: Figure,
) -> tuple[Dosing, ...]:
    """Each product of one tub, in the order in which they were first given."""
    doses = [dose for dose in doses_of(run, fillings, products, deed) if dose.tub == tub]
    shared, found = _Shared.of(run, tub, adjusts=deed is Deed.ADJUST), []
    for given in dict.fromkeys([*(dose.product for dose in doses), *shared.others]):
        own = [dose for dose in doses if dose.product == given]
        routines = uncounted_feed(run, tub, given) if deed is Deed.FEED else ()
        product = products.get(given)
        found.append(_dosing(given, own, product, routines, shared, deed=deed, path=path, water=water))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Shared:
    """The runs that a tub is shared with, and their doses of one kind by product."""

    run: Run
    tub: str
    shares: tuple[SharedTub, ...]
    others: Mapping[str, tuple[OtherDoses, ...]]

    @classmethod
    def of(cls, run: Run, tub: str, *, adjusts: bool) -> _Shared:
        shares = shares_of(run, tub)
        return cls(run, tub, shares, doses_of_others(shares, adjusts=adjusts))

    @property
    def remark(self) -> Remark | None:
        return shared_remark(self.run, self.tub)

    def _unread(self, dimension: Dimension) -> list[Quantity]:
        return [unknown(dimension) for share in self.shares if share.log is None]

    def part(self, product: str, doses: Sequence[Dose], whole: Quantity) -> Quantity:
        """The total of a product: from what was given while the tub was not shared to all that the logs have."""
        if not self.shares:
            return whole
        others = [each.amount for each in self.others.get(product, ())]
        alike_ = [each if each.dimension is whole.dimension else unknown(whole.dimension) for each in others]
        if not doses and others:  # the other log decides what it is measured in
            whole, alike_ = replace(whole, dimension=others[0].dimension), others
        own = [dose.amount for dose in doses if alone(self.run, self.tub, dose.day)]
        amounts = [each if each.dimension is whole.dimension else unknown(whole.dimension) for each in own]
        least = feed_added(amounts, whole.dimension)
        return part_of_run(whole, least, [*alike_, *self._unread(whole.dimension)])

    def times(self, product: str, number: Quantity) -> Quantity:
        """How often it was given: a dose in a log is one in the tub."""
        if not self.shares:
            return number
        others = [each.times for each in self.others.get(product, ())]
        return part_of_run(number, number, [*others, *self._unread(Dimension.COUNT)])
