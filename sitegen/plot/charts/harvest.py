"""Everything picked by the end of each day, by part where several were picked.

In: the cumulative harvest among the facts. Out: the data of a chart. A pick that nobody weighed stands over the line
as an open diamond, and the line then ends in an arrow: it was at least so much. Over the days on which a pick can have
been, a band lies between the least and the most that was picked by then. What happened meanwhile is pinned on top.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.facts.tree import CumulativePoint
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import day_words
from sitegen.core.language.wording import opening
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.plot import stretch
from sitegen.plot.chart_data import ChartData, Layers, Row, Span, Symbol
from sitegen.plot.chart_type import ChartInput, ChartType, Layer, days_note, too_few
from sitegen.plot.marks import event_marks, point_marks, running_totals
from sitegen.plot.marks.point_marks import grouped
from sitegen.plot.marks.running_totals import RunningTotal, Sums
from sitegen.plot.numbers_table import numbers_table, quantity_cells, quantity_heads
from sitegen.plot.scale import Scale, scale_for

_COLOUR = "var(--harvest)"
_LAYERS = (
    event_marks.THREADS,
    *running_totals.total_layers_of(_COLOUR, width=2.5),
    *point_marks.day_layers(_COLOUR)[1:],
    Layer("symbol", "points", _COLOUR, size=54),
    *event_marks.EVENT_LAYERS,
)
_FOR_EVENTS = 0.16  # the share of the scale over the total in which events are pinned
_LIFT = 0.055  # an unweighed pick stands over the line, as a share of the scale: it adds nothing known


def harvest(given: ChartInput) -> ChartData | None:
    """The chart, where anything was picked."""
    points = given.facts.harvest.cumulative
    if not points:
        return None
    totals = _totals(points, given)
    begins = _begins(points, given)
    events = [mark for mark in event_marks.event_marks(given.facts) if mark.day.reach[0] >= begins]
    room = running_totals.headroom(totals) + (_FOR_EVENTS if events else 0.0)
    scale = scale_for("mass", given.units, (each.last for each in totals), room=room)
    return ChartData(
        title=tr("Harvest so far, {unit}", unit=scale.unit.symbol),
        caption=_found(points, given),
        description=" ".join(
            filter(
                None,
                (
                    _found(points, given),
                    _open_points(points),
                    tr("Drawn from day {day} on: nothing was picked before that.", day=begins)
                    if begins
                    else "",
                    event_marks.sentence(events),
                    days_note([*(p.day for p in points), *(mark.day for mark in events)]),
                ),
            )
        ),
        said=_said(points, given),
        begins=begins,
        table=_table(points, given),
        axis=scale.axis,
        layers={
            **running_totals.layers(totals, scale),
            **_marks(points, totals, scale, given),
            **event_marks.layers(events, scale.top),
        },
        point_labels=(*running_totals.names(totals, scale), *event_marks.names(events, scale.top)),
    )


def _begins(points: Sequence[CumulativePoint], given: ChartInput) -> int:
    """The first day drawn; what a tally counts may have been picked on any day before."""
    if any(_is_tally(point) for point in points):
        return 0
    return stretch.begins(min(point.day.reach[0] for point in points), given.facts.axis)


def _totals(points: Sequence[CumulativePoint], given: ChartInput) -> list[RunningTotal]:
    """One running total a part, where picks alone make up the total; else the total as it was measured."""
    parts = list(dict.fromkeys(p.part for p in points))
    until = max(given.last_day, *(p.day.reach[1] for p in points))
    if len(parts) == 1 or not _add_up(points):
        sums = _sums(points)
        return [_total(parts[0] if len(parts) == 1 else "", sums, until, given)]
    totals = []
    for part, picks in grouped(points, lambda point: point.part).items():
        amounts = ((pick.day, pick.picked) for pick in picks)
        totals.append(_total(part, running_totals.summed(amounts, Dimension.MASS), until, given))
    return totals


def _sums(points: Sequence[CumulativePoint]) -> Sums:
    """The total as it was measured; of picks on uncertain days that make it up, their sums."""
    if all(p.day.exact for p in points) or not _is_sum(points):
        return running_totals.read_off([(p.day, p.total) for p in points])
    return running_totals.summed(((p.day, p.picked) for p in points), Dimension.MASS)


def _add_up(points: Sequence[CumulativePoint]) -> bool:
    """Whether every pick says its part, and the total is their sum."""
    return all(p.part for p in points) and _is_sum(points)


def _is_sum(points: Sequence[CumulativePoint]) -> bool:
    """Whether the total is the sum of the picks (tallies and `included` picks differ)."""
    summed, said = total((p.picked for p in points), Dimension.MASS), points[-1].total
    return not any(_is_tally(p) for p in points) and (summed.low, summed.high) == (said.low, said.high)


def _is_tally(point: CumulativePoint) -> bool:
    """Whether a running total was read off rather than something picked."""
    return point.picked.high == 0


def _total(part: str, sums: Sums, until: float, given: ChartInput) -> RunningTotal:
    said, word = given.short_sum(sums.least[-1][1]), tr(part) if part else ""
    return RunningTotal(part, f"{word}: {said}" if part else said, sums, until, word)


def _marks(
    points: Sequence[CumulativePoint], totals: Sequence[RunningTotal], scale: Scale, given: ChartInput
) -> Layers:
    """A symbol for all that was picked on a day, on its total's line; a level bar where the day is uncertain."""
    found: dict[str, list[Row]] = {"points": [], "spans": [], "open-spans": []}
    for of in totals:
        shape = point_marks.shape_of(of.key, [each.key for each in totals])
        own = [p for p in points if p.part == of.key or len(totals) == 1]
        for day, picks in grouped(own, lambda pick: pick.day).items():
            exact = all((p.total if _is_tally(p) else p.picked).exact for p in picks)
            weighed = any(p.picked.known for p in picks)
            level = scale.of(of.sums.level(day.reach[1])) + (0.0 if weighed else _LIFT * scale.top)
            title = opening(_title(day, picks, of.sums, given))
            if not day.exact:
                found["spans" if exact else "open-spans"].append(Span(*day.reach, level, title))
                continue
            unweighed = any(not p.picked.known for p in picks)
            fill, drawn = (
                _COLOUR if exact else point_marks.OPEN,
                point_marks.UNWEIGHED if unweighed else shape,
            )
            found["points"].append(Symbol(day.first, level, drawn, fill, title))
    return {layer: tuple(rows) for layer, rows in found.items()}


