"""Labels of the day axis: days below the plot and calendar dates above it, in the active language.

In: the axis made by `measure`, and a frame. Out: labels, thinned to the room of the frame, so that dates never touch.
Needs no clock and no zone.
"""

from __future__ import annotations

from datetime import date

from sitegen.core.language.catalogue import active_catalogue, tr
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.site.chart import Frame
from sitegen.core.values.day import DayAxis
from sitegen.plot.chart_data import Align, Label
from sitegen.plot.drawing.label_placement import text_width

_BETWEEN = 6.0  # two dates, in units of the drawing
_SMALLER = 1.0  # dates are a size below days


def day_ticks(axis: DayAxis, frame: Frame) -> tuple[int, ...]:
    """The axis's ticks, thinned to the room of the frame."""
    every = 1
    while len(axis.ticks[::every]) > frame.most_days:
        every += 1
    return axis.ticks[::every]


def day_labels(axis: DayAxis, frame: Frame) -> tuple[Label, ...]:
    """`day 0`, or the first day that is drawn, then numbers."""
    ticks = day_ticks(axis, frame)
    texts = ((day, tr("day {n}", n=day) if day == ticks[0] else str(day)) for day in ticks)
    return tuple(Label(day, 0.0, text, _within(axis, frame, day, text)) for day, text in texts)


def _within(axis: DayAxis, frame: Frame, day: int, text: str) -> Align:
    """Centred, but never beyond the edge on the right."""
    beyond = frame.x(axis, day) + text_width(text, frame.text) / 2 > frame.width
    return "right" if beyond else "center"


def date_labels(axis: DayAxis, frame: Frame) -> tuple[Label, ...]:
    """Dates over as many ticks as have room; the year with the first and where it changes."""
    labels: list[Label] = []
    free_from, year = 0.0, 0
    for day in day_ticks(axis, frame):
        when = axis.start.date_of(day)
        if when is None:
            return ()
        text = _short(when) if when.year == year else date_with_year(when)
        width = text_width(text, frame.text - _SMALLER)
        align = _align(axis, frame, day, width)
        left = frame.x(axis, day) - _before(align) * width
        if left < free_from:
            continue
        labels.append(Label(day, 0.0, text, align))
        free_from, year = left + width + _BETWEEN, when.year
    return tuple(labels)


def _align(axis: DayAxis, frame: Frame, day: int, width: float) -> Align:
    """Centred, but never over the unit on the left nor beyond the edge on the right."""
    if frame.x(axis, day) - width / 2 < frame.left:
        return "left"
    return "right" if frame.x(axis, day) + width / 2 > frame.width else "center"


def _before(align: Align) -> float:
    """The share of a text that lies left of its anchor."""
    return {"left": 0.0, "center": 0.5, "right": 1.0}[align]


def _short(when: date) -> str:
    return _wording().day_of_year(when, short=True).replace(NBSP, " ")


def date_with_year(when: date) -> str:
    """A short date with its year."""
    return _wording().calendar_day(when, short=True).replace(NBSP, " ")


def _wording() -> Wording:
    return Wording(language=active_catalogue().language)
