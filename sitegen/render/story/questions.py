"""Common questions about a run, answered as far as its records go.

In: facts and wording. Out: `AnsweredQuestion`s with sentences whose figures are linked, and one line that names
the records that are missing. A question that the records do not answer is left out; nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Facts, Work
from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.language.wording import Wording
from sitegen.core.site.addresses import day_anchor
from sitegen.core.site.content import Picture
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.render.story.run_sentences import Sentence, filled_sentence

LONG_PICKING = 14.0  # days of picking from which an amount a week says something; common practice, no source
RIPENESS = (tr_noop("ready"), tr_noop("too late"))


@dataclass(frozen=True, slots=True)
class AnsweredQuestion:
    """One question with its answer; `links` are words with the anchors on the page that they lead to."""

    question: str
    sentences: tuple[Sentence, ...] = ()
    links: tuple[tuple[str, str], ...] = ()


def answered_questions(
    facts: Facts, pictures: Sequence[Picture], wording: Wording
) -> tuple[AnsweredQuestion, ...]:
    """The questions that the records answer, in the order in which they are asked."""
    told = (AnsweredQuestion(tr(question), answer(facts, wording)) for question, answer in _QUESTIONS)
    change = facts.run.setup.answer.change if facts.run.setup.answer else ""
    found = [
        *told,
        AnsweredQuestion(tr("What does ready look like? And too late?"), (), _ripeness(pictures, wording)),
        AnsweredQuestion(tr("What should change next time?"), (_of(change),) if change else ()),
    ]
    return tuple(question for question in found if question.sentences or question.links)


def _of(words: str) -> Sentence:
    """The author's words, with a full stop."""
    return Sentence((f"{words.rstrip('.')}.",))


def _known(figure: Figure) -> bool:
    return figure.recorded and (not isinstance(figure.value, Quantity) or figure.value.known)


def _first_bite(facts: Facts, _: Wording) -> tuple[Sentence, ...]:
    timing, first = facts.harvest.timing, facts.harvest.first_pick
    if not isinstance(first.value, Day):
        return ()
    after = _known(timing.from_transplant)
    message = _FIRST_BITE[first.value.single, after]
    return (filled_sentence(tr(message), day=first, after=timing.from_transplant),)


# Whether the day is known, and whether how long after transplanting it was.
_FIRST_BITE = {
    (True, False): tr_noop("The first pick came on {day} after sowing."),
    (True, True): tr_noop("The first pick came on {day} after sowing, {after} after transplanting."),
    (False, False): tr_noop("The first pick came some time in {day} after sowing."),
    (False, True): tr_noop(
        "The first pick came some time in {day} after sowing, {after} after transplanting."
    ),
}


def _how_much(facts: Facts, _: Wording) -> tuple[Sentence, ...]:
    harvest = facts.harvest
    if not _known(harvest.total):
        return ()
    message = (
        tr("By the last visit, {harvest} had been picked{note}.")
        if facts.running
        else tr("In all, {harvest} was picked{note}.")
    )
    said = [filled_sentence(message, harvest=harvest.total, note=_after(harvest.total))]
    week, span = harvest.per.week_of_picking, harvest.timing.picking.value
    if _known(week) and isinstance(span, Quantity) and span.low >= LONG_PICKING:
        message = tr("Spread over the {time} of picking, that is {rate}.")
        said.append(filled_sentence(message, time=harvest.timing.picking, rate=week))
    return tuple(said)


def _under_the_lamp(facts: Facts, wording: Wording) -> tuple[Sentence, ...]:
    growth, systems = facts.growth, {tub.system.id: tub.system for tub in facts.run.setup.tubs}
    if not _known(growth.tallest) or not _known(growth.headroom):
        return ()
    tallest = filled_sentence(
        tr("The greatest height measured was {height}{note}."),
        height=growth.tallest,
        note=_in_line(growth.tallest),
    )
    (system, *others) = systems.values()
    room = growth.headroom.value
    if others or system.headroom is None:
        message = tr("With the lamp at its highest, {room} was left above the tallest plant measured{note}.")
        return (tallest, filled_sentence(message, room=growth.headroom, note=_in_line(growth.headroom)))
    message = (
        tr("Room with the lamp at its highest: {height}, in {system}. The plants used all of it{note}.")
        if isinstance(room, Quantity) and room.high == 0
        else tr(
            "Room with the lamp at its highest: {height}, in {system}; {room} was left above the tallest "
            "plant measured{note}."
        )
    )
    offered, when = wording.say(system.headroom), _in_line(growth.headroom)
    said = filled_sentence(message, system=system.name, height=offered, room=growth.headroom, note=when)
    return (tallest, said)


