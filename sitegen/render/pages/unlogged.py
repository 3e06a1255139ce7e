"""The pages of runs without a log: planned, and told from memory.

In: the context, the run without figures, its summary. Out: a short page of what is known, and of nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import escape

from sitegen.core.language.text import listed, tub_words
from sitegen.core.language.wording import opening
from sitegen.core.records.arms import Arm, arms_of
from sitegen.core.records.setup import Setup
from sitegen.core.site.content import ExperimentContent
from sitegen.core.site.page import Page
from sitegen.render.author_text.recap import placed_blocks
from sitegen.render.metadata.head import Head
from sitegen.render.numbers.used import Item, set_up
from sitegen.render.pages.experiment import around, author_text, selections
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.days.entry_sentences import plants_in_words
from sitegen.render.story.days.gallery import gallery_of
from sitegen.render.story.episodes import episodes_of
from sitegen.render.story.run_sentences import verdict_words
from sitegen.render.story.stage_words import planned_sentence
from sitegen.render.templates.context import Context


def planned(context: Context, content: ExperimentContent, summary: RunSummary) -> tuple[Page, ...]:
    """The page of a run that is to begin: when, the question, what is to be compared, the set-up."""
    setup = content.facts.run.setup
    return _page(
        context,
        "planned.html",
        content,
        summary,
        sentence=planned_sentence(setup.start, context.wording),
        arms=tuple(_arm(arm, setup) for arm in arms_of(setup)),
    )


def from_memory(context: Context, content: ExperimentContent, summary: RunSummary) -> tuple[Page, ...]:
    """The page of an earlier try: what was grown, the answer, what came of it, as far as its author knows."""
    setup = content.facts.run.setup
    memory = setup.from_memory
    harvest = "" if memory is None else memory.harvest_text
    return _page(
        context,
        "from_memory.html",
        content,
        summary,
        harvest=opening(harvest.rstrip(".")),
        verdict=verdict_words(setup.answer),
    )


def _page(
    context: Context, template: str, content: ExperimentContent, summary: RunSummary, **view: object
) -> tuple[Page, ...]:
    run = content.facts.run
    setup, said = run.setup, summary.in_words(context.wording)
    book = context.book(summary.address, summary.address)
    recap = author_text(context, content, book, {})
    head = Head(summary.address, setup.title, " ".join(filter(None, (setup.question, said))), summary=summary)
    return context.page(
        template,
        head,
        book,
        facts=content.facts,
        setup=setup,
        when=summary.when(context.wording),
        recap=recap,
        gallery=gallery_of(content.pictures, placed_blocks(content).pictures),
        set_up=set_up(content.facts, book, context.others),
        episodes=episodes_of(content.facts, context.wording),
        shown=bool(book.shown),
        working=book.working,
        **selections(context, setup),
        **around(context, summary),
        **view,
    )


def _arm(arm: Arm, setup: Setup) -> Item:
    """The plants of an arm, and what they differ in."""
    return Item(opening(_name(arm, setup)), (escape(", ".join(_arm_words(arm, setup))),))


def _name(arm: Arm, setup: Setup) -> str:
    if arm.kind == "varieties":
        return setup.variety_name(arm.key)
    return tub_words(arm.key) if arm.kind == "tubs" else arm.key


def _arm_words(arm: Arm, setup: Setup) -> Iterator[str]:
    yield plants_in_words(arm.plants)
    if arm.kind != "varieties" and len(setup.variety_ids) > 1:
        own = {plant.variety: None for plant in setup.plants if plant.id in arm.plants and plant.variety}
        yield listed([setup.variety_name(variety) for variety in own])
    if len(setup.tubs) > 1:
        tubs = [setup.tub(tub) for tub in dict.fromkeys(p.tub for p in setup.plants if p.id in arm.plants)]
        if arm.kind != "tubs":
            yield listed([tub_words(tub.id) for tub in tubs])
        yield listed(list(dict.fromkeys(tub.system.name for tub in tubs)))
        yield from dict.fromkeys(tub.light.lamp.name for tub in tubs if tub.light and tub.light.lamp)
