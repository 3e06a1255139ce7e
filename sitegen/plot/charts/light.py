"""Hours of light a day, as the lamp of each tub was set.

In: the lamps' settings in the log and the light's figures among the facts. Out: a picture. What was set is drawn, not
what was measured; a stretch whose hours nobody wrote down stays empty.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sitegen.core.facts.figure import Rate
from sitegen.core.facts.indices import TubClimate
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.language.text import listed
from sitegen.core.records.rows import Light
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_type import ChartType, Layer
from sitegen.plot.drawing import tables
from sitegen.plot.drawing.picture import Ending, Mark, Picture, Vertex
from sitegen.plot.drawing.scale import Scale, Units, scale_for
from sitegen.plot.marks import series
from sitegen.plot.marks.series import Say

_COLOUR = "var(--light)"
_LAYERS = (
    Layer("line", "upper", _COLOUR, width=1, dash=(4, 3)),
    Layer("line", "steps", _COLOUR, width=2.5),
    Layer("line", "more-steps", _COLOUR, width=2.5, dash=(12, 3)),
    Layer("symbol", "points", _COLOUR),
)
_OFF = exactly(0, Dimension.DURATION)


@dataclass(frozen=True, slots=True)
class _Setting:
    """One setting of a tub's lamp, from its day to the next setting or the last entry."""

    day: Day
    until: float
    hours: Quantity | None
    lamp: str


def picture(facts: Facts, units: Units, say: Say) -> Picture | None:
    """The chart, where the hours of any lamp are known."""
    tubs = _settings(facts)
    known = [s.hours for settings in tubs.values() for s in settings if s.hours]
    if not known:
        return None
    scale = scale_for(Dimension.DURATION, units, known, room=0.2)
    runs = _together(tubs)
    return Picture(
        title=tr("Light, {unit} a day", unit=tr(scale.unit.symbol)),
        description=_description(tubs, facts, say),
        table=_table(tubs, facts, say),
        unit=scale.unit.symbol,
        top=scale.top,
        scale=scale.ticks,
        height=120.0,
        layers={
            "steps": _steps(runs[:1], scale, upper=False),
            "more-steps": _steps(runs[1:], scale, upper=False),
            "upper": _steps(runs, scale, upper=True),
            "points": tuple(mark for tubs_, run in runs for mark in _marks(tubs_, run, scale, facts, say)),
        },
        endings=tuple(_ending(tubs_, run, len(runs), scale, facts, say) for tubs_, run in runs),
    )


_Run = tuple[tuple[str, ...], tuple[_Setting, ...]]


def _settings(facts: Facts) -> dict[str, tuple[_Setting, ...]]:
    """The settings of each tub in the order of days; of two on one day the later one counts."""
    by_tub: dict[str, list[Light]] = defaultdict(list)
    for light in sorted(facts.run.rows.lights, key=lambda light: light.day.middle):
        for tub in [light.tub] if light.tub else tables.tub_ids(facts):
            by_tub[tub].append(light)
    last = float(facts.axis.last)
    found = {}
    for tub, lights in by_tub.items():
        ends = [*(light.day.middle for light in lights[1:]), max(last, lights[-1].day.middle)]
        pairs = zip(lights, ends, strict=True)
        found[tub] = tuple(
            _setting(light, end) for light, end in pairs if end > light.day.middle or light is lights[-1]
        )
    return found


def _setting(light: Light, until: float) -> _Setting:
    hours = _OFF if light.use.off else light.use.hours
    return _Setting(light.day, until, hours, light.use.lamp.name if light.use.lamp else "")


def _together(tubs: dict[str, tuple[_Setting, ...]]) -> list[_Run]:
    """Tubs lit for the same hours share a line."""
    same: dict[tuple[object, ...], list[str]] = defaultdict(list)
    for tub, settings in tubs.items():
        same[tuple((s.day, s.hours) for s in _changed(settings))].append(tub)
    return [(tuple(names), tubs[names[0]]) for names in same.values()]


def _changed(settings: Sequence[_Setting]) -> list[_Setting]:
    """The first setting, and those that changed the hours."""
    return [*settings[:1], *(new for old, new in pairwise(settings) if new.hours != old.hours)]


def _steps(runs: Iterable[_Run], scale: Scale, *, upper: bool) -> list[Vertex]:
    """Level stretches joined by upright ones; the upper line only where hours are a range."""
    corners = []
    for names, settings in runs:
        for piece, stretch in enumerate(_unbroken(settings)):
            if upper and all(s.hours and s.hours.high in (s.hours.low, None) for s in stretch):
                continue
            for s in stretch:
                level = scale.of(_bound(s, upper=upper))
                key = f"{names[0]} {piece}"
                corners += [Vertex(key, s.day.middle, level), Vertex(key, s.until, level)]
    return corners


