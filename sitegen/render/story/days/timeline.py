"""The timeline: phases, the visits of each, and short lines with a drawn mark.

In: facts. Out: `PhaseView` with `EntryView`s; an entry has sentences (what was done), `Line`s (what was measured,
added, picked) and the author's own notes. A missing measurement is named as such.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Any

from sitegen.core.facts.tree import Visit
from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.language.catalogue import tr, tr_c, tr_n
from sitegen.core.language.wording import NBSP
from sitegen.core.records.rows import (
    Addition,
    Deed,
    Event,
    MilestoneRow,
    Photo,
    Pick,
    Reading,
    SeedlingCount,
    Tally,
    Trouble,
    Watering,
)
from sitegen.core.reference.milestones import milestones_of
from sitegen.core.site.addresses import day_anchor
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import in_ppm
from sitegen.render.story.days.entry_sentences import EntryWording, plants_in_words, sentences_of, which_words
from sitegen.render.story.run_sentences import span_words


@dataclass(frozen=True, slots=True)
class Line:
    """A text, and the name of its mark; `reached` where plants had come further on that day."""

    text: str
    mark: str
    reached: bool = False


def lines_of(entry: int, wording: EntryWording) -> tuple[Line, ...]:
    """The lines of one entry."""
    rows = wording.facts.run.rows
    events = [event for event in rows.events if event.entry == entry]
    found = _up([event for event in events if isinstance(event, SeedlingCount)], wording)
    found += [line(event, wording) for event in events if (line := _EVENT_LINES.get(type(event)))]
    found += _readings([row for row in rows.readings if row.entry == entry], wording)
    found += [_pick(row, wording) for row in rows.picks if row.entry == entry]
    found += [_tally(row, wording) for row in rows.tallies if row.entry == entry]
    found += _stages([row for row in rows.milestones if row.entry == entry], wording)
    return tuple(found)


def _up(events: Sequence[SeedlingCount], wording: EntryWording) -> list[Line]:
    """Seedlings so far: one line for all counted spots."""
    said = "; ".join(_seedlings(event, wording) for event in events)
    return [Line(tr("seedlings up so far: {said}", said=said), "growth", reached=True)] if said else []


def _seedlings(event: SeedlingCount, wording: EntryWording) -> str:
    where = which_words(event.which, "") if event.which else ""
    if event.seedlings is None:
        return which_words(event.which)
    seen = tr_c("how many", "some") if event.what == "some" else wording.say(event.seedlings)
    if event.out_of:
        seen = tr("{part} of {whole}", part=seen, whole=event.out_of)
    return f"{where} {seen}".strip()


def _water(event: Watering, wording: EntryWording) -> Line:
    held = wording.held(event.tub) if event.filled else None
    tub = wording.at_tub(event.tub)
    if event.amount is None and held is not None:
        amount = wording.say(held)
        if event.deed is not Deed.CHANGE:
            return Line(tr("water filled up{tub}; holds {amount}", amount=amount, tub=tub), "water")
        amount = tr("filled up; holds {amount}", amount=amount)
    else:
        amount = wording.say(event.amount) if event.amount else tr("not measured")
    if event.deed is Deed.CHANGE:
        return Line(tr("all the water changed, {amount}{tub}", amount=amount, tub=tub), "water")
    return Line(tr("water added, {amount}{tub}", amount=amount, tub=tub), "water")


def _fed(event: Addition, wording: EntryWording) -> Line:
    amount = event.what or (wording.say(event.amount) if event.amount else "")
    if not amount and not event.as_labelled:
        amount = tr("not measured")
    label = tr("as labelled") if event.as_labelled else ""
    amount = ", ".join(part for part in (amount, label) if part)
    return Line(f"{wording.product(event.product)} {amount}{wording.at_tub(event.tub)}", "feed")


def _trouble(event: Trouble, wording: EntryWording) -> Line:
    plants = which_words(event.which, tr("all plants")) if event.which else ""
    until = tr("until {day}", day=wording.say(event.until)) if event.until else ""
    words = ", ".join(part for part in (event.what, plants, until) if part)
    return Line(tr("trouble: {words}{tub}", words=words, tub=wording.at_tub(event.tub)), "trouble")


_EVENT_LINES: dict[type[Event], Callable[[Any, EntryWording], Line]] = {
    Watering: _water,
    Addition: _fed,
    Trouble: _trouble,
}


def _readings(rows: Sequence[Reading], wording: EntryWording) -> list[Line]:
    """One line for each kind of reading; two values of one tub are those before and after."""
    found: list[Line] = []
    for (name, at), group in groupby(rows, key=lambda row: (row.name, row.at or row.what)):
        text = "; ".join(_subjects(tuple(group), wording))
        key = LOG_KEYS[name]
        where = tr("to the {part}", part=tr(at)) if at and name == "height" else at
        suffix = f" ({where})" if where else ""
        found.append(Line(f"{tr(key.word)}{suffix} {text}", key.mark))
    return found


def _subjects(rows: Sequence[Reading], wording: EntryWording) -> Iterator[str]:
    ids = set(wording.facts.run.setup.plant_ids)
    for _, group in groupby(rows, key=lambda row: (row.tub, row.plants, str(row.which))):
        row, *more = group
        values = tr(", then ").join(_value(each, wording) for each in (row, *more))
        everyone = len(row.plants) > 1 and set(row.plants) == ids
        named = which_words(row.which, "") if row.which else plants_in_words(row.plants)
        plants = f"{named} " if named and not everyone and len(ids) > 1 else ""
        together = ", " + tr("together") if row.together else ""
        each = ", " + tr("each plant") if everyone and not row.together else ""
        yield f"{plants}{values}{each}{together}{wording.at_tub(row.tub)}"


def _value(row: Reading, wording: EntryWording) -> str:
    """A reading in words; an EC by a meter of a known scale also in its ppm."""
    said = wording.say(row.value)
    return f"{said} ({wording.say(in_ppm(row.value, row.scale))})" if row.scale and row.value.known else said


def _pick(row: Pick, wording: EntryWording) -> Line:
    plants = which_words(row.which, tr("all plants") if row.which.ids else tr_c("plants", "all"))
    parts = (
        wording.say(row.weight),
        tr(row.part) if row.part else "",
        tr_n("{n} piece", "{n} pieces", row.count).replace(" ", NBSP) if row.count is not None else "",
        _spoilt(row, wording),
        row.grade,
        tr("flush {number}", number=row.flush) if row.flush else "",
    )
    said = ", ".join(part for part in parts if part)
    if len(row.which.ids) > 1:
        return Line(tr("picked from {plants} together: {said}", plants=plants, said=said), "harvest")
    return Line(tr("picked from {plants}: {said}", plants=plants, said=said), "harvest")


def _spoilt(row: Pick, wording: EntryWording) -> str:
    """`2 of them spoilt, 30 g`; `30 g of it spoilt` where nobody counted; nothing of a pick without any."""
    weight = row.spoilt_weight
    if row.spoilt:
        number = tr("{number} of them spoilt", number=row.spoilt)
        return f"{number}, {wording.say(weight)}" if weight is not None else number
    if weight is None or weight.high == 0 or row.spoilt == 0:
        return ""
    if weight.low == 0 and weight.high is None:
        return tr("some of it spoilt, not weighed")
    return tr("{weight} of it spoilt", weight=wording.say(weight))


def _tally(row: Tally, wording: EntryWording) -> Line:
    words = tr(
        "total so far, {plants}: {amount}", plants=which_words(row.which), amount=wording.say(row.amount)
    )
    return Line(words, "harvest")


def _stages(rows: Sequence[MilestoneRow], wording: EntryWording) -> list[Line]:
    known = milestones_of(wording.facts.run.setup.crop.kind)
    nouns = (known[row.name].noun if row.name in known else row.name.replace("_", " ") for row in rows)
    return [
        Line(f"{tr(noun)}: {_reached(row)}", "growth", row.reached)
        for row, noun in zip(rows, nouns, strict=True)
    ]


def _reached(row: MilestoneRow) -> str:
    if row.reached:
        return which_words(row.which)
    nobody = row.which is None or row.which.nobody
    plants = "" if nobody else which_words(row.which, "")
    return tr("not yet on {plants}", plants=plants) if plants else tr("not yet")


LONG_PAUSE = 7  # days without an entry that are worth saying; common practice, no source


@dataclass(frozen=True, slots=True)
class EntryView:
    """One visit as a page shows it; `entry` is its number in the log."""

    entry: int
    anchor: str
    day: Day
    days: str
    date: date | None
    sentences: tuple[str, ...]
    notes: tuple[str, ...]
    lines: tuple[Line, ...]
    photos: tuple[Photo, ...]
    pause: int


@dataclass(frozen=True, slots=True)
class PhaseView:
    """A phase with its visits."""

    name: str
    kind: str
    words: str
    entries: tuple[EntryView, ...]


def _views(visits: Iterable[Visit], wording: EntryWording) -> list[tuple[str, EntryView]]:
    rows, seen = wording.facts.run.rows, dict[str, int]()
    found: list[tuple[str, EntryView]] = []
    before: Visit | None = None
    for visit in visits:
        entry = visit.entry
        known = before is not None and not before.entry.day.before
        pause = entry.day.first - before.entry.day.last if before and known else 0
        view = EntryView(
            entry=entry.index,
            anchor=_anchor(entry.day, seen),
            day=entry.day,
            days=wording.values.days(entry.day),
            date=visit.date,
            sentences=sentences_of(entry.index, wording),
            notes=tuple(e.what for e in rows.of(Deed.NOTE) if e.entry == entry.index),
            lines=lines_of(entry.index, wording),
            photos=tuple(photo for photo in rows.photos if photo.entry == entry.index),
            pause=pause - 1 if pause > LONG_PAUSE else 0,
        )
        found.append((visit.phase, view))
        before = visit
    return found


def _anchor(day: Day, seen: dict[str, int]) -> str:
    """The anchor of an entry: `day-26`, and `day-26-2` for the second of that day."""
    anchor = day_anchor(day)
    seen[anchor] = seen.get(anchor, 0) + 1
    return anchor if seen[anchor] == 1 else f"{anchor}-{seen[anchor]}"


def phases_of(wording: EntryWording) -> tuple[PhaseView, ...]:
    """The timeline of an experiment: its phases, each with its visits."""
    return tuple(
        _phase(name, [view for _, view in group])
        for name, group in groupby(_views(wording.facts.timeline.visits, wording), key=lambda pair: pair[0])
    )


def _phase(name: str, entries: Sequence[EntryView]) -> PhaseView:
    first, last = entries[0].day.key[0], entries[-1].day.last
    said = tr(name) if name else tr("afterwards")
    kind = (name or "afterwards").replace(" ", "-")
    return PhaseView(said, kind, span_words(first, last), tuple(entries))
