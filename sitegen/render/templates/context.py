"""What all pages of a site share, how a template becomes a page, and how its messages are translated.

In: a `Site` and its theme. Out: `Context`; pages from templates; the policy of the `meta` element that each page
begins with: nothing comes from another host, no script or style stands in a page, and no form is sent anywhere. A
template that fails is a finding with its file and line, and costs only its own page. Templates have `_`, `_n`, `_c`,
`_cn` and `{% trans %}` (Jinja's i18n extension over `core.language.catalogue`). A message has named places as in code
(`{amount}`), so that code and templates share one catalogue. The message of a call is escaped; that of a block may
hold markup, and its values are escaped.

References
----------
Content Security Policy Level 3, https://www.w3.org/TR/CSP3/

"""

from __future__ import annotations

import re
import traceback
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, TemplateError, TemplateSyntaxError
from jinja2.ext import InternationalizationExtension
from markupsafe import Markup, escape

from sitegen.core.facts.across import Across
from sitegen.core.facts.figure import Figure
from sitegen.core.facts.method import Method
from sitegen.core.files.inside import leads_out
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import active_catalogue, message_key, tr, tr_c, tr_noop
from sitegen.core.language.text import clock
from sitegen.core.language.wording import Wording, mid_sentence, opening
from sitegen.core.records.setup import FreePage, Journal, Season
from sitegen.core.reference.licences import LICENCES
from sitegen.core.site.addresses import (
    CAUTIONS,
    COMPARE,
    HOME,
    ICON,
    METHODS,
    SEARCH_INDEX,
    absolute,
    free_page,
    link,
)
from sitegen.core.site.author_templates import FAILURES, AuthorEnvironment, rendering
from sitegen.core.site.content import Site
from sitegen.core.site.page import HTML, Page
from sitegen.core.site.site_map import OtherPages
from sitegen.render.author_text.links import Links
from sitegen.render.author_text.markdown import title_of
from sitegen.render.metadata.head import Head, head_markup
from sitegen.render.numbers.figures import Experiment, FigureBook
from sitegen.render.story.days.gallery import gallery_of
from sitegen.render.story.run_sentences import Sentence
from sitegen.render.templates.themes import Theme

if TYPE_CHECKING:
    from jinja2.parser import Parser


# Opened from a disk, a page has no origin that `'self'` would mean in every browser (from memory); served, `file:` is
# nothing that a page can reach.
_OWN = "'self' file:"
# The search and the tables ask for nothing; the preview, which is served, asks its own server.
_SOURCES = {
    "default-src": "'none'",
    "img-src": _OWN,
    "style-src": _OWN,
    "script-src": _OWN,
    "font-src": _OWN,
    "media-src": _OWN,
    "connect-src": "'self'",
    "base-uri": "'none'",
    "form-action": "'none'",
}

POLICY = "; ".join(f"{directive} {sources}" for directive, sources in _SOURCES.items())


# What the extraction looks for; the second four are what `{% trans %}` becomes.
FUNCTIONS = ("_", "_n", "_c", "_cn", "gettext", "ngettext", "pgettext", "npgettext")
_PLACE = re.compile(r"%%|%\((\w+)\)s")


class TransBlock(InternationalizationExtension):
    """`{% trans %}` with places as `str.format` has them, and no doubled per cent signs."""

    def _parse_block(self, parser: Parser, allow_pluralize: bool) -> tuple[list[str], str]:
        names, text = super()._parse_block(parser, allow_pluralize)
        return names, _PLACE.sub(lambda match: f"{{{match[1]}}}" if match[1] else "%", text)


def with_translation(environment: Environment) -> Environment:
    """An environment whose templates can translate messages."""
    environment.add_extension(TransBlock)
    environment.newstyle_gettext = True  # type: ignore[attr-defined] # values go to the function, which fills them in
    environment.policies["ext.i18n.trimmed"] = True
    # The message of a block is part of a template, with its markup; no value becomes a part of it unescaped.
    functions = (*_functions(escape), *_functions(Markup))
    environment.globals.update(zip(FUNCTIONS, functions, strict=True))
    return environment


