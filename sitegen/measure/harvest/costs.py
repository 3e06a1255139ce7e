"""What a run cost, where the journal has prices.

In: a run, prices, its water, feed, electricity and harvest. Out: `Costs`. What has no price is said and not counted;
gear, seed and work are in none of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.figure import Figure, Money
from sitegen.core.facts.indices import Costs
from sitegen.core.facts.remark import Label, Remark, remark
from sitegen.core.facts.tree import Climate, Dosing, Harvest, Solution
from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Price, Prices
from sitegen.core.values.quantity import Quantity
from sitegen.measure.methods import formula
from sitegen.measure.working import figure

HUNDRED_GRAMS = "100 g"


@dataclass(frozen=True, slots=True)
class Cost:
    """One cost with the rows behind it; nothing where it is not known."""

    money: Money | None
    rows: tuple[Source, ...] = ()
    remarks: tuple[Remark, ...] = ()


@formula
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


@formula
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

    Pumps, gear, seed and work are not in it.

    """
    return sum(costs)


@formula
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

    """
    return 100 * cost / picked


def _at_price(used: Quantity, price: Price, currency: str) -> Money | None:
    per = price.per.middle
    if used.dimension is not price.per.dimension or per <= 0:
        return None
    high = None if used.high is None else cost_at_price(used.high, price.amount, per)
    return Money(cost_at_price(used.low, price.amount, per), high, currency, used.about)


def _cost(used: Figure, price: Price | None, currency: str, what: Label) -> Cost:
    if price is None or not currency:
        return Cost(None, (), (remark("price_not_recorded", what=what),))
    if not isinstance(used.value, Quantity):
        return Cost(None, (), used.remarks or (remark("thing_not_recorded", what=what),))
    return Cost(_at_price(used.value, price, currency), used.rows, used.remarks)


def _added(costs: Iterable[Money]) -> Money | None:
    known = tuple(costs)
    if not known:
        return None
    highs = [money.high for money in known if money.high is not None]
    low = sum_of_costs([money.low for money in known])
    high = sum_of_costs(highs) if len(highs) == len(known) else None
    return Money(low, high, known[0].currency, any(money.about for money in known))


def _feed(run: Run, solution: Solution, currency: str) -> Cost:
    """All products that were dosed; those without a price make the sum a lower bound."""
    doses: list[Dosing] = [dose for tub in solution.tubs for dose in (*tub.doses, *tub.adjusted)]
    prices = {product.id: product.price for product in run.setup.products}
    costs = [(dose, _cost(dose.total, prices.get(dose.product), currency, dose.label)) for dose in doses]
    known = [cost.money for _, cost in costs if cost.money]
    missing = dict.fromkeys(dose.label for dose, cost in costs if not cost.money)
    if not known:
        return Cost(None, (), (remark("no_product_has_price" if doses else "no_feed"),))
    whole = _added(known)
    if missing and whole:
        whole = replace(whole, high=None)
    rows = tuple(row for _, cost in costs if cost.money for row in cost.rows)
    routines = (remark("routines_not_included"),) if solution.routines else ()
    return Cost(whole, rows, (*_without(missing), *routines))


def _without(missing: Iterable[Label]) -> tuple[Remark, ...]:
    things = tuple(missing)
    return (remark("without_things", things=things),) if things else ()


def _figure(name: str, cost: Cost, formula: Callable[..., object]) -> Figure:
    return figure(f"harvest.costs.{name}", cost.money, formula, cost.rows, *cost.remarks)


def _total(costs: dict[str, Cost]) -> Cost:
    missing = [Label(name, "cost") for name, cost in costs.items() if cost.money is None]
    whole = _added(cost.money for cost in costs.values() if cost.money)
    rows = tuple(row for cost in costs.values() for row in cost.rows)
    return Cost(whole, rows, _without(missing))


def _per_100_g(cost: Cost, picked: Figure) -> Cost:
    weight, money = picked.value, cost.money
    if money is None or not isinstance(weight, Quantity) or (weight.high is not None and weight.high <= 0):
        return Cost(None, (), cost.remarks if money is None else (remark("nothing_weighed"),))
    low = 0.0 if weight.high is None else cost_per_100_g(money.low, weight.high)
    high = None if money.high is None or weight.low <= 0 else cost_per_100_g(money.high, weight.low)
    about = money.about or weight.about
    return Cost(
        Money(low, high, money.currency, about, HUNDRED_GRAMS),
        (*cost.rows, *picked.rows),
        (*cost.remarks, *picked.remarks),
    )


def costs_of(run: Run, prices: Prices, harvest: Harvest, solution: Solution, climate: Climate) -> Costs:
    """Costs of a run, of 100 g picked, and what the harvest would have cost to buy."""
    currency = prices.currency
    each = {
        "electricity": _cost(climate.energy, prices.electricity, currency, Label("electricity", "cost")),
        "feed": _feed(run, solution, currency),
        "water": _cost(solution.water, prices.water, currency, Label("water", "cost")),
    }
    whole = _total(each)
    worth = _cost(harvest.total, run.setup.crop.price, currency, Label(run.setup.crop.name))
    return Costs(
        electricity=_figure("electricity", each["electricity"], cost_at_price),
        feed=_figure("feed", each["feed"], cost_at_price),
        water=_figure("water", each["water"], cost_at_price),
        total=_figure("total", whole, sum_of_costs),
        per_100_g=_figure("per_100_g", _per_100_g(whole, harvest.total), cost_per_100_g),
        value=_figure("value", worth, cost_at_price),
    )
