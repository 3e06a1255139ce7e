"""Water by day: a bar for each addition, a line for everything added so far, tub by tub.

In: the additions and routines among the facts. Out: the data of a chart. An addition that nobody measured stands on
the ground as an open diamond, and the line then ends in an arrow, as it does where a routine added water that was not
logged.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from sitegen.core.facts.figure import Rate, remark
from sitegen.core.facts.tree import PlotPoint
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.language.text import tub_words
from sitegen.core.language.wording import opening
from sitegen.core.site.chart import Table
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import ChartData, Symbol
from sitegen.plot.chart_type import ChartInput, ChartType, Layer, days_note, too_few
from sitegen.plot.marks import point_marks, running_totals
from sitegen.plot.marks.point_marks import Point, grouped
from sitegen.plot.marks.running_totals import RunningTotal, Steps, Sums
from sitegen.plot.numbers_table import numbers_table, quantity_cells, quantity_heads
from sitegen.plot.scale import Scale, scale_for

_COLOUR = "var(--water)"
_LAYERS = (
    Layer("area", "bar-boxes", _COLOUR, opacity=0.3),
    Layer("bar", "bars", _COLOUR, width=4),
    Layer("bar", "ranges", _COLOUR, width=8, opacity=0.4),
    Layer("arrow", "arrows", _COLOUR),
    *running_totals.total_layers_of(_COLOUR, width=1.5),
    *point_marks.day_layers(_COLOUR),
    Layer("symbol", "points", _COLOUR, size=40),
    Layer("symbol", "turns", _COLOUR, size=60),
)
_APART = 7.0  # between the bars of two tubs on one day, in units of the drawing


def water(given: ChartInput) -> ChartData | None:
    """The chart, where any water was added."""
    added = sorted(given.facts.solution.added, key=lambda p: p.day.key)
    if not added:
        return None
    totals = _totals(added, given)
    scale = scale_for(
        "water", given.units, (each.last for each in totals), room=running_totals.headroom(totals)
    )
    points = _points(added, totals, given)
    return ChartData(
        title=tr("Water added, {unit}", unit=scale.unit.symbol),
        caption=" ".join([_found(added, given), *_uptakes(given)]),
        description=" ".join(
            filter(
                None,
                [
                    _found(added, given),
                    _unmeasured(added),
                    *_uptakes(given),
                    days_note(p.day for p in added),
                ],
            )
        ),
        said=" ".join([_found(added, given), *_uptakes(given)]) if too_few(p.day for p in added) else "",
        table=_table(added, given),
        axis=scale.axis,
        layers={
            **point_marks.layers(points, scale, _COLOUR),
            **running_totals.layers(totals, scale),
            **point_marks.bars(points, scale),
            "turns": _line_ends(totals, scale, given),
        },
        point_labels=running_totals.names(totals, scale),
    )


def _totals(added: Sequence[PlotPoint], given: ChartInput) -> list[RunningTotal]:
    """One running total a tub; its name has the uptake a day where refills show it."""
    amounts = grouped(added, lambda point: point.subject)
    until = max(given.last_day, *(p.day.reach[1] for p in added))
    uptakes = {tub.key: tub.uptake.per_day.value for tub in given.facts.solution.tubs}
    totals = []
    for tub, known in amounts.items():
        since = _topped_up_since(tub, given)
        summed = running_totals.summed(((p.day, p.value) for p in known), Dimension.VOLUME)
        sums = Sums(_opened(summed.least, since, until), _opened(summed.most, since, until), summed.uncertain)
        said = given.short_sum(sums.least[-1][1])
        label = given.tub_label(tub) if len(amounts) > 1 else ""
        name = full = f"{label}: {said}" if label else tr("{amount} in all", amount=said)
        rate = uptakes.get(tub)
        if isinstance(rate, Rate):
            amount = given.short_text(rate.amount)
            full = f"{name}, {tr('{amount} a {time} used', amount=amount, time=tr(rate.per))}"
        totals.append(RunningTotal(tub, full, sums, until, label or (name if full != name else "")))
    return totals


def _topped_up_since(tub: str, given: ChartInput) -> float:
    """The day from which a routine may have added water that was not logged to a tub."""
    routines = [r for r in given.facts.run.rows.routines if r.tops_up and r.tub in ("", tub)]
    return min((routine.day.first for routine in routines), default=math.inf)


def _opened(sums: Steps, since: float, until: float) -> Steps:
    """Sums that hold at a day or later as lower bounds."""
    ends = [*(day for day, _ in sums[1:]), until + 1]
    return tuple(
        (day, replace(value, high=None) if end > since else value)
        for (day, value), end in zip(sums, ends, strict=True)
    )


def _uptakes(given: ChartInput) -> list[str]:
    """The uptake a day of each tub, in words."""
    texts, tubs = [], given.facts.solution.tubs
    for tub in tubs:
        rate, note = tub.uptake.per_day.value, remarks_words(tub.uptake.per_day.remarks)
        if isinstance(rate, Rate):
            said = tr("{amount} a {time}", amount=given.in_sentence(rate.amount), time=tr(rate.per))
            amount = f"{said} ({note})" if note else said
            texts.append(
                tr(
                    "{tub}: water used, going by the refills, {amount}.",
                    tub=opening(tub_words(tub.label)),
                    amount=amount,
                )
                if len(tubs) > 1
                else tr("Water used, going by the refills: {amount}.", amount=amount)
            )
    return texts


def _points(added: Sequence[PlotPoint], totals: Sequence[RunningTotal], given: ChartInput) -> list[Point]:
    """The water added to each tub on each day, side by side where there are several tubs."""
    together = grouped(added, lambda point: (point.day, point.subject))
    filled = list(dict.fromkeys(p.subject for p in added))
    sums = {each.key: each.sums for each in totals}
    points = []
    for (day, tub), parts in together.items():
        value = total((p.value for p in parts), Dimension.VOLUME)
        where = f"{given.tub_label(tub)}, " if len(filled) > 1 else ""
        shift = _APART * (filled.index(tub) - (len(filled) - 1) / 2)
        what = given.say(value)
        if len(parts) > 1:
            times = tr_n("{n} addition", "{n} additions", len(parts))
            what = tr("{times}, {amount}", times=times, amount=what)
        so_far = sums[tub].so_far(day.reach[1]) if day.first > sums[tub].least[0][0] else None
        title = opening(where + given.day_title(day, what, [p.value for p in parts], so_far))
        points.append(Point(day, value, title, point_marks.shape_of(tub, given.tubs), shift))
    return points


def _line_ends(totals: Sequence[RunningTotal], scale: Scale, given: ChartInput) -> list[Symbol]:
    """Where there are several lines, their tub's symbol at their end."""
    return [
        Symbol(
            each.until,
            scale.of(each.last.low),
            point_marks.shape_of(each.key, given.tubs),
            _COLOUR,
            each.name,
        )
        for each in totals
        if len(totals) > 1
    ]


