"""Themes: where they lie, what they hold, and how a journal lays its own over them."""

from __future__ import annotations

import hashlib
import re
from dataclasses import replace
from pathlib import Path

import html5lib
import pytest
from jinja2.filters import FILTERS as DEFAULT_FILTERS

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.core.site.chart import NARROW, WIDE
from sitegen.core.site.page import Page
from sitegen.render import render
from sitegen.render.metadata.head import Head
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.templates import themes as themes_module
from sitegen.render.templates.context import FUNCTIONS, Context, environment_of
from sitegen.render.templates.themes import Theme, find_theme, theme_names
from tests.render.builders import JOURNAL, full_run, planned_run, remembered_run, site, started_run

HERE = Source("journal.yaml", 8, 8, 6)
GUIDE = (Path(__file__).parents[3] / "themes" / "README.md").read_text("utf-8")


def found(look: Path | None = None, name: str = "ledger") -> Theme:
    """A theme, with a journal's own folder over it."""
    theme = find_theme(name, look, HERE, Findings())
    assert theme is not None
    return theme


def test_ledger_is_there() -> None:
    """The first theme is found, and says its name; the guide beside the themes is none."""
    assert "ledger" in theme_names()
    assert "README.md" not in theme_names()
    assert found().option("name") == "Ledger"


def test_assets_carry_a_digest_of_their_content() -> None:
    """An asset's address changes with its content, so that no old copy is shown."""
    style = found().assets()["style.css"]

    assert style.address == f"assets/style-{hashlib.sha256(style.content).hexdigest()[:10]}.css"
    assert style.media == "text/css"


def test_marks_are_set_inline() -> None:
    """The drawn marks stand in every page and are no file of the site."""
    assert "marks.svg" not in found().assets()
    assert found().inline().startswith("<svg")


def test_an_own_asset_takes_the_place_of_the_theme_s(tmp_path: Path) -> None:
    """A file in the journal's own folder goes before the theme's of the same name, others are added."""
    (tmp_path / "assets").mkdir()
    (tmp_path / "assets" / "style.css").write_text("a{}")
    (tmp_path / "assets" / "more.css").write_text("b{}")

    assets = found(tmp_path).assets()

    assert assets["style.css"].content == b"a{}"
    assert assets["more.css"].content == b"b{}"


def test_error_unknown_theme() -> None:
    """An unknown theme is found at its place."""
    findings = Findings()

    assert find_theme("ledgr", None, HERE, findings) is None
    assert [(f.code, f.source, f.mend) for f in findings] == [("unknown-theme", HERE, "write `ledger`")]


def test_a_theme_based_on_another_has_what_it_lacks() -> None:
    """Propagator has its own pages and style, and the ledger's script, marks and other templates."""
    theme = found(name="propagator")

    assert [folder.name for folder in theme.folders] == ["propagator", "ledger"]
    assert theme.option("name") == "Propagator"
    assert theme.option("scripts") == ["site.js"]
    assert theme.assets()["style.css"].content != found().assets()["style.css"].content
    assert theme.assets()["site.js"] == found().assets()["site.js"]
    assert theme.inline() == found().inline()


@pytest.mark.parametrize("name", theme_names())
def test_every_page_of_a_theme_is_valid(name: str) -> None:
    """Each theme fills every page without a finding, as HTML without an error."""
    pages, findings = render(site(journal=replace(JOURNAL, theme=name)))

    assert findings == ()
    for page in pages:
        if page.address.endswith(".html"):
            html5lib.HTMLParser(strict=True).parse(page.content.decode())


@pytest.mark.parametrize("name", theme_names())
def test_a_theme_s_script_is_small(name: str) -> None:
    """What a page loads to run is at most 24 KB."""
    theme = found(name=name)

    assert sum(len(theme.assets()[script].content) for script in theme.option("scripts")) <= 24_000


def test_own_rules_come_after_the_theme_s(tmp_path: Path) -> None:
    """look.css is a second style sheet on every page; without it there is one."""
    (tmp_path / "assets").mkdir()
    (tmp_path / "assets" / "look.css").write_text(":root { --accent: #246 }")

    theme = found(tmp_path)

    assert theme.stylesheets(theme.assets()) == ("style.css", "look.css")
    assert found().stylesheets(found().assets()) == ("style.css",)
    home = next(page for page in render(site(look=tmp_path))[0] if page.address == "index.html")
    sheets = [line for line in home.content.decode().splitlines() if 'rel="stylesheet"' in line]
    assert ["style-" in sheets[0], "look-" in sheets[1], len(sheets)] == [True, True, 2]


