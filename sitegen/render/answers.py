"""What viewers ask about every run, answered as far as its records go.

In: facts and wording. Out: `Reply`s with sentences whose numbers lead to their working, and one line that names what was
not recorded. A question that the records do not answer is left out; nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from sitegen.core.addresses import day_anchor
from sitegen.core.day import Day
from sitegen.core.facts import Facts, Figure
from sitegen.core.quantity import Quantity
from sitegen.core.site import Picture
from sitegen.core.text import listed
from sitegen.core.wording import Wording
from sitegen.render.sentences import Sentence

__all__ = ["Reply", "missing_words", "replies"]

LONG_PICKING = 14.0  # days of picking from which an amount a week says something; common practice, no source
RIPENESS = ("ready", "too late")


@dataclass(frozen=True, slots=True)
class Reply:
    """One question with its answer; `ways` are words with the anchors on the page that they lead to."""

    question: str
    sentences: tuple[Sentence, ...] = ()
    ways: tuple[tuple[str, str], ...] = ()


def replies(facts: Facts, pictures: Sequence[Picture], wording: Wording) -> tuple[Reply, ...]:
    """The questions that the records answer, in the order in which they are asked."""
    told = (Reply(question, tell(facts, wording)) for question, tell in _ASKED)
    change = facts.run.setup.answer.change if facts.run.setup.answer else ""
    found = [
        *told,
        Reply("What does ready look like, and too late?", (), _ripeness(pictures, wording)),
        Reply("What would you change?", (_of(change),) if change else ()),
    ]
    return tuple(reply for reply in found if reply.sentences or reply.ways)


def _of(*parts: str | Figure) -> Sentence:
    """A sentence; what an author wrote gets its full stop."""
    *most, last = [part for part in parts if part != ""]
    return Sentence((*most, f"{last.rstrip('.')}." if isinstance(last, str) else last))


def _known(figure: Figure) -> bool:
    return figure.recorded and (not isinstance(figure.value, Quantity) or figure.value.known)


def _first_bite(facts: Facts, _: Wording) -> tuple[Sentence, ...]:
    timing, first = facts.harvest.timing, facts.harvest.first_pick
    if not isinstance(first.value, Day):
        return ()
    when = "on" if first.value.single else "at some time in"
    after = (
        ("; that is ", timing.from_transplant, " after transplanting")
        if _known(timing.from_transplant)
        else ()
    )
    return (_of(f"The first pick was made {when} ", first, ", counted from sowing", *after, "."),)


def _how_much(facts: Facts, _: Wording) -> tuple[Sentence, ...]:
    harvest = facts.harvest
    if not _known(harvest.total):
        return ()
    so_far = " by the last entry" if facts.running else ""
    note = f" ({harvest.total.note})" if harvest.total.note else ""
    said = [_of("In all, ", harvest.total, f" was picked{so_far}{note}.")]
    week, span = harvest.per.week_of_picking, harvest.timing.picking.value
    if _known(week) and isinstance(span, Quantity) and span.low >= LONG_PICKING:
        said.append(
            _of(
                "Over the ", harvest.timing.picking, " from the first pick to the last that makes ", week, "."
            )
        )
    return tuple(said)


def _under_the_lamp(facts: Facts, wording: Wording) -> tuple[Sentence, ...]:
    growth, systems = facts.growth, {tub.system.id: tub.system for tub in facts.run.setup.tubs}
    if not _known(growth.tallest) or not _known(growth.headroom):
        return ()
    note = f" ({growth.tallest.note.replace('; ', ', ')})" if growth.tallest.note else ""
    tallest = _of("The tallest plant measured ", growth.tallest, f"{note}.")
    (system, *others) = systems.values()
    room = growth.headroom.value
    full = isinstance(room, Quantity) and room.high == 0
    if others or system.headroom is None:
        left = "The least room left below the lamp’s highest place was "
        return (tallest, _of(left, growth.headroom, f"{_noted(growth.headroom)}."))
    offers = f"{system.name} has {wording.say(system.headroom)} below the lamp’s highest place"
    if full:
        return (tallest, _of(f"{offers}; none of it was left."))
    return (tallest, _of(f"{offers}; ", growth.headroom, " was left."))


def _how_much_work(facts: Facts, _: Wording) -> tuple[Sentence, ...]:
    work, solution = facts.work, facts.solution
    noun = " visits" if _plenty(work.visits) else " visit"
    visits = _of(
        "The log has ", work.visits, f"{noun} over ", facts.length, ": ",
        work.waterings, " with water, ", work.feedings, " with feed and ",
        work.hands_on, " with hands on the plants.",
    )  # fmt: skip
    fillings = _of("Water was filled up ", solution.refills, " times.") if _plenty(solution.refills) else None
    unlogged = [r for r in facts.solution.routines if r.often != "every logged refill"]
    more = _of("What was done as a routine was not logged each time.") if unlogged else None
    return tuple(sentence for sentence in (visits, fillings, more) if sentence)


def _plenty(figure: Figure) -> bool:
    """Whether a count reads as a plural."""
    return isinstance(figure.value, Quantity) and figure.value.low > 1


def _used(facts: Facts, _: Wording) -> tuple[Sentence, ...]:
    water, energy, cost = facts.solution.water, facts.climate.energy, facts.harvest.costs.total
    light = facts.climate.light_hours
    said = []
    if _known(water):
        said.append(_of("Water poured in: ", water, _noted(water), "."))
    if _known(light):
        said.append(_of("Lamp: ", light, " a day."))
    if _known(energy):
        said.append(_of("Electricity for light: ", energy, _noted(energy), "."))
    if _known(cost):
        said.append(_of("Running costs: ", cost, _noted(cost), "."))
    return tuple(said)


def _noted(figure: Figure) -> str:
    return f" ({figure.note})" if figure.note else ""


def _ripeness(pictures: Sequence[Picture], wording: Wording) -> tuple[tuple[str, str], ...]:
    """The first picture that shows each, by the entry that it stands in."""
    found = []
    for shows in RIPENESS:
        days = [picture.day for picture in pictures if picture.shows == shows and picture.day]
        if days:
            found.append((f"{shows}, in the picture of {wording.say(min(days))}", day_anchor(min(days))))
    return tuple(found)


Tell = Callable[[Facts, Wording], tuple[Sentence, ...]]
_ASKED: tuple[tuple[str, Tell], ...] = (
    ("How long until the first bite?", _first_bite),
    ("How much did it give?", _how_much),
    ("Does it fit under the lamp?", _under_the_lamp),
    ("How much work was it?", _how_much_work),
    ("What did it use?", _used),
)


def missing_words(facts: Facts) -> str:
    """What of these was not recorded, in one line; nothing while a run goes on."""
    tubs = facts.run.setup.tubs
    asked = {
        "how tall the plants grew": _known(facts.growth.tallest),
        "the room below the lamp": all(tub.system.headroom is not None for tub in tubs),
        "the water": _known(facts.solution.water),
        "the electricity": _known(facts.climate.energy),
    }
    missing = [words for words, known in asked.items() if not known]
    return "" if facts.running or not missing else f"Not recorded: {listed(missing)}."
