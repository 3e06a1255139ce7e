"""Markdown of recaps and free pages."""

from __future__ import annotations

import pytest

from sitegen.render.author_text.markdown import title_of, to_html

CASES = [
    ("# One\n\n### Two", '<h2 id="one">One</h2>\n<h4 id="two">Two</h4>\n'),
    ("## Same\n\n## Same", '<h2 id="same">Same</h2>\n<h2 id="same-2">Same</h2>\n'),
    ("", ""),
    ("[out](https://example.org)", '<p><a href="https://example.org" rel="noopener">out</a></p>\n'),
    ("[in](about.html)", '<p><a href="about.html">in</a></p>\n'),
    ("[bad](javascript:alert(1))", "<p>[bad](javascript:alert(1))</p>\n"),
    ("<b>bold</b>", "<p>&lt;b&gt;bold&lt;/b&gt;</p>\n"),
    ("Term\n: Meaning", "<dl>\n<dt>Term</dt>\n<dd>Meaning</dd>\n</dl>\n"),
]


@pytest.mark.parametrize(("text", "html"), CASES, ids=[text[:20] or "nothing" for text, _ in CASES])
def test_markdown(text: str, html: str) -> None:
    """Headings begin below the page's own and have anchors of their own; raw HTML is text; links out say so."""
    assert to_html(text) == html


def test_a_table_scrolls_in_its_own_region() -> None:
    """A table gets a region that can be reached by keyboard."""
    html = to_html("| a |\n|---|\n| 1 |")

    assert html.startswith('<div class="region" role="region" tabindex="0" aria-label="Table"><table>')


def test_title_is_the_first_heading() -> None:
    """A page is called what its text begins with."""
    assert title_of("# About\n\nText") == ("About", "\nText")
    assert title_of("Text") == ("", "Text")
