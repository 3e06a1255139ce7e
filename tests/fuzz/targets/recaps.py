"""Texts that an author writes to be shown: recaps with values in them, and templates of a journal."""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import html5lib

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.wording import Wording
from sitegen.core.site.blocks import blocks_in
from sitegen.core.site.site_map import SiteMap, run_link_of
from sitegen.notes.draft import Draft
from sitegen.notes.drafts import Wanted, draft_of
from sitegen.notes.material import Material
from sitegen.notes.templates import FOLDER, filled
from sitegen.render.author_text.recap import recap_html
from sitegen.render.author_text.text_findings import recap_findings
from sitegen.render.metadata.head import Head
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.templates.context import context_of
from sitegen.render.templates.themes import find_theme
from tests.fuzz.target import Run, Target, hold
from tests.fuzz.targets.journals import report, texts
from tests.render.builders import facts, full_run, site

# What a text may bring onto a page, and what is ours around it.
_ELEMENTS = frozenset(
    [
        "a",
        "abbr",
        "b",
        "bdi",
        "bdo",
        "blockquote",
        "br",
        "caption",
        "cite",
        "code",
        "col",
        "colgroup",
        "dd",
        "del",
        "details",
        "dfn",
        "div",
        "dl",
        "dt",
        "em",
        "figcaption",
        "figure",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "hr",
        "i",
        "ins",
        "kbd",
        "li",
        "mark",
        "ol",
        "p",
        "pre",
        "q",
        "rp",
        "rt",
        "ruby",
        "s",
        "samp",
        "section",
        "small",
        "span",
        "strong",
        "sub",
        "summary",
        "sup",
        "table",
        "tbody",
        "td",
        "tfoot",
        "th",
        "thead",
        "time",
        "tr",
        "u",
        "ul",
        "var",
        "wbr",
    ]
)
_ATTRIBUTES = frozenset(
    [
        "href",
        "rel",
        "class",
        "id",
        "title",
        "lang",
        "dir",
        "role",
        "tabindex",
        "aria-label",
        "start",
        "type",
        "reversed",
        "colspan",
        "rowspan",
        "scope",
        "span",
        "datetime",
        "open",
        "data-figure",
        "aria-labelledby",
        "aria-describedby",
    ]
)
# What runs something; any other scheme is the author's own affair in Markdown.
_UNSAFE = re.compile(r"\s*(?:javascript|vbscript|data|file):", re.IGNORECASE)


