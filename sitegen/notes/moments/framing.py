"""The frame of a script: what the run is about before its days, and what it means behind them.

In: the material of a run. Out: moments. Question and answer are the author's words.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.text import in_tub_words
from sitegen.notes.draft import AuthorWords, Number, Passage, author, passage, told
from sitegen.notes.material import Material
from sitegen.notes.moments.moment import Moment
from sitegen.notes.moments.questions import caveat

_FEW_TUBS = 3  # whose lamps are named one by one
_VERDICTS = {
    "again": tr_noop("Would I grow it again? Yes."),
    "not again": tr_noop("Would I grow it again? No."),
    "undecided": tr_noop("Would I grow it again? I have not decided."),
}


def opening_moments(material: Material) -> Iterator[Moment]:
    """What grows there, the question, and the verdict or the day of the last visit."""
    yield Moment("question", told(*_plants(material)), place="opening")
    question = material.setup.question
    if question:
        place = material.setup.at("question")
        yield Moment("question", told(author(question, place)), place="opening", order=1)
    if not material.facts.run.logged:
        yield Moment("answer", told(*_without_log(material)), place="opening", order=2)
    yield Moment("answer", told(*_answer(material)), place="opening", order=3)


def _without_log(material: Material) -> Iterator[Passage | None]:
    """Of a run that is planned, or told from memory: that there are no records of it."""
    setup, memory = material.setup, material.setup.from_memory
    if memory is None:
        yield passage(tr("Nothing has been written down yet."), setup.source)
        when = setup.start.date if setup.dated else None
        if when is not None:
            yield passage(
                tr("Sowing is planned for {date}."),
                setup.at("start"),
                date=Number("setup.start", when, "date"),
            )
        return
    yield passage(tr("There is no log of it: this is from memory."), setup.source)
    if memory.harvest_text:
        yield author(memory.harvest_text, setup.source)


def _plants(material: Material) -> Iterator[Passage | None]:
    setup = material.setup
    if not setup.plants:
        return
    varieties = [variety for variety in setup.variety_ids if variety]
    place = setup.at("plants")
    if len(varieties) == 2:
        first, second = varieties
        yield passage(
            tr("{first} and {second}: {plants} in all."),
            place,
            setup.at("variety"),
            first=AuthorWords(setup.variety_name(first)),
            second=AuthorWords(setup.variety_name(second), inside=True),
            plants=Number("setup.plants", len(setup.plants), noun="plant"),
        )
    else:
        name = setup.variety_name(varieties[0]) if len(varieties) == 1 else setup.crop.name
        yield passage(
            tr("This is about {plants} of {variety}."),
            place,
            setup.at("variety"),
            plants=Number("setup.plants", len(setup.plants), noun="plant"),
            variety=AuthorWords(name, inside=True),
        )
    systems = list(dict.fromkeys(tub.system.name for tub in setup.tubs))
    if len(setup.tubs) == 1:
        yield passage(
            tr("The tub: {system}."),
            setup.at("system"),
            system=AuthorWords(systems[0], inside=True),
        )
    elif len(setup.tubs) > 1:
        yield passage(
            tr("They stand in {tubs}.") if material.facts.running else tr("They stood in {tubs}."),
            setup.at("tubs"),
            tubs=Number("setup.tubs", len(setup.tubs), noun="tub"),
        )
    yield from _lamps(material)


def _lamps(material: Material) -> Iterator[Passage | None]:
    """The lamp over each tub that the set-up or the first setting names."""
    setup, several = material.setup, len(material.setup.tubs) > 1
    if len(setup.tubs) > _FEW_TUBS:
        return
    for tub in setup.tubs:
        lamp = material.lamp_of(tub)
        if lamp is None:
            continue
        first = next((row for row in material.rows.lights if row.tub in ("", tub.id) and row.use.lamp), None)
        place = first.source if first else setup.at("light")
        name = AuthorWords(lamp, inside=True)
        if several:
            yield passage(tr("The light {in_tub}: {lamp}."), place, in_tub=in_tub_words(tub.id), lamp=name)
        else:
            yield passage(tr("The light: {lamp}."), place, lamp=name)


def _answer(material: Material) -> Iterator[Passage | None]:
    setup, answer = material.setup, material.setup.answer
    place = setup.at("answer")
    if answer and answer.result:
        yield author(answer.result, place)
    if answer and answer.verdict:
        yield passage(tr(_VERDICTS[answer.verdict]), place)
        yield author(answer.why, place)
    elif answer and answer.why:
        yield author(answer.why, place)
    if material.facts.run.stage == "running":
        yield from _still_going(material)


def _still_going(material: Material) -> Iterator[Passage | None]:
    last = material.last_visit
    place = material.rows.entries[-1].source if material.rows.entries else material.setup.source
    yield passage(tr("This run is still going."), place)
    day = Number("last_entry", last, "day")
    when = material.date_of(last) if last is not None else None
    if when is None:
        yield passage(tr("My last visit was on {day}."), place, day=day)
    else:
        yield passage(
            tr("My last visit was on {day}, {date}."), place, day=day, date=Number("log.date", when, "date")
        )


def meaning(material: Material) -> Iterator[Moment]:
    """The question again, the caveat, and what the author would change."""
    setup, answer = material.setup, material.setup.answer
    place = setup.at("answer")
    if answer and answer.change:
        change = (passage(tr("What would I change?")), author(answer.change, place))
        yield Moment("answer", told(*change), place="meaning", order=9)
    if not material.facts.run.logged:
        return
    arms = [arm for arm in material.arms if arm.arm.kind != "varieties"]
    asked = None
    if len(arms) > 1 and len(setup.tubs) == len(arms):
        lamps = {lamp for lamp in map(material.lamp_of, setup.tubs) if lamp}
        asked = passage(
            tr("Was it the lamp, the tub, or luck?")
            if len(lamps) > 1
            else tr("Was it what I compared, the tub, or luck?")
        )
    elif arms == [] and len(material.arms) > 1:
        asked = passage(tr("Was it the variety, or luck?"))
    elif len(material.arms) > 1:
        asked = passage(tr("Was it what I compared, or luck?"))
    yield Moment("caveat", told(asked, caveat(material)), place="meaning", order=8)
