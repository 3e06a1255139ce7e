"""Everything picked by the end of each day, by part where several were picked.

In: the cumulative harvest among the facts. Out: a picture. A pick that nobody weighed stands over the line
as an open diamond, and the line then ends in an arrow: it was at least so much.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from sitegen.core.facts.tree import CumulativePoint, Facts
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.wording import opening
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
from sitegen.plot.marks.series import Say

_COLOUR = "var(--harvest)"
_LAYERS = (
    Layer("line", "upper", _COLOUR, width=1, dash=(4, 3)),
    Layer("line", "steps", _COLOUR, width=2.5),
    Layer("line", "more-steps", _COLOUR, width=2.5, dash=(12, 3)),
    Layer("arrow", "open-ends", _COLOUR),
    Layer("symbol", "points", _COLOUR, size=54),
)
_LIFT = 0.055  # an unweighed pick stands over the line, as a share of the scale: it adds nothing known


def picture(facts: Facts, units: Units, say: Say) -> Picture | None:
    """The chart, where anything was picked."""
    points = sorted(facts.harvest.cumulative, key=lambda p: p.day.middle)
    if not points:
        return None
    runs = _runs(points, facts, say)
    scale = scale_for("mass", units, (run.last for run in runs), room=running.room(runs))
    return Picture(
        title=tr("Harvest so far, {unit}", unit=scale.unit.symbol),
        description=_description(points, facts, say),
        table=_table(points, facts, say),
        unit=scale.unit.symbol,
        top=scale.top,
        scale=scale.ticks,
        layers={
            "upper": running.band(runs, scale),
            "steps": running.steps(runs[:1], scale),
            "more-steps": running.steps(runs[1:], scale),
            "open-ends": running.open_ends(runs, scale),
            "points": tuple(mark for run in runs for mark in _marks(run, points, runs, scale, say)),
        },
        endings=running.endings(runs, scale),
    )


def _runs(points: Sequence[CumulativePoint], facts: Facts, say: Say) -> list[Run]:
    """One running total a part, where picks alone make up the total; else the total as it was measured."""
    parts = list(dict.fromkeys(p.part for p in points))
    until = float(max(facts.axis.last, points[-1].day.last))
    if len(parts) == 1 or not _add_up(points):
        totals = tuple({p.day.middle: p.total for p in points}.items())
        return [_run(parts[0] if len(parts) == 1 else "", totals, until, say)]
    amounts: dict[str, list[tuple[float, Quantity]]] = defaultdict(list)
    for point in points:
        amounts[point.part].append((point.day.middle, point.picked))
    return [_run(part, running.accumulated(amounts[part], Dimension.MASS), until, say) for part in parts]


def _add_up(points: Sequence[CumulativePoint]) -> bool:
    """Whether every pick says its part, and the total is their sum (tallies and `included` picks differ)."""
    summed, said = total((p.picked for p in points), Dimension.MASS), points[-1].total
    tallied = any(_is_tally(p) for p in points)
    return all(p.part for p in points) and not tallied and (summed.low, summed.high) == (said.low, said.high)


def _is_tally(point: CumulativePoint) -> bool:
    """Whether a running total was read off rather than something picked."""
    return point.picked.high == 0


def _run(part: str, totals: tuple[tuple[float, Quantity], ...], until: float, say: Say) -> Run:
    said = tables.briefly(say(totals[-1][1]))
    word = tr(part) if part else ""
    return Run(part, f"{word}: {said}" if part else said, totals, until, word)


def _marks(
    run: Run, points: Sequence[CumulativePoint], runs: Sequence[Run], scale: Scale, say: Say
) -> list[Mark]:
    """A symbol for each pick, on its run's line at the end of its day."""
    levels = dict(run.totals)
    shape = series.shape_of(run.key, [r.key for r in runs])
    found = []
    for point in (p for p in points if p.part == run.key or len(runs) == 1):
        weighed = point.picked.known
        amount = point.total if _is_tally(point) else point.picked
        found.append(
            Mark(
                point.day.middle,
                scale.of(levels[point.day.middle].low) + (0.0 if weighed else _LIFT * scale.top),
                shape if weighed else series.UNWEIGHED,
                _COLOUR if amount.exact else series.OPEN,
                tr(
                    "{day}: {what}",
                    day=opening(point.day.words),
                    what=" ".join(filter(None, _cells(point, say)[:2])),
                ),
            )
        )
    return list(dict.fromkeys(found))


def _description(points: Sequence[CumulativePoint], facts: Facts, say: Say) -> str:
    picked = [p for p in points if not _is_tally(p)]
    days = list(dict.fromkeys(p.day for p in picked or points))
    value = facts.harvest.total.value
    said = say(value) if isinstance(value, Quantity) else say(points[-1].total)
    text = _once(days, said, bool(picked)) if len(days) == 1 else _often(days, said, bool(picked))
    unweighed = sum(not p.picked.known for p in points)
    return f"{text} {_unweighed(unweighed, points[-1].total.high is None)}" if unweighed else text


def _once(days: Sequence[Day], said: str, picked: bool) -> str:
    day = days[0].words
    if picked:
        return tr("Picked on {day}: {amount}.", day=day, amount=said)
    return tr("Tallied on {day}: {amount}.", day=day, amount=said)


def _often(days: Sequence[Day], said: str, picked: bool) -> str:
    places = {"first": days[0].words, "last": days[-1].words, "amount": said, "n": len(days)}
    if picked:
        return tr("Picked on {n} days, from {first} to {last}: {amount}.", **places)
    return tr("Tallied on {n} days, from {first} to {last}: {amount}.", **places)


def _unweighed(number: int, open_ended: bool) -> str:
    if open_ended:
        return tr_n(
            "{n} pick was not weighed: an open diamond, and the line's end is open.",
            "{n} picks were not weighed: open diamonds, and the line's end is open.",
            number,
        )
    return tr_n(
        "{n} pick was not weighed: an open diamond.",
        "{n} picks were not weighed: open diamonds.",
        number,
    )


def _table(points: Sequence[CumulativePoint], facts: Facts, say: Say) -> Table:
    rows = [(p.day, (*_cells(p, say), say(p.total))) for p in points]
    return tables.by_day(facts, (tr("Part"), tr("Picked"), tr("Total so far")), rows)


def _cells(point: CumulativePoint, say: Say) -> tuple[str, str]:
    """What was picked, and how much; a tally says so."""
    amount = tr("tally, {amount}", amount=say(point.total)) if _is_tally(point) else say(point.picked)
    return (tr(point.part) if point.part else "", amount)


CHARTS = (ChartType("harvest", _LAYERS, picture),)
