"""Drift of EC and pH between visits, and the share of readings inside the usual range.

In: the readings of one tub and what was put into it. Out: `TubTrend`. Never takes a change that someone made for
one that the plants did.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from sitegen.core.facts.figure import Figure, Per, Rate
from sitegen.core.facts.indices import TubTrend
from sitegen.core.facts.remark import remark
from sitegen.core.records.rows import Deed, Reading, Run
from sitegen.core.reference.reading_ranges import solution_of
from sitegen.core.values.quantity import Quantity
from sitegen.measure.methods import formula
from sitegen.measure.shares import share_of, wilson_interval
from sitegen.measure.solution.water import Fillings
from sitegen.measure.working import coarse, day_key, figure

Pair = tuple[Reading, Reading]


@formula
def drift_a_day(changes: Sequence[float], days: Sequence[float]) -> float:
    """Drift a day.

    How much a solution moved by itself, between visits at which nothing was put in before it was read again.

    Parameters
    ----------
    changes
        From the last reading at one visit to the first at the next [mS/cm, or pH].
    days
        Between the two, in sum more than 0 [days].

    Returns
    -------
    float
        Drift [mS/cm a day, or pH a day]; negative where it fell.

    Notes
    -----
    ::

        drift = Σ change / Σ days

    A pair counts only where neither water nor feed nor acid nor base was logged between its two readings. Additions
    that nobody logged are in it.

    """
    return math.fsum(changes) / math.fsum(days)


def _in_turn(readings: Sequence[Reading]) -> list[Reading]:
    """By day; at one visit `before` comes first and `after` last."""
    order = {"before": 0, "": 1, "after": 2}
    return sorted(readings, key=lambda r: (*day_key(r.day), order[r.moment], r.source))


def _put_in(run: Run, tub: str, fillings: Fillings) -> list[float]:
    deeds = run.rows.of(Deed.WATER, Deed.CHANGE, Deed.FEED, Deed.ADJUST)
    return [event.day.middle for event in deeds if fillings.home(event.tub) == tub]


def _undisturbed(pair: Pair, put_in: Sequence[float]) -> bool:
    """Whether nothing was added between two readings; one without `before` may follow an addition of that day."""
    earlier, later = (reading.day.middle for reading in pair)
    return not any(
        earlier < day < later
        or (day == earlier and pair[0].moment == "before")
        or (day == later and pair[1].moment != "before")
        for day in put_in
    )


def _pairs(readings: Sequence[Reading], put_in: Sequence[float]) -> list[Pair]:
    turn = _in_turn(readings)
    return [
        (a, b)
        for a, b in pairwise(turn)
        if b.day.middle > a.day.middle and a.value.high is not None and b.value.high is not None
        if _undisturbed((a, b), put_in)
    ]


def _drift(name: str, readings: Sequence[Reading], put_in: Sequence[float]) -> Figure:
    pairs = _pairs(readings, put_in)
    if not pairs:
        why = remark("no_undisturbed_readings" if readings else "not_recorded")
        return figure(name, None, drift_a_day, (), why)
    days = [later.day.middle - earlier.day.middle for earlier, later in pairs]
    low, high = (
        drift_a_day([b - a for a, b in changes], days)
        for changes in (
            [(a.value.high or 0.0, b.value.low) for a, b in pairs],
            [(a.value.low, b.value.high or 0.0) for a, b in pairs],
        )
    )
    about = any(r.value.about or r.day.about for pair in pairs for r in pair)
    step = coarse(
        max(r.value.step for pair in pairs for r in pair) / math.fsum(days), max(low, high, key=abs)
    )
    value = Rate(Quantity(low, high, pairs[0][0].value.dimension, about=about, step=step), Per.DAY)
    rows = [reading.source for pair in pairs for reading in pair]
    over = remark("over_days_pairs", n=len(pairs), days=math.fsum(days))
    return figure(name, value, drift_a_day, rows, over)


def _within(name: str, readings: Sequence[Reading], band: tuple[float, float] | None) -> Figure:
    """How many readings lay in the band, of all."""
    if band is None or not readings:
        why = remark("band_unknown" if readings else "not_recorded")
        return figure(name, None, wilson_interval, (), why)
    inside = sum(_inside(reading.value, band) for reading in readings)
    return figure(
        name,
        share_of(inside, len(readings)),
        wilson_interval,
        (reading.source for reading in readings),
        remark("band_of_crop", low=band[0], high=band[1]),
        remark("readings_not_independent"),
    )


def _inside(value: Quantity, band: tuple[float, float]) -> bool:
    return band[0] <= value.low and value.high is not None and value.high <= band[1]


def trend_of(run: Run, tub: str, fillings: Fillings, path: str) -> TubTrend:
    """Drift and bands of one tub."""
    read = {n: [r for r in run.rows.read(n) if fillings.home(r.tub) == tub] for n in ("ec", "ph")}
    usual, put_in = solution_of(run.setup.crop), _put_in(run, tub, fillings)
    return TubTrend(
        ec=_drift(f"{path}.ec", read["ec"], put_in),
        ph=_drift(f"{path}.ph", read["ph"], put_in),
        ec_within=_within(f"{path}.ec_within", read["ec"], usual.usual_ec if usual else None),
        ph_within=_within(f"{path}.ph_within", read["ph"], usual.usual_ph if usual else None),
    )