def test_an_own_piece_of_a_page_goes_before_the_theme_s(tmp_path: Path) -> None:
    """A template that others take in can be replaced alone."""
    (tmp_path / "templates").mkdir()
    (tmp_path / "templates" / "story.html").write_text("<section><h2>In my words</h2></section>\n")

    pages, findings = render(site(look=tmp_path))

    text = next(p for p in pages if p.address == "experiments/first-physalis.html").content.decode()
    assert findings == ()
    assert "In my words" in text
    assert "The story" not in text
    assert 'id="wrong"' in text


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("<p>\n{% if %}\n", 2),
        ("<p>{{ head.title.nothing.at.all }}", 1),
        ("{% include 'none.html' %}", 1),
        ("\n{{ [1e400]('') }}", 2),
        ("{{ 1" + "+1" * 300 + " }}", 1),
    ],
)
def test_a_broken_own_template_is_a_finding(tmp_path: Path, text: str, line: int) -> None:
    """Wrong syntax, an unknown name, a file that is not there: each is found at its line, and all else is made."""
    (tmp_path / "templates").mkdir()
    (tmp_path / "templates" / "cautions.html").write_text(text)

    pages, findings = render(site(look=tmp_path))

    assert [(f.code, f.source.file, f.source.line) for f in findings] == [
        ("bad-template", f"{tmp_path.name}/templates/cautions.html", line)
    ]
    assert "index.html" in {page.address for page in pages}


def test_the_theme_of_the_guide_works(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The files that themes/README.md shows are a theme that fills every page, with its own home page."""
    files = re.findall(r"`themes/(bench/[^`]+)`:\n\n```\w+\n(.*?)```\n", GUIDE, re.DOTALL)
    for name, text in files:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    roots = (tmp_path, *themes_module._roots())
    monkeypatch.setattr(themes_module, "_roots", lambda: roots)

    pages, findings = render(site(journal=replace(JOURNAL, theme="bench")))

    assert [name for name, _ in files] == [
        "bench/theme.yaml",
        "bench/assets/style.css",
        "bench/templates/home.html",
    ]
    assert findings == ()
    for page in pages:
        if page.address.endswith(".html"):
            html5lib.HTMLParser(strict=True).parse(page.content.decode())
    home = next(page for page in pages if page.address == "index.html").content.decode()
    assert "<header><h1>Attic Trough</h1></header>" in home


def test_the_guide_aligns_the_day_axis_with_the_charts() -> None:
    """The padding of the day axis in the guide is the margin of the charts, in both widths."""
    starts, ends = (re.findall(rf"--axis-{end}: ([\d.]+)%", GUIDE) for end in ("start", "end"))

    assert [float(each) for each in starts] == [100 * NARROW.start, 100 * WIDE.start]
    assert [float(each) for each in ends] == [round(100 * NARROW.end, 4), 100 * WIDE.end]
    for words in (
        f"{NARROW.left:g} of {NARROW.width}",
        f"{NARROW.right:g} of {NARROW.width}",
        f"{WIDE.left:g} and {WIDE.right:g} of {WIDE.width}",
    ):
        assert f"{words} */" in GUIDE


def test_the_guide_names_what_templates_are_given(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its tables have each name that every template or a page's own template is given, and no other."""
    given: dict[str, set[str]] = {}
    common: set[str] = set()
    make = Context.page

    def page(
        context: Context, template: str, head: Head, book: FigureBook | None = None, **view: object
    ) -> tuple[Page, ...]:
        given.setdefault(template, set()).update(view)
        common.update(context.template_variables(head, book or context.book(head.address)))
        return make(context, template, head, book, **view)

    monkeypatch.setattr(Context, "page", page)
    render(site(full_run(), started_run(), planned_run(), remembered_run()))
    filters = environment_of(found()).filters.keys() - DEFAULT_FILTERS.keys()
    told: dict[str, set[str]] = {}
    told_of_all: set[str] = set()
    for left, right in re.findall(r"^\| (.*`.*) \| (.*) \|$", GUIDE, re.MULTILINE):
        if name := re.match(r"`(\w+\.html)`", left):
            told.setdefault(name[1], set()).update(re.findall(r"`(\w+)`", right))
        else:
            told_of_all.update(re.findall(r"`(\w+)", left))

    assert told == given
    assert told_of_all == common | filters | set(FUNCTIONS[:4])
