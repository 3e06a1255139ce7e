"""The timeline: what each entry of the log says, in words.

In: facts. Out: phases with their entries; an entry has sentences (what was done), marked lines (what was measured, added,
picked) and the author's own notes. What was not measured is said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from sitegen.core.addresses import day_anchor
from sitegen.core.day import Day
from sitegen.core.facts import Facts, Visit
from sitegen.core.reference.stages import milestones_of
from sitegen.core.rows import Deed, Event, Light, MilestoneRow, Photo, Pick, Reading, Routine, Tally
from sitegen.core.text import plural
from sitegen.core.wording import Wording, opening
from sitegen.render.plants import plants_in_words, who

__all__ = ["EntryView", "Line", "PhaseView", "Teller", "phases_of"]

LONG_PAUSE = 7  # days without an entry that are worth saying; common practice, no source


@dataclass(frozen=True, slots=True)
class Line:
    """One thing of an entry. `mark` is the drawn mark beside it; without one it is a sentence."""

    text: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class EntryView:
    """One visit, ready to be set."""

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
    """A phase with the visits that fell into it."""

    name: str
    kind: str
    words: str
    entries: tuple[EntryView, ...]


@dataclass(frozen=True, slots=True)
class Teller:
    """Says rows of one experiment."""

    facts: Facts
    wording: Wording

    def say(self, value: object) -> str:
        """A value, in the units of the journal."""
        return self.wording.say(value)  # type: ignore[arg-type] # rows hold values of these types only

    def product(self, product: str) -> str:
        """A product's name for a reader."""
        doses = [d for tub in self.facts.solution.tubs for d in (*tub.doses, *tub.adjusted)]
        label = next((d.label for d in doses if d.product == product), "")
        return label or next((r.label for r in self.facts.solution.routines if r.what == product), product)

    def at_tub(self, tub: str) -> str:
        """` (left tub)`, where there are several."""
        if not tub or len(self.facts.run.setup.tubs) < 2:
            return ""
        return f" ({next((t.label for t in self.facts.solution.tubs if t.key == tub), tub)})"

    def entry_lines(self, entry: int) -> tuple[Line, ...]:
        """Everything of one entry with a mark beside it."""
        rows = self.facts.run.rows
        found: list[Line] = []
        for rule in _EVENT_LINES:
            found += [line for event in rows.events if event.entry == entry for line in rule(event, self)]
        found += _readings([row for row in rows.readings if row.entry == entry], self)
        found += [_pick(row, self) for row in rows.picks if row.entry == entry]
        found += [_tally(row, self) for row in rows.tallies if row.entry == entry]
        found += _stages([row for row in rows.milestones if row.entry == entry], self)
        return tuple(found)

    def sentences(self, entry: int) -> tuple[str, ...]:
        """What was done at one entry."""
        rows = self.facts.run.rows
        events = [event for event in rows.events if event.entry == entry]
        said = [
            text for event in events if (tell := _SENTENCES.get(event.deed)) and (text := tell(event, self))
        ]
        said += [_light(row, self) for row in rows.lights if row.entry == entry]
        said += [_routine(row, self) for row in rows.routines if row.entry == entry]
        return tuple(dict.fromkeys(opening(text) for text in said if text))


def _sow(event: Event, teller: Teller) -> str:
    if event.amount is None:
        return "Sown; the seeds were not counted."
    each = " in each spot" if event.each else ""
    where = who(event.which, "")
    of = f", {where}" if where else ""
    return f"Sown: {_plain_count(event, teller)}{each}{of}."


def _plain_count(event: Event, teller: Teller) -> str:
    amount = event.amount
    if amount is None:
        return "not counted"
    noun = "seed" if amount.single and amount.low == 1 else "seeds"
    return f"{teller.say(amount)} {noun}" if amount.known else "seeds, not counted"


def _thin(event: Event, teller: Teller) -> str:
    left = teller.say(event.amount) if event.amount is not None else "fewer"
    where = who(event.which, "every spot")
    return f"Thinned to {left} in {where if where != 'all' else 'every spot'}."


def _transplant(event: Event, teller: Teller) -> str:
    return f"Moved from the seed tray into the tub{teller.at_tub(event.tub)}: {who(event.which)}."


def _deed(words: str) -> Callable[[Event, Teller], str]:
    def tell(event: Event, _: Teller) -> str:
        plants = who(event.which, "") if event.which else ""
        said = ", ".join(part for part in (event.what, plants) if part)
        return f"{words}: {said}." if said else f"{words}."

    return tell


def _treat(event: Event, teller: Teller) -> str:
    name = teller.product(event.product) if event.product else event.what
    amount = f", {teller.say(event.amount)}" if event.amount else ""
    return f"Treated with {name}{amount}: {who(event.which)}." if name else f"Treated: {who(event.which)}."


