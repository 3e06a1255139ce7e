"""Raw HTML in texts: what a journal that takes it gets, what is left out, and where that is said."""

from __future__ import annotations

import pytest
from markupsafe import Markup

from sitegen.core.findings.finding import Findings
from sitegen.core.language.wording import Wording
from sitegen.render.author_text.markdown import to_html
from sitegen.render.author_text.recap import recap_html
from sitegen.render.author_text.text_html import AuthorText, text_html
from sitegen.render.numbers.figures import FigureBook
from tests.pages import parse
from tests.render.builders import facts, full_run


def shown(text: str, *, raw: bool = True) -> tuple[str, list[str]]:
    """A text as HTML, and its findings in one line each."""
    found = Findings()
    written = AuthorText(text, "about.md", line=3, raw=raw)
    html = text_html(text, written, found, below=1, prefix="text-", resolve=lambda target: f"to/{target}")
    said = [f"{f.source.line}:{f.source.column}+{f.source.width} {f.code}: {f.message}" for f in found]
    return str(html), said


KEPT = {
    "H<sub>2</sub>O": "<p>H<sub>2</sub>O</p>\n",
    "<details open><summary>S</summary>T</details>": '<details open=""><summary>S</summary>T</details>',
    '<span class="x" title="a>b">s</span>': '<p><span class="x" title="a&gt;b">s</span></p>\n',
    '<a href="basil">b</a> and [c](chard)': '<p><a href="to/basil">b</a> and <a href="to/chard">c</a></p>\n',
    "[e](https://example.org)": '<p><a href="https://example.org" rel="noopener">e</a></p>\n',
    "a <!-- quietly --> b": "<p>a  b</p>\n",
}


@pytest.mark.parametrize("text", KEPT)
def test_what_only_says_is_kept(text: str) -> None:
    """Words in their order, marks of them, and links to pages as in Markdown."""
    assert shown(text) == (KEPT[text], [])


LEFT_OUT = {
    "a\n\n<script>alert(1)</script>": (
        "<p>a</p>\n",
        "5:1+7 html-removed: `<script>` is left out of the page",
    ),
    "<style>p { color: red }</style>": ("", "3:1+6 html-removed: `<style>` is left out of the page"),
    'x <iframe src="https://example.org"></iframe>': (
        "<p>x </p>\n",
        "3:3+7 html-removed: `<iframe>` is left out of the page",
    ),
    'x <b onclick="go()">y</b>': (
        "<p>x <b>y</b></p>\n",
        "3:6+7 html-removed: `onclick` of `<b>` is left out of the page",
    ),
    '<p style="color: red">y</p>': (
        "<p>y</p>",
        "3:4+5 html-removed: `style` of `<p>` is left out of the page",
    ),
    'x <img src="https://example.org/a.png" alt="a">': (
        "<p>x </p>\n",
        "3:3+4 html-removed: `<img>` is left out of the page",
    ),
    'x <a href="javascript:go()">y</a>': (
        "<p>x <a>y</a></p>\n",
        "3:12+10 html-removed: an address with `javascript:` is left out of the page",
    ),
    '<p id="story">y</p>': ("<p>y</p>", "3:4+2 html-removed: `id` of `<p>` is left out of the page"),
    "<h1>y</h1>": ("<p>y</p>", "3:1+3 html-removed: `<h1>` is left out of the page"),
    "<form action=x>y</form>": ("y", "3:1+5 html-removed: `<form>` is left out of the page"),
}


@pytest.mark.parametrize("text", LEFT_OUT)
def test_error_what_acts_is_left_out(text: str) -> None:
    """Scripts, styles, frames, handlers, pictures of other hosts: gone, and said at their place."""
    html, finding = LEFT_OUT[text]

    assert (shown(text)[0].rstrip("\n"), shown(text)[1]) == (html.rstrip("\n"), [finding])