def _found(added: Sequence[PlotPoint], given: ChartInput) -> str:
    """The days and the sum."""
    days = len({p.day for p in added})
    whole, by_routine = total((p.value for p in added), Dimension.VOLUME), remark("water_by_routine")
    routine = by_routine in given.facts.solution.water.remarks
    amount = given.in_sentence(replace(whole, high=None) if routine else whole)
    text = tr_n(
        "Water added on {n} day: {amount}.", "Water added on {n} days: {amount}.", days, amount=amount
    )
    return f"{text} {opening(remarks_words([by_routine]))}." if routine else text


def _unmeasured(added: Sequence[PlotPoint]) -> str:
    """How additions that nobody measured are drawn."""
    unmeasured = sum(not p.value.known for p in added)
    if not unmeasured:
        return ""
    if not all(p.day.exact for p in added if not p.value.known):
        return tr_n(
            "{n} amount was not measured, and the line is left open at its end.",
            "{n} amounts were not measured, and the line is left open at its end.",
            unmeasured,
        )
    return tr_n(
        "{n} amount was not measured: an open diamond marks it, and the line is left open at its end.",
        "{n} amounts were not measured: open diamonds mark them, and the line is left open at its end.",
        unmeasured,
    )


def _table(added: Sequence[PlotPoint], given: ChartInput) -> Table:
    """Each addition, with the total of its tub by then."""
    so_far: dict[str, list[Quantity]] = defaultdict(list)
    rows = []
    for point in added:
        so_far[point.subject].append(point.value)
        sum_now = total(so_far[point.subject], Dimension.VOLUME)
        if point.day.last > _topped_up_since(point.subject, given):
            sum_now = replace(sum_now, high=None)
        cells = (point.subject, *quantity_cells(point.value), *quantity_cells(sum_now))
        rows.append((point.day, cells))
    heads = (*quantity_heads("added", Dimension.VOLUME), *quantity_heads("so_far", Dimension.VOLUME))
    return numbers_table(("tub", *heads), rows, given.start)


CHARTS = (ChartType("water", _LAYERS, water),)
