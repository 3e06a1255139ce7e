"""Times to the first pick, the days claimed for the seed, and the days that picks of each grade took from a stage.

In: a run, its harvest and stages. Out: `HarvestTiming`. Never sets days from sowing beside a claim that counts from
transplanting, nor the other way round.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.claimant import claimant
from sitegen.core.facts.figure import NOT_SAID, Figure, Label, Named, Remark, RemarkCode, remark
from sitegen.core.facts.indices import HarvestTiming
from sitegen.core.facts.tree import Arrival, Harvest, MilestoneFacts
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Deed, Event, Pick, Run, Sowing
from sitegen.core.site.addresses import slug
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import day_key, figure, formula

# A claim by the day that it counts from: of the expected day, and set against the day that was.
_CLAIMED: dict[str, tuple[RemarkCode, RemarkCode]] = {
    "sowing": ("from_sowing", "claimed_days_from_sowing"),
    "transplant": ("from_transplant", "claimed_days_from_transplant"),
}


@formula(
    reads=("events.day", "picks.day"),
    exact_if={"another day is as early, or as late": ("events.day", "picks.day")},
)
def days_from(begin: Day, until: Day) -> Quantity:
    """Days from one event to another.

    Parameters
    ----------
    begin, until
        The two days, each perhaps a span [day].

    Returns
    -------
    Quantity
        Shortest to longest time between them [days].

    Notes
    -----
    ::

        days = until - begin

    Day 0 is the day of sowing. Days from transplanting run from the day that the log gives for it, and from all of them
    where there are several.

    """
    span = until.span_since(begin)
    return Quantity(span.first, span.last, Dimension.DAYS, about=span.about, step=1)


@formula(
    reads=("events.day", "picks.day", "claims.days"),
    exact_if={"another day is as early": ("events.day", "picks.day")},
)
def days_against_claim(days: Quantity, claimed: Day) -> Quantity:
    """Days to the first pick compared with the days claimed.

    Both counted from the day that the claim counts from.

    Parameters
    ----------
    days
        To the first pick [days].
    claimed
        What is claimed for the seed [days].

    Returns
    -------
    Quantity
        How much later than claimed [days]; below 0 where it was earlier.

    Notes
    -----
    ::

        difference = days - claim

    Claims for crops that are raised indoors mostly count from transplanting, others from sowing; one that does not
    say is not compared.

    """
    high = (days.high if days.high is not None else days.low) - claimed.first
    return Quantity(days.low - claimed.last, high, Dimension.DAYS, about=days.about or claimed.about, step=1)


@formula(reads=("events.day", "claims.days"), exact_if={"another day is as early": ("events.day",)})
def claimed_day(begin: Day, claimed: Day) -> Day:
    """Day of the first pick by the days claimed.

    The days claimed for the seed, counted from the day that the claim counts from.

    Parameters
    ----------
    begin
        The day of sowing or transplanting [day].
    claimed
        What is claimed for the seed [days].

    Returns
    -------
    Day
        When the first pick falls by the claim [day].

    Notes
    -----
    ::

        day = begin + claim

    It is what is claimed, not a forecast.

    """
    return Day(begin.first + claimed.first, begin.last + claimed.last, begin.about or claimed.about)


@formula(reads=("milestones.day", "picks.day"))
def days_to_picks(arrivals: Sequence[Day], picks: Sequence[Day]) -> Quantity:
    """Days from a stage to picks of one grade.

    Of plants that were picked by themselves, from the last stage that any of them had reached before.

    Parameters
    ----------
    arrivals, picks
        The day of the stage and of the pick, one pair a pick [day].

    Returns
    -------
    Quantity
        From the shortest to the longest time [days].

    Notes
    -----
    ::

        min(pick - stage) to max(pick - stage)

    It is the window in which picks of that grade were made, not the one in which they could have been.

    """
    spans = [pick.span_since(arrival) for arrival, pick in zip(arrivals, picks, strict=True)]
    low, high = min(span.first for span in spans), max(span.last for span in spans)
    about = any(span.about for span in spans)
    return Quantity(max(0, low), max(0, high), Dimension.DAYS, about=about, step=1)


@dataclass(frozen=True, slots=True)
class _Start:
    """The day that times to the first pick count from; None where the log does not have it."""

    day: Day | None
    rows: tuple[Source, ...]
    missing: Remark | None = None
    remark: Remark | None = None


def _sowing(run: Run) -> _Start:
    events = sorted(run.rows.of(Sowing), key=lambda event: day_key(event.day))
    resown = any(event.day.first > 0 for event in events)
    rows = tuple(event.source for event in events[:1])
    return _Start(Day.on(0), rows, remark=remark("sown_again_later") if resown else None)


def _transplanting(run: Run) -> _Start:
    events: Sequence[Event] = run.rows.of(Deed.TRANSPLANT)
    days = [event.day for event in events]
    if not days:
        return _Start(None, (), remark("transplanting_not_recorded"))
    about = any(day.about for day in days)
    span = Day(min(day.first for day in days), max(day.last for day in days), about)
    return _Start(span, tuple(event.source for event in events))


def _since(name: str, start: _Start, harvest: Harvest) -> Figure:
    first, path = harvest.first_pick.value, f"harvest.timing.{name}"
    if not isinstance(first, Day):
        return figure(path, None, days_from, (), remark("no_harvest"))
    if start.day is None:
        return figure(path, None, days_from, (), start.missing)
    rows = (*start.rows, *harvest.first_pick.rows)
    return figure(path, days_from(start.day, first), days_from, rows, start.remark)


def _duration(days: Day) -> Quantity:
    """The days of a claim, which count from sowing or transplanting."""
    return Quantity(days.first, days.last, Dimension.DAYS, about=days.about, step=1)


def _claim(run: Run, since: dict[str, Figure]) -> Figure:
    """The days claimed against those that it took."""
    claims, name = run.setup.seed.claims if run.setup.seed else None, "harvest.timing.claim"
    if claims is None or claims.days is None:
        return figure(name, None, days_against_claim, (), remark("no_days_claimed"))
    if not claims.counted_from:
        return figure(name, None, days_against_claim, (), remark("claimed_days_from_unsaid"))
    days = since[claims.counted_from]
    claimed = remark(_CLAIMED[claims.counted_from][1], days=_duration(claims.days))
    if not isinstance(days.value, Quantity):
        return figure(name, None, days_against_claim, (), claimed, claimant(run.setup.seed), *days.remarks)
    value = days_against_claim(days.value, claims.days)
    rows = (*days.rows, run.setup.at("seed"))
    return figure(
        name, value, days_against_claim, rows, _certain_difference(value), claimed, claimant(run.setup.seed)
    )


def _expected(run: Run, starts: dict[str, _Start]) -> Figure:
    """The day of the first pick by the days claimed."""
    claims, name = run.setup.seed.claims if run.setup.seed else None, "harvest.timing.expected"
    if claims is None or claims.days is None or not claims.counted_from:
        return figure(name, None, claimed_day, (), remark("no_days_claimed_or_from_when"))
    start = starts[claims.counted_from]
    if start.day is None:
        return figure(name, None, claimed_day, (), start.missing)
    claimed = remark(_CLAIMED[claims.counted_from][0], days=_duration(claims.days))
    rows = (*start.rows, run.setup.at("seed"))
    return figure(
        name, claimed_day(start.day, claims.days), claimed_day, rows, claimed, claimant(run.setup.seed)
    )


def _certain_difference(difference: Quantity) -> Remark | None:
    """Later or earlier, where that is certain."""
    if difference.low > 0:
        return remark("later_than_claim")
    earlier = difference.high is not None and difference.high < 0
    return remark("earlier_than_claim") if earlier else None


def _picking(harvest: Harvest) -> Figure:
    first, last, name = harvest.first_pick.value, harvest.last_pick.value, "harvest.timing.picking"
    if not isinstance(first, Day) or not isinstance(last, Day):
        return figure(name, None, days_from, (), remark("no_harvest"))
    rows = (*harvest.first_pick.rows, *harvest.last_pick.rows)
    alone = isinstance(picks := harvest.picks.value, Quantity) and picks.low == 1
    span = Quantity(0, 0, Dimension.DAYS, step=1) if alone else days_from(first, last)
    span = replace(span, low=max(0, span.low))
    return figure(name, span, days_from, rows)


def _pairs(milestone: MilestoneFacts, picks: Sequence[Pick]) -> list[tuple[Arrival, Day, Pick]]:
    """Picks of single plants, each with the arrival of its plant at the stage on the same day or before."""
    arrived = {arrival.plant: arrival for arrival in milestone.arrivals}
    return [
        (own, own.day, pick)
        for pick in picks
        if len(pick.which.ids) == 1 and (own := arrived.get(pick.which.ids[0]))
        if own.day and own.day.first <= pick.day.last
    ]


def _window(run: Run, milestones: Sequence[MilestoneFacts]) -> tuple[Named, ...]:
    """By grade, from the last stage before picks that were kept by plant."""
    with_picks = [(m, pairs) for m in milestones if (pairs := _pairs(m, run.rows.picks))]
    if not with_picks or not any(pick.grade for pick in run.rows.picks):
        return ()
    milestone, pairs = with_picks[-1]
    return tuple(
        _of_grade(milestone, grade, [pair for pair in pairs if pair[2].grade == grade])
        for grade in dict.fromkeys(pick.grade for _, _, pick in pairs)
    )


def _of_grade(milestone: MilestoneFacts, grade: str, pairs: Sequence[tuple[Arrival, Day, Pick]]) -> Named:
    key = slug(grade) or grade or "not-said"
    made = figure(
        f"harvest.timing.window.{key}",
        days_to_picks([day for _, day, _ in pairs], [pick.day for _, _, pick in pairs]),
        days_to_picks,
        [source for arrival, _, pick in pairs for source in (arrival.source, pick.source) if source],
        remark("since_stage", stage=milestone.label),
        remark("picks", n=len(pairs)),
    )
    return Named(key, Label(grade) if grade else NOT_SAID, made)


def timing_of(run: Run, harvest: Harvest, milestones: Sequence[MilestoneFacts]) -> HarvestTiming:
    """Days to the first pick, the days claimed, the length of picking, the window of each grade."""
    starts = {"sowing": _sowing(run), "transplant": _transplanting(run)}
    since = {key: _since(f"from_{key}", start, harvest) for key, start in starts.items()}
    return HarvestTiming(
        from_sowing=since["sowing"],
        from_transplant=since["transplant"],
        claim=_claim(run, since),
        picking=_picking(harvest),
        window=_window(run, milestones),
        expected=_expected(run, starts),
    )
