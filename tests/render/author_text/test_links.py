"""Links that an author writes between pages."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.records.setup import FreePage
from sitegen.core.site.site_map import SiteMap, run_link_of
from sitegen.render import render
from sitegen.render.author_text.links import Links
from tests.render.builders import facts, site

ABOUT = FreePage("about", "# About", Source("about.md"))


def links(text: str = "") -> Links:
    """What resolves the links of a recap."""
    known = SiteMap([run_link_of(facts().run)], [ABOUT])
    return Links("experiments/other.html", known, text, "seasons/s/other/recap.md", Findings())


WAYS = [
    ("first-physalis", "first-physalis.html"),
    ("first-physalis#day-41", "first-physalis.html#day-41"),
    ("about.md", "../about.html"),
    ("../methods.html", "../methods.html"),
    ("crops/physalis.html", "../crops/physalis.html"),
    ("#day-3", "#day-3"),
]


@pytest.mark.parametrize(("written", "way"), WAYS)
def test_links_find_their_page(written: str, way: str) -> None:
    """An id, a text's file or a page is enough to link to it from anywhere."""
    assert links()(written) == way


def test_error_no_such_page() -> None:
    """A link that leads nowhere is found at its place, with the nearest page."""
    resolver = links("See\n[the first](first-fysalis) run.")

    assert resolver("first-fysalis") == "first-fysalis"
    (finding,) = resolver.findings
    assert (finding.code, finding.source, finding.message, finding.mend) == (
        "unknown-experiment",
        Source("seasons/s/other/recap.md", 2, 13, 13),
        "`first-fysalis` is no page of this journal",
        "write `first-physalis`",
    )


def test_links_in_texts_are_resolved() -> None:
    """A free page can name an experiment by its id."""
    text = FreePage("about", "# About\n\n[First](first-physalis)", Source("about.md"))

    pages, findings = render(site(texts=(text,)))

    about = next(page for page in pages if page.address == "about.html")
    assert b'<a href="experiments/first-physalis.html">First</a>' in about.content
    assert findings == ()
