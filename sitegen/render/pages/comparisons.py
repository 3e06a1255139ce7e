"""Pages that set runs side by side: a crop, a system, everything.

In: the context, which has the summaries of the runs. Out: pages.
"""

from __future__ import annotations

from sitegen.core.language.catalogue import tr, tr_c, tr_n
from sitegen.core.site.addresses import COMPARE, crop_page, system_page
from sitegen.core.site.page import Page
from sitegen.render.metadata.head import Head
from sitegen.render.numbers.arms_table import compared
from sitegen.render.numbers.used import system_words
from sitegen.render.pages.run_lists import (
    crop_links,
    latest_first,
    number_of_runs,
    side_by_side,
    system_links,
    systems_of,
)
from sitegen.render.pages.summary import RunSummary
from sitegen.render.story.run_sentences import SHARED_WATER
from sitegen.render.templates.context import Context


def _description(name: str, words: str) -> str:
    return tr("{name}: {words}, side by side from the day of sowing.", name=name, words=words)


def crop(context: Context, name: str) -> tuple[Page, ...]:
    """The page of a crop: its runs side by side."""
    runs = context.others.summaries("crop", name)
    summaries, found = latest_first(runs), runs[-1].setup.crop
    begun = [summary for summary in summaries if summary.stage != "planned"]
    varieties = {v for summary in begun for v in summary.setup.variety_ids}
    systems = {system.id for summary in begun for system in systems_of(summary)}
    words = ", ".join(
        [
            number_of_runs(summaries),
            tr_n("{n} variety", "{n} varieties", len(varieties)),
            tr_n("{n} system", "{n} systems", len(systems)),
        ]
    )
    return side_by_side(
        context,
        "crop.html",
        Head(crop_page(name), found.name, _description(found.name, words), COMPARE),
        summaries,
        crops=False,
        crop=found,
        kind=tr_c("kind of crop", found.kind),
        words=words,
        grown=[variety for variety in found.varieties if variety.id in varieties],
        note=tr(SHARED_WATER),
        alone=len(begun) == 1,
    )


def system(context: Context, name: str) -> tuple[Page, ...]:
    """The page of a system: its runs side by side."""
    runs = context.others.summaries("system", name)
    summaries = latest_first(runs)
    found = next(each for each in systems_of(runs[-1]) if each.id == name)
    crops = len({summary.setup.crop.id for summary in summaries})
    words = f"{number_of_runs(summaries)}, {tr_n('{n} crop', '{n} crops', crops)}"
    return side_by_side(
        context,
        "system.html",
        Head(system_page(name), found.name, _description(found.name, words), COMPARE),
        summaries,
        crops=True,
        system=found,
        about=system_words(found, context.wording),
        words=words,
    )


def _by_crop(summary: RunSummary) -> tuple[str, int]:
    return summary.setup.crop.name, -summary.started.toordinal()


def compare(context: Context) -> tuple[Page, ...]:
    """Every run side by side, by crop."""
    summaries = sorted(context.others.summaries(), key=_by_crop)
    book = context.book(COMPARE)
    description = tr("Every run side by side: what was recorded, no more.")
    return context.page(
        "compare.html",
        Head(COMPARE, tr("Everything compared"), description, COMPARE),
        book,
        table=compared(summaries, book, crops=True),
        crops=crop_links(summaries),
        systems=system_links(summaries),
        note=tr(SHARED_WATER),
    )
