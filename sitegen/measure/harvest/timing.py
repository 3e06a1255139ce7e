"""How long it took to the first pick, against the packet, and which days gave good picks.

In: a run, its harvest and stages. Out: `HarvestTiming`. Never sets days from sowing beside a claim that counts from
transplanting, nor the other way round.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.facts.figure import Figure, Named
from sitegen.core.facts.indices import HarvestTiming
from sitegen.core.facts.tree import Arrival, Harvest, MilestoneFacts
from sitegen.core.findings.finding import Source
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import slug
from sitegen.core.records.rows import Deed, Event, Pick, Run, Sowing
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.working import day_key, figure, remarks

_DAY_OF_SOWING = Day.on(0)

NOT_SAID = "not said"


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
    run: Run, begin: Day | None, rows: Sequence[Source], harvest: Harvest, name: str, why: str
) -> Figure:
    first, path = harvest.first_pick.value, f"harvest.timing.{name}"
    if not isinstance(first, Day) or begin is None:
        note = why if isinstance(first, Day) else tr("no harvest was logged")
        return figure(path, None, days_from, note=note)
    resown = [e for e in run.rows.of(Sowing) if e.day.first > 0]
    note = tr("a spot was sown again later") if resown and name == "from_sowing" else ""
    return figure(path, days_from(begin, first), days_from, (*rows, *harvest.first_pick.rows), note)


def _days_words(days: Day) -> str:
    """`60 days`, `55–60 days`."""
    span = str(days.first) if days.single else f"{days.first}–{days.last}"
    return tr("about {span} days", span=span) if days.about else tr("{span} days", span=span)


def _from_words(days: Day, begin: str) -> str:
    if begin == "sowing":
        return tr("{days} from sowing", days=_days_words(days))
    return tr("{days} from transplant", days=_days_words(days))


def _packet_words(days: Day, begin: str) -> str:
    if begin == "sowing":
        return tr("the packet says {days} from sowing", days=_days_words(days))
    return tr("the packet says {days} from transplant", days=_days_words(days))


def _packet(run: Run, since: dict[str, Figure]) -> Figure:
    seed, name = run.setup.seed, "harvest.timing.packet"
    claims = seed.claims if seed else None
    if claims is None or claims.days is None:
        return figure(name, None, days_against_claim, note=tr("the packet says no days, or was not kept"))
    if not claims.counted_from:
        return figure(name, None, days_against_claim, note=tr("the packet does not say from when it counts"))
    days = since[claims.counted_from]
    said = _packet_words(claims.days, claims.counted_from)
    if not isinstance(days.value, Quantity):
        return figure(name, None, days_against_claim, note=remarks(said, days.note))
    value = days_against_claim(days.value, claims.days)
    rows = (*days.rows, run.setup.at("seed"))
    return figure(name, value, days_against_claim, rows, remarks(_against(value), said))


def _expected(run: Run, begins: dict[str, tuple[Day | None, tuple[Source, ...]]]) -> Figure:
    seed, name = run.setup.seed, "harvest.timing.expected"
    claims = seed.claims if seed else None
    if claims is None or claims.days is None or not claims.counted_from:
        return figure(name, None, packet_day, note=tr("the packet says no days, or not from when"))
    begin, rows = begins[claims.counted_from]
    if begin is None:
        return figure(name, None, packet_day, note=tr("transplanting: not recorded"))
    note = _from_words(claims.days, claims.counted_from)
    return figure(name, packet_day(begin, claims.days), packet_day, (*rows, run.setup.at("seed")), note)


def _against(difference: Quantity) -> str:
    """`later` or `earlier` where that is certain."""
    if difference.low > 0:
        return tr("later")
    return tr("earlier") if difference.high is not None and difference.high < 0 else ""


def _picking(harvest: Harvest) -> Figure:
    first, last, name = harvest.first_pick.value, harvest.last_pick.value, "harvest.timing.picking"
    if not isinstance(first, Day) or not isinstance(last, Day):
        return figure(name, None, days_from, note=tr("no harvest was logged"))
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
    grades = dict.fromkeys(pick.grade or NOT_SAID for _, pick in pairs)
    return tuple(
        _of_grade(milestone, grade, [pair for pair in pairs if (pair[1].grade or NOT_SAID) == grade])
        for grade in grades
    )


def _of_grade(milestone: MilestoneFacts, grade: str, pairs: Sequence[tuple[Arrival, Pick]]) -> Named:
    key = slug(grade) or grade
    days = [(arrival.day, pick.day) for arrival, pick in pairs if arrival.day]
    value = days_to_picks([begin for begin, _ in days], [pick for _, pick in days])
    rows = [source for arrival, pick in pairs for source in (arrival.source, pick.source) if source]
    note = remarks(tr("since {stage}", stage=milestone.noun), tr_n("{n} pick", "{n} picks", len(pairs)))
    return Named(
        key,
        tr("not said") if grade == NOT_SAID else grade,
        figure(f"harvest.timing.window.{key}", value, days_to_picks, rows, note),
    )


def timing_of(run: Run, harvest: Harvest, milestones: Sequence[MilestoneFacts]) -> HarvestTiming:
    """Days to the first pick, the packet's claim, the length of picking, the window of each grade."""
    sown, sowing_rows = _sowing(run)
    transplanted, transplant_rows = _transplant(run)
    since: dict[str, Figure] = {
        "sowing": _since(run, sown, sowing_rows, harvest, "from_sowing", ""),
        "transplant": _since(
            run, transplanted, transplant_rows, harvest, "from_transplant", tr("transplanting: not recorded")
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
