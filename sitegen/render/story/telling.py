"""What was done at a visit, in sentences.

In: events, lamp settings and routines of one entry. Out: sentences in the order of the log.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.rows import Action, Deed, Ending, Event, Light, Routine, Sowing, Tasting, Thinning
from sitegen.core.records.setup import LampUse
from sitegen.core.values.quantity import Quantity
from sitegen.render.story.voice import Voice, who

_ROUTINE_WORDS = {
    "pollinate": tr_noop("pollinating"),
    "light": tr_noop("light hours"),
    "feed": tr_noop("feed"),
}

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


def _thin(event: Thinning, voice: Voice) -> str:
    plants = who(event.which, tr("every spot"))
    if event.left is None:
        return tr("Thinned to fewer in {plants}.", plants=plants)
    return tr("Thinned to {left} in {plants}.", left=voice.say(event.left), plants=plants)


def _transplant(event: Event, voice: Voice) -> str:
    tub, plants = voice.at_tub(event.tub), who(event.which)
    return tr("Moved from the seed tray into the tub{tub}: {plants}.", tub=tub, plants=plants)


def _deed(word: str) -> Callable[[Event, Voice], str]:
    def tell(event: Event, _: Voice) -> str:
        plants = who(event.which, "") if event.which else ""
        said = ", ".join(part for part in (event.what, plants) if part)
        return f"{tr(word)}: {said}." if said else f"{tr(word)}."

    return tell


def _treat(event: Action, voice: Voice) -> str:
    name = voice.product(event.product) if event.product else event.what
    plants = who(event.which)
    if not name:
        return tr("Treated: {plants}.", plants=plants)
    if not event.amount:
        return tr("Treated with {product}: {plants}.", product=name, plants=plants)
    amount = voice.say(event.amount)
    return tr("Treated with {product}, {amount}: {plants}.", product=name, amount=amount, plants=plants)


def _lost(event: Event, _: Voice) -> str:
    if event.what:
        return tr("Lost {plants}: {why}.", plants=who(event.which), why=event.what)
    return tr("Lost {plants}.", plants=who(event.which))


def _move(event: Event, voice: Voice) -> str:
    return tr("Moved to {tub}: {plants}.", tub=voice.tub(event.tub), plants=who(event.which))


def _taste(event: Tasting, voice: Voice) -> str:
    said = [event.what] if event.what else []
    if event.score is not None:
        marks = voice.say(event.score)
        most = event.out_of
        said.insert(0, tr("{marks} of {most}", marks=marks, most=most) if most else marks)
    return tr("Taste: {said}.", said=", ".join(said)) if said else ""


def _end(event: Ending, _: Voice) -> str:
    end = tr("End: {why}", why=event.what) if event.what else tr("End of the run")
    if event.kept is None:
        return f"{end}."
    if event.kept:
        return tr("{end}; the plants were kept.", end=end)
    return tr("{end}; the plants were cleared.", end=end)


def _stop(event: Action, voice: Voice) -> str:
    return tr("From here on no more {thing}.", thing=_thing(event.product, event.what, voice))


def _thing(product: str, what: str, voice: Voice) -> str:
    """What a routine gives or does."""
    if product:
        return voice.product(product)
    word = _ROUTINE_WORDS.get(what, "")
    return tr(word) if word else what


_SENTENCES: dict[Deed, Callable[[Any, Voice], str]] = {
    Deed.SOW: _sow,
    Deed.THIN: _thin,
    Deed.TRANSPLANT: _transplant,
    Deed.PRUNE: _deed(tr_noop("Pruned")),
    Deed.TRAIN: _deed(tr_noop("Trained")),
    Deed.POLLINATE: _deed(tr_noop("Pollinated by hand")),
    Deed.TREAT: _treat,
    Deed.CLEAN: _deed(tr_noop("Cleaned")),
    Deed.LOST: _lost,
    Deed.MOVE: _move,
    Deed.TASTE: _taste,
    Deed.END: _end,
    Deed.STOP: _stop,
}


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
    said = [tell(event, voice) for event in events if (tell := _SENTENCES.get(event.deed))]
    said += [_light(row, voice) for row in rows.lights if row.entry == entry]
    said += [_routine(row, voice) for row in rows.routines if row.entry == entry]
    return tuple(dict.fromkeys(opening(text) for text in said if text))
