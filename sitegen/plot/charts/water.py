"""Water by day: a bar for each addition, a line for everything added so far, tub by tub.

In: the additions among the facts. Out: a picture. An addition that nobody measured stands on the ground as
an open diamond, and the line then ends in an arrow.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from sitegen.core.facts.figure import Rate
from sitegen.core.facts.tree import Facts, PlotPoint
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_type import ChartType, Layer
from sitegen.plot.drawing import tables
from sitegen.plot.drawing.picture import Mark, Picture
from sitegen.plot.drawing.scale import Scale, Units, scale_for
from sitegen.plot.marks import running, series
from sitegen.plot.marks.running import Run
from sitegen.plot.marks.series import Point, Say

_COLOUR = "var(--water)"
_LAYERS = (
    Layer("bar", "bars", _COLOUR, width=4),
    Layer("bar", "ranges", _COLOUR, width=8, opacity=0.4),
    Layer("arrow", "arrows", _COLOUR),
    Layer("span", "spans", _COLOUR),
    Layer("line", "upper", _COLOUR, width=1, dash=(4, 3)),
    Layer("line", "steps", _COLOUR, width=1.5),
    Layer("line", "more-steps", _COLOUR, width=1.5, dash=(12, 3)),
    Layer("arrow", "open-ends", _COLOUR),
    Layer("symbol", "points", _COLOUR, size=40),
    Layer("symbol", "turns", _COLOUR, size=60),
)
_APART = 7.0  # between the bars of two tubs on one day, in units of the drawing


def picture(facts: Facts, units: Units, say: Say) -> Picture | None:
    """The chart, where any water was added."""
    added = sorted(facts.solution.added, key=lambda p: p.day.middle)
    if not added:
        return None
    runs = _runs(added, facts, say)
    scale = scale_for("water", units, (run.last for run in runs), room=running.room(runs))
    points = _points(added, facts, say)
    return Picture(
        title=tr("Water added, {unit}", unit=scale.unit.symbol),
        description=" ".join([_description(added, say), *_uptakes(facts, say)]),
        table=_table(added, facts, say),
        unit=scale.unit.symbol,
        top=scale.top,
        scale=scale.ticks,
        layers={
            "bars": series.bars(points, scale),
            "ranges": series.ranges(points, scale),
            "arrows": series.arrows(points, scale),
            "spans": series.day_spans(points, scale),
            "upper": running.band(runs, scale),
            "steps": running.steps(runs[:1], scale),
            "more-steps": running.steps(runs[1:], scale),
            "open-ends": running.open_ends(runs, scale),
            "points": (*series.marks(points, scale, _COLOUR), *series.unmeasured(points)),
            "turns": _turns(runs, tables.tub_ids(facts), scale),
        },
        endings=running.endings(runs, scale),
    )


def _runs(added: Sequence[PlotPoint], facts: Facts, say: Say) -> list[Run]:
    """One running total a tub."""
    amounts: dict[str, list[tuple[float, Quantity]]] = defaultdict(list)
    for point in added:
        amounts[point.subject].append((point.day.middle, point.value))
    until = float(max(facts.axis.last, added[-1].day.last))
    runs = []
    for tub, known in amounts.items():
        totals = running.accumulated(known, Dimension.VOLUME)
        said = tables.briefly(say(totals[-1][1]))
        label = tables.tub_label(tub, facts) if len(amounts) > 1 else ""
        name = f"{label}: {said}" if label else tr("{amount} in all", amount=said)
        taken = _uptake(tub, facts)
        more = f", {_rate(taken, tables.briefly(say(taken.amount)))}" if taken else ""
        runs.append(Run(tub, name + more, totals, until, label or (name if more else "")))
    return runs


def _uptake(tub: str, facts: Facts) -> Rate | None:
    """What a tub's plants took up in a day, where its refills show it."""
    value = next((t.uptake.per_day.value for t in facts.solution.tubs if t.key == tub), None)
    return value if isinstance(value, Rate) else None


def _rate(taken: Rate, said: str) -> str:
    return tr("{amount} a {time} taken up", amount=said, time=tr(taken.per))


def _uptakes(facts: Facts, say: Say) -> list[str]:
    """The same in words, tub by tub."""
    texts = []
    for tub in facts.solution.tubs:
        rate, note = _uptake(tub.key, facts), tub.uptake.per_day.note
        if rate:
            amount = tr("{amount} a {time}", amount=say(rate.amount), time=tr(rate.per))
            said = f"{amount} ({note})" if note else amount
            texts.append(_taken(said, tub.label if len(facts.solution.tubs) > 1 else ""))
    return texts


def _taken(amount: str, tub: str) -> str:
    if tub:
        return tr("{tub}: taken up between fillings {amount}.", tub=tub, amount=amount)
    return tr("Taken up between fillings {amount}.", amount=amount)


def _points(added: Sequence[PlotPoint], facts: Facts, say: Say) -> list[Point]:
    """What went into each tub on each day, side by side where there are several."""
    together: dict[tuple[Day, str], list[Quantity]] = defaultdict(list)
    for point in added:
        together[point.day, point.subject].append(point.value)
    tubs = tables.tub_ids(facts)
    subjects = list(dict.fromkeys(p.subject for p in added))
    points = []
    for (day, tub), amounts in together.items():
        value = total(amounts, Dimension.VOLUME)
        where = f"{tables.tub_label(tub, facts)}, " if len(subjects) > 1 else ""
        shift = _APART * (subjects.index(tub) - (len(subjects) - 1) / 2)
        text = where + tr("{day}: {what}", day=day.words, what=say(value))
        points.append(Point(day, value, text, series.shape_of(tub, tubs), shift))
    return points


def _turns(runs: Sequence[Run], tubs: Sequence[str], scale: Scale) -> tuple[Mark, ...]:
    """Where there are several lines, their tub's symbol at their end."""
    if len(runs) < 2:
        return ()
    return tuple(
        Mark(run.until, scale.of(run.last.low), series.shape_of(run.key, tubs), _COLOUR, run.name)
        for run in runs
    )


def _description(added: Sequence[PlotPoint], say: Say) -> str:
    days = len({p.day for p in added})
    known = total((p.value for p in added), Dimension.VOLUME)
    text = tr_n("Added on {n} day: {amount}.", "Added on {n} days: {amount}.", days, amount=say(known))
    unmeasured = sum(not p.value.known for p in added)
    return f"{text} {_unmeasured(unmeasured)}" if unmeasured else text


def _unmeasured(number: int) -> str:
    return tr_n(
        "{n} addition was not measured: an open diamond, and the line's end is open.",
        "{n} additions were not measured: open diamonds, and the line's end is open.",
        number,
    )


def _table(added: Sequence[PlotPoint], facts: Facts, say: Say) -> Table:
    so_far: dict[str, list[Quantity]] = defaultdict(list)
    rows = []
    for point in added:
        so_far[point.subject].append(point.value)
        sum_now = total(so_far[point.subject], Dimension.VOLUME)
        rows.append((point.day, (tables.tub_label(point.subject, facts), say(point.value), say(sum_now))))
    return tables.by_day(facts, (tr("Tub"), tr("Added"), tr("Total so far")), rows)


CHARTS = (ChartType("water", _LAYERS, picture),)
