"""Sentences about the events, lamp settings and routines of an entry.

In: the records of one entry, names of products, tubs and plants. Out: sentences in the order of the log; their
messages stand with the keys of the log. `EntryWording`, `which_words` and `plants_in_words` give the words of values
and names.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from sitegen.core.facts.figure import Figure, Value
from sitegen.core.facts.tree import Facts
from sitegen.core.format.entry import LOG_KEYS, key_of
from sitegen.core.language.catalogue import tr, tr_c, tr_n, tr_noop
from sitegen.core.language.text import listed, name_in_text, time_of_day, tub_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import Deed, Ending, Event, Sowing, Which
from sitegen.core.records.setup import LampUse
from sitegen.core.records.tables import event_value
from sitegen.core.values.quantity import Quantity
from sitegen.render.story.run_sentences import places_in


@dataclass(frozen=True, slots=True)
class EntryWording:
    """Names and values of one experiment in words; `products` are names by id."""

    facts: Facts
    values: Wording
    products: dict[str, str]

    def say(self, value: Value | Figure | int) -> str:
        """A value, in the units of the journal."""
        return self.values.say(value)

    def product(self, product: str) -> str:
        """A product's name for a reader."""
        return self.products.get(product, product)

    def tub(self, tub: str) -> str:
        """A tub's name for a reader."""
        return next((each.label for each in self.facts.solution.tubs if each.key == tub), tub)

    def at_tub(self, tub: str) -> str:
        """`, left tub`, where there are several."""
        several = len(self.facts.run.setup.tubs) > 1
        return f", {tub_words(self.tub(tub))}" if tub and several else ""

    def held(self, tub: str) -> Quantity | None:
        """The volume of a full tub."""
        tubs = self.facts.run.setup.tubs
        own = tubs[0] if len(tubs) == 1 else next((each for each in tubs if each.id == tub), None)
        return own.system.reservoir if own else None


_NUMBERED = re.compile(r"(.*?)(\d+)")
_EVERYONE = ("all", "each", "together", "every spot")


def plants_in_words(ids: tuple[str, ...]) -> str:
    """Plants by name, neighbours as a range: `P1–P3 and P5`."""
    runs: list[list[str]] = []
    for before, plant in pairwise(("", *ids)):
        if runs and _follows(before, plant):
            runs[-1].append(plant)
        else:
            runs.append([plant])
    words: list[str] = []
    for run in runs:
        words += [f"{run[0]}–{run[-1]}"] if len(run) > 2 else map(name_in_text, run)
    return listed(words)


def _follows(before: str, plant: str) -> bool:
    one, two = _NUMBERED.fullmatch(before), _NUMBERED.fullmatch(plant)
    return bool(one and two and one[1] == two[1] and int(two[2]) == int(one[2]) + 1)


def which_words(which: Which | None, everyone: str | None = None) -> str:
    """The plants of a record in words; `everyone` are those for all of them."""
    if which is None or which.word in _EVERYONE:
        return tr_c("plants", "all") if everyone is None else everyone
    if which.nobody:
        return tr_c("plants", "none")
    if which.ids and (which.ids[0] in which.word or not which.word):
        return plants_in_words(which.ids)
    if which.word and which.word != "some" and not which.word[:1].isdigit():
        return tr("group {group}", group=name_in_text(which.word))
    return _counted(which)


def _counted(which: Which) -> str:
    if which.count is None:
        return tr("some plants, which ones not recorded")
    if which.of is None:
        return str(which.count)
    return tr("{part} of {whole}", part=which.count, whole=which.of)


# Routines that are no kind of work by hand.
_ROUTINE_WORDS = {"feed": tr_noop("feed"), "light": tr_noop("lamp hours"), "water": tr_noop("water")}

_OFTEN = {
    "every refill": tr_noop("at every refill"),
    "every logged refill": tr_noop("at every logged refill"),
}


def _sow(event: Sowing, wording: EntryWording) -> str:
    if event.seeds is None:
        return tr("Sown; the seeds were not counted.")
    seeds, plants = _plain_count(event.seeds, wording), which_words(event.which, "")
    if not event.each:
        return (
            tr("Sown: {seeds}, {plants}.", seeds=seeds, plants=plants)
            if plants
            else tr("Sown: {seeds}.", seeds=seeds)
        )
    if event.which and len(event.which.ids) == 1:
        return tr("Sown: {seeds} in {plants}.", seeds=seeds, plants=plants)
    if plants:
        return tr("Sown: {seeds} in each spot, {plants}.", seeds=seeds, plants=plants)
    return tr("Sown: {seeds} in each spot.", seeds=seeds)


