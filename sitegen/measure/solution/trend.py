"""How EC and pH of a tub moved between visits, how often they lay in their usual band, and what its meter shows in ppm.

In: readings, additions, routines. Out: `TubTrend`, figures of ppm. A change that someone made is never taken for one
that the plants did.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from sitegen.core.facts.figure import (
    NO_FIGURE,
    Figure,
    Per,
    Rate,
    Value,
    counted_remark,
    remark,
)
from sitegen.core.facts.indices import TubTrend
from sitegen.core.findings.source import Source
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Event, Reading, Run, Watering
from sitegen.core.records.setup import SharedTub
from sitegen.core.reference import reading_ranges
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, propagate, total
from sitegen.core.values.units import PPM_SCALES, Dimension
from sitegen.measure.methods import coarse, day_key, figure, formula
from sitegen.measure.ranges import range_remark, reading_range, share_of, wilson_interval
from sitegen.measure.solution.shared import (
    shared_remark,
)
from sitegen.measure.solution.water import (
    Fillings,
    days_between,
    routine_between,
    uncounted_feed,
    uncounted_water,
)


def _rows(
    events: Iterable[Watering], routines: Iterable[Routine], shares: Iterable[SharedTub]
) -> tuple[Source, ...]:
    return (*(e.source for e in events), *(r.source for r in routines), *(s.source for s in shares))


Pair = tuple[Reading, Reading]


@formula(reads=("readings.day", "readings.value"), exact_if={"nothing changed": ("readings.day",)})
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

    A pair counts only where neither water nor feed nor acid nor base was logged between its two readings, and no
    routine went on whose refills or doses were not logged. A day that is not certain makes the drift a
    range, and the drift is about where such a day decides whether a pair counts. Water and feed that nobody
    logged and no routine names are in it.

    There is no figure of a tub that was shared with another run, whose log has refills and doses of its own.

    """
    return math.fsum(changes) / math.fsum(days)


@formula(reads=("readings.value",))
def parts_per_million(ec: float, scale: float) -> float:
    """Parts per million of a meter.

    The conductivity of a solution as a meter with that scale shows it.

    Parameters
    ----------
    ec
        Conductivity [mS/cm].
    scale
        Of the meter: 500, 640 or 700 [ppm for each mS/cm].

    Returns
    -------
    float
        On that scale alone [ppm].

    Notes
    -----
    ::

        ppm = EC · scale

    A convention of meters, no concentration: one solution reads 500, 640 and 700 ppm on the three scales. What was read
    in ppm becomes an EC only where the scale of its meter is known.

    References
    ----------
    By definition of the quantities.

    """
    return ec * scale


def known(run: Run, name: str) -> tuple[Reading, ...]:
    """The readings of a name, without ppm of an unknown scale."""
    return tuple(each for each in run.rows.read(name) if each.value.dimension is not Dimension.PPM)


def _on_scale(value: Quantity, scale: int) -> Quantity:
    return propagate(
        lambda ec: parts_per_million(ec, scale),
        increasing=[value],
        dimension=PPM_SCALES[scale],
        step=value.step * scale,
    )


def ppm_of(name: str, readings: Sequence[Reading]) -> Figure:
    """What a tub's meter shows in ppm; of several scales, no figure."""
    scales = {reading.scale for reading in readings}
    scale = next(iter(scales), None)
    plain = all(reading.value.dimension is Dimension.PPM for reading in readings)
    if len(scales) != 1 or (scale is None and not plain):
        return NO_FIGURE
    values = [reading.value if scale is None else _on_scale(reading.value, scale) for reading in readings]
    rows = (reading.source for reading in readings)
    return figure(name, reading_range(values), parts_per_million, rows, range_remark(len(values)))


def _in_turn(readings: Sequence[Reading]) -> list[Reading]:
    """By day; at one visit `before` comes first and `after` last."""
    order = {"before": 0, "": 1, "after": 2}
    return sorted(readings, key=lambda r: (*day_key(r.day), order[r.moment], r.source))


def _put_in(run: Run, tub: str, fillings: Fillings) -> list[Event]:
    """The additions to one tub; one to no tub by name may have gone into any."""
    deeds = run.rows.of(Deed.WATER, Deed.CHANGE, Deed.FEED, Deed.ADJUST)
    return [event for event in deeds if fillings.home(event.tub) in (tub, "")]


def _follows(event: Event, reading: Reading) -> bool:
    """Whether something may have been added after a reading; on the day of one, only if it was `before`."""
    if event.entry == reading.entry or (event.day == reading.day and event.day.single):
        return reading.moment == "before"
    return event.day.last > reading.day.first


def _precedes(event: Event, reading: Reading) -> bool:
    """Whether something may have been added before a reading; on the day of one, unless it was `before`."""
    if event.entry == reading.entry or (event.day == reading.day and event.day.single):
        return reading.moment != "before"
    return event.day.first < reading.day.last


def _undisturbed(pair: Pair, put_in: Iterable[Event]) -> bool:
    """Whether nothing was added between two readings."""
    return not any(_follows(event, pair[0]) and _precedes(event, pair[1]) for event in put_in)


def _apart_from(routines: Iterable[Routine], pair: Pair) -> bool:
    """Whether no routine went on between two readings."""
    earlier, later = (reading.day for reading in pair)
    return not any(routine_between(routine, earlier, later) for routine in routines)


def _pairs(readings: Sequence[Reading], put_in: Sequence[Event]) -> list[Pair]:
    """Readings that follow on each other, with nothing put in between."""
    return [
        (a, b)
        for a, b in pairwise(_in_turn(readings))
        if b.day.first > a.day.last and a.value.high is not None and b.value.high is not None
        if _undisturbed((a, b), put_in)
    ]


