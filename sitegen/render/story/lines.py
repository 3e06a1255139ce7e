"""What was measured, added, seen and picked at a visit: short lines, each with a drawn mark.

In: rows of one entry. Out: `Line`. What was not measured is said.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.language.catalogue import tr, tr_c, tr_n
from sitegen.core.records.rows import (
    Addition,
    Deed,
    Event,
    MilestoneRow,
    Pick,
    Reading,
    SeedlingCount,
    Tally,
    Trouble,
    Watering,
)
from sitegen.core.reference.milestones import milestones_of
from sitegen.render.story.voice import Voice, plants_in_words, who


@dataclass(frozen=True, slots=True)
class Line:
    """One thing of an entry, with the name of its mark."""

    text: str
    mark: str


def lines_of(entry: int, voice: Voice) -> tuple[Line, ...]:
    """Everything of one entry that has a mark."""
    rows = voice.facts.run.rows
    events = [event for event in rows.events if event.entry == entry]
    found = _up([event for event in events if isinstance(event, SeedlingCount)], voice)
    found += [line for rule in _EVENT_LINES for event in events for line in rule(event, voice)]
    found += _readings([row for row in rows.readings if row.entry == entry], voice)
    found += [_pick(row, voice) for row in rows.picks if row.entry == entry]
    found += [_tally(row, voice) for row in rows.tallies if row.entry == entry]
    found += _stages([row for row in rows.milestones if row.entry == entry], voice)
    return tuple(found)


def _up(events: Sequence[SeedlingCount], voice: Voice) -> list[Line]:
    """Seedlings so far: one line for all the spots that were counted."""
    said = "; ".join(_seedlings(event, voice) for event in events)
    return [Line(tr("seedlings up so far: {said}", said=said), "growth")] if said else []


def _seedlings(event: SeedlingCount, voice: Voice) -> str:
    where = who(event.which, "") if event.which else ""
    if event.seedlings is None:
        return who(event.which)
    seen = voice.say(event.seedlings)
    if event.out_of:
        seen = tr("{part} of {whole}", part=seen, whole=event.out_of)
    return f"{where} {seen}".strip()


def _water(event: Event, voice: Voice) -> Iterator[Line]:
    if not isinstance(event, Watering):
        return
    held = voice.held(event.tub) if event.filled else None
    if event.amount is None and held is not None:
        amount = tr("filled; holds {amount}", amount=voice.say(held))
    else:
        amount = voice.say(event.amount) if event.amount else tr("not measured")
    tub = voice.at_tub(event.tub)
    if event.deed is Deed.CHANGE:
        yield Line(tr("water {amount}, all changed{tub}", amount=amount, tub=tub), "water")
    else:
        yield Line(tr("water {amount}{tub}", amount=amount, tub=tub), "water")


def _fed(event: Event, voice: Voice) -> Iterator[Line]:
    if not isinstance(event, Addition):
        return
    amount = voice.say(event.amount) if event.amount else "" if event.as_labelled else tr("not measured")
    label = tr("as labelled") if event.as_labelled else ""
    amount = ", ".join(part for part in (amount, label) if part)
    yield Line(f"{voice.product(event.product)} {amount}{voice.at_tub(event.tub)}", "feed")


def _trouble(event: Event, voice: Voice) -> Iterator[Line]:
    if not isinstance(event, Trouble):
        return
    plants = who(event.which, tr("all plants")) if event.which else ""
    until = tr("until {day}", day=voice.say(event.until)) if event.until else ""
    words = ", ".join(part for part in (event.what, plants, until) if part)
    yield Line(tr("trouble: {words}{tub}", words=words, tub=voice.at_tub(event.tub)), "trouble")


_EVENT_LINES = (_water, _fed, _trouble)


def _readings(rows: Sequence[Reading], voice: Voice) -> list[Line]:
    """One line a kind of reading; two values of one tub are before and after."""
    found: list[Line] = []
    for (name, at), group in groupby(rows, key=lambda row: (row.name, row.at or row.what)):
        text = "; ".join(_subjects(tuple(group), voice))
        key = LOG_KEYS[name]
        where = tr("to the {part}", part=tr(at)) if at and name == "height" else at
        suffix = f" ({where})" if where else ""
        found.append(Line(f"{tr(key.word)}{suffix} {text}", key.mark))
    return found


def _subjects(rows: Sequence[Reading], voice: Voice) -> Iterator[str]:
    for subject, group in groupby(rows, key=lambda row: (row.tub, row.plants, str(row.which))):
        same = tuple(group)
        values = tr(", then ").join(voice.say(row.value) for row in same)
        together = ", " + tr("together") if same[0].together else ""
        plants = _reading_plants(same[0], voice) if subject[1] or same[0].which else ""
        each = ", " + tr("each plant") if _of_each(same[0], voice) else ""
        yield f"{plants}{values}{each}{together}{voice.at_tub(same[0].tub)}"


def _of_each(row: Reading, voice: Voice) -> bool:
    """Whether one value is true of every plant there is."""
    everyone = set(row.plants) == set(voice.facts.run.setup.plant_ids)
    return everyone and len(row.plants) > 1 and not row.together


def _reading_plants(row: Reading, voice: Voice) -> str:
    everyone = set(row.plants) == set(voice.facts.run.setup.plant_ids)
    if everyone and len(row.plants) > 1:
        return ""
    if len(voice.facts.run.setup.plants) == 1:
        return ""
    words = who(row.which, "") if row.which else plants_in_words(row.plants)
    return f"{words} " if words else ""


def _pick(row: Pick, voice: Voice) -> Line:
    plants = who(row.which, tr("all plants") if row.which.ids else tr_c("plants", "all"))
    parts = (
        voice.say(row.weight),
        tr(row.part) if row.part else "",
        tr_n("{n} piece", "{n} pieces", row.count) if row.count is not None else "",
        tr("{number} of them spoilt", number=row.spoilt) if row.spoilt else "",
        row.grade,
        tr("flush {number}", number=row.flush) if row.flush else "",
    )
    said = ", ".join(part for part in parts if part)
    if len(row.which.ids) > 1:
        return Line(tr("picked from {plants} together: {said}", plants=plants, said=said), "harvest")
    return Line(tr("picked from {plants}: {said}", plants=plants, said=said), "harvest")


def _tally(row: Tally, voice: Voice) -> Line:
    words = tr("picked so far, {plants}: {amount}", plants=who(row.which), amount=voice.say(row.amount))
    return Line(words, "harvest")


def _stages(rows: Sequence[MilestoneRow], voice: Voice) -> list[Line]:
    known = milestones_of(voice.facts.run.setup.crop.kind)
    nouns = (known[row.name].noun if row.name in known else row.name.replace("_", " ") for row in rows)
    return [Line(f"{tr(noun)}: {_reached(row)}", "growth") for row, noun in zip(rows, nouns, strict=True)]


def _reached(row: MilestoneRow) -> str:
    if row.reached:
        return who(row.which)
    nobody = row.which is None or row.which.nobody
    plants = "" if nobody else who(row.which, "")
    return tr("not yet on {plants}", plants=plants) if plants else tr("not yet")
