"""The text under an episode: question, answer, set-up, figures, link, chapters, cautions; in digits, to be pasted.

In: the material of a run. Out: a draft. Every figure stands by reference, with what limits it.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.facts.figure import NO_FIGURE, Figure
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.figure_words import label_words
from sitegen.core.records.rows import Deed, Trouble
from sitegen.core.records.setup import Tub
from sitegen.core.reference.milestones import stage_that_matters
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
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
from sitegen.notes.moments.picks import picking
from sitegen.notes.moments.sums import arm_total


def description(material: Material) -> Draft:
    """The description."""
    setup = material.setup
    sections = (
        Section(author_title(setup.title), told(*_answer(material))),
        Section(title(tr("Set-up")), told(*_set_up(material)), style="list"),
        Section(title(tr("Figures")), told(*_figures(material)), style="list"),
        Section(title(""), told(*_closing(material))),
        *_chapters(material),
        Section(title(tr("Please mind")), told(*(author(each) for each in material.cautions)), style="list"),
    )
    kept = tuple(each for each in sections if each.passages)
    return Draft("description", setup.id, setup.title, kept)


def _answer(material: Material) -> Iterator[Passage | None]:
    setup, answer = material.setup, material.setup.answer
    yield author(setup.question, setup.at("question")) if setup.question else None
    if answer and answer.result:
        yield author(answer.result, setup.at("answer"))
    else:
        yield total_sentence(material)
    yield verdict(material)
    if answer and answer.why:
        yield author(answer.why, setup.at("answer"))
    if material.facts.run.stage == "running":
        last = material.last_visit
        place = material.rows.entries[-1].source if material.rows.entries else setup.source
        yield passage(tr("Still growing: this is {day}."), place, day=Number("last_entry", last, "day"))


_VERDICTS = {
    "again": tr_noop("Verdict: again."),
    "not again": tr_noop("Verdict: not again."),
    "undecided": tr_noop("Verdict: undecided."),
}


def verdict(material: Material) -> Passage | None:
    """The author's verdict, where there is one."""
    answer = material.setup.answer
    if answer is None or answer.verdict is None:
        return None
    return passage(tr(_VERDICTS[answer.verdict]), material.setup.at("answer"))


def total_sentence(material: Material) -> Passage | None:
    """What was picked in all, from how many plants, and what limits the sum."""
    figure = material.facts.harvest.total
    if not isinstance(figure.value, Quantity) or not figure.value.known:
        return None
    plants = Number("setup.plants", len(material.setup.plants), noun="plant")
    message = (
        tr("So far: {total} from {plants}.")
        if material.facts.running
        else tr("Harvest: {total} from {plants}.")
    )
    return passage(message, figure.rows, total=number(figure), plants=plants)


# set-up


def _set_up(material: Material) -> Iterator[Passage | None]:
    yield clauses(_plants(material))
    for tub in material.setup.tubs:
        yield clauses(_tub(material, tub))
    for event in material.rows.of(Deed.MOVE):
        if event.which is not None and event.which.named:
            yield passage(
                tr("{plants}, moved to another tub {on_day}"),
                event.source,
                plants=Plants(event.which.ids),
                on_day=Number("log.day", event.day, "on"),
            )
    yield _seed(material)


def _plants(material: Material) -> Iterator[Passage | None]:
    setup = material.setup
    names = [setup.variety_name(variety) for variety in setup.variety_ids if variety] or [setup.crop.name]
    count = Number("setup.plants", len(setup.plants), noun="plant")
    if setup.plants:
        yield passage("{plants}", setup.at("plants"), plants=count)
    for name in names:
        yield passage("{name}", setup.at("variety"), name=AuthorWords(name, inside=True))
    when = setup.start.date_of(0)
    if when is not None and material.facts.run.logged:
        yield passage(
            tr("sown {date} as {day}"),
            setup.at("start"),
            date=Number("setup.start", when, "date"),
            day=Number("setup.start", Day.on(0), "day"),
        )
    for event in material.rows.of(Deed.TRANSPLANT)[:1]:
        yield passage(tr("into the tub {on_day}"), event.source, on_day=Number("log.day", event.day, "on"))
    lost = [event for event in material.rows.of(Deed.LOST) if event.which]
    for event in lost[:3]:
        ids = event.which.ids if event.which else ()
        if ids:
            yield passage(
                tr("{plants} lost {on_day}"),
                event.source,
                plants=Plants(ids),
                on_day=Number("log.day", event.day, "on"),
            )
    if (end := material.facts.run.ended) is not None:
        yield passage(tr("ended {on_day}"), end.source, on_day=Number("log.day", end.day, "on"))


