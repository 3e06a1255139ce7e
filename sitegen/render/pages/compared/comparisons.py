"""Pages that set runs side by side: a crop, a system, everything.

In: the context, which has the summaries of the runs. Out: pages.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sitegen.core.language.catalogue import tr, tr_c, tr_n
from sitegen.core.site.addresses import COMPARE, crop_page, system_page
from sitegen.core.site.page import Page
from sitegen.render.metadata.head import Head
from sitegen.render.numbers.arms_table import arms_table
from sitegen.render.numbers.compared_arms import compared_arms
from sitegen.render.numbers.used import system_words
from sitegen.render.pages.compared.arm_pictures import Shapes, by_system, every_plant, seasons, so_far
from sitegen.render.pages.compared.beside import one_after_another
from sitegen.render.pages.compared.best_so_far import best_so_far
from sitegen.render.pages.compared.table_runs import FEW_ROWS, table_runs
from sitegen.render.pages.compared.varieties import varieties_grown
from sitegen.render.pages.run_lists import (
    LATEST,
    begun_first,
    crop_links,
    days_of_runs,
    latest_first,
    number_of_runs,
    phases_of,
    system_links,
    systems_of,
)
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.run_sentences import SHARED_WATER
from sitegen.render.templates.context import Context

MOST_BESIDE = 12  # runs whose differences stand on the page of their crop


def _description(name: str, words: str) -> str:
    return tr("{name}: {words}, side by side from the day of sowing.", name=name, words=words)


def crop(context: Context, name: str) -> tuple[Page, ...]:
    """The page of a crop: which variety did best so far, its arms beside one another, and what else differed."""
    runs = context.others.summaries("crop", name)
    summaries, found = latest_first(runs), runs[-1].setup.crop
    begun = [summary for summary in summaries if summary.logged]
    varieties, book = varieties_grown(found, begun), context.book(crop_page(name))
    tabled = table_runs(context, summaries, FEW_ROWS)
    systems = {system.id for summary in begun for system in systems_of(summary)}
    words = ", ".join(
        [
            number_of_runs(summaries),
            tr_n("{n} variety", "{n} varieties", len(varieties)),
            tr_n("{n} system", "{n} systems", len(systems)),
        ]
    )
    return context.page(
        "crop.html",
        Head(book.page, found.name, _description(found.name, words), COMPARE),
        book,
        crop=found,
        kind=tr_c("kind of crop", found.kind),
        words=words,
        best=best_so_far(context, begun, varieties),
        varieties=varieties,
        pictures=_pictures(begun, context),
        days=days_of_runs(begun),
        phases=phases_of(summaries),
        table=arms_table(tabled.shown, book),
        tabled=tabled,
        beside=one_after_another(context, begun[: MOST_BESIDE + 1]),
        beside_left_out=len(begun) > MOST_BESIDE + 1,
        note=tr(SHARED_WATER),
        alone=len(begun) == 1,
    )


def _pictures(summaries: Sequence[RunSummary], context: Context) -> dict[str, object]:
    """The drawings of a crop: of every plant, of the runs in order, of the same by system."""
    rows = compared_arms(reversed(summaries))
    shapes = Shapes.for_rows(rows)
    return {
        "plants": every_plant(rows, shapes, context.wording),
        "so_far": so_far(rows, shapes, context.wording),
        "seasons": seasons(rows, shapes, context.wording),
        "by_system": by_system(rows, shapes, context.wording),
    }


def system(context: Context, name: str) -> tuple[Page, ...]:
    """The page of a system: the runs of every crop in it."""
    runs = context.others.summaries("system", name)
    summaries = sorted(latest_first(runs), key=lambda summary: summary.setup.crop.name)
    found = next(each for each in systems_of(runs[-1]) if each.id == name)
    book, tabled = context.book(system_page(name)), table_runs(context, summaries)
    words = f"{number_of_runs(summaries)}, {tr_n('{n} crop', '{n} crops', len(_crops(summaries)))}"
    return context.page(
        "system.html",
        Head(book.page, found.name, _description(found.name, words), COMPARE),
        book,
        system=found,
        about=system_words(replace(found, name="", kind=""), context.wording),
        words=words,
        runs=days_of_runs(begun_first(runs)[:LATEST]),
        more=len(runs) > LATEST,
        days=days_of_runs([each for each in latest_first(runs) if each.logged]),
        phases=phases_of(summaries),
        table=arms_table(tabled.shown, book, crops=True, system=name),
        tabled=tabled,
    )


def _crops(summaries: Sequence[RunSummary]) -> set[str]:
    return {summary.setup.crop.id for summary in summaries}


def compare(context: Context) -> tuple[Page, ...]:
    """Every run side by side, by crop."""
    summaries = sorted(latest_first(context.others.summaries()), key=lambda summary: summary.setup.crop.name)
    book, tabled = context.book(COMPARE), table_runs(context, summaries)
    return context.page(
        "compare.html",
        Head(
            COMPARE,
            tr("Everything compared"),
            tr("Every run side by side. Only what was recorded."),
            COMPARE,
        ),
        book,
        table=arms_table(tabled.shown, book, crops=True),
        tabled=tabled,
        crops=crop_links(summaries),
        systems=system_links(summaries),
        note=tr(SHARED_WATER),
    )
