"""What is missing from the log, most useful first: what can be measured while plants stand, and what can still be said.

In: the material of a run. Out: a draft, one line a gap with why it matters and the lines that it is about.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sitegen.core.facts.figure import Label
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import name_in_text
from sitegen.core.records.rows import Deed, Tasting, Trouble, Watering
from sitegen.core.values.day import Day
from sitegen.notes.draft import AuthorWords, Draft, Number, Passage, Plants, Section, clauses, passage, told
from sitegen.notes.kinds.titles import title
from sitegen.notes.material import Material

STALE = 14  # days without a reading from which it is missed; common practice, no source


def gaps(material: Material) -> Draft:
    """What is missing."""
    running = material.facts.run.stage == "running"
    found = told(*(gap for subject in (_STANDING if running else ()) for gap in subject(material)))
    words = told(*(gap for subject in _TO_SAY for gap in subject(material)))
    sections = (
        Section(title(tr("While the plants still stand")), found, style="list"),
        Section(title(tr("To be written down")), words, style="list"),
    )
    kept = tuple(each for each in sections if each.passages)
    if not kept:
        nothing = passage(tr("Nothing is missing that this can see."))
        kept = (Section(title(""), told(nothing)),)
    return Draft("gaps", material.setup.id, material.setup.title, kept)


def _two(*sentences: Passage | None) -> Passage | None:
    return clauses(sentences, " ")


# while plants stand


def _heights(material: Material) -> Iterator[Passage | None]:
    readings = material.rows.read("height")
    if not readings:
        yield passage(tr("Measure the plants: no height was ever written down."))
        return
    last = max(readings, key=lambda each: each.day.last)
    if material.last_day - last.day.last >= STALE:
        yield _two(
            passage(tr("Measure all the plants."), last.source),
            passage(
                tr("The last height is of {day}; how tall they got is else told by younger plants."),
                last.source,
                day=Number("log.day", last.day, "day"),
            ),
        )


def _weighing(material: Material) -> Iterator[Passage | None]:
    unweighed = [pick for pick in material.rows.picks if pick.weight.unweighed]
    if unweighed:
        last = unweighed[-1]
        yield _two(
            passage(tr("Weigh every further pick."), last.source),
            passage(
                tr("What came {on_day} was not weighed: the total stays a lower bound."),
                last.source,
                on_day=Number("log.day", last.day, "on"),
            ),
        )
    together = [
        pick
        for pick in material.rows.picks
        if len(pick.which.ids) > 1 and len(material.setup.plants) > 1 and not pick.weight.unweighed
    ]
    if together:
        last = together[-1]
        yield _two(
            passage(tr("Weigh {plants} apart."), last.source, plants=Plants(last.which.ids)),
            passage(
                tr("They shared a bowl {on_day}, so that none of them has a total of its own."),
                last.source,
                on_day=Number("log.day", last.day, "on"),
            ),
        )


def _readings(material: Material) -> Iterator[Passage | None]:
    for name, message in (
        ("ph", tr("Read pH.")),
        ("ec", tr("Read EC.")),
        ("water_temperature", tr("Take the temperature of the water.")),
    ):
        readings = material.rows.read(name)
        last = max(readings, key=lambda each: each.day.last, default=None)
        if last is None:
            yield _two(passage(message), passage(tr("It was never read.")))
        elif material.last_day - last.day.last >= STALE:
            yield _two(
                passage(message, last.source),
                passage(tr("Last: {day}."), last.source, day=Number("log.day", last.day, "day")),
            )


def _tastes(material: Material) -> Iterator[Passage | None]:
    if not material.rows.picks:
        return
    tastes = material.rows.of(Tasting)
    if not tastes:
        yield passage(
            tr("Taste it, and write a score: no taste was written down."), material.rows.picks[-1].source
        )
        return
    said = " ".join(each.what.lower() for each in tastes)
    for arm in material.arms:
        named = arm.name.lower() in said or any(plant.lower() in said for plant in arm.plants)
        tasted = any(each.which and set(each.which.ids) & set(arm.plants) for each in tastes)
        if not named and not tasted:
            yield passage(
                tr("Say which plants a taste was of: none of them names {arm}."),
                [each.source for each in tastes],
                arm=AuthorWords(name_in_text(arm.name), inside=True),
            )


def _lamps(material: Material) -> Iterator[Passage | None]:
    for tub in material.setup.tubs:
        rows = [row for row in material.rows.lights if row.tub in ("", tub.id)]
        uses = [tub.light] if tub.light else []
        uses += [row.use for row in rows]
        name = AuthorWords(tub.system.name, inside=True)
        if not uses:
            yield passage(
                tr("Write down the lamp over this tub, its hours and its distance: {tub}."), tub=name
            )
        elif not any(use.hours for use in uses):
            yield passage(
                tr("Note the lamp's hours: {tub}. Without them there is no figure for light or current."),
                tub=name,
            )
        elif any(use.distance for use in uses) and not any(
            row.use.distance and row.entry is not None for row in rows
        ):
            yield passage(
                tr(
                    "Is the lamp still as far above the plants as at the start? No change was written down: {tub}."
                ),
                material.setup.at("light"),
                tub=name,
            )


# what can be said without plants


def _counted_stages(material: Material) -> Iterator[Passage | None]:
    for row in material.rows.milestones:
        if row.reached and row.which.count and not row.which.named and row.day.last == material.last_day:
            yield passage(
                tr("Name the plants of this stage, in place of a count: {stage}, {day}."),
                row.source,
                stage=AuthorWords(label_words(Label(row.name, "stage")), inside=True),
                day=Number("log.day", row.day, "day"),
            )


def _unnamed_trouble(material: Material) -> Iterator[Passage | None]:
    for event in material.rows.of(Trouble):
        if event.which and not event.which.named and event.which.count:
            yield passage(
                tr("Which plants had it, {day}: {what}? If a picture shows it, write it down."),
                event.source,
                day=Number("log.day", event.day, "day"),
                what=AuthorWords(event.what.rstrip("."), inside=True),
            )


def _open_trouble(material: Material) -> Iterator[Passage | None]:
    for event in material.rows.of(Trouble):
        if event.until is None:
            yield passage(
                tr("When was it over, or is it still there? {day}: {what}."),
                event.source,
                day=Number("log.day", event.day, "day"),
                what=AuthorWords(event.what.rstrip("."), inside=True),
            )


def _unmeasured_water(material: Material) -> Iterator[Passage | None]:
    found = [
        event
        for event in material.rows.of(Watering)
        if not event.filled and (event.amount is None or not event.amount.known)
    ]
    if found:
        yield passage(
            tr("How much water went in, {day}? The total is a lower bound without it."),
            [event.source for event in found],
            day=Number("log.day", found[-1].day, "day"),
        )


def _seedlings(material: Material) -> Iterator[Passage | None]:
    if material.rows.of(Deed.SOW) and not material.rows.of(Deed.SPROUTED):
        yield passage(
            tr("How many seeds came up? No count was written down."), material.rows.of(Deed.SOW)[0].source
        )


def _footage(material: Material) -> Iterator[Passage | None]:
    if not material.facts.run.logged:
        return
    if not material.clips:
        yield passage(
            tr("No clip is named for any day: name those that exist, for chapters and for the cut.")
        )
    bare = [
        phase
        for phase in material.facts.timeline.phases
        if not any(_in_phase(day, phase.begins, phase.ends) for day in material.days_with_pictures)
    ]
    for phase in bare:
        days = Day(phase.begins.first, max(phase.begins.first, phase.ends.last))
        yield passage(
            tr("No picture or clip of this phase: {phase}, {days}."),
            phase=AuthorWords(label_words(Label(phase.name, "phase")), inside=True),
            days=Number("timeline.phases", days, "day"),
        )
    if material.pictures and not any(photo.shows == "ready" for photo in material.rows.photos):
        yield passage(tr("No picture is marked as showing what ready looks like."))


def _in_phase(day: Day, begins: Day, ends: Day) -> bool:
    return begins.key[0] <= day.key[0] <= max(begins.key[0], ends.last)


def _answer(material: Material) -> Iterator[Passage | None]:
    setup, answer = material.setup, material.setup.answer
    if not setup.question:
        yield passage(tr("No question is written down: say what the run was to find out."))
    elif answer is None or not (answer.result or answer.verdict):
        yield passage(
            tr("The question has no answer yet: {question}"),
            setup.at("question"),
            question=AuthorWords(setup.question, inside=True),
        )
    elif not answer.change:
        yield passage(tr("What would you change next time? Nothing is written down."), setup.at("answer"))


def _viewers(material: Material) -> Iterator[Passage | None]:
    for each in material.setup.viewer_questions:
        if not each.answer:
            yield passage(
                tr("A viewer asked, and there is no answer: {asked}"),
                each.source,
                asked=AuthorWords(each.asked, inside=True),
            )


_Subject = Callable[[Material], Iterator[Passage | None]]
_STANDING: tuple[_Subject, ...] = (_heights, _weighing, _tastes, _readings, _lamps)
_TO_SAY: tuple[_Subject, ...] = (
    _counted_stages,
    _unnamed_trouble,
    _open_trouble,
    _unmeasured_water,
    _seedlings,
    _viewers,
    _answer,
    _footage,
)