def _title(day: Day, picks: Sequence[CumulativePoint], sums: Sums, given: ChartInput) -> str:
    """The picks of a day, with their sum and the total by then; a tally is the total."""
    tallies, picked = [p for p in picks if _is_tally(p)], [p for p in picks if not _is_tally(p)]
    so_far = sums.so_far(day.reach[1]) if not tallies and day.first > sums.least[0][0] else None
    tallied = [_cells(p, given)[1] for p in tallies]
    if not picked:
        return given.day_title(day, ", ".join(tallied), (), so_far)
    whole = total((p.picked for p in picked), Dimension.MASS)
    parts = list(dict.fromkeys(p.part for p in picked))
    amount = given.say(whole) if len(picked) == 1 else given.short_text(whole)
    what = " ".join(filter(None, (tr(parts[0]) if len(parts) == 1 and parts[0] else "", amount)))
    if len(picked) > 1:
        what = tr("{times}, {amount}", times=tr_n("{n} pick", "{n} picks", len(picked)), amount=what)
    return given.day_title(day, ", ".join([what, *tallied]), [p.picked for p in picked], so_far)


def _said(points: Sequence[CumulativePoint], given: ChartInput) -> str:
    """A sentence in place of the chart, where there were few days of picking."""
    if not too_few(point.day for point in points):
        return ""
    unweighed = sum(not p.picked.known for p in points)
    note = tr_n("{n} pick was not weighed.", "{n} picks were not weighed.", unweighed) if unweighed else ""
    return " ".join(filter(None, (_found(points, given), note)))


def _found(points: Sequence[CumulativePoint], given: ChartInput) -> str:
    """The days and the total."""
    picked = [p for p in points if not _is_tally(p)]
    days = [day_words(day) for day in dict.fromkeys(p.day for p in picked or points)]
    value = given.facts.harvest.total.value
    amount = given.in_sentence(value if isinstance(value, Quantity) else points[-1].total)
    places = {"first": days[0], "last": days[-1], "amount": amount, "n": len(days)}
    if len(days) == 1:
        return (
            tr("Picked on {day}: {amount}.", day=days[0], amount=amount)
            if picked
            else tr("Total so far, on {day}: {amount}.", day=days[0], amount=amount)
        )
    if picked:
        return tr("Picked on {n} days, from {first} to {last}: {amount}.", **places)
    return tr("Totals noted on {n} days, from {first} to {last}: {amount}.", **places)


def _open_points(points: Sequence[CumulativePoint]) -> str:
    """How picks that nobody weighed are drawn."""
    unweighed = [p for p in points if not p.picked.known]
    open_ended, certain = points[-1].total.high is None, all(p.day.exact for p in unweighed)
    return _unweighed(len(unweighed), open_ended, certain) if unweighed else ""


def _unweighed(number: int, open_ended: bool, certain: bool) -> str:
    """The picks that nobody weighed; those of certain days alone are diamonds."""
    if not certain:
        if open_ended:
            return tr_n(
                "{n} pick was not weighed, and the line is left open at its end.",
                "{n} picks were not weighed, and the line is left open at its end.",
                number,
            )
        return tr_n("{n} pick was not weighed.", "{n} picks were not weighed.", number)
    if open_ended:
        return tr_n(
            "{n} pick was not weighed: an open diamond marks it, and the line is left open at its end.",
            "{n} picks were not weighed: open diamonds mark them, and the line is left open at its end.",
            number,
        )
    return tr_n(
        "{n} pick was not weighed: an open diamond marks it.",
        "{n} picks were not weighed: open diamonds mark them.",
        number,
    )


def _table(points: Sequence[CumulativePoint], given: ChartInput) -> Table:
    """Each pick and tally, with the total by then; a tally picks nothing."""
    heads = (*quantity_heads("harvest", Dimension.MASS), *quantity_heads("so_far", Dimension.MASS))
    rows = [
        (
            p.day,
            (
                p.part,
                *(("", "", "tally") if _is_tally(p) else quantity_cells(p.picked)),
                *quantity_cells(p.total),
            ),
        )
        for p in points
    ]
    return numbers_table(("part", *heads), rows, given.start)


def _cells(point: CumulativePoint, given: ChartInput) -> tuple[str, str]:
    """The part picked and the amount; a tally is named as one."""
    said = (
        tr("total so far, {amount}", amount=given.say(point.total))
        if _is_tally(point)
        else given.say(point.picked)
    )
    return (tr(point.part) if point.part else "", said)


CHARTS = (ChartType("harvest", _LAYERS, harvest),)
