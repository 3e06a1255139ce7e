"""The index of the search: one small classic script, loaded when a reader begins to search.

In: the context. Out: `find.js`, which assigns one global. Addresses in it are relative to
the site's root; it asks for nothing and works from a folder on disk.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence

from sitegen.core.facts.method import Method
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import FreePage, Season
from sitegen.core.site.addresses import (
    METHODS,
    SEARCH_INDEX,
    crop_page,
    free_page,
    method_anchor,
    season_page,
    system_page,
)
from sitegen.core.site.page import Page
from sitegen.render.author_text.markdown import title_of
from sitegen.render.pages.summary import RunSummary
from sitegen.render.templates.context import Context

SCRIPT = "text/javascript"

Entry = dict[str, str]  # keys of one letter: title, address, kind, sentence, more words that are searched


def find_index(context: Context) -> tuple[Page, ...]:
    """The index of a site: experiments first, then the pages that list them, texts and formulas."""
    summaries, wording, seasons = context.others.summaries(), context.wording, context.seasons
    entries = [*_experiments(summaries, {season.id: season.title for season in seasons}, wording)]
    entries += [*_lists(summaries, seasons), *_texts(context.others.texts())]
    entries += _methods(context.methods.values())
    body = json.dumps(entries, ensure_ascii=False, separators=(",", ":")).replace("},{", "},\n{")
    return (Page(SEARCH_INDEX, SCRIPT, f"window.siteIndex={body};\n"),)


def _entry(title: str, address: str, kind: str, sentence: str = "", more: str = "") -> Entry:
    return {"t": title, "a": address, "k": kind, "s": sentence, "w": more}


def _experiments(
    summaries: Sequence[RunSummary], titles: dict[str, str], wording: Wording
) -> Iterator[Entry]:
    newest = sorted(summaries, key=lambda summary: (summary.started, summary.id), reverse=True)
    for summary in newest:
        setup = summary.setup
        kind = ", ".join(filter(None, (setup.crop.name, titles.get(setup.season, setup.season))))
        more = (
            summary.variety,
            summary.system,
            setup.question,
            setup.crop.latin or "",
            summary.state(wording),
        )
        yield _entry(summary.title, summary.address, kind, summary.result.plain(wording), " ".join(more))


def _lists(summaries: Sequence[RunSummary], seasons: Iterable[Season]) -> Iterator[Entry]:
    crops = {summary.setup.crop.id: summary.setup.crop for summary in summaries}
    systems = {tub.system.id: tub.system for summary in summaries for tub in summary.setup.tubs}
    grown = {summary.setup.season for summary in summaries}
    for crop in sorted(crops.values(), key=lambda each: each.name):
        yield _entry(crop.name, crop_page(crop.id), tr("Crop"), more=crop.latin or "")
    for system in sorted(systems.values(), key=lambda each: each.name):
        yield _entry(system.name, system_page(system.id), tr("System"), more=system.kind or "")
    for season in seasons:
        if season.id in grown:
            yield _entry(season.title, season_page(season.id), tr("Season"), season.summary)


def _texts(texts: Iterable[FreePage]) -> Iterator[Entry]:
    for text in texts:
        title, body = title_of(text.markdown)
        words = " ".join(body.replace("*", "").split())
        yield _entry(title or text.name, free_page(text.name), tr("Page"), more=words)


def _methods(methods: Iterable[Method]) -> Iterator[Entry]:
    for method in methods:
        address = f"{METHODS}#{method_anchor(method.name)}"
        yield _entry(tr_c("method", method.title), address, tr("Method"), more=method.name.replace("_", " "))