def _lost(event: Event, _: Teller) -> str:
    why = f": {event.what}" if event.what else ""
    return f"Lost {who(event.which)}{why}."


def _move(event: Event, teller: Teller) -> str:
    tubs = teller.facts.solution.tubs
    name = next((tub.label for tub in tubs if tub.key == event.tub), event.tub)
    return f"Moved to {name}: {who(event.which)}."


def _taste(event: Event, teller: Teller) -> str:
    if event.amount is None:
        return f"Taste: {event.what}." if event.what else ""
    of = f" of {event.out_of}" if event.out_of else ""
    words = f", {event.what}" if event.what else ""
    return f"Taste: {teller.say(event.amount)}{of}{words}."


def _end(event: Event, _: Teller) -> str:
    kept = {True: "; the plants were kept", False: "; the plants were cleared"}
    what = f"End: {event.what}" if event.what else "End of the run"
    return what + (kept[event.kept] if event.kept is not None else "") + "."


def _stop(event: Event, teller: Teller) -> str:
    return f"From here on no more {teller.product(event.what or event.product)}."


_SENTENCES: dict[Deed, Callable[[Event, Teller], str]] = {
    Deed.SOW: _sow,
    Deed.THIN: _thin,
    Deed.TRANSPLANT: _transplant,
    Deed.PRUNE: _deed("Pruned"),
    Deed.TRAIN: _deed("Trained"),
    Deed.POLLINATE: _deed("Pollinated by hand"),
    Deed.TREAT: _treat,
    Deed.CLEAN: _deed("Cleaned"),
    Deed.LOST: _lost,
    Deed.MOVE: _move,
    Deed.TASTE: _taste,
    Deed.END: _end,
    Deed.STOP: _stop,
}


def _light(row: Light, teller: Teller) -> str:
    use = row.use
    if use.off:
        return f"Lamp off{teller.at_tub(row.tub)}."
    parts = [use.lamp.name] if use.lamp else []
    parts += [f"{teller.say(use.hours)} a day"] if use.hours else []
    parts += [f"{teller.say(use.distance)} above the plants"] if use.distance else []
    return f"Light from here on: {', '.join(parts)}{teller.at_tub(row.tub)}." if parts else ""


def _routine(row: Routine, teller: Teller) -> str:
    name = teller.product(row.product) if row.product else row.what
    amount = f", {teller.say(row.amount)}" if row.amount else ""
    label = ", as labelled" if row.as_labelled else ""
    often = (
        f", {row.often if row.often.startswith(('every', 'each')) else f'at {row.often}'}"
        if row.often
        else ""
    )
    counted = "each logged refill counts" if row.counts_refills else "not logged each time"
    return f"From here on {name}{amount}{label}{often}{teller.at_tub(row.tub)}; {counted}."


def _up(event: Event, teller: Teller) -> Iterator[Line]:
    if event.deed is not Deed.SPROUTED:
        return
    if event.amount is None:
        yield Line(f"up so far: {who(event.which)}", "growth")
        return
    of = f" of {event.out_of}" if event.out_of else ""
    where = who(event.which, "") if event.which else ""
    yield Line(f"up so far: {teller.say(event.amount)}{of}{f' ({where})' if where else ''}", "growth")


def _water(event: Event, teller: Teller) -> Iterator[Line]:
    if event.deed not in (Deed.WATER, Deed.CHANGE):
        return
    word = "all changed" if event.deed is Deed.CHANGE else "filled" if event.filled else ""
    amount = teller.say(event.amount) if event.amount else "not measured"
    yield Line(f"water {amount}{f', {word}' if word else ''}{teller.at_tub(event.tub)}", "water")


def _fed(event: Event, teller: Teller) -> Iterator[Line]:
    if event.deed not in (Deed.FEED, Deed.ADJUST):
        return
    amount = (
        teller.say(event.amount) if event.amount else "as labelled" if event.as_labelled else "not measured"
    )
    label = ", as labelled" if event.as_labelled and event.amount else ""
    yield Line(f"{teller.product(event.product)} {amount}{label}{teller.at_tub(event.tub)}", "feed")


def _trouble(event: Event, teller: Teller) -> Iterator[Line]:
    if event.deed is not Deed.TROUBLE:
        return
    plants = who(event.which, "all plants") if event.which else ""
    until = f"until {teller.say(event.until)}" if event.until else ""
    words = ", ".join(part for part in (event.what, plants, until) if part)
    yield Line(f"trouble: {words}{teller.at_tub(event.tub)}", "trouble")


_EVENT_LINES = (_up, _water, _fed, _trouble)

_READING_MARKS = {
    "water_temperature": "water",
    "air_temperature": "light",
    "humidity": "light",
    "light": "light",
    "ec": "feed",
    "ph": "feed",
}
_READING_WORDS = {"ec": "EC", "ph": "pH"}


