"""What was measured, added, seen and picked at a visit: short lines, each with a drawn mark.

In: rows of one entry. Out: `Line`. What was not measured is said.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from sitegen.core.reference.stages import milestones_of
from sitegen.core.rows import Deed, Event, MilestoneRow, Pick, Reading, Tally
from sitegen.core.text import plural
from sitegen.render.plants import plants_in_words, who
from sitegen.render.voice import Voice

__all__ = ["Line", "lines_of"]


@dataclass(frozen=True, slots=True)
class Line:
    """One thing of an entry, with the name of its mark."""

    text: str
    mark: str


def lines_of(entry: int, voice: Voice) -> tuple[Line, ...]:
    """Everything of one entry that has a mark."""
    rows = voice.facts.run.rows
    events = [event for event in rows.events if event.entry == entry]
    found = _up([event for event in events if event.deed is Deed.SPROUTED], voice)
    found += [line for rule in _EVENT_LINES for event in events for line in rule(event, voice)]
    found += _readings([row for row in rows.readings if row.entry == entry], voice)
    found += [_pick(row, voice) for row in rows.picks if row.entry == entry]
    found += [_tally(row, voice) for row in rows.tallies if row.entry == entry]
    found += _stages([row for row in rows.milestones if row.entry == entry], voice)
    return tuple(found)


def _up(events: Sequence[Event], voice: Voice) -> list[Line]:
    """Seedlings so far: one line for all the spots that were counted."""
    said = "; ".join(_seedlings(event, voice) for event in events)
    return [Line(f"seedlings up so far: {said}", "growth")] if said else []


def _seedlings(event: Event, voice: Voice) -> str:
    where = who(event.which, "") if event.which else ""
    if event.amount is None:
        return who(event.which)
    of = f" of {event.out_of}" if event.out_of else ""
    return f"{where} {voice.say(event.amount)}{of}".strip()


def _water(event: Event, voice: Voice) -> Iterator[Line]:
    if event.deed not in (Deed.WATER, Deed.CHANGE):
        return
    held = voice.held(event.tub) if event.filled else None
    if event.amount is None and held is not None:
        amount = f"filled; holds {voice.say(held)}"
    else:
        amount = voice.say(event.amount) if event.amount else "not measured"
    word = ", all changed" if event.deed is Deed.CHANGE else ""
    yield Line(f"water {amount}{word}{voice.at_tub(event.tub)}", "water")


def _fed(event: Event, voice: Voice) -> Iterator[Line]:
    if event.deed not in (Deed.FEED, Deed.ADJUST):
        return
    amount = (
        voice.say(event.amount) if event.amount else "as labelled" if event.as_labelled else "not measured"
    )
    label = ", as labelled" if event.as_labelled and event.amount else ""
    yield Line(f"{voice.product(event.product)} {amount}{label}{voice.at_tub(event.tub)}", "feed")


def _trouble(event: Event, voice: Voice) -> Iterator[Line]:
    if event.deed is not Deed.TROUBLE:
        return
    plants = who(event.which, "all plants") if event.which else ""
    until = f"until {voice.say(event.until)}" if event.until else ""
    words = ", ".join(part for part in (event.what, plants, until) if part)
    yield Line(f"trouble: {words}{voice.at_tub(event.tub)}", "trouble")


_EVENT_LINES = (_water, _fed, _trouble)

_READING_MARKS = {
    "water_temperature": "water",
    "air_temperature": "light",
    "humidity": "light",
    "light": "light",
    "ec": "feed",
    "ph": "feed",
}
_READING_WORDS = {"ec": "EC", "ph": "pH"}


def _readings(rows: Sequence[Reading], voice: Voice) -> list[Line]:
    """One line a kind of reading; two values of one tub are before and after."""
    found: list[Line] = []
    for (name, at), group in groupby(rows, key=lambda row: (row.name, row.at or row.what)):
        text = "; ".join(_subjects(tuple(group), voice))
        word = _READING_WORDS.get(name, name.replace("_", " "))
        suffix = f" ({'to the ' if name == 'height' else ''}{at})" if at else ""
        found.append(Line(f"{word}{suffix} {text}", _READING_MARKS.get(name, "growth")))
    return found


def _subjects(rows: Sequence[Reading], voice: Voice) -> Iterator[str]:
    for subject, group in groupby(rows, key=lambda row: (row.tub, row.plants, str(row.which))):
        same = tuple(group)
        values = ", then ".join(voice.say(row.value) for row in same)
        together = ", together" if same[0].together else ""
        plants = _reading_plants(same[0], voice) if subject[1] or same[0].which else ""
        each = ", each plant" if _of_each(same[0], voice) else ""
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
    count = plural(row.count, "piece") if row.count is not None else ""
    spoilt = f"{row.spoilt} of them spoilt" if row.spoilt else ""
    everyone = "all plants" if row.which.ids else "all"
    together = " together" if len(row.which.ids) > 1 else ""
    flush = f"flush {row.flush}" if row.flush else ""
    parts = (voice.say(row.weight), row.part, count, spoilt, row.grade, flush)
    return Line(
        f"picked from {who(row.which, everyone)}{together}: {', '.join(part for part in parts if part)}",
        "harvest",
    )


def _tally(row: Tally, voice: Voice) -> Line:
    return Line(f"picked so far, {who(row.which)}: {voice.say(row.amount)}", "harvest")


def _stages(rows: Sequence[MilestoneRow], voice: Voice) -> list[Line]:
    known = milestones_of(voice.facts.run.setup.crop.kind)
    nouns = (known[row.name].noun if row.name in known else row.name.replace("_", " ") for row in rows)
    return [Line(f"{noun}: {_reached(row)}", "growth") for row, noun in zip(rows, nouns, strict=True)]


def _reached(row: MilestoneRow) -> str:
    plants = who(row.which)
    if row.reached:
        return plants
    return "not yet" if plants in ("none", "all") else f"not yet on {plants}"
