"""A short announcement, within so many characters: question, what came of it, the verdict, the link.

In: the material of a run, the length. Out: a draft of one paragraph; what does not fit is left out whole, the least
important first.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.language.catalogue import tr
from sitegen.core.values.quantity import Quantity
from sitegen.notes.draft import AuthorWords, Draft, Number, Passage, Section, author, number, passage
from sitegen.notes.kinds.description import verdict
from sitegen.notes.kinds.titles import title
from sitegen.notes.material import Material
from sitegen.notes.speech.speech import Speech


def post(material: Material, length: int) -> Draft:
    """The announcement; what is left may still be longer than `length` where a single piece is."""
    speech = Speech(material.wording, spoken=False)
    pieces = [(rank, each) for rank, each in _pieces(material) if each is not None]
    while len(pieces) > 1 and len(" ".join(speech.say(each) for _, each in pieces)) > length:
        pieces.remove(max(pieces, key=lambda piece: piece[0]))
    section = Section(title(""), tuple(each for _, each in pieces), style="paragraph")
    return Draft("post", material.setup.id, material.setup.title, (section,))


def _pieces(material: Material) -> Iterator[tuple[int, Passage | None]]:
    """Each piece in the order of reading, with how soon it is left out: the largest number first."""
    setup, answer = material.setup, material.setup.answer
    yield 1, author(setup.question or setup.title, setup.at("question" if setup.question else "title"))
    yield 0, _in_numbers(material)
    if answer and answer.result:
        yield 2, author(answer.result, setup.at("answer"))
    yield 3, _verdict(material)
    if material.address:
        yield 5, passage("{link}", link=AuthorWords(material.address, inside=True))


def _in_numbers(material: Material) -> Passage | None:
    setup, total = material.setup, material.facts.harvest.total
    plants = Number("setup.plants", len(setup.plants), noun="plant")
    known = isinstance(total.value, Quantity) and total.value.known and total.value.low > 0
    if not material.facts.run.logged:
        return None
    if material.facts.running:
        day = Number("last_entry", material.last_visit, "day")
        if known:
            return passage(
                tr("{plants}, {day}: {total} so far."),
                total.rows,
                plants=plants,
                day=day,
                total=number(total),
            )
        return passage(tr("{plants}, {day}."), setup.at("plants"), plants=plants, day=day)
    days = number(material.facts.length)
    if known:
        return passage(
            tr("{plants}, {days}, {total}."), total.rows, plants=plants, days=days, total=number(total)
        )
    return passage(
        tr("{plants}, {days}, no harvest on the scale."), setup.at("plants"), plants=plants, days=days
    )


def _verdict(material: Material) -> Passage | None:
    setup_place = material.setup.source
    if material.facts.run.stage == "planned":
        return passage(tr("Planned."), setup_place)
    if material.facts.run.stage == "running":
        entries = material.rows.entries
        return passage(tr("Still growing."), entries[-1].source if entries else material.setup.source)
    return verdict(material)
