"""The index of the search: one small classic script, loaded when a reader begins to search.

In: the context. Out: `find.js`, which assigns one global; a word that an entry is found by stands in it once. Addresses
in it are relative to the site's root; it asks for nothing and works from a folder on disk.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from sitegen.core.facts.method import Method
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.records.setup import FreePage, Season
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
    record_page,
    season_page,
    system_page,
)
from sitegen.core.site.blocks import plain_words
from sitegen.core.site.page import Page
from sitegen.core.site.site_map import OtherPages
from sitegen.core.store import Store
from sitegen.render.author_text.markdown import title_of
from sitegen.render.metadata import metadata_files
from sitegen.render.pages.compared.comparisons import compare, crop, system
from sitegen.render.pages.compared.varieties import variety_address
from sitegen.render.pages.run_lists import home, season
from sitegen.render.pages.search import SearchedRun, further_words
from sitegen.render.pages.text_pages import cautions, free, methods, missing
from sitegen.render.templates.context import Context

SCRIPT = "text/javascript"

# Keys of one letter: title, address, kind, sentence, more words that are searched; of a run also what was written about
# days (anchor, day, text), and words of its story.
Entry = dict[str, object]


def find_index(context: Context) -> tuple[Page, ...]:
    """The index of a site: experiments first, then the pages that list them, texts and formulas."""
    runs: Sequence[SearchedRun] = context.others.searched()
    seasons = context.seasons
    entries = [*_experiments(runs, {season.id: season.title for season in seasons})]
    entries += [*_lists(runs, seasons), *_texts(context.others.texts())]
    entries += _methods(context.methods.values())
    body = json.dumps(entries, ensure_ascii=False, separators=(",", ":")).replace("},{", "},\n{")
    return (Page(SEARCH_INDEX, SCRIPT, f"window.siteIndex={body};\n"),)


def _entry(
    title: str, address: str, kind: str, sentence: str = "", more: str = "", **further: object
) -> Entry:
    """An entry without what is empty, and without further words that are shown anyway."""
    found = {
        "t": title,
        "a": address,
        "k": kind,
        "s": sentence,
        "w": further_words(more, title, kind, sentence),
    }
    return {key: value for key, value in (found | further).items() if value}


def _experiments(runs: Sequence[SearchedRun], titles: dict[str, str]) -> Iterator[Entry]:
    newest = sorted(runs, key=lambda run: (run["since"], run["address"]), reverse=True)
    for run in newest:
        kind = ", ".join(filter(None, (run["crop"][1], titles.get(run["season"], run["season"]))))
        yield _entry(
            run["title"], run["address"], kind, run["sentence"], run["more"], n=run["days"], r=run["story"]
        )


def _lists(runs: Sequence[SearchedRun], seasons: Iterable[Season]) -> Iterator[Entry]:
    crops = {run["crop"][0]: run["crop"] for run in runs}
    systems = {each[0]: each for run in runs for each in run["systems"]}
    with_runs = {run["season"] for run in runs}
    for crop_id, name, latin in sorted(crops.values(), key=_name):
        yield _entry(name, crop_page(crop_id), tr("Crop"), more=latin)
        grown = {each[0]: each for run in runs if run["crop"][0] == crop_id for each in run["varieties"]}
        for variety, title, note in sorted(grown.values(), key=_name):
            kind = tr("Variety of {crop}", crop=name)
            yield _entry(title, variety_address(crop_id, variety), kind, more=note)
    for system_id, name, kind in sorted(systems.values(), key=_name):
        yield _entry(name, system_page(system_id), tr("System"), more=kind)
    for each in seasons:
        if each.id in with_runs:
            yield _entry(each.title, season_page(each.id), tr("Season"), each.summary)


def _name(named: tuple[str, str, str]) -> str:
    return named[1]


def _texts(texts: Iterable[FreePage]) -> Iterator[Entry]:
    for text in texts:
        title, body = title_of(text.markdown)
        yield _entry(title or text.name, free_page(text.name), tr("Page"), more=plain_words(body))


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
    summaries = others.summaries()
    addresses.update(record_page(each.id) for each in summaries if each.logged)
    return metadata_files(context.journal, context.wording, summaries, addresses, store)
