"""The context that all pages of a site share; it renders templates as pages.

In: a `Site` and its theme. Out: `Context`; pages from templates. A template that fails is a finding with
its file and line, and costs only its own page.
"""

from __future__ import annotations

import traceback
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path, PurePosixPath
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, TemplateError, TemplateSyntaxError
from markupsafe import Markup, escape

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.method import Method
from sitegen.core.findings.finding import Findings, Source
from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import clock
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.setup import FreePage, Journal, Season
from sitegen.core.reference.licences import LICENCES
from sitegen.core.site.addresses import (
    CAUTIONS,
    COMPARE,
    HOME,
    METHODS,
    SEARCH_INDEX,
    absolute,
    free_page,
    link,
)
from sitegen.core.site.content import Site
from sitegen.core.site.page import HTML, Page
from sitegen.core.site.site_map import OtherPages
from sitegen.render.author_text.links import Links
from sitegen.render.author_text.markdown import title_of
from sitegen.render.metadata.addresses import ICON
from sitegen.render.metadata.head import Head, head_markup
from sitegen.render.numbers.figures import Experiment, FigureBook
from sitegen.render.story.gallery import gallery_of
from sitegen.render.story.sentence import Sentence
from sitegen.render.templates.content_policy import POLICY
from sitegen.render.templates.themes import Theme
from sitegen.render.templates.translation import script_words, with_translation

DESCRIPTION_LENGTH = 160  # what search results show of it; common practice, no source


@dataclass(frozen=True, slots=True)
class NavItem:
    """One item of the site's navigation."""

    title: str
    address: str


@dataclass(frozen=True, slots=True)
class Context:
    """The context of every page. It knows other pages only through `others`."""

    journal: Journal
    seasons: tuple[Season, ...]
    methods: dict[str, Method]
    products: dict[str, str]
    wording: Wording
    theme: Theme
    assets: dict[str, Page]
    environment: Environment
    nav: tuple[NavItem, ...]
    marks: Markup
    version: str
    findings: Findings
    others: OtherPages

    def page_context(self, others: OtherPages, findings: Findings) -> Context:
        """The context of one page: it asks these `others`, and reports to these findings."""
        return replace(self, others=others, findings=findings)

    def book(self, address: str) -> FigureBook:
        """An empty book for the figures of one page."""
        return FigureBook(self.wording, address, self.methods)

    def links(self, page: str, text: str, file: str) -> Links:
        """The resolver of the links in a text on a page."""
        return Links(page, self.others, text, file, self.findings)

    def page(
        self, template: str, head: Head, book: FigureBook | None = None, **view: object
    ) -> tuple[Page, ...]:
        """A page from a template; none where the template fails. `book` has figures that were shown before."""
        variables = self.template_variables(head, book or self.book(head.address)) | view
        body = self._rendered(template, lambda: self.environment.get_template(template).render(variables))
        return () if body is None else (Page(head.address, HTML, body),)

    def call_macro(self, template: str, macro: str, *given: object) -> Markup:
        """The markup that a macro of a template makes; empty where it fails."""

        def fill() -> str:
            return str(getattr(self.environment.get_template(template).module, macro)(*given))

        return Markup(self._rendered(template, fill) or "")  # noqa: S704 # templates escape by themselves

    def _rendered(self, template: str, fill: Callable[[], str]) -> str | None:
        try:
            return fill()
        except (TemplateError, TypeError, AttributeError, LookupError, ValueError) as error:
            self.findings.add(
                "bad-template",
                _error_source(error, template, self.theme),
                f"the template `{template}` cannot be filled: {error}",
                mend="mend the template, or remove it to have the theme's own",
                found=template,
            )
            return None

    def template_variables(self, head: Head, book: FigureBook) -> dict[str, Any]:
        """The names that every template has."""
        return {
            "journal": self.journal,
            "head": head,
            "nav": self.nav,
            "marks": self.marks,
            "version": self.version,
            "wording": self.wording,
            "policy": POLICY,
            "licence_link": LICENCES.get(self.journal.licence, ""),
            "metadata": self._metadata(head),
            "canonical": absolute(head.address, self.journal.address),
            "full": lambda target: absolute(target, self.journal.address),
            "link": lambda target: link(target, head.address),
            "asset": lambda name: link(self.assets[name].address, head.address),
            "stylesheets": self.theme.stylesheets(self.assets),
            "scripts": self.theme.option("scripts", ()) or (),
            "script_words": script_words(),
            "fig": book.show,
            "tell": partial(_linked_sentence, book=book),
            "home_page": HOME,
            "methods_page": METHODS,
            "cautions_page": CAUTIONS,
            "compare_page": COMPARE,
            "find_index": SEARCH_INDEX,
        }

    def _metadata(self, head: Head) -> Markup:
        icon = self.assets.get(ICON)
        brief = replace(head, description=_briefly(head.description))
        return head_markup(
            self.journal, brief, icon=icon.address if icon else "", feeds=self.others.has_feed()
        )


