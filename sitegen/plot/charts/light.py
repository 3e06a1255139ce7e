"""Hours of light a day, as the lamp of each tub was set.

In: the lamps' settings in the log and the light's figures among the facts. Out: the data of a chart. What was set is
drawn, not what was measured; a stretch whose hours nobody wrote down stays empty. Over the days on which a change may
lie both levels are drawn, with a band between them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sitegen.core.facts.figure import Rate
from sitegen.core.facts.indices import TubClimate
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.language.text import day_words, listed
from sitegen.core.records.routines import Light
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day, in_turn
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.plot.chart_data import LOW_HEIGHT, Area, ChartData, Layers, PointLabel, Span, Symbol, Vertex
from sitegen.plot.chart_type import ChartInput, ChartType, Layer, as_sentence, days_note, too_few
from sitegen.plot.marks import point_marks
from sitegen.plot.marks.point_marks import grouped
from sitegen.plot.numbers_table import numbers_table, quantity_cells, quantity_heads
from sitegen.plot.scale import Scale, scale_for

_COLOUR = "var(--light)"
_LAYERS = (
    Layer("area", "changes", _COLOUR, opacity=0.25),
    Layer("span", "or-levels", _COLOUR, width=1.5, dash=(2, 3)),
    Layer("line", "upper", _COLOUR, width=1, dash=(4, 3)),
    Layer("line", "steps", _COLOUR, width=2.5),
    Layer("line", "more-steps", _COLOUR, width=2.5, dash=(12, 3)),
    Layer("span", "spans", _COLOUR, width=5, opacity=0.6),
    Layer("span", "open-spans", _COLOUR, width=5, opacity=0.6, dash=(3, 3)),
    Layer("symbol", "points", _COLOUR),
)
_OFF = exactly(0, Dimension.DURATION)


@dataclass(frozen=True, slots=True)
class _Setting:
    """One setting of a tub's lamp: the day as written, the days that it can have begun on, and those of its end."""

    day: Day
    since: Day
    until: Day
    hours: Quantity | None
    lamp: str

    def hours_text(self, given: ChartInput) -> str:
        """Its hours in words."""
        if self.hours is None:
            return tr("hours not recorded")
        if self.hours == _OFF:
            return tr_c("a lamp", "off")
        return tr("{amount} a {time}", amount=given.say(self.hours), time=tr("day"))


@dataclass(frozen=True, slots=True)
class _Course:
    """The settings of tubs that are lit for the same hours, which share a line."""

    tubs: tuple[str, ...]
    settings: Sequence[_Setting]


_Lit = tuple[_Setting, Quantity]  # a setting and its hours


def light(given: ChartInput) -> ChartData | None:
    """The chart, where the hours of any lamp are known."""
    by_tub = _settings(given)
    known = [s.hours for settings in by_tub.values() for s in settings if s.hours]
    if not known:
        return None
    scale = scale_for(Dimension.DURATION, given.units, known, room=0.2)
    courses = _courses(by_tub)
    return ChartData(
        title=tr("Light, {unit} a day", unit=tr(scale.unit.symbol)),
        caption=" ".join(_found(courses, given)),
        description=_description(courses, by_tub, given),
        said=as_sentence(tr("Light"), _found(courses, given)) if _settled(courses) else "",
        table=_table(by_tub, given),
        axis=scale.axis,
        height=LOW_HEIGHT,
        layers={
            "steps": _steps(courses[:1], scale, upper=False),
            "more-steps": _steps(courses[1:], scale, upper=False),
            "upper": _steps(courses, scale, upper=True),
            "changes": [area for course in courses for area in _changing(course, scale)],
            "or-levels": [span for course in courses for span in _either_level(course, scale)],
            **_marks(courses, scale, given),
        },
        point_labels=tuple(
            _label(course, scale, given, several=len(courses) > 1)
            for course in courses
            if any(setting.hours for setting in course.settings)
        ),
    )


def _settings(given: ChartInput) -> dict[str, list[_Setting]]:
    """The settings of each tub in the order of days; of two on one day the later one counts."""
    by_tub: dict[str, list[Light]] = defaultdict(list)
    for light in sorted(given.facts.run.rows.lights, key=lambda light: light.day.key):
        for tub in [light.tub] if light.tub else given.tubs:
            by_tub[tub].append(light)
    return {tub: _in_turn(lights, given) for tub, lights in by_tub.items()}


