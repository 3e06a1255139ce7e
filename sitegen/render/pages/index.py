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
    SEARCH_INDEX,
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
from sitegen.render.pages.search import find_index
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