def _linked_sentence(sentence: Sentence, of: Experiment, book: FigureBook) -> Markup:
    """A sentence with its figures linked; it begins with a capital."""
    found = Markup("")
    for index, part in enumerate(sentence.parts):
        if isinstance(part, Figure):
            found += book.show(part, of, begins=index == 0)
        else:
            found += escape(opening(part) if index == 0 else part)
    return found


def _error_source(error: Exception, template: str, theme: Theme) -> Source:
    """The file and line of the template that an error arose in."""
    if isinstance(error, TemplateSyntaxError):
        path, line = error.filename or template, error.lineno
    else:
        homes = tuple(str(folder) for folder in theme.templates)
        frames = [f for f in traceback.extract_tb(error.__traceback__) if f.filename.startswith(homes)]
        path, line = (frames[-1].filename, frames[-1].lineno or 1) if frames else (template, 1)
    return Source(_path_in_theme(Path(path), theme), line)


def _path_in_theme(path: Path, theme: Theme) -> str:
    """A template's path from the theme's or the journal's folder on, the same on every machine."""
    for folder in theme.folders:
        if path.is_relative_to(folder):
            return str(PurePosixPath(folder.name) / path.relative_to(folder).as_posix())
    return path.name


def environment_of(theme: Theme) -> Environment:
    """The Jinja environment of a theme."""
    environment = Environment(
        loader=FileSystemLoader([str(folder) for folder in theme.templates]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["clock"] = clock
    environment.filters["opening"] = opening
    environment.filters["briefly"] = _briefly
    environment.filters["latest"] = lambda pictures: gallery_of(pictures).latest
    return with_translation(environment)


def _briefly(text: str) -> str:
    """A description of the length that search results show, cut between words."""
    plain = " ".join(text.split())
    if len(plain) <= DESCRIPTION_LENGTH:
        return plain
    return plain[:DESCRIPTION_LENGTH].rsplit(" ", 1)[0].rstrip(",;:") + " …"


def _nav(texts: Sequence[FreePage]) -> tuple[NavItem, ...]:
    free = (NavItem(title_of(text.markdown)[0] or text.name, free_page(text.name)) for text in texts)
    return (
        NavItem(tr("Experiments"), HOME),
        NavItem(tr("Compare"), COMPARE),
        NavItem(tr("Methods"), METHODS),
        NavItem(tr("Cautions"), CAUTIONS),
        *free,
    )


def context_of(
    site: Site,
    theme: Theme,
    others: OtherPages,
    findings: Findings,
    environment: Environment | None = None,
) -> Context:
    """The context of a site.

    `environment` is that of an earlier context whose theme has the same templates by name: templates that it has compiled
    are not compiled again.
    """
    return Context(
        journal=site.journal,
        seasons=site.seasons,
        methods={method.name: method for method in site.methods},
        products={product.id: product.name for product in site.products},
        wording=Wording(site.journal.units, site.journal.language),
        theme=theme,
        assets=theme.assets(),
        environment=environment or environment_of(theme),
        nav=_nav(site.texts),
        marks=Markup(theme.inline()),  # noqa: S704 # the theme's own drawing
        version=site.version,
        findings=findings,
        others=others,
    )
