"""What was used in a run: names and what is known of each.

In: facts. Out: `Item` rows with HTML. What was not recorded is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from markupsafe import Markup, escape

from sitegen.core.facts import Dosing, Facts, Figure, RoutineFacts, TubFacts
from sitegen.core.rows import Light
from sitegen.core.setup import LampUse, Seed, System
from sitegen.core.wording import Wording, opening
from sitegen.render.figures import FigureBook
from sitegen.render.telling import often_words

__all__ = ["Item", "system_words", "used"]


@dataclass(frozen=True, slots=True)
class Item:
    """A name and the lines that say what is known of it."""

    name: str
    lines: tuple[Markup, ...]


def _missing(text: str = "not recorded") -> Markup:
    return Markup('<span class="none">{}</span>').format(text)


def used(facts: Facts, book: FigureBook) -> tuple[Item, ...]:
    """System, light, water, feed, seed: enough to copy the set-up."""
    several = len(facts.solution.tubs) > 1
    items = [item for tub in facts.solution.tubs for item in _tub(tub, facts, book, several=several)]
    routines = tuple(escape(_routine(each, book.wording)) for each in facts.solution.routines)
    items += [Item("Light", _lights(facts, book.wording))]
    items += [Item("Routines", routines)] if routines else []
    return (*items, Item("Seed", tuple(_seed(facts.run.setup.seed, book.wording))))


def _tub(tub: TubFacts, facts: Facts, book: FigureBook, *, several: bool) -> Iterator[Item]:
    suffix = f", {tub.label}" if several else ""
    yield Item(f"System{suffix}", (escape(system_words(tub.system, book.wording)),))
    # One tub's water is all the water: one figure, not two of the same.
    added, refills = (tub.water, tub.refills) if several else (facts.solution.water, facts.solution.refills)
    water = Markup("{}; fillings: {}; full changes: {}").format(
        *(book.show(figure, facts) for figure in (added, refills, tub.changes))
    )
    yield Item(f"Water{suffix}", (water, *_remark(added)))
    yield Item(f"Feed{suffix}", tuple(_doses(tub.doses, facts, book)) or (_missing(),))
    if tub.adjusted:
        yield Item(f"pH brought down or up{suffix}", tuple(_doses(tub.adjusted, facts, book)))


def _remark(figure: Figure) -> tuple[Markup, ...]:
    return (
        (Markup("<small>{}</small>").format(opening(figure.note) + "."),)
        if figure.note and figure.recorded
        else ()
    )


def _doses(doses: Iterable[Dosing], facts: Facts, book: FigureBook) -> Iterator[Markup]:
    for dose in doses:
        total, times = (book.show(figure, facts) for figure in (dose.total, dose.times))
        yield Markup("{}: {}; times given: {}").format(dose.label, total, times)


def system_words(system: System, wording: Wording) -> str:
    """A growing system as one line."""
    parts = [system.name, system.kind]
    parts += [f"{system.spots} spots"] if system.spots is not None else []
    parts += [f"holds {wording.say(system.reservoir)}"] if system.reservoir else []
    if system.footprint:
        parts.append(" × ".join(wording.say(side) for side in system.footprint))
    parts += [f"{wording.say(system.headroom)} below the lamp's highest place"] if system.headroom else []
    return ", ".join(part for part in parts if part)


def _lights(facts: Facts, wording: Wording) -> tuple[Markup, ...]:
    """Each setting with the day that it began."""
    settings = [(row, _use(row.use, wording)) for row in facts.run.rows.lights]
    lines = tuple(escape(f"{_since(row, wording)}: {text}") for row, text in settings if text)
    if lines:
        return lines
    uses = [_use(tub.light, wording) for tub in facts.run.setup.tubs if tub.light]
    return tuple(escape(text) for text in dict.fromkeys(uses) if text) or (_missing(),)


def _since(row: Light, wording: Wording) -> str:
    tub = f", {row.tub}" if row.tub and row.tub != "tub" else ""
    return ("From the start" if row.entry is None else f"From {wording.say(row.day)}") + tub


def _use(use: LampUse, wording: Wording) -> str:
    if use.off:
        return "lamp off"
    lamp = use.lamp
    parts = [lamp.name] if lamp else []
    parts += [wording.say(lamp.power)] if lamp and lamp.power else []
    parts += [f"{wording.say(use.hours)} a day"] if use.hours else []
    parts += [f"{wording.say(use.distance)} above the plants"] if use.distance else []
    if lamp and lamp.ppfd:
        at = f" at {wording.say(lamp.ppfd_at)}" if lamp.ppfd_at else ""
        parts.append(f"{wording.say(lamp.ppfd)}{at}, as stated for the lamp")
    return ", ".join(parts)


def _routine(routine: RoutineFacts, wording: Wording) -> str:
    amount = f" {wording.say(routine.amount)}" if routine.amount else ""
    label = ", as labelled" if routine.as_labelled else ""
    often = f" {often_words(routine.often)}" if routine.often else ""
    until = f" to {wording.say(routine.until)}" if routine.until else ""
    counted = routine.often == "every logged refill"
    note = "" if counted else "; not logged each time, so in no total"
    return opening(f"{routine.label}{amount}{label}{often}, from {wording.say(routine.first)}{until}{note}.")


def _seed(seed: Seed | None, wording: Wording) -> Iterator[Markup]:
    if seed is None or not (seed.source or seed.packed):
        yield _missing()
    else:
        packed = f"packed {seed.packed}" if seed.packed else "year of packing not recorded"
        yield escape(opening(f"{seed.source or 'source not recorded'}; {packed}."))
    if seed is not None and (claims := tuple(_claims(seed, wording))):
        yield escape(f"The packet says: {'; '.join(claims)}.")


def _claims(seed: Seed, wording: Wording) -> Iterator[str]:
    claims = seed.claims
    if claims.days:
        since = f" from {claims.counted_from}" if claims.counted_from else ", not said from when"
        yield f"{wording.days(claims.days)} days{since}"
    if claims.height:
        yield f"{wording.say(claims.height)} tall"
    if claims.germination:
        yield f"{wording.say(claims.germination)} come up"
