"""Pages as a folder of their own: which links are turned, and which become plain."""

from __future__ import annotations

import pytest

from sitegen.core.site.page import HTML, Page
from sitegen.render.pages.standalone import standalone_pages

OWN = "experiments/run.html"
OTHERS = (Page("methods.html", HTML, "<body></body>"), Page("photos/run/a.jpg", "image/jpeg", b"a"))
CASES = {
    '<a href="../methods.html#ec">EC</a>': '<a href="methods.html#ec">EC</a>',
    '<a href="#day-3">3</a>': '<a href="#day-3">3</a>',
    '<a href="run.html#day-3">3</a>': '<a href="#day-3">3</a>',
    '<a class="x" id="y" href="../index.html" rel="z">Home</a>': '<span class="x" id="y">Home</span>',
    '<a href="other.html">one <b>and</b> &amp; all</a>': "<span>one <b>and</b> &amp; all</span>",
    '<svg><a href="other.html"><title>T</title></a></svg><a href="o.html">O</a>': (
        "<svg><g><title>T</title></g></svg><span>O</span>"
    ),
    '<a href="https://example.org/a?b=1&amp;c=2">E</a>': '<a href="https://example.org/a?b=1&amp;c=2">E</a>',
    '<a href="mailto:a@example.org">M</a>': '<a href="mailto:a@example.org">M</a>',
    "<img src='../photos/run/a.jpg'>": "<img src='photos/run/a.jpg'>",
    '<source srcset="../photos/run/a.jpg 480w, ../photos/run/a.jpg 960w">': (
        '<source srcset="photos/run/a.jpg 480w, photos/run/a.jpg 960w">'
    ),
    '<a name="x">old anchor</a>': '<a name="x">old anchor</a>',
    "<!-- <a href='other.html'>no link</a> -->": "<!-- <a href='other.html'>no link</a> -->",
    '<script type="application/ld+json">{"a": "<a href="}</script>': (
        '<script type="application/ld+json">{"a": "<a href="}</script>'
    ),
    '<header data-find="../find.js">': "<header>",
}


@pytest.mark.parametrize("written", CASES)
def test_links_of_a_page(written: str) -> None:
    """What leads to a file of the folder is turned, to another page is plain, to anywhere else is left alone."""
    pages = standalone_pages((Page(OWN, HTML, f"é\n  {written}\n"), *OTHERS), "run", "R")

    assert [page.address for page in pages] == ["index.html", "methods.html", "photos/run/a.jpg"]
    assert pages[0].content.decode() == f"é\n  {CASES[written]}\n"


def test_pages_at_earlier_addresses_are_left_out() -> None:
    """They only lead to the page, which stands elsewhere in the folder."""
    moved = Page("experiments/old.html", HTML, "<a href='run.html'>now here</a>")
    pages = standalone_pages((Page(OWN, HTML, "<p>"), moved, *OTHERS), "run", "R")

    assert "experiments/old.html" not in {page.address for page in pages}


def test_the_ribbon_and_the_word_to_machines() -> None:
    """Each page says what it is before all else, and asks not to be listed."""
    page, *_ = standalone_pages((Page(OWN, HTML, "<head></head>\n<body class='a'>\nB"),), "run", "A & B")

    assert page.content.decode() == (
        '<head><meta name="robots" content="noindex">\n</head>\n'
        "<body class='a'>\n"
        '<aside class="ribbon" aria-label="A &amp; B"><p>A &amp; B</p></aside>\nB'
    )