def _tub(material: Material, tub: Tub) -> Iterator[Passage | None]:
    place = material.setup.at("tubs" if len(material.setup.tubs) > 1 else "system")
    name = tub.system.name if len(material.setup.tubs) == 1 else f"{tub.id}: {tub.system.name}"
    yield passage("{name}", place, name=AuthorWords(name, inside=True))
    if tub.system.reservoir is not None:
        yield passage("{volume}", place, volume=Number("setup.tubs.reservoir", tub.system.reservoir))
    light = tub.light
    rows = [row for row in material.rows.lights if row.tub in ("", tub.id)]
    lamp, sources = material.lamp_of(tub), [row.source for row in rows]
    if lamp:
        yield passage("{lamp}", *sources, lamp=AuthorWords(lamp, inside=True))
    settings = [light] if light else []
    settings += [row.use for row in rows]
    hours = next((use.hours for use in settings if use.hours), None)
    if hours is not None:
        yield passage(tr("{hours} a day"), *sources, hours=Number("log.light.hours", hours))
    distance = next((use.distance for use in settings if use.distance), None)
    if distance is not None:
        yield passage(
            tr("{distance} above the plants"), *sources, distance=Number("log.light.distance", distance)
        )


def _seed(material: Material) -> Passage | None:
    seed = material.setup.seed
    if seed is None or not seed.source:
        return None
    return passage(
        tr("Seed: {source}"), material.setup.at("seed"), source=AuthorWords(seed.source, inside=True)
    )


# figures


def _figures(material: Material) -> Iterator[Passage | None]:
    facts = material.facts
    yield _line(tr("Seeds up: {value}"), facts.germination.share)
    stage = next(
        (each for each in facts.milestones if each.name == stage_that_matters(material.setup.crop.kind)), None
    )
    if stage is not None and isinstance(stage.first.value, Day):
        yield passage(
            tr("{stage}: {by_day}"),
            stage.first.rows,
            stage=AuthorWords(label_words(stage.label)),
            by_day=number(stage.first, "by"),
        )
    yield from _first_pick(material)
    yield _line(tr("Harvest: {value}"), facts.harvest.total)
    for arm in material.arms:
        total = arm_total(arm, material)
        if total is not None:
            yield passage(tr("{arm}: {value}"), total.rows, arm=AuthorWords(arm.name), value=number(total))
    yield from _alone(material)
    yield _line(tr("Spoilt: {value}"), facts.harvest.spoilt) if facts.harvest.culls.weight.recorded else None
    yield _line(tr("Tallest measured: {value}"), facts.growth.tallest)
    yield _line(tr("Water in all: {value}"), facts.solution.water)
    yield _line(tr("Air: {value}"), facts.climate.air)
    yield _line(tr("Electricity for light: {value}"), facts.climate.energy)
    for event in material.rows.of(Trouble):
        yield passage(
            tr("Trouble {on_day}: {what}"),
            event.source,
            on_day=Number("log.day", event.day, "on"),
            what=AuthorWords(event.what, inside=True),
        )


def _line(message: str, figure: Figure) -> Passage | None:
    """A figure with its label, and what limits it."""
    value = figure.value
    if (
        figure is NO_FIGURE
        or value is None
        or (isinstance(value, Quantity) and (not value.known or value.high == 0))
    ):
        return None
    said = passage(message, figure.rows, value=number(figure))
    if said is None or not figure.remarks:
        return said
    limits = Passage((Limits(figure.name, figure.remarks),), ())
    return clauses((said, limits), "; ")


def _first_pick(material: Material) -> Iterator[Passage | None]:
    first, timing = material.facts.harvest.first_pick, material.facts.harvest.timing
    if not isinstance(first.value, Day):
        return
    when = material.date_of(first.value)
    after = timing.from_transplant
    yield clauses(
        (
            passage(tr("First pick: {day}"), first.rows, day=number(first, "day")),
            passage("{date}", date=Number("log.date", when, "date")) if when else None,
            passage(tr("{days} after transplanting"), after.rows, days=number(after))
            if isinstance(after.value, Quantity)
            else None,
        )
    )
    seed = material.setup.seed
    if seed and seed.claims.days and seed.claims.counted_from:
        claimed = seed.claims.days
        days = Number("setup.seed.claims.days", Quantity(claimed.first, claimed.last, Dimension.DAYS, step=1))
        who = seed.claims.by or tr("the claim noted for the seed")
        message = (
            tr("{who}: {days} from transplanting")
            if seed.claims.counted_from == "transplant"
            else tr("{who}: {days} from sowing")
        )
        yield passage(message, material.setup.at("seed"), who=AuthorWords(who), days=days)


def _alone(material: Material) -> Iterator[Passage | None]:
    """The day on which each plant of each arm was weighed by itself."""
    for moment in picking(material):
        if moment.kind == "arms alone":
            yield from moment.passages


# behind the figures


def _closing(material: Material) -> Iterator[Passage | None]:
    setup = material.setup
    for correction in setup.corrections:
        yield passage(
            tr("Correction: {text}"), setup.at("corrections"), text=AuthorWords(correction.text, inside=True)
        )
    yield author(setup.disclosure, setup.at("disclosure")) if setup.disclosure else None
    if material.address:
        yield passage(
            tr("The log, every number and how it was worked out: {link}"),
            link=AuthorWords(material.address, inside=True),
        )


def _chapters(material: Material) -> Iterator[Section]:
    lines = material.chapters
    if lines:
        yield Section(title(tr("Chapters")), told(*(author_line(each) for each in lines)), style="lines")


def author_line(text: str) -> Passage:
    """A line that is printed as it is."""
    return Passage((AuthorWords(text, inside=True),))