@pytest.mark.parametrize("text", ["<![ ", "<![!", "<![CDATA[ x", "<![if !IE]>", "<![ <b>x</b>"])
def test_a_declaration_in_brackets_is_text(text: str) -> None:
    """Whatever follows its bracket: the parser of the standard library stops at some. Tags behind it are still seen."""
    html, findings = shown(text)

    assert "<!" not in html
    assert findings == []
    _, findings = shown(f"{text} <b onclick=x>y</b>")
    assert [finding.partition(": ")[2] for finding in findings] == [
        "`onclick` of `<b>` is left out of the page"
    ]


def test_nothing_of_a_text_reaches_out_of_it() -> None:
    """What is opened is closed, and what was not opened is not closed."""
    html, _ = shown("</section></main><div><table><tr><td><b>a\n\nb")

    assert html.count("<div") == html.count("</div>")
    assert "section" not in html
    assert "main" not in html


def test_footnotes_tables_and_anchors_stay_whole() -> None:
    """What Markdown makes is the same whether HTML is taken or not."""
    text = "# Cold\n\nA[^1] b.\n\n| a | b |\n|--:|---|\n| 1 | 2 |\n\n[^1]: Note.\n\nTerm\n: Meaning\n"

    taken, plain = (str(to_html(text, prefix="text-", raw=raw)) for raw in (True, False))
    assert taken.replace(' class="num"', "").split() == (
        plain.replace(" />", ">").replace(' class="num"', "").split()
    )
    assert 'id="text-cold"' in taken
    assert 'class="num"' in taken
    assert "style=" not in plain


@pytest.mark.parametrize("raw", [True, False])
def test_what_is_placed_is_not_cleaned(raw: bool) -> None:
    """A drawing of the page's own stands whole between the author's words."""
    drawn = Markup('<svg><g style="x"><path d="M0 0"/></g></svg>')
    html = to_html("a\n\n```chart\nheight\n```\n\nb\n", render_block=lambda _: drawn, raw=raw)

    assert "".join(html.split("\n")) == f"<p>a</p>{drawn}<p>b</p>"


def test_without_leave_html_is_text() -> None:
    """It is shown as it was written, and one finding says where it begins."""
    html, said = shown("a <b>c</b>\n\n<p>d</p>", raw=False)

    assert html == "<p>a &lt;b&gt;c&lt;/b&gt;</p>\n<p>&lt;p&gt;d&lt;/p&gt;</p>\n"
    assert said == ["3:3+3 raw-html: raw HTML is shown as text, here and in 2 other places"]


@pytest.mark.parametrize("text", ["a < b and c > d", "`<b>`", "<https://example.org>", "    <p>code</p>"])
def test_signs_that_are_no_html(text: str) -> None:
    """A comparison, code and a bare address are not taken for HTML."""
    assert shown(text, raw=False)[1] == []


@pytest.mark.parametrize("raw", [True, False])
def test_a_picture_becomes_its_words(raw: bool) -> None:
    """One from another host is a link to it, any other its words; both are said."""
    html, said = shown("![far](https://example.org/a.png) ![near](b.png)", raw=raw)

    assert html == '<p><a href="https://example.org/a.png" rel="noopener">far</a> near</p>\n'
    assert [line.partition(":")[2].partition(":")[0] for line in said] == [
        "1+6 picture-left-out",
        "35+7 picture-left-out",
    ]


@pytest.mark.parametrize("raw", [True, False])
def test_a_value_inside_a_tag_is_plain(raw: bool) -> None:
    """A figure in a title has no markup, so that the tag stays whole."""
    found = Findings()
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    run = full_run('[all](x "{{ facts.harvest.total }}") <b title="{{ facts.visits }}">v</b>')
    html = str(recap_html(facts(run), book, found, raw=raw))

    assert 'title="at least 196 g (6.9 oz)"' in html
    assert "data-figure" not in html.partition("</a>")[0]
    assert ('<b title="12">' in html) == raw


def test_a_page_with_everything_is_valid(tmp_path) -> None:
    """A cleaned text is a valid part of a page."""
    html = "\n".join(shown(text)[0] for text in (*KEPT, *LEFT_OUT))
    page = tmp_path / "page.html"
    page.write_text(f"<!doctype html><html><head><title>t</title></head><body>{html}</body></html>", "utf-8")

    assert parse(page) is not None
