"""The page of one experiment, for someone who comes from its film: the answer first, the run in pictures, the story.

In: the context and one experiment with its charts. Out: its page, its record, the files of its charts, and the pages at
its earlier addresses.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import PurePosixPath

from markupsafe import Markup

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.arms import arms_of
from sitegen.core.records.rows import Deed, Event, Trouble
from sitegen.core.records.setup import Setup
from sitegen.core.reference.cautions import fitting_cautions
from sitegen.core.reference.licences import LICENCES
from sitegen.core.site.addresses import (
    absolute,
    crop_page,
    experiment_page,
    link,
    record_page,
    season_page,
    system_page,
)
from sitegen.core.site.blocks import recap_file
from sitegen.core.site.chart import Chart, lead_of
from sitegen.core.site.content import ExperimentContent
from sitegen.core.site.page import Page
from sitegen.render.author_text.recap import BlockRenderer, PlacedBlocks, placed_blocks, recap_html
from sitegen.render.author_text.recap_parts import recap_parts
from sitegen.render.data.tables import ChartFiles, Credit, chart_files
from sitegen.render.metadata.head import Head
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.tables import picks_table
from sitegen.render.pages.compared.beside import beside_earlier
from sitegen.render.pages.compared.outlook import outlook_of
from sitegen.render.pages.record import record
from sitegen.render.pages.summary import RunSummary, variety_words
from sitegen.render.story.arms.side_by_side import arms_view
from sitegen.render.story.coincidences import coincidences
from sitegen.render.story.days.day_scale import day_scale
from sitegen.render.story.days.day_visits import day_visits
from sitegen.render.story.days.entry_sentences import EntryWording, which_words
from sitegen.render.story.days.gallery import gallery_of, photo_strip
from sitegen.render.story.days.timeline import EntryView, PhaseView, phases_of
from sitegen.render.story.episodes import episodes_of
from sitegen.render.story.evidence.outlook_words import claim_sentence
from sitegen.render.story.key_figures import key_figures
from sitegen.render.story.result import headlines, picked_part, result_sentence, run_length, state_sentence
from sitegen.render.story.run_sentences import (
    SHARED_WATER,
    germination_sentence,
    milestone_sentences,
    verdict_words,
)
from sitegen.render.templates.context import Context

_MANY = 1


@dataclass(frozen=True, slots=True)
class Mishap:
    """Something that went wrong, with the anchor of its day."""

    anchor: str
    day: str
    words: str


def experiment(context: Context, content: ExperimentContent, summary: RunSummary) -> tuple[Page, ...]:
    """The page of one experiment, and its record."""
    facts, setup = content.facts, content.facts.run.setup
    address = experiment_page(facts.id)
    book = context.book(address)
    files = chart_files(content.charts, facts.id, _credit(context, facts, address))
    placed = placed_blocks(content)
    parts = recap_parts(author_text(context, content, book, files))
    wording = EntryWording(facts, context.wording, _product_names(facts) | context.products)
    phases = phases_of(wording)
    arms = arms_view(facts, book)
    description = _description(summary, context.wording)
    page = context.page(
        "experiment.html",
        Head(address, setup.title, description, summary=summary, content=content),
        book,
        facts=facts,
        setup=setup,
        recap=parts.story,
        wrong=parts.wrong,
        wrong_title=parts.title,
        charts=content.charts,
        lead=lead_of(content.charts, setup.crop.kind),
        files=files,
        placed=placed,
        arms=arms,
        record=record_page(facts.id),
        picks=picks_table(facts, book),
        phases=phases,
        episodes=episodes_of(facts, context.wording),
        **selections(context, setup),
        **_sentences(facts, context.wording, compared=arms is not None),
        outlook=outlook_of(context, summary),
        **_days(content, phases, placed, wording),
        **around(context, summary),
    )
    # The record comes second: its working explains what either page shows.
    rest = record(context, content, book, phases, told=not parts.story)
    return (*page, *rest, *(file for each in files.values() for file in each.pages))


def selections(context: Context, setup: Setup) -> dict[str, object]:
    """The season, crop, variety and systems of the run, with their pages."""
    return {
        "season": next((s for s in context.seasons if s.id == setup.season), None),
        "season_page": season_page(setup.season),
        "crop_page": crop_page(setup.crop.id),
        "variety": variety_words(setup),
        "systems": list(dict.fromkeys((tub.system.name, system_page(tub.system.id)) for tub in setup.tubs)),
    }


def _days(
    content: ExperimentContent, phases: Sequence[PhaseView], placed: PlacedBlocks, wording: EntryWording
) -> dict[str, object]:
    """The day axis, the pictures, and the events that went wrong, each with its place in the timeline."""
    facts = content.facts
    entries = [entry for phase in phases for entry in phase.entries]
    # A picture stands in the strip or in the author's text.
    unplaced = [picture for picture in content.pictures if picture.file not in placed.pictures]
    photographed = [picture.day for picture in unplaced if picture.day]
    pictures = {PurePosixPath(p.file).name: p for p in content.pictures}
    return {
        "scale": day_scale(facts, wording.values, day_visits(entries, wording), photographed),
        "pictures": pictures,
        "gallery": gallery_of(content.pictures, placed.pictures),
        "photo_strip": photo_strip(unplaced, facts.axis.last),
        "mishaps": _mishaps(entries, facts, wording.values),
        "cautions": fitting_cautions(facts),
    }


def _sentences(facts: Facts, wording: Wording, *, compared: bool) -> dict[str, object]:
    """Generated sentences and the key figures; what the log shows stands here where the author wrote no text."""
    figures = headlines(facts)
    return {
        "length": run_length(facts.axis, wording, running=facts.running),
        "state": state_sentence(figures, facts.axis, wording, running=facts.running),
        "verdict": verdict_words(facts.run.setup.answer),
        "result": result_sentence(
            figures, picked_part(facts), len(facts.run.setup.plants), running=facts.running
        ),
        "next": claim_sentence(figures, running=facts.running),
        "key_figures": key_figures(facts, wording, compared=compared),
        "story": (germination_sentence(facts), *milestone_sentences(facts)),
        "coincidences": coincidences(facts, wording),
        "shared_water": tr(SHARED_WATER) if _compares(facts) and not arms_of(facts.run.setup) else "",
    }


def around(context: Context, summary: RunSummary) -> dict[str, object]:
    """The runs around this one, and what differed from the nearest earlier ones of its crop."""
    found = context.others.neighbours(summary.id)
    return {
        "earlier": found.earlier,
        "later": found.later,
        "after": found.after,
        "beside": beside_earlier(context, summary),
    }


def author_text(
    context: Context, content: ExperimentContent, book: FigureBook, files: dict[str, ChartFiles]
) -> Markup:
    """The author's text, with the charts and photos in it."""
    run, page = content.facts.run, book.page
    links = context.links(page, run.recap, recap_file(run.setup))

    def to(target: str) -> str:
        return link(target, page)

    def draw(chart: Chart) -> Markup:
        return context.call_macro("parts.html", "chart", chart, to, files)

    render_block = BlockRenderer(context, content, to, draw)
    raw = context.journal.raw_html
    return recap_html(content.facts, book, context.findings, links, render_block, raw=raw)


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


def _mishaps(entries: Sequence[EntryView], facts: Facts, wording: Wording) -> tuple[Mishap, ...]:
    anchors = {entry.day: entry.anchor for entry in reversed(entries)}  # the first entry of a day
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


def moved(context: Context, content: ExperimentContent) -> tuple[Page, ...]:
    """A page at each earlier address that leads to the experiment's own."""
    setup = content.facts.run.setup
    target = experiment_page(setup.id)
    pages: list[Page] = []
    for old in dict.fromkeys(setup.was):
        if not context.others.published(old):
            pages += context.page("moved.html", Head(experiment_page(old), setup.title), target=target)
            if content.facts.run.stage in ("running", "ended"):  # one without a log has no record
                head = Head(record_page(old), setup.title)
                pages += context.page("moved.html", head, target=record_page(setup.id))
    return tuple(pages)
