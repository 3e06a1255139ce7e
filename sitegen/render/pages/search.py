"""The index that the site's script searches: one small classic script, read only when someone looks for something.

In: the context and the pages that are listed. Out: `find.js`, which assigns one global. Addresses in it are relative to
the site's root; it asks for nothing and works from a folder on disk.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence

from sitegen.core.facts.method import Method
from sitegen.core.language.catalogue import tr, tr_c
from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import FreePage, Season
from sitegen.core.site.addresses import crop_page, free_page, method_anchor, season_page, system_page
from sitegen.core.site.page import Page
from sitegen.render.author_text.markdown import title_of
from sitegen.render.pages.summary import RunSummary

FIND = "find.js"  # no digest in its name: pages name it, and would all change whenever one of them does
SCRIPT = "text/javascript"

Entry = dict[str, str]  # keys of one letter: title, address, kind, said, more words to be found by


def find_index(
    summaries: Sequence[RunSummary],
    seasons: Iterable[Season],
    texts: Iterable[FreePage],
    methods: Iterable[Method],
    wording: Wording,
) -> Page:
    """The index of a site: experiments first, then what lists them, texts and formulas."""
    entries = [*_experiments(summaries, {season.id: season.title for season in seasons}, wording)]
    entries += [*_lists(summaries, seasons), *_texts(texts), *_methods(methods)]
    body = json.dumps(entries, ensure_ascii=False, separators=(",", ":")).replace("},{", "},\n{")
    return Page(FIND, SCRIPT, f"window.siteIndex={body};\n")


def _experiments(
    summaries: Sequence[RunSummary], titles: dict[str, str], wording: Wording
) -> Iterator[Entry]:
    newest = sorted(summaries, key=lambda summary: (summary.started, summary.id), reverse=True)
    for summary in newest:
        setup = summary.setup
        season = titles.get(setup.season, setup.season)
        yield {
            "t": summary.title,
            "a": summary.address,
            "k": ", ".join(part for part in (setup.crop.name, season) if part),
            "s": summary.result.plain(wording),
            "w": " ".join(
                (
                    summary.variety,
                    summary.system,
                    setup.question,
                    setup.crop.latin or "",
                    summary.state(wording),
                )
            ),
        }


def _lists(summaries: Sequence[RunSummary], seasons: Iterable[Season]) -> Iterator[Entry]:
    crops = {summary.setup.crop.id: summary.setup.crop for summary in summaries}
    systems = {tub.system.id: tub.system for summary in summaries for tub in summary.setup.tubs}
    grown = {summary.setup.season for summary in summaries}
    for crop in sorted(crops.values(), key=lambda each: each.name):
        yield {"t": crop.name, "a": crop_page(crop.id), "k": tr("Crop"), "s": "", "w": crop.latin or ""}
    for system in sorted(systems.values(), key=lambda each: each.name):
        yield {
            "t": system.name,
            "a": system_page(system.id),
            "k": tr("System"),
            "s": "",
            "w": system.kind or "",
        }
    for season in seasons:
        if season.id in grown:
            yield {
                "t": season.title,
                "a": season_page(season.id),
                "k": tr("Season"),
                "s": season.summary,
                "w": "",
            }


def _texts(texts: Iterable[FreePage]) -> Iterator[Entry]:
    for text in texts:
        title, body = title_of(text.markdown)
        words = " ".join(body.replace("*", "").split())
        yield {"t": title or text.name, "a": free_page(text.name), "k": tr("Page"), "s": "", "w": words}


def _methods(methods: Iterable[Method]) -> Iterator[Entry]:
    for method in methods:
        address = f"methods.html#{method_anchor(method.name)}"
        yield {
            "t": tr_c("method", method.title),
            "a": address,
            "k": tr("Method"),
            "s": "",
            "w": method.name.replace("_", " "),
        }
