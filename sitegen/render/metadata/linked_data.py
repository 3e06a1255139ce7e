"""A page described for programs: linked data in the words of schema.org.

In: the journal, and what a page is about. Out: JSON-LD: a site, an article with its data set, or a plain page.
Addresses are given only where the site's own is known.

References
----------
https://schema.org/Dataset ; a description of a data set has 50 to 5,000 signs.

"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr
from sitegen.core.records.setup import Journal
from sitegen.core.reference.licences import LICENCES
from sitegen.core.site.addresses import HOME, absolute, preview_file
from sitegen.core.site.content import ExperimentContent
from sitegen.render.metadata.feeds import publication_dates
from sitegen.render.pages.summary import RunSummary

JsonLd = dict[str, Any]
LONGEST_DESCRIPTION = 5000
_MEDIA = {"csv": "text/csv", "json": "application/json"}


def json_text(data: JsonLd) -> str:
    """Linked data as it may stand inside a page: no sign in it ends the element."""
    text = json.dumps({"@context": "https://schema.org", **data}, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


def of_page(journal: Journal, address: str, title: str, description: str) -> JsonLd:
    """The site itself, or one of its pages."""
    site = {"@type": "WebSite", "name": journal.title, **_url(journal, HOME)}
    about = {"description": description} if description else {}
    if address == HOME:
        return site | about | {"inLanguage": journal.language, "author": _author(journal)} | _licence(journal)
    return {"@type": "WebPage", "name": title, **_url(journal, address), **about, "isPartOf": site}


def of_experiment(
    journal: Journal, summary: RunSummary, content: ExperimentContent, description: str
) -> JsonLd:
    """The article and the data set behind it."""
    return {
        "@graph": [
            _article(journal, summary, description),
            _dataset(journal, summary, content, description),
        ]
    }


def _article(journal: Journal, summary: RunSummary, description: str) -> JsonLd:
    when = publication_dates(summary)
    dates = {"datePublished": when.published, "dateModified": when.updated}
    picture = absolute(preview_file(summary.id, photo=summary.picture is not None), journal.address)
    return {
        "@type": "Article",
        "headline": summary.title,
        "description": description,
        **_url(journal, summary.address),
        "author": _author(journal),
        **{name: date.isoformat() for name, date in dates.items() if date},
        **({"image": picture} if picture else {}),
        "inLanguage": journal.language,
        **_licence(journal),
    }


def _dataset(journal: Journal, summary: RunSummary, content: ExperimentContent, description: str) -> JsonLd:
    records = tr(
        "The records of one indoor growing experiment as they were written, with every figure's working."
    )
    data = tuple(_downloads(journal, content))
    return {
        "@type": "Dataset",
        "name": tr("{title}: records", title=summary.title),
        "description": f"{description} {records}"[:LONGEST_DESCRIPTION],
        **_url(journal, summary.address),
        "creator": _author(journal),
        **_licence(journal),
        **_coverage(content.facts),
        "variableMeasured": list(_variables(content.facts)),
        **({"distribution": data} if data else {}),
    }


def _coverage(facts: Facts) -> JsonLd:
    first, last = (facts.axis.start.date_of(day) for day in (0, facts.axis.last))
    if first is None or last is None:
        return {}
    return {"temporalCoverage": f"{first.isoformat()}/{'..' if facts.running else last.isoformat()}"}


def _variables(facts: Facts) -> Iterable[JsonLd]:
    """The variables measured, each once, with its unit."""
    rows = facts.run.rows
    units = {row.name: row.value.unit for row in reversed(rows.readings)}
    units |= {export.name: export.unit for export in rows.exports}
    if rows.picks:
        units["harvest"] = rows.picks[0].weight.unit
    for name, unit in sorted(units.items()):
        said = {"@type": "PropertyValue", "name": name.replace("_", " ")}
        yield said | ({"unitText": unit} if unit else {})


def _downloads(journal: Journal, content: ExperimentContent) -> Iterable[JsonLd]:
    if not journal.address:
        return
    for each in content.downloads:
        yield {
            "@type": "DataDownload",
            "encodingFormat": _MEDIA[each.address.rpartition(".")[2]],
            "contentUrl": absolute(each.address, journal.address),
        }


def _author(journal: Journal) -> JsonLd:
    link = {"url": journal.author.link} if journal.author.link else {}
    return {"@type": "Person", "name": journal.author.name or journal.title, **link}


def _licence(journal: Journal) -> JsonLd:
    known = LICENCES.get(journal.licence, journal.licence)
    return {"license": known} if known else {}


def _url(journal: Journal, address: str) -> JsonLd:
    full = absolute(address, journal.address)
    return {"url": full} if full else {}
