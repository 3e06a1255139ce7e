"""Speed and synchrony of emergence, from the numbers newly up at each count.

In: `(day, newly up)` pairs. Out: plain numbers. Never knows of seeds that did not come up: those belong to the
share.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from sitegen.core.facts.figure import Figure, Per, Rate, RemarkCode, Value, remark
from sitegen.core.facts.indices import GerminationRate
from sitegen.core.facts.tree import CountStep
from sitegen.core.records.rows import Run, SeedlingCount, Sowing
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import Column, Conditions, figure, formula

Counts = Sequence[tuple[float, int]]
COUNTS: tuple[Column, ...] = ("events.day", "events.amount")


def _total(counts: Counts) -> int:
    return sum(number for _, number in counts)


COUNTS_HELD: Conditions = {"a later or wider count holds it": ("events.amount",)}


@formula(reads=COUNTS, exact_if=COUNTS_HELD)
def mean_emergence_time(counts: Counts) -> float | None:
    """Mean time to come up.

    Of the seeds that did, dated to the count that first had them.

    Parameters
    ----------
    counts
        Day of each count and how many were newly up [days since sowing, count].

    Returns
    -------
    float or None
        Mean time [days]; None where nothing came up.

    Notes
    -----
    With n seedlings newly up at each count on day t::

        mean = Σ n·t / Σ n

    A seedling that an earlier count did not have came up after it: the mean goes from the one with the days after the
    counts before to the one with the days seen. Of those of the first count nothing but the sowing says when they were
    not there, and where that count found all of them there is no mean.

    References
    ----------
    Ellis, R. H. and Roberts, E. H. (1981). The quantification of ageing and survival in orthodox seeds. Seed Science
    and Technology 9, 373-409.

    """
    seedlings = _total(counts)
    return math.fsum(day * number for day, number in counts) / seedlings if seedlings else None


@formula(reads=COUNTS, exact_if=COUNTS_HELD)
def half_emergence_time(counts: Counts) -> float | None:
    """Time until half had come up.

    Half of the seeds that came up in the end, on a straight line between the two counts around it.

    Parameters
    ----------
    counts
        Day of each count, in order, and how many were newly up; looks that found none belong to them
        [days since sowing, count].

    Returns
    -------
    float or None
        The time [days]; None where nothing came up, or half were up at the first count already.

    Notes
    -----
    With N seedlings in all, h = N/2, and the counts before and after it (N₁ on day t₁, N₂ on day t₂)::

        t = t₁ + (h - N₁)(t₂ - t₁) / (N₂ - N₁)

    A count of exactly h gives its own day. Another definition takes h = (N + 1)/2, and some programs pass over a count
    of exactly h; their results differ by a fraction of the days between two counts.

    References
    ----------
    Farooq, M., Basra, S. M. A., Ahmad, N. and Hafeez, K. (2005). Thermal hardening: a new seed vigor enhancement
    tool in rice. Journal of Integrative Plant Biology 47, 187-193.

    """
    half, up, before = _total(counts) / 2, 0, None
    for day, number in counts:
        if number and up + number >= half:
            return None if before is None else before + (half - up) * (day - before) / number
        up, before = up + number, day
    return None


@formula(reads=COUNTS, exact_if=COUNTS_HELD)
def emergence_variation(counts: Counts) -> float | None:
    """Spread of the time to come up.

    The standard deviation as a share of the mean: small where all came up together.

    Parameters
    ----------
    counts
        Day of each count and how many were newly up [days since sowing, count].

    Returns
    -------
    float or None
        Coefficient of variation [ratio]; None for fewer than two seedlings.

    Notes
    -----
    With N seedlings and their mean time m::

        CV = √( Σ n (t - m)² / (N - 1) ) / m

    References
    ----------
    Ranal, M. A. and de Santana, D. G. (2006). How and why to measure the germination process? Revista Brasileira de
    Botânica 29, 1-11.

    """
    mean, seedlings = mean_emergence_time(counts), _total(counts)
    if mean is None or seedlings < 2 or mean == 0:
        return None
    squares = math.fsum(number * (day - mean) ** 2 for day, number in counts)
    return math.sqrt(squares / (seedlings - 1)) / mean


@formula(reads=COUNTS, exact_if=COUNTS_HELD)
def emergence_speed(counts: Counts) -> float | None:
    """Speed of emergence.

    Seedlings a day, each weighted with how early it was: it grows with their number and with how early they are.

    Parameters
    ----------
    counts
        Day of each count and how many were newly up [days since sowing, count].

    Returns
    -------
    float or None
        Speed [seedlings a day]; None where nothing came up, or something on day 0.

    Notes
    -----
    ::

        S = Σ n/t

    References
    ----------
    Maguire, J. D. (1962). Speed of germination: aid in selection and evaluation for seedling emergence and vigor.
    Crop Science 2, 176-177.

    """
    up = [(day, number) for day, number in counts if number]
    return math.fsum(number / day for day, number in up) if up and all(day > 0 for day, _ in up) else None


@formula(reads=COUNTS, exact_if=COUNTS_HELD)
def emergence_synchrony(counts: Counts) -> float | None:
    """Synchrony of emergence.

    The chance that two seedlings came up at the same count: 1 where all did, 0 where no two.

    Parameters
    ----------
    counts
        Day of each count and how many were newly up [days since sowing, count].

    Returns
    -------
    float or None
        Synchrony [ratio]; None for fewer than two seedlings.

    Notes
    -----
    With N seedlings in all::

        Z = Σ n(n - 1)/2 / (N(N - 1)/2)

    It depends on how often someone counted: rare counts make emergence look more synchronous than it was.

    References
    ----------
    Primack, R. B. (1985). Patterns of flowering phenology in communities, populations, individuals, and single
    flowers. In: White, J. (ed.), The Population Structure of Vegetation, 571-593.

    """
    seedlings = _total(counts)
    pairs = sum(math.comb(number, 2) for _, number in counts)
    return pairs / math.comb(seedlings, 2) if seedlings > 1 else None


@formula(reads=COUNTS, exact_if=COUNTS_HELD)
def emergence_uncertainty(counts: Counts) -> float | None:
    """Uncertainty of emergence.

    How evenly the seedlings are spread over the counts: 0 where all came up at one.

    Parameters
    ----------
    counts
        Day of each count and how many were newly up [days since sowing, count].

    Returns
    -------
    float or None
        Uncertainty [bit]; None where nothing came up.

    Notes
    -----
    With f the share of all seedlings that each count added::

        U = - Σ f · log₂ f

    References
    ----------
    Labouriau, L. G. and Valadares, M. E. B. (1976). On the germination of seeds of Calotropis procera. Anais da
    Academia Brasileira de Ciências 48, 263-284.

    """
    seedlings = _total(counts)
    shares = [number / seedlings for _, number in counts if number]
    return -math.fsum(share * math.log2(share) for share in shares) + 0.0 if shares else None


TENTH_OF_A_DAY = 0.1  # whole days went in: more decimals would say more than was seen


def newly_up(
    steps: Sequence[CountStep], sown: int, *, earliest: bool = False
) -> tuple[tuple[float, int], ...]:
    """Days since sowing and how many were newly up: by the last day possible, or by the first one with `earliest`.

    They came up after the count before; of those of the first count only the sowing says when they were not there. A look
    that did not count all is none that says so of the others.
    """
    found: list[tuple[float, int]] = []
    so_far = 0
    looked: int | None = None  # the latest day that an earlier look cannot have been before
    for step in steps:
        day = min(step.day.last, sown if looked is None else looked + 1) if earliest else step.day.last
        found.append((max(0, day - sown), max(0, step.count - so_far)))
        so_far = max(so_far, step.count)
        if not step.least:
            looked = step.day.first if looked is None else max(looked, step.day.first)
    return tuple(found)


def _why_not(run: Run, steps: Sequence[CountStep], up: Quantity | None) -> RemarkCode | None:
    days = {event.day for event in run.rows.of(Sowing)}
    if len(days) > 1:
        return "sown_on_several_days"
    if not steps or up is None or not up.exact:
        return "seedlings_not_counted"
    if not steps[-1].count:
        return "nothing_came_up"
    return "all_up_at_first_count" if steps[0].count == steps[-1].count else None


def _sowing_day(run: Run) -> int:
    return next((event.day.first for event in run.rows.of(Sowing)), 0)


def _number(
    value: float | None, dimension: Dimension = Dimension.COUNT, step: float = 0.0, *, about: bool = False
) -> Quantity | None:
    return None if value is None else replace(exactly(value, dimension, step), about=about)


def _mean(early: Counts, late: Counts, *, about: bool) -> Quantity | None:
    first, last = mean_emergence_time(early), mean_emergence_time(late)
    if first is None or last is None:
        return None
    return Quantity(min(first, last), last, Dimension.DAYS, about=about, step=TENTH_OF_A_DAY)


def emergence_rates(run: Run, steps: Sequence[CountStep], up: Quantity | None) -> GerminationRate:
    """Speed and synchrony of emergence in a run; a count on uncertain days leaves nothing but the mean."""
    why_not, sown = _why_not(run, steps, up), _sowing_day(run)
    late = () if why_not else newly_up(steps, sown)
    early = () if why_not else newly_up(steps, sown, earliest=True)
    rows = [step.source for step in steps]
    counts = [count.seedlings for count in run.rows.of(SeedlingCount) if count.seedlings is not None]
    fuzzy = any(count.about or count.by_eye for count in counts)
    about = fuzzy or any(step.day.about for step in steps)
    certain = not fuzzy and all(step.day.single and not step.least for step in steps)
    uncertain: RemarkCode = (
        "counted_on_uncertain_days"
        if not fuzzy and not any(step.least for step in steps)
        else "seedlings_not_counted"
    )

    def made(
        name: str, value: Value, formula: Callable[..., object], otherwise: RemarkCode | None = None
    ) -> Figure:
        why = why_not or (None if value is not None else otherwise)
        return figure(f"germination.rate.{name}", value, formula, rows, remark(why) if why else None)

    def index(name: str, formula: Callable[[Counts], float | None], otherwise: RemarkCode) -> Figure:
        value = _number(formula(late), about=about) if certain else None
        rate = Rate(value, Per.DAY) if value is not None and formula is emergence_speed else value
        return made(name, rate, formula, otherwise if certain else uncertain)

    few: RemarkCode = "fewer_than_two_seedlings"
    half = (
        _number(half_emergence_time(late), Dimension.DAYS, TENTH_OF_A_DAY, about=about) if certain else None
    )
    unknown_half = "half_up_at_first_count" if certain else uncertain
    return GerminationRate(
        mean_time=made("mean_time", _mean(early, late, about=about), mean_emergence_time),
        half_time=made("half_time", half, half_emergence_time, unknown_half),
        variation=index("variation", emergence_variation, few),
        speed=index("speed", emergence_speed, "seedlings_on_day_of_sowing"),
        synchrony=index("synchrony", emergence_synchrony, few),
        uncertainty=index("uncertainty", emergence_uncertainty, few),
    )
