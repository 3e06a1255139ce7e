"""What is wrong in an author's texts, found without making a page.

In: a run with its recap, its facts where a value needs them; a free page. Out: findings, the same that rendering gives:
values that do not exist, links that lead nowhere, raw HTML, pictures.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import cache
from typing import get_type_hints

from markupsafe import Markup

from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import FreePage
from sitegen.core.site.addresses import experiment_page
from sitegen.core.site.blocks import recap_file
from sitegen.core.site.site_map import OtherPages
from sitegen.render.author_text.links import Links
from sitegen.render.author_text.recap import filled, value_of
from sitegen.render.author_text.text_html import AuthorText, text_html
from sitegen.render.pages.text_pages import free_text


def recap_findings(
    run: Run, facts: Callable[[], Facts], others: OtherPages, *, raw: bool
) -> tuple[Finding, ...]:
    """The findings of a recap; the run is measured only where a value may be there or not."""
    findings, shown = Findings(), list[Markup]()

    def value(match: re.Match[str], source: Source) -> Markup | None:
        if match["path"].strip() in every_path():
            return Markup("")
        return None if value_of(match, source, facts(), findings) is None else Markup("")

    text = AuthorText(run.recap, recap_file(run.setup), raw=raw)
    links = Links(experiment_page(run.id), others, run.recap, text.file, findings)
    text_html(filled(text, value, findings, shown), text, findings, below=2, prefix="recap-", resolve=links)
    return tuple(findings)


def page_findings(text: FreePage, others: OtherPages, *, raw: bool) -> tuple[Finding, ...]:
    """The findings of a free page."""
    free_text(text, others, findings := Findings(), raw=raw)
    return tuple(findings)


@cache
def every_path() -> frozenset[str]:
    """The paths of figures that the facts of every run have, recorded or not."""
    return frozenset(_paths(Facts, "facts"))


def _paths(kind: type, path: str) -> list[str]:
    found: list[str] = []
    hints = get_type_hints(kind)
    for each in fields(kind):
        hint, place = hints[each.name], f"{path}.{each.name}"
        if path == "facts" and each.name in ("run", "axis", "running"):
            continue
        if hint is Figure:
            found.append(place)
        elif isinstance(hint, type) and is_dataclass(hint):
            found += _paths(hint, place)
    return found
