"""Comments in an author's texts."""

from __future__ import annotations

import pytest

from sitegen.core.site.blocks import parser

# Expected by hand, after CommonMark 0.31.2, section 4.6 (kind 2 begins `<!--` and ends at `-->`) and 6.6.
CASES = {
    "<!-- a -->": "",
    "one\n\n<!-- a -->\n\ntwo": "<p>one</p>\n<p>two</p>\n",
    "one\n<!-- a -->\ntwo": "<p>one</p>\n<p>two</p>\n",
    "one <!-- a --> two": "<p>one  two</p>\n",
    "one <!-- a\nb --> two": "<p>one  two</p>\n",
    "<!-- a\n\nb\n\n-->\n\ntwo": "<p>two</p>\n",
    "<!-- a\n\nb --> two\nthree": "<p>two\nthree</p>\n",
    "- one\n- <!-- a -->\n- two": "<ul>\n<li>one</li>\n<li></li>\n<li>two</li>\n</ul>\n",
    "> <!-- a -->\n> two": "<blockquote>\n<p>two</p>\n</blockquote>\n",
    "`<!-- a -->`": "<p><code>&lt;!-- a --&gt;</code></p>\n",
    "```\n<!-- a -->\n```": "<pre><code>&lt;!-- a --&gt;\n</code></pre>\n",
    "    <!-- a -->": "<pre><code>&lt;!-- a --&gt;\n</code></pre>\n",
    "<!-- a -->\n# two": "<h1>two</h1>\n",
    "| a | b |\n| - | - |\n| 1 <!-- x --> | 2 |": None,
}


@pytest.mark.parametrize("raw", [False, True])
@pytest.mark.parametrize("text", CASES)
def test_comments(text: str, raw: bool) -> None:
    """A comment is passed over where it stands; what stands before, behind and around it stays, and code does too."""
    made = parser(raw=raw).render(text)
    expected = CASES[text]

    if expected is None:
        assert ("x" in made, "<td>2</td>" in made) == (False, True)
    else:
        assert made == expected


@pytest.mark.parametrize(
    ("raw", "expected"),
    [
        pytest.param(False, "<p> two</p>\n", id="text"),
        pytest.param(True, "<!-- a --> two", id="HTML, which is cleaned of comments later"),
    ],
)
def test_text_behind_a_comment(raw: bool, expected: str) -> None:
    """What stands behind a comment in its line stays."""
    assert parser(raw=raw).render("<!-- a --> two") == expected


@pytest.mark.parametrize(
    ("raw", "expected"),
    [(False, "<p>one</p>\n<p>&lt;!-- a</p>\n<p>two</p>\n"), (True, "<p>one</p>\n<!-- a\n\ntwo\n")],
)
def test_without_an_end(raw: bool, expected: str) -> None:
    """A comment without its end is HTML as any other: nothing behind it is lost without a word."""
    assert parser(raw=raw).render("one\n\n<!-- a\n\ntwo\n") == expected