def _functions(markup: Callable[[str], Markup]) -> tuple[Callable[..., Markup], ...]:
    """The four functions whose messages become markup in one way: plain, counted, with a context, both."""

    def one(message: str, /, **values: object) -> Markup:
        return one_in_context("", message, **values)

    def many(one: str, many: str, n: int, /, **values: object) -> Markup:
        return many_in_context("", one, many, n, **values)

    def one_in_context(context: str, message: str, /, **values: object) -> Markup:
        text = markup(active_catalogue().find(message_key(message, context), message))
        return text.format(**values) if values else text

    def many_in_context(context: str, one: str, many: str, n: int, /, **values: object) -> Markup:
        text = active_catalogue().find_n(message_key(one, context), one, many, n)
        return markup(text).format(**{"n": n, "num": n, **values})

    return one, many, one_in_context, many_in_context


_WORDS = {
    "sift": tr_noop("Only rows with"),
    "sifted": tr_noop("{shown} of {all} rows"),
    "sorted": tr_noop("Sorted by"),
    "unsorted": tr_noop("as on the page"),
    "down": tr_noop("in reverse"),
    "place": tr_noop("{number} of {all}"),
    "earlier": tr_noop("Earlier"),
    "later": tr_noop("Later"),
    "close": tr_noop("Close"),
    "pictures": tr_noop("Pictures"),
    "find": tr_noop("Search"),
    "found": tr_noop("{number} found"),
    "story": tr_noop("Found in the story"),
    "nothing": tr_noop("Nothing was found."),
    "no_index": tr_noop("The search index could not be loaded."),
    "date": tr_noop("Date"),
}


def script_words() -> dict[str, str]:
    """Every word that a script needs."""
    # For sorting: words before an amount in a table, and between a part and its whole.
    return {name: tr(word) for name, word in _WORDS.items()} | {
        "before": tr_c(
            "words before a number, parted by |", "about|at least|at most|by|day|days|from|over|under"
        ),
        "of": tr_c("between two numbers: 2 of 6", "of"),
    }


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
    across: Across

    def page_context(self, others: OtherPages, findings: Findings) -> Context:
        """The context of one page: it asks these `others`, and reports to these findings."""
        return replace(self, others=others, findings=findings)

    def book(self, address: str, record: str = "") -> FigureBook:
        """An empty book for the figures of one page; `record` is the page with their working, where it is no record."""
        return FigureBook(self.wording, address, self.methods, record=record)

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
            with rendering():
                return fill()
        except (TemplateError, *FAILURES) as error:
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
            found += book.show(part, of, begins=index == 0, sentence=True)
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
        places = (home / template for home in theme.templates)
        first = next((str(place) for place in places if place.is_file()), template)
        path, line = (frames[-1].filename, frames[-1].lineno or 1) if frames else (first, 1)
    return Source(_path_in_theme(Path(path), theme), line)


def _path_in_theme(path: Path, theme: Theme) -> str:
    """A template's path from the theme's or the journal's folder on, the same on every machine."""
    for folder in theme.folders:
        if path.is_relative_to(folder):
            return str(PurePosixPath(folder.name) / path.relative_to(folder).as_posix())
    return path.name


class _Loader(FileSystemLoader):
    """Finds templates in the folders of a theme; in that of a journal, only those that lie in the journal."""

    def __init__(self, theme: Theme) -> None:
        super().__init__([str(folder) for folder in theme.templates])
        self._own = theme.look

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, Callable[[], bool]]:
        own = self._own
        if own is None or not leads_out(own / "templates" / template, own.parent):
            return super().get_source(environment, template)
        return FileSystemLoader(self.searchpath[1:]).get_source(environment, template)


def environment_of(theme: Theme) -> Environment:
    """The Jinja environment of a theme; one for confined templates where the journal has some of its own."""
    own = theme.own_templates
    environment = (AuthorEnvironment if own else Environment)(
        loader=_Loader(theme),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["clock"] = clock
    environment.filters["opening"] = opening
    environment.filters["mid_sentence"] = mid_sentence
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
        NavItem(tr("Runs"), HOME),
        NavItem(tr("Compare"), COMPARE),
        NavItem(tr("Methods"), METHODS),
        NavItem(tr("Safety"), CAUTIONS),
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
        across=site.across,
    )