def _readings(rows: Sequence[Reading], teller: Teller) -> list[Line]:
    """One line a kind of reading; two values of one tub are before and after."""
    found: list[Line] = []
    for (name, at), group in groupby(rows, key=lambda row: (row.name, row.at or row.what)):
        text = "; ".join(_subjects(tuple(group), teller))
        word = _READING_WORDS.get(name, name.replace("_", " "))
        suffix = f" ({'to the ' if name == 'height' else ''}{at})" if at else ""
        found.append(Line(f"{word}{suffix} {text}", _READING_MARKS.get(name, "growth")))
    return found


def _subjects(rows: Sequence[Reading], teller: Teller) -> Iterator[str]:
    for subject, group in groupby(rows, key=lambda row: (row.tub, row.plants, str(row.which))):
        same = tuple(group)
        values = ", then ".join(teller.say(row.value) for row in same)
        together = ", together" if same[0].together else ""
        plants = _reading_plants(same[0], teller) if subject[1] or same[0].which else ""
        yield f"{plants}{values}{together}{teller.at_tub(same[0].tub)}"


def _reading_plants(row: Reading, teller: Teller) -> str:
    everyone = set(row.plants) == set(teller.facts.run.setup.plant_ids)
    if everyone and len(row.plants) > 1:
        return "each " if not row.together else ""
    if len(teller.facts.run.setup.plants) == 1:
        return ""
    words = who(row.which, "") if row.which else plants_in_words(row.plants)
    return f"{words} " if words else ""


def _pick(row: Pick, teller: Teller) -> Line:
    count = plural(row.count, "piece") if row.count is not None else ""
    spoilt = f"{row.spoilt} of them spoilt" if row.spoilt else ""
    together = "together" if len(row.which.ids) > 1 else ""
    flush = f"flush {row.flush}" if row.flush else ""
    weight = teller.say(row.weight)
    parts = (f"{weight} {together}".strip(), row.part, count, spoilt, row.grade, flush)
    return Line(f"picked from {who(row.which)}: {', '.join(part for part in parts if part)}", "harvest")


def _tally(row: Tally, teller: Teller) -> Line:
    return Line(f"picked so far, {who(row.which)}: {teller.say(row.amount)}", "harvest")


def _stages(rows: Sequence[MilestoneRow], teller: Teller) -> list[Line]:
    known = milestones_of(teller.facts.run.setup.crop.kind)
    lines = []
    for row in rows:
        noun = known[row.name].noun if row.name in known else row.name.replace("_", " ")
        plants = (
            who(row.which)
            if row.reached
            else "not yet"
            if row.which.nobody
            else f"not yet on {who(row.which)}"
        )
        lines.append(Line(f"{noun}: {plants}", "growth"))
    return lines


def _views(visits: Iterable[Visit], teller: Teller) -> list[tuple[str, EntryView]]:
    rows, seen = teller.facts.run.rows, dict[str, int]()
    found: list[tuple[str, EntryView]] = []
    before: Visit | None = None
    for visit in visits:
        entry = visit.entry
        pause = entry.day.first - before.entry.day.last if before else 0
        view = EntryView(
            anchor=_anchor(entry.day, seen),
            day=entry.day,
            days=teller.wording.days(entry.day),
            date=visit.date,
            sentences=teller.sentences(entry.index),
            notes=tuple(e.what for e in rows.of(Deed.NOTE) if e.entry == entry.index),
            lines=teller.entry_lines(entry.index),
            photos=tuple(photo for photo in rows.photos if photo.entry == entry.index),
            pause=pause - 1 if pause > LONG_PAUSE else 0,
        )
        found.append((visit.phase, view))
        before = visit
    return found


def _anchor(day: Day, seen: dict[str, int]) -> str:
    """`day-26`; a second entry of the day stands at `day-26-2`."""
    anchor = day_anchor(day)
    seen[anchor] = seen.get(anchor, 0) + 1
    return anchor if seen[anchor] == 1 else f"{anchor}-{seen[anchor]}"


def phases_of(facts: Facts, wording: Wording) -> tuple[PhaseView, ...]:
    """The timeline of an experiment: visits under the phase that they fell into."""
    teller = Teller(facts, wording)
    return tuple(
        _phase(name, [view for _, view in group])
        for name, group in groupby(_views(facts.timeline.visits, teller), key=lambda pair: pair[0])
    )


def _phase(name: str, entries: Sequence[EntryView]) -> PhaseView:
    first, last = entries[0].day.first, entries[-1].day.last
    words = f"day {first}" if first == last else f"days {first}–{last}"
    return PhaseView(name or "afterwards", (name or "afterwards").replace(" ", "-"), words, tuple(entries))
