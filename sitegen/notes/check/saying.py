"""Known values and differences in words.

In: a `Known`, a wording. Out: text for the report, which is English as all output of commands.
"""

from __future__ import annotations

from sitegen.core.facts.figure import Money
from sitegen.core.language.wording import Wording
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import Kind, Reading
from sitegen.notes.check.known import Known

_NBSP = "\u00a0"


def named(known: Known, wording: Wording) -> str:
    """A value with what it is, of which plants, on which day."""
    who = f" of {known.who}" if known.who and known.kind not in (Kind.DAY, Kind.PART) else ""
    if known.kind is Kind.DAY:
        return _day(known)
    if known.kind in (Kind.PART, Kind.SCORE):
        return _part(known)
    if known.kind is Kind.MORE:
        return f"{known.what} {_ratio(known.low)}"
    day = f", {_days(known.day)}" if known.day is not None else ""
    text = _value(known, wording)
    if known.kind is Kind.DAYS and known.what.endswith(":"):
        return f"{known.what} {text}{who if not known.other else ''}"
    return f"{text}, {known.what}{who}{day}"


def _value(known: Known, wording: Wording) -> str:
    if isinstance(known.value, str):
        return f"“{known.value}”"
    if isinstance(known.value, (Quantity, Money)):
        return wording.say_in_sentence(known.value).replace(_NBSP, " ")
    return f"{known.low:g}"


def _day(known: Known) -> str:
    who = f"{known.who} " if known.who else ""
    on = _days(known.day)
    return f"{who}{known.what} {'' if on.startswith('by') else 'on '}{on}"


def _days(day: Day | None) -> str:
    if day is None:
        return ""
    if day.before:
        return f"before day {day.last + 1}"
    about = "about " if day.about else ""
    return f"{about}day {day.first}" if day.single else f"{about}days {day.first} to {day.last}"


def _part(known: Known) -> str:
    whole = f" of {known.wholes[0]}" if known.wholes else ""
    who = f" in {known.who}" if known.who else ""
    never = known.low == 0 and not known.sources and known.topics == {"lost"}
    day = f" on {_days(known.day)}" if known.day is not None and not never else ""
    if known.kind is Kind.SCORE:
        return f"{known.what} {known.low:g}{whole}{day}"
    return f"{known.low:g}{whole} {known.what}{who}{day}"


def _ratio(ratio: float) -> str:
    """`67 % more`, `40 % less`."""
    percent = (ratio - 1) * 100
    return f"{abs(percent):.0f} % {'more' if percent >= 0 else 'less'}"


def difference(reading: Reading, known: Known, wording: Wording) -> str:
    """By how much a number is off; nothing of parts and comparisons, which their values say better."""
    bounds = [known.low] if known.high is None else [known.low, known.high]
    nearest = min(bounds, key=lambda bound: abs(bound - reading.low))
    gap = abs(reading.low - nearest)
    if reading.kind in (Kind.DAY, Kind.DATE, Kind.DAYS):
        return f"{gap:g} day" if gap == 1 else f"{gap:g} days"
    if reading.kind is not Kind.AMOUNT or reading.dimension is None:
        return ""
    dimension = reading.dimension
    if dimension is Dimension.TEMPERATURE:
        dimension = Dimension.TEMPERATURE_DIFFERENCE
    step = known.value.step if isinstance(known.value, Quantity) else 0.0
    said = wording.say_in_sentence(exactly(gap, dimension, step)).replace(_NBSP, " ")
    return f"at least {said}" if known.high is None and reading.low < known.low else said