def _plain_count(amount: Quantity, wording: EntryWording) -> str:
    if amount.some:
        return tr("some seeds")
    if not amount.known:
        return tr("seeds, not counted")
    most = amount.low if amount.high is None else amount.high
    number = int(most) if amount.single else max(2, int(most))
    return tr_n("{amount} seed", "{amount} seeds", number, amount=wording.say(amount))


def _end(event: Ending, _: EntryWording) -> str:
    end = tr("End: {why}", why=event.what) if event.what else tr("End of the run")
    if event.kept is None:
        return f"{end}."
    if event.kept:
        return tr("{end}; the plants were kept.", end=end)
    return tr("{end}; the plants were cleared.", end=end)


def _routine_words(product: str, what: str, wording: EntryWording) -> str:
    """The product or the work of a routine."""
    if product:
        return wording.product(product)
    return tr(_ROUTINE_WORDS[what]) if what in _ROUTINE_WORDS else tr_c("work", LOG_KEYS[what].work)


_SENTENCES: dict[type[Event], Callable[[Any, EntryWording], str]] = {Sowing: _sow, Ending: _end}


def _event(event: Event, wording: EntryWording) -> str:
    """The sentence of an event; empty where a line with a mark or a note has its content."""
    if sentence := _SENTENCES.get(type(event)):
        return sentence(event, wording)
    key = key_of(event.deed)
    values = _values(event, wording) if key.word or key.sentences else {}
    if key.word:
        said = ", ".join(values[name] for name in ("amount", "what", "named") if name in values)
        return f"{tr(key.word)}: {said}." if said else f"{tr(key.word)}."
    return next((tr(text, **values) for text in key.sentences if places_in(text) <= values.keys()), "")


def _values(event: Event, wording: EntryWording) -> dict[str, str]:
    """The values of an event by their place in sentences; places without a value are left out."""
    amount, most = event_value(event, "amount"), event_value(event, "out_of")
    said = wording.say(amount) if amount else ""
    product = event_value(event, "product")
    values = {
        "amount": tr("{marks} out of {most}", marks=said, most=most) if said and most else said,
        "what": event.what,
        "product": wording.product(product) if product else event.what,
        "routine": _routine_words("", event.what, wording) if event.deed is Deed.STOP else "",
        "tub": tub_words(wording.tub(event.tub)) if event.tub else "",
        "plants": which_words(event.which),
        "spots": which_words(event.which, tr("every spot")),
        "named": which_words(event.which, "") if event.which else "",
    }
    return {name: value for name, value in values.items() if value}


def _light(row: Light, wording: EntryWording) -> str:
    use, tub = row.use, wording.at_tub(row.tub)
    if use.off:
        return tr("Lamp off{tub}.", tub=tub)
    parts = [use.lamp.name] if use.lamp else []
    parts += lamp_words(use, wording.values)
    return tr("Lamp from here on: {settings}{tub}.", settings=", ".join(parts), tub=tub) if parts else ""


def lamp_words(use: LampUse, wording: Wording) -> list[str]:
    """The hours of a lamp, when it goes on, and its distance."""
    parts = [tr("{time} a day", time=wording.say(use.hours))] if use.hours else []
    parts += [tr("on at {time}", time=time_of_day(use.on))] if use.on is not None else []
    distance = wording.say(use.distance) if use.distance else ""
    return [*parts, tr("{distance} above the plants", distance=distance)] if distance else parts


def _routine(row: Routine, wording: EntryWording) -> str:
    parts = (
        _routine_words(row.product, row.what, wording),
        row.said or (wording.say(row.amount) if row.amount else ""),
        tr("as labelled") if row.as_labelled else "",
        often_words(row.often),
    )
    what, tub = ", ".join(part for part in parts if part), wording.at_tub(row.tub)
    if row.counts_refills:
        return tr("From here on {what}{tub}. Every logged refill counts as one dose.", what=what, tub=tub)
    if row.what == Deed.FEED and row.at_each_filling:
        return tr(
            "From here on {what}{tub}. Every logged refill counts as one dose, others as none.",
            what=what,
            tub=tub,
        )
    return tr("From here on {what}{tub}. Not logged every time.", what=what, tub=tub)


def often_words(often: str) -> str:
    """The frequency of a routine: `at every refill`, else as written."""
    words = _OFTEN.get(often)
    if words:
        return tr(words)
    return tr("at {often}", often=often) if often.startswith("every") and "refill" in often else often


def sentences_of(entry: int, wording: EntryWording) -> tuple[str, ...]:
    """The sentences of one entry, without repetitions."""
    rows = wording.facts.run.rows
    events = [event for event in rows.events if event.entry == entry]
    said = [_event(event, wording) for event in events]
    said += [_light(row, wording) for row in rows.lights if row.entry == entry]
    said += [_routine(row, wording) for row in rows.routines if row.entry == entry]
    return tuple(dict.fromkeys(opening(text) for text in said if text))
