"""How the run began: sowing, seedlings, thinning, moving into the tubs.

In: the material of a run. Out: moments.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.facts.figure import Share
from sitegen.core.language.catalogue import tr
from sitegen.core.records.rows import Deed, Sowing
from sitegen.core.values.day import Day
from sitegen.notes.draft import Number, Passage, Plants, passage, told
from sitegen.notes.material import Material
from sitegen.notes.moments.moment import Moment


def beginning(material: Material) -> Iterator[Moment]:
    """Sowing, seedlings up, transplanting."""
    if not material.facts.run.logged:
        return
    yield from _sowing(material)
    yield from _seedlings(material)
    yield from _transplanting(material)


def _sowing(material: Material) -> Iterator[Moment]:
    sown = material.rows.of(Sowing)
    first = next(iter(sown), None)
    when = material.setup.start.date_of(0)
    place = first.source if first else material.setup.at("start")
    dated = passage(
        tr("{day} was {date}."),
        place,
        day=Number("setup.start", Day.on(0), "day"),
        date=Number("setup.start", when, "date"),
    )
    said = told(dated, _seeds(material, first) if first else None)
    if said:
        yield Moment("start", said, Day.on(0))
    for again in sown[1:]:
        if again.which is not None and again.which.named and again.day.first > 0:
            words = passage(
                tr("{on_day} I sowed {plants} again."),
                again.source,
                on_day=Number("log.day", again.day, "on"),
                plants=Plants(again.which.ids),
            )
            yield Moment("setting", told(words), again.day)


def _seeds(material: Material, first: Sowing) -> Passage | None:
    seeds = first.seeds
    if seeds is None or not seeds.single:
        return None
    number = Number("log.sow.seeds", int(seeds.low), noun="seed")
    if not first.each:
        return passage(tr("{seeds} went in."), first.source, seeds=number)
    spots = len(first.which.ids) if first.which and first.which.named else len(material.setup.plants)
    if spots == 1:
        return passage(tr("{seeds} went in."), first.source, seeds=number)
    return passage(
        tr("{seeds} went into each of {spots}."),
        first.source,
        seeds=number,
        spots=Number("setup.plants", spots, noun="spot"),
    )


def _seedlings(material: Material) -> Iterator[Moment]:
    facts = material.facts.germination
    share = facts.share.value
    looks = [event for event in material.rows.of(Deed.SPROUTED) if not event.day.before]
    if not isinstance(share, Share) or not looks:
        return
    day = facts.last_day.value if isinstance(facts.last_day.value, Day) else looks[-1].day
    on = Number("germination.last_day", day, "by")
    if share.part == 0:
        message = passage(
            tr("Not a seed had come up when I last counted, {on_day}."),
            looks[-1].source,
            on_day=Number("log.day", looks[-1].day, "on"),
        )
        yield Moment("seeds", told(message), looks[-1].day)
        return
    whole = Number("germination.sown", share.whole)
    if share.part == share.whole == 1:
        message = passage(tr("{by_day}, the only seed was up."), facts.share.rows, by_day=on)
    elif share.part == share.whole:
        message = passage(
            tr("{by_day}, all {whole} of the seeds were up."), facts.share.rows, by_day=on, whole=whole
        )
    else:
        part = Number("germination.sprouted", share.part, "plain", "seed")
        message = passage(
            tr("{by_day}, {part} of the {whole} seeds were up."),
            facts.share.rows,
            by_day=on,
            part=part,
            whole=whole,
        )
    yield Moment("seeds", told(message), day)


def _transplanting(material: Material) -> Iterator[Moment]:
    moved = material.rows.of(Deed.TRANSPLANT)
    for event in moved[:1]:
        on, ids = Number("log.day", event.day, "on"), event.which.ids if event.which else ()
        if 0 < len(ids) < len(material.roster.standing(event.day.first)):
            words = passage(
                tr("{on_day} {plants} moved into the tub."), event.source, on_day=on, plants=Plants(ids)
            )
        elif len(material.setup.tubs) > 1:
            words = passage(tr("{on_day} the plants moved into the tubs."), event.source, on_day=on)
        else:
            words = passage(tr("{on_day} the plants moved into the tub."), event.source, on_day=on)
        yield Moment("start", told(words), event.day)
