"""All numbers of a run by subject.

In: facts. Out: `Item` rows with HTML: a line for each figure that is known. Those that are not are named together: the
figures expected of every run in one list, rarer ones at the end of their subject, by the reason.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator, Sequence
from itertools import chain

from markupsafe import Markup, escape

from sitegen.core.facts.figure import Figure, Remark, RemarkCode, Share, Value, figures
from sitegen.core.facts.indices import PlantSets, SetStageFacts
from sitegen.core.facts.tree import Facts, MilestoneFacts
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.figure_words import beside_words, label_words, remarks_words
from sitegen.core.language.text import listed
from sitegen.core.language.wording import opening
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import counted
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.labels import Labels, subject_words
from sitegen.render.numbers.used import Item
from sitegen.render.story.run_sentences import filled_markup

# Shown elsewhere on the page: in the table of plants, and in the equipment.
_ELSEWHERE = ("harvest.by_plant.", "germination.by_spot.")
_STAGES_OF_SETS = ".stages."  # have a line each
_USED = (".doses.", ".adjusted.", ".water", ".refills", ".changes")
_PARTED = ("by_group", "by_variety", "by_tub", "by_part", "by_grade", "by_flush")
_ORDER = ("germination", "milestones", "growth", "harvest", "solution", "climate", "sets", "work")
_EXPECTED, _AGAINST_CLAIM = "harvest.timing.expected", "harvest.timing.claim"
# Plants that have a number of their own in the line of a stage.
COUNTED_IN_SETS: tuple[RemarkCode, ...] = (
    "plants_lost_before",
    "plants_picked_before",
    "plants_not_looked_at",
)
COMMON_DEPTH = 2  # `harvest.total` is expected of every run, `harvest.per.mol` is not


def numbers(facts: Facts, book: FigureBook) -> tuple[Item, ...]:
    """Every subject with the figures that are expected of every run."""
    labels = book.labels(facts)
    items = [Item(subject_words(""), tuple(_lines((facts.length, facts.last_entry), facts, book, labels)))]
    for subject in _ORDER:
        if subject == "milestones":
            lines = tuple(_stage(stage, facts, book) for stage in facts.milestones)
        else:
            lines = tuple(_lines(filter(_common, _wanted(facts, subject, book)), facts, book, labels))
        items += [Item(subject_words(subject), lines)] if lines else []
    return tuple(items)


def unrecorded(facts: Facts, book: FigureBook) -> str:
    """The figures expected of every run that this one has not, in one sentence."""
    labels = book.labels(facts)
    subjects = (subject for subject in _ORDER if subject != "milestones")
    wanted = (
        f for subject in subjects for f in _wanted(facts, subject, book) if _common(f) and not f.recorded
    )
    missing = list(dict.fromkeys(labels.inside(figure) for figure in wanted))
    message = (
        tr_noop("Not recorded so far: {things}.") if facts.running else tr_noop("Not recorded: {things}.")
    )
    return tr(message, things=listed(missing)) if missing else ""


def rarer(facts: Facts, book: FigureBook, but: frozenset[str] = frozenset()) -> tuple[Item, ...]:
    """The indices that few readers look for, by subject; all `but` those that the page shows already."""
    labels = book.labels(facts)
    found = (
        (subject, [f for f in _wanted(facts, subject, book) if not _common(f) and f.name not in but])
        for subject in _ORDER
    )
    lines = (
        (
            subject,
            (*_lines(rare, facts, book, labels), *_unknown(rare, labels), *_of_sets(subject, facts, book)),
        )
        for subject, rare in found
    )
    return tuple(Item(subject_words(subject), said) for subject, said in lines if said)


def _of_sets(subject: str, facts: Facts, book: FigureBook) -> Iterator[Markup]:
    """One line for each stage of each set of plants."""
    sets = (facts.sets.by_group, facts.sets.by_variety, facts.sets.by_tub) if subject == "sets" else ()
    repeated = _repeated(facts.sets) if sets else set()
    for plants in (each for kind in sets for each in kind):
        for stage in plants.stages:
            if all(figure.name in repeated for figure in figures(stage)):
                continue
            name = tr("{set}, {stage}", set=label_words(plants.label), stage=label_words(stage.label))
            said = Markup("; ").join(_stage_of_set(stage, facts, book))
            yield Markup("{}: {}").format(opening(name), said)


def _stage_of_set(stage: SetStageFacts, facts: Facts, book: FigureBook) -> Iterator[Markup]:
    """How many plants are in each state that any is in, the median and the days."""
    counts = (
        (tr("{number} got there"), stage.reached),
        (tr("{number} not yet when last checked"), stage.not_yet),
        (tr("{number} picked before that"), stage.picked),
        (tr("{number} lost before that"), stage.lost),
        (tr("{number} not checked for it"), stage.unknown),
    )
    for message, figure in counts:
        if figure.value != counted(0) or figure is stage.reached:
            yield filled_markup(message, number=book.show(figure, facts))
        if figure is stage.reached and stage.share.recorded:
            yield _part(tr("that is {plants}{note}"), stage.share, facts, book, COUNTED_IN_SETS)
    said = (*COUNTED_IN_SETS, *(each.code for each in stage.share.remarks))
    if stage.median.recorded:
        yield _part(_half_by(stage.median.value), stage.median, facts, book, said)
    if stage.values.recorded:
        yield _part(tr("plant by plant, after {days}{note}"), stage.values, facts, book, said)
    elif stage.range.recorded:
        yield _part(tr("plants after {days}{note}"), stage.range, facts, book, said)


def _common(figure: Figure) -> bool:
    """Whether a figure is expected of every run, or is a part of a sum that is."""
    name = figure.name
    if name.startswith("milestones."):
        return name.endswith((".first", ".share", ".median", ".values"))
    shallow = name.count(".") < COMMON_DEPTH or name.endswith((".ec", ".ph"))
    return (shallow and ".trend." not in name) or (bool(_group(figure)) and name.startswith("harvest.by_"))


def _wanted(facts: Facts, subject: str, book: FigureBook) -> list[Figure]:
    """The figures of a subject that stand nowhere else on the page."""
    if (facts.id, subject) not in book.found:
        book.found[facts.id, subject] = _found(facts, subject)
    return book.found[facts.id, subject]


def _found(facts: Facts, subject: str) -> list[Figure]:
    found = [
        f
        for f in figures(getattr(facts, subject))
        if not f.name.startswith(_ELSEWHERE) and _STAGES_OF_SETS not in f.name
    ]
    alone = {group for group, rows in Counter(map(_group, found)).items() if group and rows == 1}
    repeated = _repeated(facts.sets) if subject == "sets" else set()
    # A claim that nothing can be set beside says why; the day of the first pick by it would say the same again.
    unknown = {figure.name for figure in found if not figure.recorded}
    double = {_EXPECTED} if {_EXPECTED, _AGAINST_CLAIM} <= unknown else set()
    return [
        figure
        for figure in found
        if _group(figure) not in alone and not _is_used(figure.name) and figure.name not in double | repeated
    ]


def _repeated(sets: PlantSets) -> set[str]:
    """The figures of a set that say of its plants what an earlier set of the same plants says of them."""
    said: dict[tuple[object, ...], str] = {}
    repeated = set()
    for each in chain(sets.by_group, sets.by_variety, sets.by_tub):
        path = len(next(figures(each)).name.removesuffix("lost"))
        for figure in figures(each):
            key = (frozenset(each.plants), figure.name[path:], figure.value, figure.remarks)
            if said.setdefault(key, figure.name) != figure.name:
                repeated.add(figure.name)
    return repeated


def _group(figure: Figure) -> str:
    """The table that parts a sum; one with a single row only repeats it."""
    path, _, _ = figure.name.rpartition(".")
    return path if path.rpartition(".")[2] in _PARTED else ""


def _is_used(name: str) -> bool:
    return name.startswith("solution.tubs.") and (name.endswith(_USED) or any(u in name for u in _USED[:2]))


def _lines(found: Iterable[Figure], facts: Facts, book: FigureBook, labels: Labels) -> Iterator[Markup]:
    for figure in found:
        if figure.recorded:
            yield Markup("{}: {}{}").format(labels.say(figure), book.show(figure, facts), _note(figure))


def _unknown(found: Iterable[Figure], labels: Labels) -> Iterator[Markup]:
    """One list for all figures that are not known: those with the same reason share a point."""
    by_reason: dict[tuple[Remark, ...], list[str]] = {}
    for figure in found:
        if not figure.recorded:
            by_reason.setdefault(figure.remarks, []).append(labels.inside(figure))
    if by_reason:
        points = Markup("").join(_point(*each) for each in by_reason.items())
        yield Markup('<div class="none">{}<ul>{}</ul></div>').format(tr("This log cannot say:"), points)


def _point(reason: Sequence[Remark], things: Sequence[str]) -> Markup:
    """`Change in EC; change in pH: …`; labels have commas of their own."""
    said = opening("; ".join(things))
    return Markup("<li>{}</li>").format(f"{said}: {remarks_words(reason)}" if reason else said)


def _note(figure: Figure) -> Markup:
    return escape(f"; {beside_words(figure)}" if figure.remarks and figure.recorded else "")


def _stage(stage: MilestoneFacts, facts: Facts, book: FigureBook) -> Markup:
    """One line a stage; unknown parts are left to the figure that says so."""
    known = [_part(tr("first seen {day}{note}"), stage.first, facts, book)] if stage.first.recorded else []
    known.append(_part(tr("{plants} got there{note}"), stage.share, facts, book))
    said = [each.code for each in stage.share.remarks]
    if stage.median.recorded:
        known.append(_part(_half_by(stage.median.value), stage.median, facts, book, said))
    if stage.values.recorded:
        known.append(_part(tr("plant by plant, after {days}{note}"), stage.values, facts, book, said))
    return Markup("{}: {}").format(opening(label_words(stage.label)), Markup("; ").join(known))


def _half_by(median: Value) -> str:
    """The message for a median; one without a look before it says `before day 30` by itself."""
    if isinstance(median, Day) and median.first <= 0 < median.last - 1:
        return tr("half the plants {day}{note}")
    if isinstance(median, Day) and not median.single:
        return tr("half the plants in {days}{note}")
    return tr("half the plants by {day}{note}")


def _part(
    message: str, figure: Figure, facts: Facts, book: FigureBook, said: Container[RemarkCode] = ()
) -> Markup:
    """A part of a line, without the remarks that the line has said already."""
    shown = book.show(figure, facts)
    words = remarks_words(each for each in figure.remarks if each.code not in said)
    note = f", {words}" if isinstance(figure.value, Share) else f" ({words})"
    return filled_markup(message, day=shown, days=shown, plants=shown, note=note if words else "")