class _Elements(HTMLParser):
    """Holds every element against what a text may bring."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        hold(tag in _ELEMENTS, f"an element <{tag}>")
        for name, value in attrs:
            hold(name in _ATTRIBUTES, f"an attribute {name} of <{tag}>")
            hold(
                name != "href" or not _UNSAFE.match(re.sub(r"[\t\n\r]", "", value or "")),
                f"an address {value!r}",
            )


def _check_html(html: str) -> None:
    parser = _Elements()
    parser.feed(html)
    parser.close()
    if len(html) % 8 == 0:  # what a browser makes of it; slow
        tree = html5lib.parseFragment(html, treebuilder="etree", namespaceHTMLElements=False)
        for node in tree.iter():
            hold(
                not isinstance(node.tag, str) or node.tag in _ELEMENTS | {"DOCUMENT_FRAGMENT"},
                f"a browser sees <{node.tag}>",
            )
            hold(
                all(str(name) in _ATTRIBUTES for name in node.attrib),
                f"a browser sees attributes {sorted(map(str, node.attrib))}",
            )


def _recap(_folder: Path) -> Run:
    run_of, measured = full_run(), facts()
    others = SiteMap((run_link_of(measured.run),))

    def run(data: bytes) -> object:
        text, told = data.decode("utf-8", "replace"), []
        blocks = blocks_in(text, "recap.md")
        for raw in (False, True):
            findings = Findings()
            written = replace(run_of, recap=text)
            book = FigureBook(Wording(), "experiments/first-physalis.html")
            html = recap_html(replace(measured, run=written), book, findings, raw=raw)
            _check_html(html)
            told += [
                str(html),
                report(tuple(findings)),
                report(recap_findings(written, lambda: measured, others, raw=raw)),
            ]
        return blocks, told

    return run


def _recap_seeds() -> Iterator[bytes]:
    yield from texts("recap.md")
    yield b"It gave {{ facts.harvest.total }} and {{facts.harvest.by_group['early']}}, [x]({{ facts.visits }}) {% if %}{# c #}\n"
    yield b"| a | b |\n|---|--:|\n| <b>1</b> | {{ facts.milestones.first_flower.first }} |\n\nTerm\n: def[^1]\n\n[^1]: Foot *note*\n"
    yield b'```chart\nheight\n```\n\n```photo day-3.jpg\nwords\n```\n\n~~~strip\nall\n~~~\n\n![alt](x.png "t") ![](https://e.org/a.png)\n'
    yield b"<script>alert(1)</script><p onclick=x>a</p><a href='javascript:x'>b</a>\n\n<div id=recap-x><h2>t</h2></div>\n\n<!-- c --><svg/>\n"
    yield b"# One\n\n## Two\n\n1. a\n   - b\n\n> q\n\n    code\n\n<https://e.org> <a@b.c> &amp; &#x3c;script&#x3e; \\<b> [y](javascript:alert(1))\n"


_MARKDOWN = (
    b"{{ facts.harvest.total }}", b"{{", b"}}", b"facts", b".harvest", b".total", b"['early']", b"[0]", b"{%", b"%}", b"[^1]", b"[^1]: ", b"```chart\n", b"```\n", b"~~~",
    b"| - |", b"|", b"\n: ", b"<b>", b"</b>", b"<a href=\"", b"<img src=x onerror=y>", b"<script>", b"</script>", b"<style>", b"<!--", b"-->", b"<![CDATA[", b"<?", b"javascript:",
    b"![", b"](", b"[a]: /u\n", b"\\", b"&lt;", b"<svg>", b"<math>", b"<table>", b"<td>", b"<details open>", b" id=recap-x", b"title='", b"> ", b"1. ", b"\xee\x80\x80", b"\xee\x80\x800\xee\x80\x81",
)  # fmt: skip


@cache
def _draft() -> tuple[Material, Draft]:
    material = Material(facts(), Wording())
    draft = draft_of(material, Wanted("post"))
    assert draft is not None
    return material, draft


def _notes_template(folder: Path) -> Run:
    material, draft = _draft()
    path = folder / FOLDER / "post.md"
    path.parent.mkdir(parents=True)

    def run(data: bytes) -> object:
        path.write_bytes(data)
        findings = Findings()
        text = filled(path, folder, draft, material.facts, material.wording, findings)
        hold(len(text) <= 21_000_000, "a text of more than 21 million characters")
        return _told(text, findings)

    return run


def _page_template(folder: Path) -> Run:
    look = folder / "look"
    path = look / "templates" / "text.html"
    path.parent.mkdir(parents=True)
    path.write_bytes(b"")
    pages, findings = site(), Findings()
    theme = find_theme("ledger", look, Source("journal.yaml"), findings)
    assert theme is not None
    others = SiteMap([run_link_of(each.facts.run) for each in pages.experiments], pages.texts)
    context = context_of(pages, theme, others, findings)
    content = pages.experiments[0]

    def run(data: bytes) -> object:
        path.write_bytes(data)
        assert context.environment.cache is not None
        for key in [key for key in context.environment.cache.keys() if key[1] == "text.html"]:  # noqa: SIM118 - no dict
            del context.environment.cache[key]
        found = Findings()
        made = replace(context, findings=found).page(
            "text.html", Head("x.html", "X", content=content), view=content, markdown="**x**"
        )
        return _told(made[0].content.decode() if made else "", found)

    return run


def _told(text: str, findings: Findings) -> object:
    """What is told of a template; the address of an object in memory is never the same."""
    plain = re.sub(r"0x[0-9a-f]{6,}", "0x", text)
    return (
        None
        if "random" in plain
        else (plain, [(f.code, f.source, re.sub(r"0x[0-9a-f]{6,}", "0x", f.message)) for f in findings])
    )


_TEMPLATES = (
    b"{{ title }}: {{ facts.harvest.total }}\n{% for section in sections %}{% for each in section.sentences %}{{ each.text }}|{% endfor %}{% endfor %}\n",
    b"{% extends 'base.html' %}{% block main %}{{ head.title|e }} {{ view.facts.run.setup.title }}{% endblock %}",
    b"{% macro m(a, b=2) %}{{ a * b }}{% endmacro %}{{ m('x', b=3) }}{% set ns = namespace(x=1) %}{% set ns.x = 2 %}{{ ns.x ** 3 }}",
    b"{{ [1, 2, 3]|map('string')|join(', ')|upper|replace('1', 'x') }}{{ '%s'|format(title) }}{{ range(9)|list|batch(2)|list }}",
    b"{% import 'parts.html' as parts %}{% include 'top.html' ignore missing %}{% filter indent(4) %}a\nb{% endfilter %}{{ joiner(',')() }}",
    b"{% for a in [1,2] recursive %}{{ loop.index }}{{ loop([3]) if loop.first }}{% else %}-{% endfor %}{{ dict(a=1).items()|list|tojson }}",
    b"{% call(x) caller() %}{% endcall %}{{ title.__class__.__mro__ }}{{ ''.format(1) }}{{ '{0.a}'.format(title) }}{{ cycler('a')|attr('next')() }}",
    b"{% if not title is none and 1 < 2 %}{{ title[1:3] ~ 'x' }}{% elif facts is mapping %}{% endif %}{{ facts|dictsort|first|last|pprint|truncate(9) }}",
)
_JINJA = (
    b"{{ ", b" }}", b"{% ", b" %}", b"{% for x in ", b"{% endfor %}", b"{% set x = ", b"x", b"title", b"facts", b"sections", b"journal", b"head", b"view", b"self", b"loop", b"super()", b"caller()",
    b"range(99999)", b"|map('", b"|attr('", b"|select('", b"|groupby('", b"|sort", b"|join", b"|list", b"|tojson", b"|random", b"|batch(", b"|slice(", b"|sum", b"|max", b"|unique", b"|xmlattr",
    b"|urlize", b"|wordwrap(", b"|center(", b"|indent(", b"|format(", b"|replace(", b"|dictsort", b"|filesizeformat", b"|int", b"|float", b"|round(", b"|first", b"|last", b"|length", b"|string",
    b".__class__", b"['__init__']", b".format(", b"%c", b"{0.__class__}", b" ** ", b" * ", b" // ", b" % ", b" ~ ", b" in ", b" is ", b" if ", b" else ", b"lipsum", b"cycler", b"joiner", b"namespace(",
    b"dict(", b"'", b"9999", b"100", b"none", b"true", b"[[]]", b"()", b"-1", b"1e308", b"{%- ", b" -%}", b"{% include '../../x' %}", b"{% extends title %}", b"{% trans %}", b"{% block a %}", b"{% endblock %}",
    b"{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}", b"|clock", b"|opening", b"|briefly", b"|latest", b"|safe", b"|e", b"|striptags", b"|title", b"|abs", b"|min", b"|reverse",
)  # fmt: skip

TARGETS = (
    Target("recap", _recap, _recap_seeds, ("render/author_text", "core/site/blocks.py"), "sitegen.render.author_text.recap:_filled", tokens=_MARKDOWN),
    Target("notes-template", _notes_template, lambda: _TEMPLATES, ("notes/templates.py", "core/site/author_templates.py"),
           "sitegen.core.site.author_templates:_printed", tokens=_JINJA, longest=1500),
    Target("page-template", _page_template, lambda: _TEMPLATES, ("render/templates/context.py", "core/site/author_templates.py"),
           "sitegen.core.site.author_templates:_budget", tokens=_JINJA, longest=1500),
)  # fmt: skip
