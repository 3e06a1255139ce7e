"""What to film next, and when: the next visit by the rhythm of the last ones, and what earlier runs lead one to expect.

In: the material of a run that still grows. Out: a draft; nothing is promised: each thing to come stands with what it
rests on.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from statistics import median

from sitegen.core.facts.tree import Arrival, MilestoneFacts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words
from sitegen.core.reference.milestones import milestones_of, stages_before
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.notes.draft import AuthorWords, Draft, Number, Passage, Plants, Section, clauses, passage, told
from sitegen.notes.kinds.titles import title
from sitegen.notes.material import Material

_VISITS = 4  # the last ones, whose rhythm is taken; common practice, no source


def shots(material: Material) -> Draft:
    """What to film next; of a run that ended, that nothing of it can be filmed any more."""
    setup = material.setup
    if material.facts.run.stage == "planned":
        first = passage(
            tr("Film the sowing: the seed, the tub and the lamp with nothing in it."), setup.source
        )
        return Draft("shots", setup.id, setup.title, (Section(title(""), told(first)),))
    if not material.facts.running or not material.facts.run.logged:
        over = passage(tr("This run is over: nothing of it can be filmed any more."), setup.source)
        return Draft("shots", setup.id, setup.title, (Section(title(""), told(over)),))
    due = next_visit(material)
    sections = (
        Section(title(tr("When")), told(*_when(material, due)), style="list"),
        Section(title(tr("At the next visit")), told(*_next(material)), style="list"),
        Section(title(tr("To be expected, by earlier runs")), told(*_expected(material)), style="list"),
        Section(title(tr("On the last day")), told(*_last_day()), style="list"),
    )
    return Draft("shots", setup.id, setup.title, tuple(each for each in sections if each.passages))


def next_visit(material: Material) -> int | None:
    """The day of the next visit, by the median of the last gaps between visits; None with too few of them."""
    days = sorted({entry.day.first for entry in material.rows.entries if entry.day.exact})[-_VISITS:]
    if len(days) < 3:
        return None
    return days[-1] + max(1, round(median(later - day for day, later in pairwise(days))))


def _when(material: Material, due: int | None) -> Iterator[Passage | None]:
    if due is None:
        return
    places = [entry.source for entry in material.rows.entries[-_VISITS:]]
    day = Number("shots.next_visit", Day.on(due), "day")
    when = material.setup.start.date_of(due)
    if when is None:
        yield passage(tr("By the rhythm of the last visits the next is about {day}."), places, day=day)
    else:
        yield passage(
            tr("By the rhythm of the last visits the next is about {day}, {date}."),
            places,
            day=day,
            date=Number("shots.next_visit", when, "date"),
        )


def _next(material: Material) -> Iterator[Passage | None]:
    for milestone, waiting in _waiting(material):
        plants, stage = (
            tuple(each.plant for each in waiting),
            AuthorWords(label_words(milestone.label), inside=True),
        )
        yield passage(
            tr("{plants}, close up. Not there at the last look: {stage}."),
            milestone.share.rows or milestone.first.rows,
            plants=Plants(plants),
            stage=stage,
        )
    pictures = material.pictures
    if pictures:
        file, day, _ = pictures[-1]
        yield passage(
            tr("All plants from the front with a ruler, from the same place as photo {file} of {day}."),
            file=AuthorWords(file, inside=True),
            day=Number("log.day", day, "day"),
        )
    else:
        yield passage(tr("All plants from the front, with a ruler beside them."))
    if material.rows.picks:
        yield passage(
            tr("The scale with the number in view: a bowl for each plant."), material.rows.picks[-1].source
        )
    for event in material.rows.events:
        if event.deed == "trouble":
            yield passage(
                tr("Where this was, {day}: {what}. Is it gone?"),
                event.source,
                day=Number("log.day", event.day, "day"),
                what=AuthorWords(event.what.rstrip("."), inside=True),
            )
    yield passage(tr("Lamp to leaf with a tape, and the timer."))


def _waiting(material: Material) -> Iterator[tuple[MilestoneFacts, tuple[Arrival, ...]]]:
    """Stages that some plants have and others had not at the last look, no more than three of them."""
    for milestone in material.facts.milestones:
        waiting = milestone.in_state("not yet")
        if milestone.in_state("reached") and 0 < len(waiting) <= 3:
            yield milestone, waiting


def _expected(material: Material) -> Iterator[Passage | None]:
    outlook = material.outlook
    if outlook is None:
        return
    for each in outlook.expected:
        if each.window is None or isinstance(each.window, Quantity):
            continue
        yield clauses(
            (
                passage(
                    tr("{what}: {window}"),
                    what=AuthorWords(label_words(each.label)),
                    window=Number(f"outlook.{each.what}", each.window, "day"),
                ),
                passage(
                    tr("if it goes as in {runs} before"), runs=Number("outlook.runs", each.runs, noun="run")
                ),
            )
        )
    yield _next_stage(material)


def _next_stage(material: Material) -> Passage | None:
    """The stage after the last one seen, where earlier runs say nothing."""
    if material.outlook is not None and material.outlook.expected:
        return None
    seen = {each.name for each in material.facts.milestones if isinstance(each.first.value, Day)}
    known = milestones_of(material.setup.crop.kind)
    left = [
        name
        for name in known
        if name not in seen and set(stages_before(material.setup.crop.kind, name)) <= seen
    ]
    if not left or not seen:
        return None
    return passage(
        tr("Next in the order of growth, no earlier run says when: {stage}."),
        stage=AuthorWords(tr(known[left[0]].noun), inside=True),
    )


def _last_day() -> Iterator[Passage | None]:
    yield passage(
        tr("Each plant lifted, its roots, the tub emptied, the scale. Nothing of it can be filmed later.")
    )