def _unbroken(settings: Sequence[_Setting]) -> list[list[_Setting]]:
    """Settings cut where the hours are not known."""
    pieces: list[list[_Setting]] = [[]]
    for setting in settings:
        if setting.hours is None:
            pieces.append([])
        else:
            pieces[-1].append(setting)
    return [piece for piece in pieces if piece]


def _bound(setting: _Setting, *, upper: bool) -> float:
    hours = setting.hours or _OFF
    return hours.high if upper and hours.high is not None else hours.low


def _marks(
    tubs: tuple[str, ...], settings: Sequence[_Setting], scale: Scale, facts: Facts, say: Say
) -> list[Mark]:
    """A symbol where a setting began."""
    where = f"{_names(tubs, facts)}, " if len(tables.tub_ids(facts)) > 1 else ""
    return [
        Mark(
            s.day.middle,
            scale.of(s.hours.middle),
            series.shape_of(tubs[0], tables.tub_ids(facts)),
            _COLOUR if s.hours.exact else series.OPEN,
            where + tr("from {day}: {what}", day=s.day.words, what=_said(s, say)),
        )
        for s in _changed(settings)
        if s.hours
    ]


def _said(setting: _Setting, say: Say) -> str:
    text = _hours(setting, say)
    return f"{text}, {setting.lamp}" if setting.lamp and setting.hours is not None else text


def _names(tubs: Sequence[str], facts: Facts) -> str:
    return listed([tables.tub_label(tub, facts) for tub in tubs])


def _ending(
    tubs: tuple[str, ...], settings: Sequence[_Setting], several: int, scale: Scale, facts: Facts, say: Say
) -> Ending:
    last = next(s for s in reversed(settings) if s.hours)
    said = tr_c("a lamp", "off") if last.hours == _OFF else say(last.hours or _OFF)
    name = f"{_names(tubs, facts)}: {said}" if several > 1 else said
    return Ending(last.until, scale.of(_bound(last, upper=True)), name, strong=True, since=last.day.middle)


def _description(tubs: dict[str, tuple[_Setting, ...]], facts: Facts, say: Say) -> str:
    runs = _together(tubs)
    texts = [_changes(names, run, facts, say, several=len(runs) > 1) for names, run in runs]
    unlit = [tub for tub in tables.tub_ids(facts) if tub not in tubs]
    if unlit:
        texts.append(tr("Not recorded for {tubs}.", tubs=_names(unlit, facts)))
    texts.append(tr("As the lamp was set: hours by the timer, not measured."))
    texts += [_sum(tub, say, several=len(facts.climate.tubs) > 1) for tub in facts.climate.tubs]
    return " ".join(filter(None, texts))


def _sum(tub: TubClimate, say: Say, *, several: bool) -> str:
    """The light of a tub a day and in all, where the lamp's strength is known; else why not."""
    daily, whole = tub.dli.value, tub.light_sum.value
    where = f"{tub.label}: " if several else ""
    note = f" ({tub.dli.note})" if tub.dli.note else ""
    if isinstance(daily, Rate) and isinstance(whole, Quantity):
        each = tr("{amount} a {time}", amount=say(daily.amount), time=tr(daily.per))
        return f"{where}{each}, {tr('{amount} in all', amount=say(whole))}{note}."
    return f"{where}{tr('Sum of light: not recorded')}{note}." if note else ""


def _changes(
    names: tuple[str, ...], run: Sequence[_Setting], facts: Facts, say: Say, *, several: bool
) -> str:
    """The settings in a sentence."""
    parts = [tr("{what} from {day}", what=_hours(new, say), day=new.day.words) for new in _changed(run)]
    where = f"{_names(names, facts)}: " if several else ""
    said = tr(
        "{settings}, to the last entry on day {day}.", settings=listed(parts, "then"), day=facts.axis.last
    )
    return where + said


def _hours(setting: _Setting, say: Say) -> str:
    if setting.hours is None:
        return tr("hours not recorded")
    if setting.hours == _OFF:
        return tr_c("a lamp", "off")
    return tr("{amount} a {time}", amount=say(setting.hours), time=tr("day"))


def _table(tubs: dict[str, tuple[_Setting, ...]], facts: Facts, say: Say) -> Table:
    rows = [
        (s.day, (tables.tub_label(tub, facts), _hours(s, say), s.lamp))
        for tub, settings in tubs.items()
        for s in settings
    ]
    return tables.by_day(facts, (tr("Tub"), tr("Light"), tr("Lamp")), rows)


CHARTS = (ChartType("light", _LAYERS, picture),)
