"""The page of one experiment: answer first, then the story, then the working.

In: the context and one experiment with its charts. Out: its page and the pages at its earlier addresses.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import PurePosixPath

from markupsafe import Markup

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.labels import label_words
from sitegen.core.language.remarks import remarks_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.rows import Deed, Event, Trouble
from sitegen.core.records.setup import Setup
from sitegen.core.reference.licences import LICENCES
from sitegen.core.site.addresses import absolute, crop_page, experiment_page, link, season_page, system_page
from sitegen.core.site.blocks import recap_file
from sitegen.core.site.chart import Chart
from sitegen.core.site.content import ExperimentContent, Picture
from sitegen.core.site.page import Page
from sitegen.core.site.site_map import run_link_of
from sitegen.core.values.day import Day
from sitegen.render.author_text.blocks import BlockRenderer, PlacedBlocks, placed_blocks
from sitegen.render.author_text.recap import recap_html
from sitegen.render.data.charts import ChartFiles, Credit, chart_files
from sitegen.render.metadata.chapters import chapter_files
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.numbers import numbers, rarer
from sitegen.render.numbers.tables import picks_table, plants_table
from sitegen.render.numbers.used import used
from sitegen.render.pages.summary import RunSummary, variety_words
from sitegen.render.story.cautions import fitting_cautions
from sitegen.render.story.day_scale import day_scale
from sitegen.render.story.entry_wording import EntryWording, which_words
from sitegen.render.story.gallery import gallery_of
from sitegen.render.story.questions import answered_questions, missing_words
from sitegen.render.story.result import headlines, picked_part, result_sentence, run_length, state_sentence
from sitegen.render.story.run_sentences import (
    SHARED_WATER,
    coincidences,
    differences,
    germination_sentence,
    milestone_sentences,
    verdict_words,
)
from sitegen.render.story.timeline import PhaseView, phases_of
from sitegen.render.templates.context import Context, Head

_MANY = 1


@dataclass(frozen=True, slots=True)
class KeyFigure:
    """One of the figures that carry the answer, and what limits it."""

    label: str
    figure: Figure
    note: str


@dataclass(frozen=True, slots=True)
class Mishap:
    """Something that went wrong, with the anchor of its day."""

    anchor: str
    day: str
    words: str


def experiment(context: Context, content: ExperimentContent, summary: RunSummary) -> tuple[Page, ...]:
    """The page of one experiment."""
    facts, wording = content.facts, context.wording
    address = experiment_page(facts.id)
    book = context.book(address)
    # The recap comes first: it decides which figures the working has to explain.
    files = chart_files(content.charts, facts.id, _credit(context, facts, address))
    placed = placed_blocks(content)
    recap = _recap(context, content, book, files)
    entry_wording = EntryWording(facts, wording, _product_names(facts) | context.products)
    phases = phases_of(entry_wording)
    sections = {
        "used": used(facts, book),
        "numbers": numbers(facts, book),
        "rarer": rarer(facts, book),
        "picks": picks_table(facts, book),
        "plants": plants_table(facts, book),
    }
    shown = headlines(facts)
    for name in shown.__slots__:
        if name != "expected" or shown.expected.recorded:  # what no packet says is linked to from nowhere
            book.show(getattr(shown, name), facts)
    setup = facts.run.setup
    page = context.page(
        "experiment.html",
        Head(address, setup.title, _description(summary, wording), summary=summary, content=content),
        book,
        facts=facts,
        setup=setup,
        recap=recap,
        season=next((s for s in context.seasons if s.id == setup.season), None),
        season_page=season_page(setup.season),
        crop_page=crop_page(setup.crop.id),
        variety=variety_words(setup),
        systems=list(dict.fromkeys((tub.system.name, system_page(tub.system.id)) for tub in setup.tubs)),
        scale=day_scale(facts, wording, _said(phases, facts), _photo_marks(content, phases, placed)),
        charts=content.charts,
        files=files,
        placed=placed,
        phases=phases,
        pictures={PurePosixPath(p.file).name: p for p in content.pictures},
        more_pictures=[p for p in _not_in_log(content, phases) if p.file not in placed.pictures],
        gallery=gallery_of(content.pictures, placed.pictures),
        mishaps=_mishaps(phases, facts, wording),
        cautions=fitting_cautions(facts),
        downloads=content.downloads,
        chapter_files=chapter_files(setup),
        cited=_cited(facts),
        working=book.working,
        **_said_first(facts, content, wording),
        **_neighbours(context, setup),
        **sections,
    )
    return (*page, *(file for each in files.values() for file in (each.drawing, each.table)))


def _said_first(facts: Facts, content: ExperimentContent, wording: Wording) -> dict[str, object]:
    """What the page says of its own accord: how long, the result, what is asked of every run, the story."""
    figures, total = headlines(facts), facts.harvest.total
    return {
        "length": run_length(facts.axis, wording, running=facts.running),
        "state": state_sentence(figures, facts.axis, wording, running=facts.running),
        "verdict": verdict_words(facts.run.setup.answer),
        "result": result_sentence(
            figures, picked_part(facts), len(facts.run.setup.plants), running=facts.running
        ),
        "picks_remark": opening(remarks_words(total.remarks)) if total.recorded else "",
        "key_figures": _key_figures(facts, wording),
        "questions": answered_questions(facts, content.pictures, wording),
        "unrecorded": missing_words(facts),
        "story": (germination_sentence(facts), *milestone_sentences(facts)),
        "coincidences": coincidences(facts, wording),
        "shared_water": tr(SHARED_WATER) if _compares(facts) else "",
    }


def _neighbours(context: Context, setup: Setup) -> dict[str, object]:
    """The runs around this one, and what differed from the one of its crop before it."""
    around = context.others.neighbours(setup.id)
    differed = differences(run_link_of(setup), around.before, context.wording) if around.before else ()
    return {
        "earlier": around.earlier,
        "later": around.later,
        "before": around.before,
        "after": around.after,
        "differed": differed,
    }


def _recap(
    context: Context, content: ExperimentContent, book: FigureBook, files: dict[str, ChartFiles]
) -> Markup:
    """The author's text, with what it places."""
    run, page = content.facts.run, book.page
    links = context.links(page, run.recap, recap_file(run.setup))

    def to(target: str) -> str:
        return link(target, page)

    def draw(chart: Chart) -> Markup:
        return context.part("parts.html", "chart", chart, to, files)

    place = BlockRenderer(context, content, to, draw)
    raw = context.journal.raw_html
    return recap_html(content.facts, book, context.findings, links, place, raw=raw)


