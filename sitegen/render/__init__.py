"""Facts, charts and texts → `Page`: the templates of a theme, filled.

In: `Site`. Out: every page and asset of the site, and findings. Numbers become words in
`core.language.wording`; nothing is computed here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.language.wording import Wording
from sitegen.core.site.content import ExperimentContent, Site
from sitegen.core.site.page import Page
from sitegen.core.site.site_map import Neighbours, OtherPages, RunLink, SiteMap, run_link_of
from sitegen.core.store import Store
from sitegen.render.author_text.text_findings import page_findings, recap_findings
from sitegen.render.data import package_of
from sitegen.render.metadata import link_preview
from sitegen.render.pages.experiment import experiment, moved
from sitegen.render.pages.index import IndexPage, index_pages
from sitegen.render.pages.search import SearchedRun, searched_run
from sitegen.render.pages.standalone import shared_pages, standalone_pages
from sitegen.render.pages.summary import EarlierRun, RunSummary, earlier_run, summary_of
from sitegen.render.pages.unlogged import from_memory, planned
from sitegen.render.story.days.gallery import captioned
from sitegen.render.story.episodes import chapter_pages
from sitegen.render.templates.context import Context, context_of
from sitegen.render.templates.themes import Theme, find_theme

__all__ = [
    "Context",
    "EarlierRun",
    "IndexPage",
    "Neighbours",
    "OtherPages",
    "RunLink",
    "RunSummary",
    "SearchedRun",
    "SiteMap",
    "Theme",
    "context_of",
    "earlier_run",
    "fill_templates",
    "find_theme",
    "index_pages",
    "page_findings",
    "pages_of",
    "recap_findings",
    "render",
    "run_link_of",
    "searched_run",
    "shared_pages",
    "standalone_pages",
    "summary_of",
]


def render(site: Site, store: Store | None = None) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """Every page of a site, and the findings. `store` holds pictures drawn before."""
    findings = Findings()
    theme = find_theme(site.journal.theme, site.look, site.journal.at("theme"), findings)
    if theme is None:
        return (), tuple(findings)
    summaries = {
        content.facts.id: summary_of(content.facts, content.pictures, content.arms)
        for content in site.experiments
    }
    links = tuple(run_link_of(content.facts.run) for content in site.experiments)
    runs = {content.facts.id: content.facts.run for content in site.experiments}
    wording = Wording(site.journal.units, site.journal.language)
    others = SiteMap(
        links,
        site.texts,
        summary=summaries.__getitem__,
        earlier=lambda name: earlier_run(summaries[name]),
        arms=lambda name: summaries[name].arms,
        search=lambda name: searched_run(summaries[name], runs[name], wording),
    )
    context = context_of(site, theme, others, findings)
    own = [
        page
        for content in site.experiments
        for page in pages_of(context, content, summaries[content.facts.id], store)
    ]
    seasons = [season.id for season in site.seasons]
    index = [page for each in index_pages(others, seasons, store) for page in each.make(context)]
    return (*index, *own), tuple(findings)


def pages_of(
    context: Context,
    content: ExperimentContent,
    summary: RunSummary,
    store: Store | None,
    files: Sequence[Page] = (),
) -> Iterator[Page]:
    """The pages of one experiment: its own, those at earlier addresses, data, chapters, the picture for links to it.

    `files` are those of its photos.
    """
    made = _pages if content.facts.run.logged else _unlogged
    yield from made(context, content, summary)
    yield from link_preview(context.journal, context.wording, summary, store, files)


def fill_templates(context: Context, content: ExperimentContent, summary: RunSummary) -> None:
    """Make the pages of one experiment for the findings of its templates; nothing is kept, no picture is made."""
    made = _pages if content.facts.run.logged else _unlogged
    for _ in made(context, content, summary):
        pass


def _pages(context: Context, content: ExperimentContent, summary: RunSummary) -> Iterator[Page]:
    """The pages of an experiment with a log."""
    package = package_of(content.facts, context.journal, is_public=context.others.title)
    whole = replace(
        content,
        pictures=captioned(content.pictures, content.facts.run.setup, context.wording.say),
        downloads=(*content.downloads, *package.downloads),
    )
    yield from experiment(context, whole, summary)
    yield from moved(context, whole)
    yield from package.pages
    yield from chapter_pages(content.facts)


def _unlogged(context: Context, content: ExperimentContent, summary: RunSummary) -> Iterator[Page]:
    """The pages of an experiment without a log: no data, since there is none."""
    setup = content.facts.run.setup
    whole = replace(content, pictures=captioned(content.pictures, setup, context.wording.say))
    yield from (planned if summary.stage == "planned" else from_memory)(context, whole, summary)
    yield from moved(context, whole)
    yield from chapter_pages(content.facts)