def _in_turn(lights: Sequence[Light], given: ChartInput) -> list[_Setting]:
    """Settings from one change to the next, the last one to the end; days are narrowed to those on which they follow."""
    end = given.end
    if end.last < lights[-1].day.last:
        end = lights[-1].day
    days = in_turn([*(light.day for light in lights), end])
    return [
        _Setting(
            light.day,
            since,
            until,
            _OFF if light.use.off else light.use.hours,
            light.use.lamp.name if light.use.lamp else "",
        )
        for light, (since, until) in zip(lights, pairwise(days), strict=True)
        if until.last > since.first or light is lights[-1]
    ]


def _courses(by_tub: dict[str, list[_Setting]]) -> list[_Course]:
    same = grouped(by_tub, lambda tub: tuple((s.day, s.hours) for s in _changes(by_tub[tub])))
    return [_Course(tuple(tubs), by_tub[tubs[0]]) for tubs in same.values()]


def _changes(settings: Sequence[_Setting]) -> list[_Setting]:
    """The first setting, and those that changed the hours."""
    return [*settings[:1], *(new for old, new in pairwise(settings) if new.hours != old.hours)]


def _steps(courses: Iterable[_Course], scale: Scale, *, upper: bool) -> list[Vertex]:
    """Level lines joined by upright ones; the upper line only where hours are a range."""
    corners: list[Vertex] = []
    for course in courses:
        for number, piece in enumerate(_unbroken(course.settings)):
            if not upper or any(hours.high not in (hours.low, None) for _, hours in piece):
                corners += _corners(f"{course.tubs[0]} {number}", piece, scale, upper=upper)
    return corners


def _corners(segment: str, piece: Iterable[_Lit], scale: Scale, *, upper: bool) -> Iterator[Vertex]:
    """The ends of the levels of one line: a level is drawn over the days on which it certainly held."""
    for setting, hours in piece:
        level = scale.upper(hours) if upper else scale.of(hours.low)
        begin, end = setting.since.reach[1], setting.until.reach[0]
        if begin <= end:
            yield from (Vertex(segment, begin, level), Vertex(segment, end, level))


def _unbroken(settings: Sequence[_Setting]) -> list[list[_Lit]]:
    """Settings with their hours, cut where these are not known, and where the hours changed on an uncertain day."""
    pieces: list[list[_Lit]] = [[]]
    hours: Quantity | None = None
    for setting in settings:
        if setting.hours is None:
            pieces.append([])
        else:
            if not setting.since.exact and setting.hours != hours:
                pieces.append([])
            pieces[-1].append((setting, setting.hours))
        hours = setting.hours
    return [piece for piece in pieces if piece]


def _changing(course: _Course, scale: Scale) -> Iterable[Area]:
    """Between the two levels of a change, over the days that it may lie on."""
    for old, new in pairwise(course.settings):
        if not new.since.exact and old.hours and new.hours and old.hours != new.hours:
            levels = [level for hours in (old.hours, new.hours) for level in _bounds(hours, scale)]
            yield Area(*new.since.reach, min(levels), max(levels))


def _bounds(hours: Quantity, scale: Scale) -> tuple[float, float]:
    return scale.of(hours.low), scale.upper(hours)


def _either_level(course: _Course, scale: Scale) -> Iterable[Span]:
    """A level that may have gone on, over the days on which the next change, or the end, may lie."""
    following = [*(setting.hours for setting in course.settings[1:]), None]
    for setting, then in zip(course.settings, following, strict=True):
        if setting.hours and not setting.until.exact and setting.hours != then:
            for level in dict.fromkeys(_bounds(setting.hours, scale)):
                yield Span(*setting.until.reach, level)