def _credit(context: Context, facts: Facts, address: str) -> Credit:
    journal = context.journal
    return Credit(
        title=facts.run.setup.title,
        source=absolute(address, journal.address),
        site=journal.title,
        author=journal.author.name,
        licence=journal.licence,
        licence_text=LICENCES.get(journal.licence, ""),
    )


def _cited(facts: Facts) -> date | None:
    """The date that a citation names: of the last rewriting, of publication, or of the last entry."""
    setup = facts.run.setup
    return setup.revised or setup.publish or facts.axis.start.date_of(facts.axis.last)


def _product_names(facts: Facts) -> dict[str, str]:
    """Products by id, as the facts call them."""
    doses = (dose for tub in facts.solution.tubs for dose in (*tub.doses, *tub.adjusted))
    return {dose.product: label_words(dose.label) for dose in doses}


def _description(summary: RunSummary, wording: Wording) -> str:
    question = f"{summary.setup.question} " if summary.setup.question else ""
    return question + summary.result.plain(wording)


def _compares(facts: Facts) -> bool:
    """Whether the run sets something beside something else."""
    setup = facts.run.setup
    return max(len(setup.groups), len(setup.variety_ids), len(setup.tubs)) > _MANY


def _key_figures(facts: Facts, wording: Wording) -> tuple[KeyFigure, ...]:
    """Harvest, the day of the first pick or stage, seeds, water."""
    harvest = facts.harvest
    total = KeyFigure(
        tr("Harvest"),
        harvest.total,
        _note(harvest.total, tr_n("{n} plant started.", "{n} plants started.", len(facts.run.setup.plants))),
    )
    germination = KeyFigure(
        tr("Seeds that came up"), facts.germination.share, _note(facts.germination.share, "")
    )
    water = KeyFigure(tr("Water added"), facts.solution.water, _note(facts.solution.water, ""))
    return (total, _first(facts, wording), germination, water)


