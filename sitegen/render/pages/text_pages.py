"""Pages of text: methods, cautions, the author's free pages, and the one for a wrong address.

In: the context. Out: pages.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence
from dataclasses import replace

from markupsafe import Markup

from sitegen.core.facts.method import Method, parted
from sitegen.core.findings.finding import Findings
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.records.setup import FreePage
from sitegen.core.reference.cautions import all_cautions
from sitegen.core.site.addresses import CAUTIONS, HOME, METHODS, NOT_FOUND, absolute, free_page, method_anchor
from sitegen.core.site.blocks import first_line
from sitegen.core.site.page import Page
from sitegen.core.site.site_map import OtherPages, RunLink
from sitegen.render.author_text.links import Links
from sitegen.render.author_text.markdown import title_of
from sitegen.render.author_text.text_html import AuthorText, text_html
from sitegen.render.data.descriptor import terms
from sitegen.render.metadata.head import Head
from sitegen.render.story.evidence.evidence_rows import counting_rules, evidence_rows
from sitegen.render.templates.context import Context


def methods(context: Context) -> tuple[Page, ...]:
    """Each formula in words, with its equation and where it is from."""
    described = tr(
        "Every formula behind the numbers: what it does, how it is written, and where it comes from."
    )
    return context.page(
        "methods.html",
        Head(METHODS, tr("Methods"), described, METHODS),
        methods=tuple(map(_method, context.methods.values())),
        terms=terms(),
        evidence=evidence_rows(),
        counting=counting_rules(),
    )


def _method(method: Method) -> tuple[str, str, Method]:
    """The anchor of a formula, its title, and the formula described in the language of the journal."""
    described = replace(
        method,
        text="\n\n".join(tr_c("method", each) for each in method.text.split("\n\n")),
        equation=tr_c("method", method.equation).replace(" - ", " − "),
        references=tuple(map(_reference, method.references)),
    )
    return method_anchor(method.name), tr_c("method", method.title), described


def _reference(reference: str) -> str:
    """A source: a publication stays as it is, the note behind it is in the language of the journal."""
    source, note = parted(reference)
    if not note:
        return tr_c("method", reference)
    said = tr_c("method", note)
    return f"{source} ({said})."


def cautions(context: Context) -> tuple[Page, ...]:
    """Every caution, with the authority that comes before it."""
    described = tr("Where growing indoors can hurt someone, and whose advice comes first.")
    return context.page(
        "cautions.html",
        Head(CAUTIONS, tr("Safety"), described, CAUTIONS),
        cautions=all_cautions(),
    )


def free(context: Context, name: str) -> tuple[Page, ...]:
    """A page that the author wrote."""
    address, text = free_page(name), context.others.text(name)
    title, body = title_of(text.markdown)
    title = title or text.name.replace("-", " ").capitalize()
    head = Head(address, title, first_line(body), address)
    html = free_text(text, context.others, context.findings, raw=context.journal.raw_html)
    return context.page("text.html", head, html=html)


def free_text(text: FreePage, others: OtherPages, findings: Findings, *, raw: bool) -> Markup:
    """The text of a page without its title."""
    _, body = title_of(text.markdown)
    above = text.markdown.count("\n") - body.count("\n")
    source = AuthorText(body, text.source.file, 1 + above, raw)
    links = Links(free_page(text.name), others, text.markdown, text.source.file, findings)
    return text_html(body, source, findings, below=1, prefix="text-", resolve=links)


def missing(context: Context) -> tuple[Page, ...]:
    """The page for a wrong address.

    It may be shown at any depth, so it has its own style, and full addresses where the site's is known.
    """
    head = Head(NOT_FOUND, tr("Page not found"))
    root = context.journal.address
    if not root:
        return context.page("missing.html", head, latest=(), policy=_policy(), loader="", root="")
    return context.page(
        "missing.html",
        head,
        latest=_latest(context.others.runs()),
        policy=_policy(),
        loader=Markup(LOADER),  # noqa: S704 - our own
        root=absolute(HOME, root),
        link=lambda target: absolute(target, root),
        asset=lambda name: absolute(context.assets[name].address, root),
    )


SHOWN = 3  # runs that a wrong address offers

# It runs the scripts of the site on pages of the site; elsewhere, say on a disk, it asks nobody for anything.
LOADER = (
    "{const {at,from,words}=document.currentScript.dataset;"
    'if(location.href.startsWith(at)){const made=document.createElement("script");'
    "made.src=from;made.dataset.words=words;document.head.append(made)}}"
)


def _policy() -> str:
    """What the page may load: its own style, the scripts of the site by way of the loader."""
    digest = base64.b64encode(hashlib.sha256(LOADER.encode()).digest()).decode()
    return (
        f"default-src 'none'; style-src 'unsafe-inline'; script-src 'self' 'sha256-{digest}'; "
        "base-uri 'none'; form-action 'none'"
    )


def _latest(runs: Sequence[RunLink]) -> list[RunLink]:
    """The runs begun last."""
    begun = sorted((run for run in runs if run.logged), key=lambda run: (run.started, run.id), reverse=True)
    return begun[:SHOWN]
