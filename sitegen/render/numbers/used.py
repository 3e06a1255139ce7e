"""The equipment of a run: system, light, water, feed, seed.

In: facts. Out: `Item` rows with HTML. An item that was not recorded says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from markupsafe import Markup, escape

from sitegen.core.facts.claimant import claimant
from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Dosing, Facts, RoutineFacts, TubFacts
from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.figure_words import beside_words, label_words, remarks_words
from sitegen.core.language.text import listed, tub_words
from sitegen.core.language.wording import NBSP, Wording, opening
from sitegen.core.records.routines import Light
from sitegen.core.records.setup import Lamp, LampUse, Seed, Setup, System
from sitegen.core.site.addresses import experiment_page, link
from sitegen.core.site.site_map import OtherPages
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.story.days.entry_sentences import lamp_words, often_words
from sitegen.render.story.run_sentences import filled_markup
from sitegen.render.story.stage_words import remembered_plants


@dataclass(frozen=True, slots=True)
class Item:
    """A name and the lines about it."""

    name: str
    lines: tuple[Markup, ...]


def _missing() -> Markup:
    return Markup('<span class="none">{}</span>').format(tr("not recorded"))


def used(facts: Facts, book: FigureBook, others: OtherPages) -> tuple[Item, ...]:
    """System, shared tubs, light, water, feed, seed: enough to copy the set-up."""
    several = len(facts.solution.tubs) > 1
    items = [item for tub in facts.solution.tubs for item in _tub(tub, facts, book, several=several)]
    routines = tuple(escape(_routine(each, book.wording)) for each in facts.solution.routines)
    shared = tuple(_shared(facts, book, others))
    items += [Item(tr("Shared tub"), shared)] if shared else []
    items += [Item(tr("Light"), _lights(facts, book.wording))]
    items += [Item(tr("Routines"), routines)] if routines else []
    return (*items, Item(tr("Seed"), tuple(_seed(facts.run.setup.seed, book.wording))))


def set_up(facts: Facts, book: FigureBook, others: OtherPages) -> tuple[Item, ...]:
    """What the set-up names: plants, systems, shared tubs, light, seed; nothing that it leaves out."""
    setup, wording = facts.run.setup, book.wording
    several = len(setup.tubs) > 1
    items = [Item(tr("Plants"), _plants(setup, wording))]
    for tub in setup.tubs:
        suffix = f", {tub_words(tub.id)}" if several else ""
        items.append(Item(tr("System") + suffix, (escape(system_words(tub.system, wording)),)))
        if tub.light and (light := _use(tub.light, wording)):
            items.append(Item(tr("Light") + suffix, (escape(light),)))
    shared = tuple(_shared(facts, book, others))
    items += [Item(tr("Shared tub"), shared)] if shared else []
    return (*items, *([Item(tr("Seed"), tuple(_seed(setup.seed, wording)))] if setup.seed else []))


def _plants(setup: Setup, wording: Wording) -> tuple[Markup, ...]:
    """How many, and of which varieties."""
    if setup.from_memory:
        number = remembered_plants(setup.from_memory, wording)
    else:
        number = tr_n("{n} plant", "{n} plants", len(setup.plants))
    varieties = listed([setup.variety_name(variety) for variety in setup.variety_ids])
    return (escape(", ".join(filter(None, (number, varieties)))),)


def _tub(tub: TubFacts, facts: Facts, book: FigureBook, *, several: bool) -> Iterator[Item]:
    suffix = f", {tub_words(tub.label)}" if several else ""
    yield Item(tr("System") + suffix, (escape(system_words(tub.system, book.wording)),))
    # One tub's water is all the water: one figure, not two of the same.
    added, refills = (tub.water, tub.refills) if several else (facts.solution.water, facts.solution.refills)
    water = filled_markup(
        tr("{water}; refills: {fillings}; water changes: {changes}"),
        water=book.show(added, facts),
        fillings=book.show(refills, facts),
        changes=book.show(tub.changes, facts),
    )
    yield Item(tr("Water") + suffix, (water, *_remark(added)))
    yield Item(tr("Feed") + suffix, tuple(_doses(tub.doses, facts, book)) or (_missing(),))
    if tub.adjusted:
        yield Item(tr("pH adjusted") + suffix, tuple(_doses(tub.adjusted, facts, book)))


def _shared(facts: Facts, book: FigureBook, others: OtherPages) -> Iterator[Markup]:
    """The runs that tubs are shared with; without its title where one has no page."""
    for share in facts.run.setup.shares:
        title = others.title(share.run)
        page = Markup('<a href="{}">{}</a>').format(link(experiment_page(share.run), book.page), title)
        run = page if title else tr("another run")
        if len(facts.run.setup.tubs) > 1:
            yield filled_markup(tr("{tub}: shared with {run}."), tub=opening(tub_words(share.tub)), run=run)
        else:
            yield filled_markup(tr("Shared with {run}."), run=run)
    if facts.run.setup.shares:
        said = tr(
            "Each log counts its own water, feed and visits. How much of the water, the feed and the electricity was "
            "for which crop is not known."
        )
        yield Markup("<small>{}</small>").format(said)
    if any(share.log is None for share in facts.run.setup.shares):
        open_sums = tr("The log of another run is not counted here: sums of water and feed are left open.")
        yield Markup("<small>{}</small>").format(open_sums)


def _remark(figure: Figure) -> tuple[Markup, ...]:
    if not figure.remarks or not figure.recorded:
        return ()
    return (Markup("<small>{}</small>").format(opening(beside_words(figure)) + "."),)


def _doses(doses: Iterable[Dosing], facts: Facts, book: FigureBook) -> Iterator[Markup]:
    for dose in doses:
        total, times = (book.show(figure, facts) for figure in (dose.total, dose.times))
        yield filled_markup(
            tr("{product}: {total}; doses: {times}"),
            product=label_words(dose.label),
            total=total,
            times=times,
        )


def system_words(system: System, wording: Wording) -> str:
    """A growing system as one line."""
    parts = [system.name, system.kind]
    parts += [tr_n("{n} spot", "{n} spots", system.spots)] if system.spots is not None else []
    parts += [tr("holds {amount}", amount=wording.say(system.reservoir))] if system.reservoir else []
    if system.footprint:
        parts.append(" × ".join(wording.say(side) for side in system.footprint))
    if system.headroom:
        parts.append(tr("{height} of room with the lamp at its highest", height=wording.say(system.headroom)))
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
    tub = f", {tub_words(row.tub)}" if row.tub and row.tub != "tub" else ""
    return (tr("From the start") if row.entry is None else tr("From {day}", day=wording.say(row.day))) + tub


def _use(use: LampUse, wording: Wording) -> str:
    if use.off:
        return tr("lamp off")
    lamp = use.lamp
    parts = [lamp.name] if lamp else []
    parts += [power] if (power := _power_beside_name(lamp, wording)) else []
    parts += lamp_words(use, wording)
    parts += [_stated(lamp, wording)] if lamp and lamp.ppfd else []
    return ", ".join(parts)


def _power_beside_name(lamp: Lamp | None, wording: Wording) -> str:
    """The power of a lamp, unless its name says it: `60 W bar`."""
    power = wording.say(lamp.power) if lamp and lamp.power else ""
    named = lamp.name.replace(" ", NBSP).split(NBSP) if lamp else []
    return "" if power.split(NBSP) in [named[n : n + 2] for n in range(len(named))] else power


def _stated(lamp: Lamp, wording: Wording) -> str:
    light = wording.say(lamp.ppfd)
    if not lamp.ppfd_at:
        return tr("{light}, by the lamp's own figures", light=light)
    at = wording.say(lamp.ppfd_at)
    return tr("{light} at {distance}, by the lamp's own figures", light=light, distance=at)


def _routine(routine: RoutineFacts, wording: Wording) -> str:
    what = label_words(routine.label)
    amount = routine.said or (wording.say(routine.amount) if routine.amount else "")
    what += f" {amount}" if amount else ""
    what += f", {tr('as labelled')}" if routine.as_labelled else ""
    what += f" {often_words(routine.often)}" if routine.often else ""
    messages = _COUNTED if routine.counted else _AT_REFILLS if routine.at_each_filling else _NOT_COUNTED
    message = messages[routine.until is not None]
    until = wording.say(routine.until) if routine.until else ""
    return opening(tr(message, what=what, first=wording.say(routine.first), until=until))


# Of a routine that goes on, and of one that was ended.
_COUNTED = (tr_noop("{what}, from {first}."), tr_noop("{what}, from {first} to {until}."))
_AT_REFILLS = (
    tr_noop("{what}, from {first}; refills that were not logged are not in any total."),
    tr_noop("{what}, from {first} to {until}; refills that were not logged are not in any total."),
)
_NOT_COUNTED = (
    tr_noop("{what}, from {first}; not logged every time, so not in any total."),
    tr_noop("{what}, from {first} to {until}; not logged every time, so not in any total."),
)


def _seed(seed: Seed | None, wording: Wording) -> Iterator[Markup]:
    if seed is None or not (seed.source or seed.packed):
        yield _missing()
    else:
        source = seed.source or tr("source not recorded")
        said = (
            tr("{source}; packed {year}.", source=source, year=seed.packed)
            if seed.packed
            else tr("{source}; year of packing not recorded.", source=source)
        )
        yield escape(opening(said))
    if seed is not None and (claims := tuple(_claims(seed, wording))):
        yield escape(
            tr(
                "Claimed for this seed ({who}): {claims}.",
                who=remarks_words([claimant(seed)]),
                claims="; ".join(claims),
            )
        )


_COUNTED_FROM = {
    "sowing": tr_noop("{days} days from sowing"),
    "transplant": tr_noop("{days} days from transplanting"),
    "": tr_noop("{days} days, starting point not recorded"),
}


def _claims(seed: Seed, wording: Wording) -> Iterator[str]:
    claims = seed.claims
    if claims.days:
        message = _COUNTED_FROM[claims.counted_from]
        yield tr(message, days=wording.days(claims.days))
    if claims.height:
        yield tr("{height} tall", height=wording.say(claims.height))
    if claims.germination:
        yield tr("{share} come up", share=wording.say(claims.germination))
