"""Costs of a run, where the journal has prices.

In: a run, prices, its water, feed, electricity and harvest. Out: `Costs`. What has no price, or was not measured, is
said and leaves a sum without an upper bound; gear, seed and work are in none of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from sitegen.core.facts.figure import Figure, Label, Money, Remark, remark
from sitegen.core.facts.indices import Costs
from sitegen.core.facts.tree import Climate, Harvest, Solution
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Price, Prices
from sitegen.core.values.quantity import Quantity
from sitegen.measure.climate.light import ALIKE
from sitegen.measure.harvest.totals import HELD
from sitegen.measure.methods import DOSES, LAMPS, WEIGHTS, Conditions, figure, formula
from sitegen.measure.solution.feed import DOSED
from sitegen.measure.solution.shared import not_counted, shared_remark
from sitegen.measure.solution.water import FILLED, feed_remarks, uncounted_feed, without_doses

HUNDRED_GRAMS = "100 g"
SPENT: Conditions = {**ALIKE, **FILLED, **DOSED}
COSTED: Conditions = {**HELD, **SPENT}


@formula(reads=(*WEIGHTS, *DOSES, *LAMPS), exact_if=COSTED)
def cost_at_price(used: float, price: float, per: float) -> float:
    """Cost at a price.

    Parameters
    ----------
    used
        What was used [kWh, ml or g].
    price
        For `per` of it [in the journal's currency].
    per
        What the price is for, more than 0 [as `used`].

    Returns
    -------
    float
        Cost [in the journal's currency].

    Notes
    -----
    ::

        cost = used · price / per

    """
    return used * price / per


@formula(reads=(*DOSES, *LAMPS), exact_if=SPENT)
def sum_of_costs(costs: Sequence[float]) -> float:
    """Running costs.

    Electricity of the lamps, feed, acids and bases, and water, as far as the journal has their prices.

    Parameters
    ----------
    costs
        Each of them [in the journal's currency].

    Returns
    -------
    float
        Their sum [in the journal's currency].

    Notes
    -----
    ::

        cost = Σ cost of each

    Pumps, gear, seed and work are not in it. A cost that is not known makes the sum "at least".

    Of a tub that was shared with another run, costs are from those of the time in which it was not, to those of all that
    both logs have.

    """
    return sum(costs)


@formula(reads=(*WEIGHTS, *DOSES, *LAMPS), exact_if=COSTED)
def cost_per_100_g(cost: float, picked: float) -> float:
    """Running costs of 100 g picked.

    Parameters
    ----------
    cost
        Running costs [in the journal's currency].
    picked
        Total picked, more than 0 [g].

    Returns
    -------
    float
        Cost [in the journal's currency for 100 g].

    Notes
    -----
    ::

        cost of 100 g = 100 · cost / total

    There is no figure where a tub was shared with another run, since the costs are of two crops.

    """
    return 100 * cost / picked


def _at_price(used: Quantity, price: Price, currency: str) -> Money | None:
    per = price.per.middle
    if used.dimension is not price.per.dimension or per <= 0 or _nothing_known(used):
        return None
    high = None if used.high is None else cost_at_price(used.high, price.amount, per)
    return Money(cost_at_price(used.low, price.amount, per), high, currency, used.about or used.by_eye)


def _nothing_known(value: Quantity | Money) -> bool:
    """Whether a value is no more than "at least nothing"."""
    return value.low <= 0 and value.high is None


def _known(money: Money) -> Money | None:
    """The money, or None where it is no more than "at least nothing"."""
    return None if _nothing_known(money) else money


def _cost(name: str, used: Figure, price: Price | None, currency: str, what: Label) -> Figure:
    if price is None or not currency:
        return _figure(name, None, cost_at_price, (), remark("price_not_recorded", what=what))
    if not isinstance(used.value, Quantity):
        remarks = used.remarks or (remark("thing_not_recorded", what=what),)
        return _figure(name, None, cost_at_price, (), *remarks)
    money = _at_price(used.value, price, currency)
    if money is None and not _nothing_known(used.value):
        return _figure(name, None, cost_at_price, (), remark("price_not_recorded", what=what))
    return _figure(name, money, cost_at_price, used.rows, *used.remarks)


def _figure(
    name: str,
    value: Money | None,
    made_by: Callable[..., object],
    rows: Iterable[Source],
    *remarks: Remark | None,
) -> Figure:
    return figure(f"harvest.costs.{name}", value, made_by, rows, *remarks)


def _added(costs: Iterable[Figure]) -> Money | None:
    """The sum of costs, without an upper bound where one of them has none or is not known; None where it says nothing."""
    values = [cost.value for cost in costs]
    known = [value for value in values if isinstance(value, Money)]
    if not known:
        return None
    highs = [money.high for money in known if money.high is not None]
    low = sum_of_costs([money.low for money in known])
    high = sum_of_costs(highs) if len(highs) == len(values) else None
    return _known(Money(low, high, known[0].currency, any(money.about for money in known)))


def _feed(run: Run, solution: Solution, currency: str) -> Figure:
    """All products that were dosed; those without a price and uncounted routines make the sum a lower bound."""
    doses = [dose for tub in solution.tubs for dose in (*tub.doses, *tub.adjusted)]
    prices = {product.id: product.price for product in run.setup.products}
    costs = [
        (dose.label, _cost("feed", dose.total, prices.get(dose.product), currency, dose.label))
        for dose in doses
    ]
    whole, routines = _added(cost for _, cost in costs), uncounted_feed(run)
    by_routine = feed_remarks(routines)
    if whole is not None and (routines or not_counted(run)):
        whole = _known(replace(whole, high=None))
    if whole is None:
        return _figure("feed", None, cost_at_price, (), *_no_feed(run, costs))
    unpriced = _without(label for label, cost in costs if not cost.recorded)
    rows = [row for _, cost in costs if cost.recorded for row in cost.rows]
    return _figure("feed", whole, cost_at_price, rows, shared_remark(run), unpriced, *by_routine)


def _no_feed(run: Run, costs: Sequence[tuple[Label, Figure]]) -> Sequence[Remark]:
    """The reasons why feed has no cost."""
    if not costs:
        # Nobody can say that none was given where another log may have some.
        unread = shared_remark(run) if not_counted(run) else None
        return without_doses(run) or (unread or remark("no_feed"),)
    unmeasured = [each for _, cost in costs for each in cost.remarks if each.code != "price_not_recorded"]
    return (*(unmeasured or [remark("no_product_has_price")]), *feed_remarks(uncounted_feed(run)))


def _without(missing: Iterable[Label]) -> Remark | None:
    things = tuple(dict.fromkeys(missing))
    return remark("without_things", things=things) if things else None


def _total(costs: dict[str, Figure], shared: Remark | None) -> Figure:
    missing = _without(Label(name, "cost") for name, cost in costs.items() if not cost.recorded)
    rows = [row for cost in costs.values() for row in cost.rows]
    return _figure("total", _added(costs.values()), sum_of_costs, rows, shared, missing)


def _per_100_g(cost: Figure, picked: Figure, shared: Remark | None) -> Figure:
    weight, money = picked.value, cost.value
    if shared is not None:
        return _figure("per_100_g", None, cost_per_100_g, (), shared)
    if not isinstance(money, Money):
        return _figure("per_100_g", None, cost_per_100_g, (), *cost.remarks)
    if not isinstance(weight, Quantity) or (weight.high is not None and weight.high <= 0):
        return _figure("per_100_g", None, cost_per_100_g, (), remark("nothing_weighed"))
    low = 0.0 if weight.high is None else cost_per_100_g(money.low, weight.high)
    high = None if money.high is None or weight.low <= 0 else cost_per_100_g(money.high, weight.low)
    about = money.about or weight.about or weight.by_eye
    value = Money(low, high, money.currency, about, HUNDRED_GRAMS)
    rows, remarks = (*cost.rows, *picked.rows), (*cost.remarks, *picked.remarks)
    if _nothing_known(value):
        return _figure("per_100_g", None, cost_per_100_g, (), *(remarks or (remark("nothing_weighed"),)))
    return _figure("per_100_g", value, cost_per_100_g, rows, *remarks)


def costs_of(run: Run, prices: Prices, harvest: Harvest, solution: Solution, climate: Climate) -> Costs:
    """Costs of a run, of 100 g picked, and of as much harvest bought in a shop."""
    currency, crop = prices.currency, run.setup.crop
    each = {
        "electricity": _cost(
            "electricity", climate.energy, prices.electricity, currency, Label("electricity", "cost")
        ),
        "feed": _feed(run, solution, currency),
        "water": _cost("water", solution.water, prices.water, currency, Label("water", "cost")),
    }
    shared = shared_remark(run)
    whole = _total(each, shared)
    return Costs(
        **each,
        total=whole,
        per_100_g=_per_100_g(whole, harvest.total, shared),
        value=_cost("value", harvest.total, crop.price, currency, Label(crop.name)),
    )