def _marks(courses: Iterable[_Course], scale: Scale, given: ChartInput) -> Layers:
    """A symbol where a setting began; a level bar where that day is uncertain."""
    symbols: list[Symbol] = []
    spans: list[Span] = []
    open_spans: list[Span] = []
    for course in courses:
        where = f"{_tub_names(course.tubs, given)}, " if len(given.tubs) > 1 else ""
        for setting in _changes(course.settings):
            if not setting.hours:
                continue
            what = ", ".join(filter(None, (setting.hours_text(given), setting.lamp)))
            title = where + tr("from {day}: {what}", day=day_words(setting.day), what=what)
            level, shape = scale.of(setting.hours.middle), point_marks.shape_of(course.tubs[0], given.tubs)
            if setting.since.exact:
                fill = _COLOUR if setting.hours.exact else point_marks.OPEN
                symbols.append(Symbol(setting.since.first, level, shape, fill, title))
            else:
                bars = spans if setting.hours.exact else open_spans
                bars.append(Span(*setting.since.reach, level, title))
    return {"points": symbols, "spans": spans, "open-spans": open_spans}


def _tub_names(tubs: Iterable[str], given: ChartInput) -> str:
    return listed([given.tub_label(tub) for tub in tubs])


def _label(course: _Course, scale: Scale, given: ChartInput, *, several: bool) -> PointLabel:
    last, hours = next((s, s.hours) for s in reversed(course.settings) if s.hours)
    said = tr_c("a lamp", "off") if hours == _OFF else given.say(hours)
    name = f"{_tub_names(course.tubs, given)}: {said}" if several else said
    return PointLabel(
        last.until.reach[1], scale.upper(hours), name, strong=True, level_since=last.since.reach[1]
    )


def _description(courses: Sequence[_Course], by_tub: dict[str, list[_Setting]], given: ChartInput) -> str:
    texts = _found(courses, given)
    unlit = [tub for tub in given.tubs if tub not in by_tub]
    if unlit:
        texts.append(tr("Not recorded for {tubs}.", tubs=_tub_names(unlit, given)))
    texts.append(tr("Hours as set on the timer, not measured."))
    texts.append(days_note(s.since for settings in by_tub.values() for s in settings))
    tubs = given.facts.climate.tubs
    texts += [_sum_text(tub, given, several=len(tubs) > 1) for tub in tubs]
    return " ".join(filter(None, texts))


def _found(courses: Sequence[_Course], given: ChartInput) -> list[str]:
    return [_course_text(course, given, several=len(courses) > 1) for course in courses]


def _settled(courses: Sequence[_Course]) -> bool:
    """Whether the hours never changed, or once: a sentence says it all."""
    return too_few(setting.since for course in courses for setting in _changes(course.settings))


def _course_text(course: _Course, given: ChartInput, *, several: bool) -> str:
    parts = [
        tr("{what} from {day}", what=new.hours_text(given), day=day_words(new.day))
        for new in _changes(course.settings)
    ]
    end = day_words(given.end)
    said = tr("{settings}, up to the last visit on {day}.", settings=listed(parts, "then"), day=end)
    return f"{_tub_names(course.tubs, given)}: {said}" if several else said


def _sum_text(tub: TubClimate, given: ChartInput, *, several: bool) -> str:
    """The light of a tub a day and in all, where the lamp's strength is known; else why not."""
    daily, whole = tub.dli.value, tub.light_sum.value
    where = f"{tub.label}: " if several else ""
    note = f" ({remarks_words(tub.dli.remarks)})" if tub.dli.remarks else ""
    if isinstance(daily, Rate) and isinstance(whole, Quantity):
        each = tr("{amount} a {time}", amount=given.in_sentence(daily.amount), time=tr(daily.per))
        return f"{where}{each}, {tr('{amount} in all', amount=given.in_sentence(whole))}{note}."
    return f"{where}{tr('Total light: not known')}{note}." if note else ""


def _table(by_tub: dict[str, list[_Setting]], given: ChartInput) -> Table:
    """Each setting of a tub's lamp: 0 hours where it was turned off."""
    rows = [
        (s.day, (tub, *(quantity_cells(s.hours) if s.hours else ("", "", "not recorded")), s.lamp))
        for tub, settings in by_tub.items()
        for s in settings
    ]
    heads = ("tub", *quantity_heads("light_a_day", Dimension.DURATION), "lamp")
    return numbers_table(heads, rows, given.start)


CHARTS = (ChartType("light", _LAYERS, light),)
