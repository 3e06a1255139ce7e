"""A comment that answers what viewers commonly ask, and what they did ask, as far as the log goes.

In: the material of a run. Out: a draft in digits, a question a section. A question that the log does not answer is left
out; nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sitegen.core.facts.figure import Figure
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.text import tub_words
from sitegen.core.records.rows import Deed, Tasting
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.notes.draft import (
    AuthorWords,
    Draft,
    Limits,
    Number,
    Passage,
    Plants,
    Section,
    author,
    clauses,
    number,
    passage,
    told,
)
from sitegen.notes.kinds.titles import author_title, title
from sitegen.notes.material import Material
from sitegen.notes.moments.questions import caveat
from sitegen.notes.moments.sums import arm_total

_FEW = 3  # tastes and losses that are named one by one


def answers(material: Material) -> Draft:
    """The comment."""
    asked = [
        Section(title(tr(question)), told(*answer(material)), style="question")
        for question, answer in _QUESTIONS
    ]
    asked += [
        Section(author_title(each.asked), told(author(each.answer, each.source)), style="question")
        for each in material.setup.viewer_questions
        if each.answer
    ]
    kept = tuple(each for each in asked if each.passages)
    if not kept:
        kept = (
            Section(title(""), told(passage(tr("The log does not answer any of the usual questions yet.")))),
        )
    return Draft("answers", material.setup.id, material.setup.title, kept)


def _known(figure: Figure) -> bool:
    value = figure.value
    return value is not None and (not isinstance(value, Quantity) or (value.known and value.high != 0))


def _limited(message: str, figure: Figure) -> Passage | None:
    """A sentence with one figure, `value`, and what limits it."""
    said = passage(message, figure.rows, value=number(figure))
    limits = Passage((Limits(figure.name, figure.remarks),)) if figure.remarks else None
    return clauses((clauses((said, limits), "; "), Passage((".",))), "") if said else None


def _how_long(material: Material) -> Iterator[Passage | None]:
    timing, first = material.facts.harvest.timing, material.facts.harvest.first_pick
    if not isinstance(first.value, Day):
        return
    yield passage(tr("The first pick came {on_day} after sowing."), first.rows, on_day=number(first, "on"))
    if isinstance(timing.from_transplant.value, Quantity):
        yield passage(
            tr("That is {days} from transplanting."),
            timing.from_transplant.rows,
            days=number(timing.from_transplant),
        )


def _how_much(material: Material) -> Iterator[Passage | None]:
    figure = material.facts.harvest.total
    if material.rows.picks and not _known(figure):
        yield passage(tr("Nobody weighed it."), [pick.source for pick in material.rows.picks])
    if not _known(figure):
        return
    yield _limited(tr("{value} so far") if material.facts.running else tr("{value} in all"), figure)


def _which(material: Material) -> Iterator[Passage | None]:
    """The total of each arm, and the caveat."""
    totals = [(arm, arm_total(arm, material)) for arm in material.arms]
    if len(totals) < 2 or any(total is None for _, total in totals):
        return
    for arm, total in totals:
        assert total is not None
        count = Number("sets.plants", len(material.stayed(arm)), noun="plant")
        yield passage(
            tr("{arm}: {total} from {plants}."),
            total.rows,
            arm=AuthorWords(arm.name),
            total=number(total),
            plants=count,
        )
    yield caveat(material)


def _tall(material: Material) -> Iterator[Passage | None]:
    figure = material.facts.growth.tallest
    if _known(figure):
        yield _limited(tr("The tallest plant measured stood at {value}"), figure)


def _feed(material: Material) -> Iterator[Passage | None]:
    for tub in material.facts.solution.tubs:
        for dose in tub.doses:
            if _known(dose.total):
                yield passage(
                    tr("{product}: {amount} over the run, at {times}.")
                    if len(material.setup.tubs) == 1
                    else tr("{product}, {tub}: {amount} over the run, at {times}."),
                    dose.total.rows,
                    product=AuthorWords(dose.label.name),
                    tub=tub_words(tub.label),
                    amount=number(dose.total),
                    times=Number(dose.times.name, _count(dose.times), noun="visit"),
                )


def _count(figure: Figure) -> int | None:
    value = figure.value
    return int(value.low) if isinstance(value, Quantity) and value.single else None


def _current(material: Material) -> Iterator[Passage | None]:
    figure = material.facts.climate.energy
    if _known(figure):
        yield _limited(tr("{value} for the light, by the label and the timer"), figure)


def _water(material: Material) -> Iterator[Passage | None]:
    figure = material.facts.solution.water
    if _known(figure):
        yield _limited(tr("{value} in all"), figure)


def _taste(material: Material) -> Iterator[Passage | None]:
    for event in material.rows.of(Tasting)[:_FEW]:
        on = Number("log.day", event.day, "day")
        if event.score is not None and event.score.exact and event.out_of:
            yield passage(
                tr("{day}: {score} of {most}."),
                event.source,
                day=on,
                score=Number("log.taste", event.score, "plain"),
                most=Number("log.taste.out_of", event.out_of),
            )
        else:
            yield passage("{day}:", event.source, day=on) if event.what else None
        yield author(event.what, event.source) if event.what else None


def _lost(material: Material) -> Iterator[Passage | None]:
    for event in material.rows.of(Deed.LOST)[:_FEW]:
        ids = event.which.ids if event.which else ()
        if ids and event.what:
            yield passage(
                tr("{plants}, {on_day}: {what}."),
                event.source,
                plants=Plants(ids),
                on_day=Number("log.day", event.day, "on"),
                what=AuthorWords(event.what.rstrip("."), inside=True),
            )
        elif ids:
            yield passage(
                tr("{plants}, {on_day}."),
                event.source,
                plants=Plants(ids),
                on_day=Number("log.day", event.day, "on"),
            )


def _why_ended(material: Material) -> Iterator[Passage | None]:
    end = material.facts.run.ended
    if end is not None and end.what:
        yield author(end.what, end.source)


def _next_time(material: Material) -> Iterator[Passage | None]:
    answer = material.setup.answer
    if answer and answer.change:
        yield author(answer.change, material.setup.at("answer"))


_QUESTIONS: tuple[tuple[str, Callable[[Material], Iterator[Passage | None]]], ...] = (
    (tr_noop("How long until the first pick?"), _how_long),
    (tr_noop("How much in all?"), _how_much),
    (tr_noop("Which did better?"), _which),
    (tr_noop("How tall did it get?"), _tall),
    (tr_noop("How did it taste?"), _taste),
    (tr_noop("What did you feed?"), _feed),
    (tr_noop("How much water?"), _water),
    (tr_noop("How much current?"), _current),
    (tr_noop("Did you lose any plants?"), _lost),
    (tr_noop("Why did it end?"), _why_ended),
    (tr_noop("What would you change?"), _next_time),
)
