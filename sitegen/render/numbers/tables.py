"""Tables of an experiment, as cells that a template sets.

In: facts. Out: `Table` with HTML cells.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup, escape

from sitegen.core.facts.figure import NOTHING_YET
from sitegen.core.facts.tree import Arrival, Facts, MilestoneFacts, PlantFacts
from sitegen.core.language.catalogue import tr, tr_c, tr_c_noop
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import day_words, listed
from sitegen.core.language.wording import NBSP, Wording, mid_sentence, opening
from sitegen.core.records.rows import Pick
from sitegen.core.site.addresses import day_anchor
from sitegen.core.values.day import Day
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.story.days.entry_sentences import which_words

FATES = {
    "standing": tr_c_noop("of a plant", "standing"),
    "lost": tr_c_noop("of a plant", "lost"),
    "cleared": tr_c_noop("of a plant", "cleared"),
}
AMPLE = 6  # so many columns scroll rather than break every cell


@dataclass(frozen=True, slots=True)
class Column:
    """A column's heading, and whether it holds numbers."""

    title: str
    number: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Cells by row; the first of a row is its heading. `note` is a sentence below."""

    label: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Markup, ...], ...]
    foot: tuple[tuple[Markup, ...], ...] = ()
    note: str = ""

    @property
    def ample(self) -> bool:
        """Whether it is too wide for a phone."""
        return len(self.columns) >= AMPLE


def nothing_said(text: str) -> Markup:
    """What a cell says where it has no value."""
    return Markup('<span class="none">{}</span>').format(text)


def _nothing() -> Markup:
    return nothing_said(tr("not recorded"))


def _spare(table: Table) -> Table:
    """The table without its empty columns, and with blanks in those that most rows leave empty; a note says both."""
    nothing, count = _nothing(), len(table.columns)
    empty = ("", nothing)
    kept = [i for i in range(count) if i == 0 or any(row[i] not in empty for row in table.rows)]
    unsaid = [i for i in range(count) if i not in kept and any(row[i] for row in table.rows)]
    sparse = {i for i in kept if sum(row[i] == nothing for row in table.rows) * 2 > len(table.rows)}
    blank = Markup("")
    names = [mid_sentence(table.columns[i].title) for i in unsaid]
    notes = [tr("Not recorded: {things}.", things=listed(names))] if names else []
    notes += [tr("An empty cell means: not recorded.")] if sparse else []
    return Table(
        table.label,
        tuple(table.columns[i] for i in kept),
        tuple(
            tuple(blank if i in sparse and row[i] == nothing else row[i] for i in kept) for row in table.rows
        ),
        tuple(tuple(row[i] for i in kept) for row in table.foot),
        " ".join(notes),
    )


def picks_table(facts: Facts, book: FigureBook) -> Table | None:
    """Every pick in the order of days, with the total."""
    if not facts.run.rows.picks:
        return None
    columns = (
        Column(tr("Day")),
        Column(tr("Date")),
        Column(tr("Plants")),
        Column(tr("Part")),
        Column(tr("Weight"), number=True),
        Column(tr("Pieces"), number=True),
        Column(tr("Spoilt"), number=True),
        Column(tr("Grade")),
        Column(tr("Flush"), number=True),
    )
    picks = sorted(facts.run.rows.picks, key=lambda pick: (pick.day.key, pick.entry))
    rows = tuple(_pick_row(pick, facts, book.wording) for pick in picks)
    blank = Markup("")
    total = book.show(facts.harvest.total, facts)
    foot = (escape(tr("Total")), blank, blank, blank, total, blank, blank, blank, blank)
    return _spare(Table(tr("Picks"), columns, rows, (foot,)))


def _pick_row(pick: Pick, facts: Facts, wording: Wording) -> tuple[Markup, ...]:
    when = None if pick.day.before else facts.axis.start.date_of(pick.day.first)
    pieces = wording.pieces(pick.weight)
    plants = which_words(pick.which)
    if len(pick.which.ids) > 1:
        plants = tr("{plants}, together", plants=plants)
    return (
        Markup('<a href="#{}">{}</a>').format(day_anchor(pick.day), wording.days(pick.day)),
        escape(wording.day_of_year(when, short=True)) if when else Markup(""),
        escape(plants),
        escape(tr(pick.part)) if pick.part else _nothing(),
        nothing_said(str(pieces)) if pieces.missing else escape(str(pieces)),
        escape(wording.say(pick.count)) if pick.count is not None else _nothing(),
        _spoilt(pick, wording),
        escape(pick.grade) if pick.grade else _nothing(),
        escape(str(pick.flush)) if pick.flush is not None else Markup(""),
    )


def _spoilt(pick: Pick, wording: Wording) -> Markup:
    """The number of spoilt pieces, their weight, or both."""
    said = [wording.say(value) for value in (pick.spoilt, pick.spoilt_weight) if value is not None]
    return escape("; ".join(said)) if said else _nothing()


def plants_table(facts: Facts, book: FigureBook) -> Table | None:
    """One row for each plant: variety, days of its stages, harvest and fate."""
    if not facts.plants:
        return None
    setup = facts.run.setup
    milestones = [m for m in facts.milestones if m.arrivals]
    columns = (
        Column(tr("Plant")),
        Column(tr("Variety")),
        Column(tr("Group")),
        Column(tr("Tub")),
        *(Column(opening(label_words(m.label))) for m in milestones),
        Column(tr("Harvest"), number=True),
        Column(tr("End")),
    )
    several_varieties, several_tubs = len(setup.variety_ids) > 1, len(setup.tubs) > 1
    rows = tuple(
        (
            escape(plant.plant),
            escape(setup.variety_name(plant.variety)) if several_varieties else Markup(""),
            escape(", ".join(plant.groups)),
            escape(_tubs(plant)) if several_tubs else Markup(""),
            *(_arrival(_of_plant(m, plant), book.wording) for m in milestones),
            _harvest(plant, facts, book),
            escape(_fate(plant, book.wording)),
        )
        for plant in facts.plants
    )
    return _spare(Table(tr("Plants"), columns, rows))


def _harvest(plant: PlantFacts, facts: Facts, book: FigureBook) -> Markup:
    """Its harvest; else that nothing was picked yet, or that it was not kept by plant."""
    if plant.harvest.recorded:
        return book.show(plant.harvest, facts)
    waiting = NOTHING_YET in plant.harvest.remarks
    return nothing_said(tr("nothing picked yet") if waiting else tr("not recorded plant by plant"))


def _tubs(plant: PlantFacts) -> str:
    """The tub that a plant began in, and where it was moved to."""
    if plant.moved is None:
        return plant.tub
    return f"{plant.tub}; {tr('to {tub} on {day}', tub=plant.moved.tub, day=day_words(plant.moved.day))}"


def _of_plant(milestone: MilestoneFacts, plant: PlantFacts) -> Arrival | None:
    return next((a for a in milestone.arrivals if a.plant == plant.plant), None)


def _arrival(arrival: Arrival | None, wording: Wording) -> Markup:
    """`days 31–35` where an earlier look said not yet, else `by day 35`; a plant that never got there says so."""
    if arrival is None:
        return nothing_said(tr("not recorded plant by plant"))
    if arrival.day is None:
        return nothing_said(_without(arrival))
    if arrival.known_after is not None:
        span = Day(arrival.known_after, arrival.day.last, arrival.day.about)
        return escape(wording.say(span).replace(" ", NBSP))
    by = Day.on(arrival.day.last, about=arrival.day.about)
    return escape(tr("by {day}", day=wording.say(by)).replace(" ", NBSP))


def _without(arrival: Arrival) -> str:
    """Of a plant that did not reach a stage: picked or lost before, not by its last look, or never looked at."""
    if arrival.state == "picked":
        return tr("picked before that")
    if arrival.state == "lost":
        return tr("lost before that")
    look = arrival.last_look
    return tr("not yet on day {day}", day=look.last) if look else tr("not checked")


def _fate(plant: PlantFacts, wording: Wording) -> str:
    message = FATES[plant.fate.word]
    fate = tr_c("of a plant", message)
    if plant.fate.day:
        fate = tr("{fate} on {day}", fate=fate, day=wording.say(plant.fate.day))
    # The end of the run is said once, in the timeline; a loss is the plant's own.
    why = f": {plant.fate.why}" if plant.fate.why and plant.fate.word == "lost" else ""
    return f"{fate}{why}"
