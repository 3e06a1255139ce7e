"""What was done at a visit, in sentences.

In: events, lamp settings and routines of one entry. Out: sentences in the order of the log.
"""

from __future__ import annotations

from collections.abc import Callable

from sitegen.core.rows import Deed, Event, Light, Routine
from sitegen.core.wording import opening
from sitegen.render.plants import who
from sitegen.render.voice import Voice

__all__ = ["often_words", "sentences_of"]

_ROUTINE_WORDS = {"pollinate": "pollinating", "light": "light hours", "feed": "feed"}


def _sow(event: Event, voice: Voice) -> str:
    if event.amount is None:
        return "Sown; the seeds were not counted."
    where = who(event.which, "")
    if event.each:
        spots = (
            where
            if event.which and len(event.which.ids) == 1
            else f"each spot{f', {where}' if where else ''}"
        )
        return f"Sown: {_plain_count(event, voice)} in {spots}."
    return f"Sown: {_plain_count(event, voice)}{f', {where}' if where else ''}."


def _plain_count(event: Event, voice: Voice) -> str:
    amount = event.amount
    if amount is None:
        return "not counted"
    noun = "seed" if amount.single and amount.low == 1 else "seeds"
    return f"{voice.say(amount)} {noun}" if amount.known else "seeds, not counted"


def _thin(event: Event, voice: Voice) -> str:
    left = voice.say(event.amount) if event.amount is not None else "fewer"
    where = who(event.which, "every spot")
    return f"Thinned to {left} in {where if where != 'all' else 'every spot'}."


def _transplant(event: Event, voice: Voice) -> str:
    return f"Moved from the seed tray into the tub{voice.at_tub(event.tub)}: {who(event.which)}."


def _deed(words: str) -> Callable[[Event, Voice], str]:
    def tell(event: Event, _: Voice) -> str:
        plants = who(event.which, "") if event.which else ""
        said = ", ".join(part for part in (event.what, plants) if part)
        return f"{words}: {said}." if said else f"{words}."

    return tell


def _treat(event: Event, voice: Voice) -> str:
    name = voice.product(event.product) if event.product else event.what
    amount = f", {voice.say(event.amount)}" if event.amount else ""
    return f"Treated with {name}{amount}: {who(event.which)}." if name else f"Treated: {who(event.which)}."


def _lost(event: Event, _: Voice) -> str:
    why = f": {event.what}" if event.what else ""
    return f"Lost {who(event.which)}{why}."


def _move(event: Event, voice: Voice) -> str:
    return f"Moved to {voice.tub(event.tub)}: {who(event.which)}."


def _taste(event: Event, voice: Voice) -> str:
    if event.amount is None:
        return f"Taste: {event.what}." if event.what else ""
    of = f" of {event.out_of}" if event.out_of else ""
    words = f", {event.what}" if event.what else ""
    return f"Taste: {voice.say(event.amount)}{of}{words}."


def _end(event: Event, _: Voice) -> str:
    kept = {True: "; the plants were kept", False: "; the plants were cleared"}
    what = f"End: {event.what}" if event.what else "End of the run"
    return what + (kept[event.kept] if event.kept is not None else "") + "."


def _stop(event: Event, voice: Voice) -> str:
    name = voice.product(event.product) if event.product else _ROUTINE_WORDS.get(event.what, event.what)
    return f"From here on no more {name}."


_SENTENCES: dict[Deed, Callable[[Event, Voice], str]] = {
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


def _light(row: Light, voice: Voice) -> str:
    use = row.use
    if use.off:
        return f"Lamp off{voice.at_tub(row.tub)}."
    parts = [use.lamp.name] if use.lamp else []
    parts += [f"{voice.say(use.hours)} a day"] if use.hours else []
    parts += [f"{voice.say(use.distance)} above the plants"] if use.distance else []
    return f"Light from here on: {', '.join(parts)}{voice.at_tub(row.tub)}." if parts else ""


def _routine(row: Routine, voice: Voice) -> str:
    name = voice.product(row.product) if row.product else _ROUTINE_WORDS.get(row.what, row.what)
    parts = [
        name,
        *([voice.say(row.amount)] if row.amount else []),
        *(["as labelled"] if row.as_labelled else []),
    ]
    often = f", {often_words(row.often)}" if row.often else ""
    counted = "one dose is counted for each logged filling" if row.counts_refills else "not logged each time"
    return f"From here on {', '.join(parts)}{often}{voice.at_tub(row.tub)}; {counted}."


def often_words(often: str) -> str:
    """`at every refill`; other words as they were written."""
    return f"at {often}" if often.startswith("every") and "refill" in often else often


def sentences_of(entry: int, voice: Voice) -> tuple[str, ...]:
    """What was done at one entry, each thing said once."""
    rows = voice.facts.run.rows
    events = [event for event in rows.events if event.entry == entry]
    said = [tell(event, voice) for event in events if (tell := _SENTENCES.get(event.deed))]
    said += [_light(row, voice) for row in rows.lights if row.entry == entry]
    said += [_routine(row, voice) for row in rows.routines if row.entry == entry]
    return tuple(dict.fromkeys(opening(text) for text in said if text))
