"""Sentences put in a row, as they are spoken: a day that was just said is "that day", the one after it "the next day".

In: moments of one part of a draft. Out: their passages. A note of the author's on another day is led in by the day.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from sitegen.core.language.catalogue import tr
from sitegen.core.values.day import Day
from sitegen.notes.draft import AuthorWords, Form, Number, Passage, passage
from sitegen.notes.moments.moment import Moment

_AGAIN: dict[Form, Form] = {"on": "that", "by": "then"}


def joined(moments: Iterable[Moment]) -> Iterator[Passage]:
    """The passages of moments, each once, with their days said as after one another."""
    said: Day | None = None
    for moment, place, each in _each_once(moments):
        if place == 0 and _needs_day(each, moment, said):
            lead = passage(tr("{Day}."), each.sources, Day=Number("log.day", moment.day, "day"))
            if lead is not None:
                yield lead
                said = moment.day
        yield _as_after(each, said)
        said = _day_of(each) or said


def _each_once(moments: Iterable[Moment]) -> Iterator[tuple[Moment, int, Passage]]:
    """Each sentence with its moment and its place in it; two moments of a visit may both say it."""
    seen: set[tuple[object, ...]] = set()
    for moment in moments:
        for place, each in enumerate(moment.passages):
            if each.parts not in seen:
                seen.add(each.parts)
                yield moment, place, each


def _needs_day(first: Passage, moment: Moment, said: Day | None) -> bool:
    """Whether the author's own words would stand under the day of another sentence."""
    return moment.day is not None and moment.day != said and isinstance(first.parts[0], AuthorWords)


def _leading(each: Passage) -> Number | None:
    first = each.parts[0]
    return first if isinstance(first, Number) and first.form in _AGAIN else None


def _day_of(each: Passage) -> Day | None:
    """The last day that a passage says."""
    days = [part.value for part in each.numbers if isinstance(part.value, Day)]
    return days[-1] if days else None


def _as_after(each: Passage, said: Day | None) -> Passage:
    """A passage whose leading day was said just before."""
    first = _leading(each)
    if first is None or said is None or not isinstance(first.value, Day):
        return each
    day = first.value
    if day == said:
        return _led(each, replace(first, form=_AGAIN[first.form]))
    if first.form == "on" and day.exact and said.exact and day.first == said.first + 1:
        return _led(each, replace(first, form="next"))
    return each


def _led(each: Passage, first: Number) -> Passage:
    return replace(each, parts=(first, *each.parts[1:]))
