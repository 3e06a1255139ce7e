"""Index pages: every page and file of a site that is not one run's own.

In: the site map. Out: `IndexPage`s: a name, and a function that makes the page from a context. A page asks its
context for the summaries, texts and links that it shows, and for nothing else; the build records what it asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial

from sitegen.core.site.addresses import (
    CAUTIONS,
    COMPARE,
    HOME,
    METHODS,
    NOT_FOUND,
    crop_page,
    experiment_page,
    free_page,
    season_page,
    system_page,
)
from sitegen.core.site.page import Page
from sitegen.core.site.site_map import OtherPages
from sitegen.core.store import Store
from sitegen.render.metadata import metadata_files
from sitegen.render.pages.run_lists import compare, crop, home, season, system
from sitegen.render.pages.search import FIND, find_index
from sitegen.render.pages.text_pages import cautions, free, methods, missing
from sitegen.render.templates.context import Context


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
        yield IndexPage(f"text {text.name}", partial(_text, text.name), free_page(text.name))
    yield IndexPage("missing", missing, NOT_FOUND)
    yield IndexPage("assets", lambda context: context.assets.values())
    yield IndexPage("search", _search, FIND)
    yield IndexPage("metadata", partial(_metadata, store))


def _text(name: str, context: Context) -> Iterable[Page]:
    return free(context, context.others.text(name))


def _search(context: Context) -> Iterable[Page]:
    others = context.others
    yield find_index(
        others.summaries(), context.seasons, others.texts(), context.methods.values(), context.wording
    )


def _metadata(store: Store | None, context: Context) -> Iterable[Page]:
    summaries = context.others.summaries()
    return metadata_files(context.journal, context.wording, summaries, list(_addresses(context)), store)


def _addresses(context: Context) -> Iterator[str]:
    """The address of every page that a person can read."""
    links = context.others.runs()
    yield from (HOME, COMPARE, METHODS, CAUTIONS, NOT_FOUND)
    grown = {link.season for link in links}
    yield from (season_page(each.id) for each in context.seasons if each.id in grown)
    yield from map(crop_page, dict.fromkeys(link.crop for link in links))
    yield from map(system_page, sorted({name for link in links for name in link.systems}))
    for link in links:
        yield from map(experiment_page, (link.id, *link.was))
    yield from (free_page(text.name) for text in context.others.texts())