def _first(facts: Facts, wording: Wording) -> KeyFigure:
    """The first pick, or the latest stage while nothing was picked."""
    stages = [m for m in facts.milestones if m.first.recorded]
    if facts.harvest.first_pick.recorded or not stages:
        figure = facts.harvest.first_pick
        return KeyFigure(tr("First pick"), figure, _note(figure, _date_of(figure, facts, wording)))
    last = stages[-1]
    return KeyFigure(
        opening(label_words(last.label)), last.first, _note(last.first, _date_of(last.first, facts, wording))
    )


def _date_of(figure: Figure, facts: Facts, wording: Wording) -> str:
    if not isinstance(figure.value, Day) or not figure.value.single:
        return ""
    when = facts.axis.start.date_of(figure.value.first)
    return f"{wording.calendar_day(when)}." if when else ""


def _note(figure: Figure, more: str) -> str:
    note = f"{opening(remarks_words(figure.remarks))}." if figure.remarks and figure.recorded else ""
    return " ".join(part for part in (more, note) if part)


def _said(phases: Sequence[PhaseView], facts: Facts) -> dict[tuple[str, int], str]:
    """The words of each mark on the scale: what its entry says in that lane."""
    found: dict[tuple[str, int], str] = {}
    for view in (entry for phase in phases for entry in phase.entries):
        for line in view.lines:
            key = (line.mark, view.entry)
            found[key] = f"{found[key]}; {line.text}" if key in found else line.text
    for event in facts.run.rows.of(Deed.LOST):
        found.setdefault(("trouble", event.entry), tr("lost {plants}", plants=which_words(event.which)))
    return found


def _mishaps(phases: Sequence[PhaseView], facts: Facts, wording: Wording) -> tuple[Mishap, ...]:
    anchors: dict[Day, str] = {}
    for view in (entry for phase in phases for entry in phase.entries):
        anchors.setdefault(view.day, view.anchor)
    return tuple(
        Mishap(anchors.get(event.day, ""), opening(wording.say(event.day)), _mishap(event, wording))
        for event in facts.run.rows.of(Deed.TROUBLE, Deed.LOST)
    )


def _mishap(event: Event, wording: Wording) -> str:
    plants = which_words(event.which, tr("all plants")) if event.which else ""
    if not isinstance(event, Trouble):
        lost = tr("lost {plants}", plants=plants)
        return f"{lost}: {event.what}" if event.what else lost
    until = tr("until {day}", day=wording.say(event.until)) if event.until else ""
    return ", ".join(part for part in (event.what, plants, until) if part)


def _photo_marks(
    content: ExperimentContent, phases: Sequence[PhaseView], placed: PlacedBlocks
) -> tuple[tuple[Day, str], ...]:
    """The day of each picture that has one, and where the page shows it."""
    logged = {
        PurePosixPath(photo.file).name: entry.anchor
        for phase in phases
        for entry in phase.entries
        for photo in entry.photos
    }
    at = {**logged, **placed.pictures}
    return tuple((p.day, at.get(p.file, "pictures")) for p in content.pictures if p.day)


def _not_in_log(content: ExperimentContent, phases: Sequence[PhaseView]) -> tuple[Picture, ...]:
    """Pictures that no entry shows."""
    shown = {PurePosixPath(photo.file).name for p in phases for e in p.entries for photo in e.photos}
    return tuple(p for p in content.pictures if PurePosixPath(p.file).name not in shown)


def moved(context: Context, content: ExperimentContent) -> tuple[Page, ...]:
    """A page at each earlier address that leads to the experiment's own."""
    setup = content.facts.run.setup
    target = experiment_page(setup.id)
    pages: list[Page] = []
    for old in dict.fromkeys(setup.was):
        if not context.others.published(old):
            head = Head(experiment_page(old), setup.title)
            pages += context.page("moved.html", head, context.book(head.address), target=target)
    return tuple(pages)
