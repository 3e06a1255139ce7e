"""Which pages a site has beside those of its experiments, and what each is made from.

In: the context, what is kept of each experiment. Out: `Bundle`s: pages that are made together, and only when they are
asked for. What stands in a bundle's `needs` decides whether it has to be made again; the journal, the theme and the code
are always meant beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from sitegen.core.records.setup import FreePage, Season
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
from sitegen.core.site.content import Site
from sitegen.core.site.page import Page
from sitegen.core.store import Store
from sitegen.render.author_text.links import has_links
from sitegen.render.machines import for_machines
from sitegen.render.pages.links import RunLink
from sitegen.render.pages.lists import compare, crop, home, season, system
from sitegen.render.pages.plain import cautions, free, methods, missing
from sitegen.render.pages.search import FIND, find_index
from sitegen.render.pages.summary import RunSummary
from sitegen.render.templates.context import Context

Make = Callable[[Context], Iterable[Page]]


@dataclass(frozen=True, slots=True)
class Listed:
    """One experiment for lists: its run_link, a digest of its summary, and the summary itself where it is asked for."""

    run_link: RunLink
    digest: str
    summary: Callable[[], RunSummary]


@dataclass(frozen=True, slots=True)
class Bundle:
    """Pages that are made together from the same things; `address` is that of the only page, where there is one."""

    needs: tuple[object, ...]
    make: Make
    address: str = ""


def bundles_of(site: Site, listed: Sequence[Listed], store: Store | None) -> Iterator[Bundle]:
    """Every bundle of a site but the experiments' own, in the order of the navigation."""
    yield _about("home", listed, home, HOME)
    yield _about("compare", listed, compare, COMPARE)
    for each in site.seasons:
        runs = [one for one in listed if one.run_link.season == each.id]
        if runs:
            yield _about(f"season {each.id}", runs, partial(_season, each), season_page(each.id))
    for crop_id in dict.fromkeys(one.run_link.crop for one in listed):
        runs = [one for one in listed if one.run_link.crop == crop_id]
        yield _about(f"crop {crop_id}", runs, _crop, crop_page(crop_id))
    for system_id in sorted({name for one in listed for name in one.run_link.systems}):
        runs = [one for one in listed if system_id in one.run_link.systems]
        yield _about(f"system {system_id}", runs, partial(_system, system_id), system_page(system_id))
    yield Bundle(("methods",), methods, METHODS)
    yield Bundle(("cautions",), cautions, CAUTIONS)
    for text in site.texts:
        yield _text(text, listed)
    yield Bundle(("missing",), missing, NOT_FOUND)
    yield Bundle(("assets",), lambda context: context.assets.values())
    yield _about("find", listed, partial(_find, site), FIND)
    yield _about("machines", listed, partial(_machines, site, store))


def _about(
    name: str,
    runs: Sequence[Listed],
    make: Callable[[Context, list[RunSummary]], Iterable[Page]],
    address: str = "",
) -> Bundle:
    """Pages that show nothing of experiments but their summaries."""
    return Bundle(
        (name, [one.digest for one in runs]),
        lambda context: make(context, [r.summary() for r in runs]),
        address,
    )


def _text(text: FreePage, listed: Sequence[Listed]) -> Bundle:
    """A free page; one that links anywhere needs to know what is there."""
    known = [one.run_link.id for one in listed] if has_links(text.markdown) else []
    return Bundle(
        ("text", text.name, text.markdown, known), lambda context: free(context, text), free_page(text.name)
    )


def _season(each: Season, context: Context, runs: Sequence[RunSummary]) -> Iterable[Page]:
    return season(context, each, runs)


def _crop(context: Context, runs: Sequence[RunSummary]) -> Iterable[Page]:
    return crop(context, runs[-1].setup.crop, runs)


def _system(system_id: str, context: Context, runs: Sequence[RunSummary]) -> Iterable[Page]:
    found = next(tub.system for tub in runs[-1].setup.tubs if tub.system.id == system_id)
    return system(context, found, runs)


def _find(site: Site, context: Context, summaries: Sequence[RunSummary]) -> Iterable[Page]:
    yield find_index(summaries, site.seasons, site.texts, site.methods, context.wording)


def _machines(
    site: Site, store: Store | None, context: Context, summaries: Sequence[RunSummary]
) -> Iterable[Page]:
    return for_machines(site.journal, context.wording, summaries, _addresses(site, context.run_links), store)


def _addresses(site: Site, run_links: Sequence[RunLink]) -> Iterator[str]:
    """Every page that a person can read."""
    yield from (HOME, COMPARE, METHODS, CAUTIONS, NOT_FOUND)
    grown = {run_link.season for run_link in run_links}
    yield from (season_page(each.id) for each in site.seasons if each.id in grown)
    yield from map(crop_page, dict.fromkeys(run_link.crop for run_link in run_links))
    yield from map(system_page, sorted({name for run_link in run_links for name in run_link.systems}))
    for run_link in run_links:
        yield from map(experiment_page, (run_link.id, *run_link.was))
    yield from (free_page(text.name) for text in site.texts)