def _how_much_work(facts: Facts, _: Wording) -> tuple[Sentence, ...]:
    work = facts.work
    water, feed = _some(work.waterings), _some(work.feedings)
    kept = {name: f"{{{name}}}" for name in ("visits", "length", "water", "feed", "hands")}
    message = (
        _without_water(work, kept)
        if not water
        else tr_n(
            "{visits} visit over {length}: {water} to add water, {feed} to feed, {hands} to work on "
            "the plants.",
            "{visits} visits over {length}: {water} to add water, {feed} to feed, {hands} to work on "
            "the plants.",
            _count(work.visits),
            **kept,
        )
        if feed
        else tr_n(
            "{visits} visit over {length}: {water} to add water, {hands} to work on the plants.",
            "{visits} visits over {length}: {water} to add water, {hands} to work on the plants.",
            _count(work.visits),
            **{name: words for name, words in kept.items() if name != "feed"},
        )
    )
    visits = filled_sentence(
        message,
        visits=work.visits,
        length=facts.length,
        water=work.waterings,
        feed=work.feedings,
        hands=work.hands_on,
    )
    said = [visits, *_refills(facts)]
    if any(not routine.counted for routine in facts.solution.routines):
        said.append(
            filled_sentence(tr("Routine jobs were not logged every time, so there may have been more."))
        )
    return tuple(said)


def _refills(facts: Facts) -> Iterator[Sentence]:
    """How many refills there were, where the number of visits with water does not say it."""
    refills = facts.solution.refills
    times = _count(refills)
    if times > 1 and len(facts.run.setup.tubs) > 1:
        message = tr_n(
            "Over all tubs that was {times} refill.",
            "Over all tubs that was {times} refills.",
            times,
            times="{times}",
        )
        yield filled_sentence(message, times=refills)
    elif times > 1 and times != _count(facts.work.waterings):
        message = tr_n(
            "{times} of them was a refill, not a first fill or a full change.",
            "{times} of them were refills, not first fills or full changes.",
            times,
            times="{times}",
        )
        yield filled_sentence(message, times=refills)


def _without_water(work: Work, kept: Mapping[str, str]) -> str:
    """The work of a run in which no visit added water, or only a routine did: nobody knows at how many visits."""
    words = {name: place for name, place in kept.items() if name in ("visits", "length", "hands")}
    if not _some(work.feedings):
        return tr_n(
            "{visits} visit over {length}: {hands} to work on the plants.",
            "{visits} visits over {length}: {hands} to work on the plants.",
            _count(work.visits),
            **words,
        )
    return tr_n(
        "{visits} visit over {length}: {feed} to feed, {hands} to work on the plants.",
        "{visits} visits over {length}: {feed} to feed, {hands} to work on the plants.",
        _count(work.visits),
        **words,
        feed=kept["feed"],
    )


def _some(figure: Figure) -> bool:
    """Whether a count is known and may be more than none."""
    return isinstance(figure.value, Quantity) and figure.recorded and figure.value.high != 0


def _count(figure: Figure) -> int:
    """The number that a count takes its plural by."""
    return int(figure.value.low) if isinstance(figure.value, Quantity) else 0


def _used(facts: Facts, _: Wording) -> tuple[Sentence, ...]:
    """A line for each thing that is known."""
    lines = (
        (facts.solution.water, tr("Water in all: {amount}{note}.")),
        (facts.climate.light_hours, tr("Lamp on for {amount} a day.")),
        (facts.climate.energy, tr("Electricity for the lamps: {amount}{note}.")),
        (facts.harvest.costs.total, tr("Running costs: {amount}{note}.")),
    )
    return tuple(
        filled_sentence(message, amount=figure, note=_after(figure))
        for figure, message in lines
        if _known(figure)
    )


def _after(figure: Figure) -> str:
    """The remarks of a figure as clauses: brackets are for the other unit."""
    return f"; {remarks_words(figure.remarks)}" if figure.remarks else ""


def _in_line(figure: Figure) -> str:
    """The remarks of a figure as parts of its own clause: which plant, which tub, which day."""
    return _after(figure).replace("; ", ", ")


def _ripeness(pictures: Sequence[Picture], wording: Wording) -> tuple[tuple[str, str], ...]:
    """The first picture that shows each, by the entry that it stands in."""
    found = []
    for shows in RIPENESS:
        days = [picture.day for picture in pictures if picture.shows == shows and picture.day]
        if days:
            words = tr("{shown}: see the picture from {day}", shown=tr(shows), day=wording.say(min(days)))
            found.append((words, day_anchor(min(days))))
    return tuple(found)


Answer = Callable[[Facts, Wording], tuple[Sentence, ...]]
_QUESTIONS: tuple[tuple[str, Answer], ...] = (
    (tr_noop("How long until the first bite?"), _first_bite),
    (tr_noop("How much did it give?"), _how_much),
    (tr_noop("Does it fit under the lamp?"), _under_the_lamp),
    (tr_noop("How much work was it?"), _how_much_work),
    (tr_noop("What did it use?"), _used),
)
