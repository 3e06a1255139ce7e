"""The record of one experiment, for someone who wants to check it or to grow it again: a page behind the story.

In: the context, one experiment with its charts, the figures that its own page shows. Out: a page with every visit by
phase, all numbers with their working, and what can be downloaded.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import PurePosixPath

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.language.wording import opening
from sitegen.core.reference.cautions import fitting_cautions
from sitegen.core.site.addresses import experiment_page, record_page
from sitegen.core.site.content import ExperimentContent
from sitegen.core.site.page import Page
from sitegen.core.site.site_map import OtherPages
from sitegen.render.metadata.head import Head
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.numbers import numbers, rarer, unrecorded
from sitegen.render.numbers.tables import picks_table, plants_table
from sitegen.render.numbers.used import used
from sitegen.render.story.arms.side_by_side import whole_table
from sitegen.render.story.coincidences import coincidences
from sitegen.render.story.days.timeline import PhaseView
from sitegen.render.story.questions import answered_questions
from sitegen.render.story.result import headlines
from sitegen.render.story.run_sentences import germination_sentence, milestone_sentences
from sitegen.render.templates.context import Context


def record(
    context: Context, content: ExperimentContent, book: FigureBook, phases: Sequence[PhaseView], *, told: bool
) -> tuple[Page, ...]:
    """The record of an experiment. `told`: its own page says already what the log shows."""
    facts, setup, wording = content.facts, content.facts.run.setup, context.wording
    address, total = record_page(facts.id), facts.harvest.total
    own = book.on(address)
    shown = headlines(facts)
    for name in shown.__slots__:
        if name != "expected" or shown.expected.recorded:  # without days claimed nothing links to it
            own.show(getattr(shown, name), facts)
    head = Head(
        address,
        tr("The record: {title}", title=setup.title),
        tr("{title}: every visit, all numbers with their working, and the data.", title=setup.title),
        here=experiment_page(facts.id),
    )
    return context.page(
        "record.html",
        head,
        own,
        facts=facts,
        setup=setup,
        home=experiment_page(facts.id),
        phases=phases,
        pictures={PurePosixPath(p.file).name: p for p in content.pictures},
        questions=answered_questions(facts, content.pictures, wording),
        unrecorded=unrecorded(facts, own),
        story=() if told else (germination_sentence(facts), *milestone_sentences(facts)),
        coincidences=() if told else coincidences(facts, wording),
        picks_remark=opening(remarks_words(total.remarks)) if total.recorded else "",
        cautions=fitting_cautions(facts),
        downloads=content.downloads,
        cited=_cited(facts),
        working=own.working,
        **_tables(facts, own, context.others),
    )


def _tables(facts: Facts, book: FigureBook, others: OtherPages) -> dict[str, object]:
    """The numbers of the run, as lists and tables."""
    arms = whole_table(facts, book)
    return {
        "arms": arms,
        "used": used(facts, book, others),
        "numbers": numbers(facts, book),
        "rarer": rarer(facts, book, arms.names if arms else frozenset()),
        "picks": picks_table(facts, book),
        "plants": plants_table(facts, book),
    }


def _cited(facts: Facts) -> date | None:
    """The date that a citation names: of the last rewriting, of publication, or of the last entry."""
    setup = facts.run.setup
    return setup.revised or setup.publish or facts.axis.start.date_of(facts.axis.last)
