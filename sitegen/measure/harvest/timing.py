"""How long it took to the first pick, against the packet, and which days gave good picks.

In: a run, its harvest and stages. Out: `HarvestTiming`. Never sets days from sowing beside a claim that counts from
transplanting, nor the other way round.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.facts.indices import HarvestTiming
from sitegen.core.facts.remark import NOT_SAID, Label, Remark, RemarkCode, remark
from sitegen.core.facts.tree import Arrival, Harvest, MilestoneFacts
from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Deed, Event, Pick, Run, Sowing
from sitegen.core.site.addresses import slug
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.methods import formula
from sitegen.measure.working import day_key, figure

_DAY_OF_SOWING = Day.on(0)
# A claim by the day that it counts from: of the expected day, and set against the day that was.
_CLAIMED: dict[str, tuple[RemarkCode, RemarkCode]] = {
    "sowing": ("from_sowing", "packet_days_from_sowing"),
    "transplant": ("from_transplant", "packet_days_from_transplant"),
}


@formula
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


@formula
def days_against_claim(days: Quantity, claimed: Day) -> Quantity:
    """Days to the first pick against the packet's.

    Both counted from the day that the packet counts from.

    Parameters
    ----------
    days
        To the first pick [days].
    claimed
        What the packet says [days].

    Returns
    -------
    Quantity
        How much later than the packet says [days]; below 0 where it was earlier.

    Notes
    -----
    ::

        difference = days - claim

    Packets of crops that are raised indoors mostly count from transplanting, others from sowing; a packet that does not
    say is not compared.

    """
    high = (days.high if days.high is not None else days.low) - claimed.first
    return Quantity(days.low - claimed.last, high, Dimension.DAYS, about=days.about or claimed.about, step=1)


@formula
def packet_day(begin: Day, claimed: Day) -> Day:
    """Day of the first pick by the packet.

    The packet's days, counted from the day that the packet counts from.

    Parameters
    ----------
    begin
        The day of sowing or transplanting [day].
    claimed
        What the packet says [days].

    Returns
    -------
    Day
        When the first pick falls by the packet [day].

    Notes
    -----
    ::

        day = begin + claim

    It is what the packet says, not a forecast.

    """
    return Day(begin.first + claimed.first, begin.last + claimed.last, begin.about or claimed.about)


@formula
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


def _sowing(run: Run) -> tuple[Day, tuple[Source, ...]]:
    events = sorted(run.rows.of(Sowing), key=lambda event: day_key(event.day))
    return _DAY_OF_SOWING, tuple(event.source for event in events[:1])


def _transplant(run: Run) -> tuple[Day | None, tuple[Source, ...]]:
    events: Sequence[Event] = run.rows.of(Deed.TRANSPLANT)
    if not events:
        return None, ()
    days = [event.day for event in events]
    about = any(day.about for day in days)
    span = Day(min(day.first for day in days), max(day.last for day in days), about)
    return span, tuple(event.source for event in events)


def _since(
    run: Run, begin: Day | None, rows: Sequence[Source], harvest: Harvest, name: str, why: Remark | None
) -> Figure:
    first, path = harvest.first_pick.value, f"harvest.timing.{name}"
    if not isinstance(first, Day) or begin is None:
        return figure(path, None, days_from, (), why if isinstance(first, Day) else remark("no_harvest"))
    resown = name == "from_sowing" and any(event.day.first > 0 for event in run.rows.of(Sowing))
    again = remark("sown_again_later") if resown else None
    return figure(path, days_from(begin, first), days_from, (*rows, *harvest.first_pick.rows), again)


def _duration(days: Day) -> Quantity:
    """The days of a claim, which count from sowing or transplanting."""
    return Quantity(days.first, days.last, Dimension.DAYS, about=days.about, step=1)


def _packet(run: Run, since: dict[str, Figure]) -> Figure:
    seed, name = run.setup.seed, "harvest.timing.packet"
    claims = seed.claims if seed else None
    if claims is None or claims.days is None:
        return figure(name, None, days_against_claim, (), remark("packet_without_days"))
    if not claims.counted_from:
        return figure(name, None, days_against_claim, (), remark("packet_without_beginning"))
    days = since[claims.counted_from]
    claimed = remark(_CLAIMED[claims.counted_from][1], days=_duration(claims.days))
    if not isinstance(days.value, Quantity):
        return figure(name, None, days_against_claim, (), claimed, *days.remarks)
    value = days_against_claim(days.value, claims.days)
    rows = (*days.rows, run.setup.at("seed"))
    return figure(name, value, days_against_claim, rows, _against(value), claimed)


def _expected(run: Run, begins: dict[str, tuple[Day | None, tuple[Source, ...]]]) -> Figure:
    seed, name = run.setup.seed, "harvest.timing.expected"
    claims = seed.claims if seed else None
    if claims is None or claims.days is None or not claims.counted_from:
        return figure(name, None, packet_day, (), remark("packet_without_days_or_beginning"))
    begin, rows = begins[claims.counted_from]
    if begin is None:
        return figure(name, None, packet_day, (), remark("transplanting_not_recorded"))
    claimed = remark(_CLAIMED[claims.counted_from][0], days=_duration(claims.days))
    return figure(name, packet_day(begin, claims.days), packet_day, (*rows, run.setup.at("seed")), claimed)


def _against(difference: Quantity) -> Remark | None:
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
    span = Quantity(0, 0, Dimension.DAYS, step=1) if first == last else days_from(first, last)
    return figure(name, span, days_from, rows)


def _pairs(milestone: MilestoneFacts, picks: Sequence[Pick]) -> list[tuple[Arrival, Pick]]:
    """Picks of single plants after the plant had reached the stage."""
    arrived = {arrival.plant: arrival for arrival in milestone.arrivals if arrival.day}
    return [
        (arrived[pick.which.ids[0]], pick)
        for pick in picks
        if len(pick.which.ids) == 1 and (own := arrived.get(pick.which.ids[0])) and _not_after(own, pick)
    ]


def _not_after(arrival: Arrival, pick: Pick) -> bool:
    return arrival.day is not None and arrival.day.first <= pick.day.last


def _window(run: Run, milestones: Sequence[MilestoneFacts]) -> tuple[Named, ...]:
    """By grade, from the last stage before picks that were kept by plant."""
    with_picks = [(m, pairs) for m in milestones if (pairs := _pairs(m, run.rows.picks))]
    if not with_picks or not any(pick.grade for pick in run.rows.picks):
        return ()
    milestone, pairs = with_picks[-1]
    return tuple(
        _of_grade(milestone, grade, [pair for pair in pairs if pair[1].grade == grade])
        for grade in dict.fromkeys(pick.grade for _, pick in pairs)
    )


def _of_grade(milestone: MilestoneFacts, grade: str, pairs: Sequence[tuple[Arrival, Pick]]) -> Named:
    key = slug(grade) or grade or "not-said"
    days = [(arrival.day, pick.day) for arrival, pick in pairs if arrival.day]
    value = days_to_picks([begin for begin, _ in days], [pick for _, pick in days])
    rows = [source for arrival, pick in pairs for source in (arrival.source, pick.source) if source]
    made = figure(
        f"harvest.timing.window.{key}",
        value,
        days_to_picks,
        rows,
        remark("since_stage", stage=milestone.label),
        remark("picks", n=len(pairs)),
    )
    return Named(key, Label(grade) if grade else NOT_SAID, made)


def timing_of(run: Run, harvest: Harvest, milestones: Sequence[MilestoneFacts]) -> HarvestTiming:
    """Days to the first pick, the packet's claim, the length of picking, the window of each grade."""
    sown, sowing_rows = _sowing(run)
    transplanted, transplant_rows = _transplant(run)
    since: dict[str, Figure] = {
        "sowing": _since(run, sown, sowing_rows, harvest, "from_sowing", None),
        "transplant": _since(
            run,
            transplanted,
            transplant_rows,
            harvest,
            "from_transplant",
            remark("transplanting_not_recorded"),
        ),
    }
    return HarvestTiming(
        from_sowing=since["sowing"],
        from_transplant=since["transplant"],
        packet=_packet(run, since),
        picking=_picking(harvest),
        window=_window(run, milestones),
        expected=_expected(
            run, {"sowing": (sown, sowing_rows), "transplant": (transplanted, transplant_rows)}
        ),
    )
