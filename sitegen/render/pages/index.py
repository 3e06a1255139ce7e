"""The index of the search: one small classic script, loaded when a reader begins to search.

In: the context. Out: `find.js`, which assigns one global. Addresses in it are relative to
the site's root; it asks for nothing and works from a folder on disk.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from sitegen.core.facts.method import Method
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import Crop, FreePage, Season
from sitegen.core.site.addresses import (
    CAUTIONS,
    COMPARE,
    HOME,
    METHODS,
    NOT_FOUND,
    SEARCH_INDEX,
    crop_page,
    experiment_page,
    free_page,
    method_anchor,
    season_page,
    system_page,
)
from sitegen.core.site.page import Page
from sitegen.core.site.site_map import OtherPages
from sitegen.core.store import Store
from sitegen.render.author_text.markdown import title_of
from sitegen.render.metadata import metadata_files
from sitegen.render.pages.comparisons import compare, crop, system
from sitegen.render.pages.run_lists import home, season
from sitegen.render.pages.summary import RunSummary
from sitegen.render.pages.text_pages import cautions, free, methods, missing
from sitegen.render.pages.varieties import variety_address
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
        yield _entry(summary.title, summary.address, kind, summary.in_words(wording), " ".join(more))


def _lists(summaries: Sequence[RunSummary], seasons: Iterable[Season]) -> Iterator[Entry]:
    crops = {summary.setup.crop.id: summary.setup.crop for summary in summaries}
    systems = {tub.system.id: tub.system for summary in summaries for tub in summary.setup.tubs}
    with_runs = {summary.setup.season for summary in summaries}
    for grown in sorted(crops.values(), key=lambda each: each.name):
        yield _entry(grown.name, crop_page(grown.id), tr("Crop"), more=grown.latin or "")
        yield from _varieties(grown, summaries)
    for used in sorted(systems.values(), key=lambda each: each.name):
        yield _entry(used.name, system_page(used.id), tr("System"), more=used.kind or "")
    for each in seasons:
        if each.id in with_runs:
            yield _entry(each.title, season_page(each.id), tr("Season"), each.summary)


def _varieties(crop: Crop, summaries: Iterable[RunSummary]) -> Iterator[Entry]:
    """The varieties with runs: each has its place on the page of its crop."""
    grown = {
        name
        for summary in summaries
        if summary.setup.crop.id == crop.id
        for name in summary.setup.variety_ids
    }
    for each in crop.varieties:
        if each.id in grown:
            kind = tr("Variety of {crop}", crop=crop.name)
            yield _entry(each.name, variety_address(crop.id, each.id), kind, more=each.note)


def _texts(texts: Iterable[FreePage]) -> Iterator[Entry]:
    for text in texts:
        title, body = title_of(text.markdown)
        words = " ".join(body.replace("*", "").split())
        yield _entry(title or text.name, free_page(text.name), tr("Page"), more=words)


def _methods(methods: Iterable[Method]) -> Iterator[Entry]:
    for method in methods:
        address = f"{METHODS}#{method_anchor(method.name)}"
        yield _entry(tr_c("method", method.title), address, tr("Method"), more=method.name.replace("_", " "))


@dataclass(frozen=True, slots=True)
class IndexPage:
    """One build step; `address` is that of its only page, and empty where it makes several files."""

    name: str
    make: Callable[[Context], Iterable[Page]]
    address: str = ""


def index_pages(others: OtherPages, seasons: Iterable[str], store: Store | None) -> Iterator[IndexPage]:
    """Every index page, in the order of the navigation; `seasons` are the ids of all seasons of the journal."""
    links = others.runs()
    yield IndexPage("home", home, HOME)
    yield IndexPage("compare", compare, COMPARE)
    for each in seasons:
        if any(link.season == each for link in links):
            yield IndexPage(f"season {each}", partial(season, name=each), season_page(each))
    for each in dict.fromkeys(link.crop for link in links):
        yield IndexPage(f"crop {each}", partial(crop, name=each), crop_page(each))
    for each in sorted({name for link in links for name in link.systems}):
        yield IndexPage(f"system {each}", partial(system, name=each), system_page(each))
    yield IndexPage("methods", methods, METHODS)
    yield IndexPage("cautions", cautions, CAUTIONS)
    for text in others.texts():
        yield IndexPage(f"text {text.name}", partial(free, name=text.name), free_page(text.name))
    yield IndexPage("missing", missing, NOT_FOUND)
    yield IndexPage("assets", lambda context: context.assets.values())
    yield IndexPage("search", find_index, SEARCH_INDEX)
    yield IndexPage("metadata", partial(_metadata, store=store))


def _metadata(context: Context, store: Store | None) -> Iterable[Page]:
    """Feeds, sitemap and the like; they list every page that a reader can open."""
    others = context.others
    pages = index_pages(others, [season.id for season in context.seasons], store)
    addresses = {page.address for page in pages} - {"", SEARCH_INDEX}
    addresses.update(experiment_page(name) for run in others.runs() for name in (run.id, *run.was))
    return metadata_files(context.journal, context.wording, others.summaries(), addresses, store)
