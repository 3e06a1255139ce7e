"""Facts, charts and texts → `Page`: the templates of a theme, filled.

In: `Site`. Out: every page and asset of the site, and findings. Numbers are said by `core.wording`;
nothing is computed here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sitegen.core.finding import Finding, Findings
from sitegen.core.page import Page
from sitegen.core.site import Site
from sitegen.core.store import Store
from sitegen.core.wording import Wording
from sitegen.render.briefs import brief_of
from sitegen.render.context import Context, context_of
from sitegen.render.data import package_of
from sitegen.render.find import find_index
from sitegen.render.machines import for_machines
from sitegen.render.pages.experiment import experiment, moved
from sitegen.render.pages.lists import compare, crop, home, season, system, systems_of
from sitegen.render.pages.plain import cautions, free, methods, missing
from sitegen.render.themes import find_theme

__all__ = ["render"]


def render(site: Site, store: Store | None = None) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """Every page of a site, and what was found on the way. `store` holds pictures drawn before."""
    findings = Findings()
    theme = find_theme(site.journal.theme, site.look, site.source, findings)
    if theme is None:
        return (), tuple(findings)
    wording = Wording(site.journal.units, site.journal.language)
    briefs = tuple(brief_of(written.facts, wording, written.pictures) for written in site.experiments)
    context = context_of(site, theme, wording, briefs, findings)
    pages = tuple(_pages(context, site))
    index = find_index(briefs, site.seasons, site.texts, site.methods, wording)
    more = for_machines(site.journal, wording, briefs, pages, store)
    return (*pages, index, *more), tuple(findings)


def _pages(context: Context, site: Site) -> Iterator[Page]:
    """The pages in turn; an experiment's own needs nothing of the others but their briefs."""
    yield from home(context)
    yield from compare(context)
    grown = {brief.setup.season for brief in context.briefs}
    for each in context.seasons:
        if each.id in grown:
            yield from season(context, each)
    for each_crop in {brief.setup.crop.id: brief.setup.crop for brief in context.briefs}.values():
        yield from crop(context, each_crop)
    for each_system in systems_of(context.briefs):
        yield from system(context, each_system)
    for written in site.experiments:
        package = package_of(written.facts, site.journal)
        whole = replace(written, downloads=(*written.downloads, *package.downloads))
        yield from experiment(context, whole)
        yield from moved(context, whole)
        yield from package.pages
    yield from methods(context)
    yield from cautions(context)
    for text in site.texts:
        yield from free(context, text)
    yield from missing(context)
    yield from context.assets.values()
