"""What was done at a visit, in sentences.

In: events, lamp settings and routines of one entry. Out: sentences in the order of the log.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sitegen.core.format.entry import LOG_KEYS, key_of
from sitegen.core.language.catalogue import tr, tr_c, tr_n, tr_noop
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.rows import Deed, Ending, Event, Light, Routine, Sowing
from sitegen.core.records.setup import LampUse
from sitegen.core.records.tables import event_value
from sitegen.core.values.quantity import Quantity
from sitegen.render.story.sentence import places_in
from sitegen.render.story.voice import Voice, who

# Routines that are no kind of work by hand.
_ROUTINE_WORDS = {"feed": tr_noop("feed"), "light": tr_noop("light hours"), "water": tr_noop("water")}

_OFTEN = {
    "every refill": tr_noop("at every refill"),
    "every logged refill": tr_noop("at every logged refill"),
}


def _sow(event: Sowing, voice: Voice) -> str:
    if event.seeds is None:
        return tr("Sown; the seeds were not counted.")
    seeds, plants = _plain_count(event.seeds, voice), who(event.which, "")
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


def _plain_count(amount: Quantity, voice: Voice) -> str:
    if not amount.known:
        return tr("seeds, not counted")
    most = amount.low if amount.high is None else amount.high
    number = int(most) if amount.single else max(2, int(most))
    return tr_n("{amount} seed", "{amount} seeds", number, amount=voice.say(amount))


def _end(event: Ending, _: Voice) -> str:
    end = tr("End: {why}", why=event.what) if event.what else tr("End of the run")
    if event.kept is None:
        return f"{end}."
    if event.kept:
        return tr("{end}; the plants were kept.", end=end)
    return tr("{end}; the plants were cleared.", end=end)


def _thing(product: str, what: str, voice: Voice) -> str:
    """What a routine gives or does."""
    if product:
        return voice.product(product)
    return tr(_ROUTINE_WORDS[what]) if what in _ROUTINE_WORDS else tr_c("work", LOG_KEYS[what].work)


_TOLD: dict[type[Event], Callable[[Any, Voice], str]] = {Sowing: _sow, Ending: _end}


def _told(event: Event, voice: Voice) -> str:
    """The sentence of an event; empty where it is told by a line with a mark, or as a note."""
    if tell := _TOLD.get(type(event)):
        return tell(event, voice)
    key = key_of(event.deed)
    values = _values(event, voice) if key.word or key.sentences else {}
    if key.word:
        said = ", ".join(values[name] for name in ("amount", "what", "named") if name in values)
        return f"{tr(key.word)}: {said}." if said else f"{tr(key.word)}."
    return next((tr(text, **values) for text in key.sentences if places_in(text) <= values.keys()), "")


def _values(event: Event, voice: Voice) -> dict[str, str]:
    """The values of an event by the places of sentences that take them; a place without a value is left out."""
    amount, most = event_value(event, "amount"), event_value(event, "out_of")
    said = voice.say(amount) if amount else ""
    product = event_value(event, "product")
    values = {
        "amount": tr("{marks} of {most}", marks=said, most=most) if said and most else said,
        "what": event.what,
        "product": voice.product(product) if product else event.what,
        "routine": _thing("", event.what, voice) if event.deed is Deed.STOP else "",
        "tub": voice.tub(event.tub),
        "plants": who(event.which),
        "spots": who(event.which, tr("every spot")),
        "named": who(event.which, "") if event.which else "",
    }
    return {name: value for name, value in values.items() if value}


def _light(row: Light, voice: Voice) -> str:
    use, tub = row.use, voice.at_tub(row.tub)
    if use.off:
        return tr("Lamp off{tub}.", tub=tub)
    parts = [use.lamp.name] if use.lamp else []
    parts += lamp_words(use, voice.wording)
    return tr("Light from here on: {settings}{tub}.", settings=", ".join(parts), tub=tub) if parts else ""


def lamp_words(use: LampUse, wording: Wording) -> list[str]:
    """How long a lamp is on, and how far away it hangs."""
    parts = [tr("{time} a day", time=wording.say(use.hours))] if use.hours else []
    distance = wording.say(use.distance) if use.distance else ""
    return [*parts, tr("{distance} above the plants", distance=distance)] if distance else parts


def _routine(row: Routine, voice: Voice) -> str:
    parts = (
        _thing(row.product, row.what, voice),
        voice.say(row.amount) if row.amount else "",
        tr("as labelled") if row.as_labelled else "",
        often_words(row.often),
    )
    what, tub = ", ".join(part for part in parts if part), voice.at_tub(row.tub)
    if row.counts_refills:
        return tr(
            "From here on {what}{tub}; one dose is counted for each logged filling.", what=what, tub=tub
        )
    return tr("From here on {what}{tub}; not logged each time.", what=what, tub=tub)


def often_words(often: str) -> str:
    """`at every refill`; other words as they were written."""
    words = _OFTEN.get(often)
    if words:
        return tr(words)
    return tr("at {often}", often=often) if often.startswith("every") and "refill" in often else often


def sentences_of(entry: int, voice: Voice) -> tuple[str, ...]:
    """What was done at one entry, each thing said once."""
    rows = voice.facts.run.rows
    events = [event for event in rows.events if event.entry == entry]
    said = [_told(event, voice) for event in events]
    said += [_light(row, voice) for row in rows.lights if row.entry == entry]
    said += [_routine(row, voice) for row in rows.routines if row.entry == entry]
    return tuple(dict.fromkeys(opening(text) for text in said if text))