def _unsure(pair: Pair, put_in: Iterable[Event], routines: Iterable[Routine]) -> bool:
    """Whether days that are not certain decide if two readings are a pair, with nothing put in between."""
    a, b = pair
    if a.entry == b.entry or a.value.high is None or b.value.high is None:
        return False
    apart = _later(b.day, a.day)
    between = [_both(_after(event, a), _before(event, b)) for event in put_in]
    between += [_both(_later(b.day, each.day), _goes_on(each, a)) for each in routines]
    return apart is not False and True not in between and (apart is None or None in between)


def _later(later: Day, earlier: Day) -> bool | None:
    """Whether a day lies after another one; None where it may."""
    if later.reach[0] > earlier.reach[1]:
        return True
    return None if later.reach[1] > earlier.reach[0] else False


def _both(one: bool | None, other: bool | None) -> bool | None:
    if one is False or other is False:
        return False
    return one and other


def _of_one_day(event: Event, reading: Reading) -> bool:
    return event.entry == reading.entry or (event.day == reading.day and event.day.exact)


def _after(event: Event, reading: Reading) -> bool | None:
    """Whether something was added after a reading; None where it may have been."""
    return reading.moment == "before" if _of_one_day(event, reading) else _later(event.day, reading.day)


def _before(event: Event, reading: Reading) -> bool | None:
    """Whether something was added before a reading; None where it may have been."""
    return reading.moment != "before" if _of_one_day(event, reading) else _later(reading.day, event.day)


def _goes_on(routine: Routine, reading: Reading) -> bool | None:
    return True if routine.until is None else _later(routine.until, reading.day)


def _drift(
    name: str, readings: Sequence[Reading], put_in: Sequence[Event], routines: Sequence[Routine]
) -> Figure:
    undisturbed = _pairs(readings, put_in)
    pairs = [pair for pair in undisturbed if _apart_from(routines, pair)]
    if not pairs:
        missing = "no_readings_without_routine" if undisturbed else "no_undisturbed_readings"
        return figure(name, None, drift_a_day, (), remark(missing if readings else "not_recorded"))
    spans = [days_between(earlier.day, later.day) for earlier, later in pairs]
    whole = total(spans, Dimension.DAYS)
    falls = [b.value.low - (a.value.high or 0.0) for a, b in pairs]
    rises = [(b.value.high or 0.0) - a.value.low for a, b in pairs]
    ends = (whole.low, whole.high or whole.low)
    low = min(drift_a_day(falls, [days]) for days in ends)
    high = max(drift_a_day(rises, [days]) for days in ends)
    read = [reading for pair in pairs for reading in pair]
    unsure = any(_unsure(pair, put_in, routines) for pair in pairwise(_in_turn(readings)))
    value = Quantity(
        low,
        high,
        read[0].value.dimension,
        about=whole.about or unsure or any(r.value.about for r in read),
        by_eye=any(r.value.by_eye for r in read),
        step=coarse(max(r.value.step for r in read) / whole.middle, max(low, high, key=abs)),
    )
    rows = [reading.source for reading in read]
    over = remark("over_days_pairs", n=len(pairs), days=whole)
    return figure(name, Rate(value, Per.DAY), drift_a_day, rows, over)


def _within(name: str, readings: Sequence[Reading], band: tuple[float, float] | None) -> Figure:
    """How many readings lay in the band, of all."""
    if band is None or not readings:
        why = remark("band_unknown" if readings else "not_recorded")
        return figure(name, None, wilson_interval, (), why)
    placed = [_inside(reading.value, band) for reading in readings]
    inside, either = placed.count(True), placed.count(None)
    number: Value = share_of(inside, len(readings))
    if either:
        number = Quantity(inside, inside + either, Dimension.COUNT, step=1)
    return figure(
        name,
        number,
        wilson_interval,
        (reading.source for reading in readings),
        counted_remark("of_readings", len(readings)) if either else None,
        remark("band_of_crop", low=band[0], high=band[1]),
        None if either else remark("readings_not_independent"),
    )


def _inside(value: Quantity, band: tuple[float, float]) -> bool | None:
    """Whether a reading lies in the band; None where it may lie on either side of an end."""
    off = value.step if value.about or value.by_eye else 0.0  # a flag has no width: at least what was written
    low, high = value.low - off, math.inf if value.high is None else value.high + off
    if band[0] <= low and high <= band[1]:
        return True
    return False if high < band[0] or low > band[1] else None


def trend_of(run: Run, tub: str, fillings: Fillings, path: str) -> TubTrend:
    """Drift and bands of one tub."""
    read = {n: [r for r in known(run, n) if fillings.home(r.tub) == tub] for n in ("ec", "ph")}
    usual, put_in = reading_ranges.solution_of(run.setup.crop), _put_in(run, tub, fillings)
    routines = (*uncounted_feed(run, tub), *uncounted_water(run, tub))
    shared = shared_remark(run, tub)
    # The other log may have additions between two readings of this one.
    drifts = {
        name: _drift(f"{path}.{name}", read[name], put_in, routines)
        if shared is None
        else figure(f"{path}.{name}", None, drift_a_day, (), shared)
        for name in ("ec", "ph")
    }
    return TubTrend(
        **drifts,
        ec_within=_within(f"{path}.ec_within", read["ec"], usual.usual_ec if usual else None),
        ph_within=_within(f"{path}.ph_within", read["ph"], usual.usual_ph if usual else None),
    )
