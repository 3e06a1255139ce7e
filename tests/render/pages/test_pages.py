"""The whole site of a small journal: valid, self-contained, with every number traceable."""

from __future__ import annotations

import posixpath
import re
from dataclasses import replace
from functools import lru_cache
from html.parser import HTMLParser
from pathlib import Path

import html5lib
import pytest

from sitegen.core.facts.figure import figures
from sitegen.core.findings.finding import Finding
from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import Journal
from sitegen.core.site.addresses import working_anchor
from sitegen.core.site.page import Page
from sitegen.render import render
from tests.render.builders import JOURNAL, facts, full_run, site

PAGES = (
    "404.html",
    "about.html",
    "cautions.html",
    "compare.html",
    "crops/physalis.html",
    "experiments/first-physalis.html",
    "experiments/first-physalis/record.html",
    "experiments/old-physalis.html",
    "experiments/old-physalis/record.html",
    "experiments/young-physalis.html",
    "experiments/young-physalis/record.html",
    "index.html",
    "methods.html",
    "seasons/s.html",
    "systems/bucket.html",
)


@lru_cache(maxsize=1)
def built() -> tuple[dict[str, Page], tuple[Finding, ...]]:
    """The pages of the site by address, and its findings."""
    pages, findings = render(site())
    return {page.address: page for page in pages}, findings


def text_of(address: str) -> str:
    """The markup of a page."""
    return built()[0][address].content.decode()


class Reader(HTMLParser):
    """Collects addresses, ids and the text of every figure."""

    def __init__(self) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: list[str] = []
        self.figures: list[tuple[str, str]] = []
        self.depth = 0
        self.name = ""
        self.said = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note links and ids, and enter a figure."""
        given = {key: value or "" for key, value in attrs}
        self.links += [given[key] for key in ("href", "src") if key in given and tag != "use"]
        self.ids += [given["id"]] if "id" in given else []
        if "data-figure" in given:
            self.name, self.said, self.depth = given["data-figure"], "", 0
        self.depth += bool(self.name)

    def handle_endtag(self, tag: str) -> None:  # noqa: ARG002 # every element counts
        """Leave a figure."""
        self.depth -= bool(self.name)
        if self.name and self.depth == 0:
            self.figures.append((self.name, self.said))
            self.name = ""

    def handle_data(self, data: str) -> None:
        """Take the text of a figure."""
        self.said += data if self.name else ""


def read(address: str) -> Reader:
    """A page, read."""
    reader = Reader()
    reader.feed(text_of(address))
    return reader


@pytest.mark.parametrize(
    "page", ["crops/physalis.html", "systems/bucket.html", "seasons/s.html", "compare.html"]
)
def test_home_has_a_door_to_every_crop_system_and_season(page: str) -> None:
    """And to the comparison of all."""
    assert f'href="{page}"' in text_of("index.html")


def test_every_page_is_there() -> None:
    """Home, season, crop, experiments, earlier addresses, comparison and plain pages are made."""
    addresses = sorted(address for address in built()[0] if address.endswith(".html"))

    assert addresses == sorted(PAGES)


def test_a_sound_site_has_no_findings() -> None:
    """Rendering a sound journal finds nothing."""
    assert built()[1] == ()


@pytest.mark.parametrize("address", PAGES)
def test_pages_are_valid(address: str) -> None:
    """Every page parses as HTML5 without one error."""
    parser = html5lib.HTMLParser(strict=True)

    parser.parse(text_of(address))

    assert parser.errors == []


@pytest.mark.parametrize("address", PAGES)
def test_ids_are_unique(address: str) -> None:
    """No id stands twice on a page."""
    ids = read(address).ids

    assert sorted(ids) == sorted(set(ids))


@pytest.mark.parametrize("address", PAGES)
def test_links_lead_somewhere(address: str) -> None:
    """Every link inside the site is relative and leads to a page and an anchor that are there."""
    for link in read(address).links:
        if link.startswith("https://") or address == "404.html":  # shown at any depth, so never relative
            continue
        path, _, anchor = link.partition("#")
        target = posixpath.normpath(posixpath.join(posixpath.dirname(address), path)) if path else address
        assert not path.startswith("/")
        assert target in built()[0], link
        assert not anchor or anchor in read(target).ids, link


@pytest.mark.parametrize("address", PAGES)
def test_pages_ask_no_other_host(address: str) -> None:
    """Nothing is loaded from elsewhere, and no script stands in a page but the loader of the one for a wrong address."""
    assert re.findall(r'(?:src|srcset)="(?:https?:)?//', text_of(address)) == []
    data = r' type="application/(?:ld\+)?json"'
    if address == "404.html":
        data += "| data-at="
    assert (
        re.findall(
            rf'<script(?! defer blocking="render" src|{data})|\son\w+=|@import|url\(', text_of(address)
        )
        == []
    )
    assert re.findall(r'<link rel="(?!canonical|stylesheet|icon|alternate)', text_of(address)) == []


def test_figures_are_said_as_worded() -> None:
    """The text of every figure on its page is the wording of the figure, but for a capital that opens a sentence."""
    wording = Wording()
    known = {f.name: (wording.say(f), wording.say_in_sentence(f)) for f in figures(facts())}
    pages = ("experiments/first-physalis.html", "experiments/first-physalis/record.html")
    shown = [figure for page in pages for figure in read(page).figures]

    assert len(shown) > 30
    for name, said in shown:
        assert said[:1].lower() + said[1:] in {text[:1].lower() + text[1:] for text in known[name]}


def test_figures_lead_to_their_working() -> None:
    """Each figure shown on its own page or the record has an entry in the record's working, and no other figure has."""
    record = read("experiments/first-physalis/record.html")
    figures_shown = (*read("experiments/first-physalis.html").figures, *record.figures)
    shown = {working_anchor(name) for name, _ in figures_shown}

    assert {anchor for anchor in record.ids if anchor.startswith("working-")} == shown


def test_working_names_method_and_days() -> None:
    """The working of the harvest leads to its formula and to the days that its picks are of."""
    before, _, after = text_of("experiments/first-physalis/record.html").partition(
        'id="working-harvest-total">'
    )

    assert before.rpartition("<p>")[2].startswith('<a href="../../methods.html#method-total-weight">')
    assert re.findall(r'href="#(day-\d+)"', after.partition("</p>")[0]) == ["day-55", "day-60"]


def test_what_the_author_wrote_is_escaped() -> None:
    """Markup in a note or a taste is shown as text, and braces in a note are no template."""
    page = text_of("experiments/first-physalis/record.html")

    assert "sharp &lt;b&gt;" in page
    assert "Weighed &amp; eaten: {{ nothing }}" in page


def test_an_earlier_address_leads_on() -> None:
    """The page at an earlier id refreshes to the experiment and names it as canonical."""
    page = text_of("experiments/old-physalis.html")

    assert '<meta http-equiv="refresh" content="0; url=first-physalis.html">' in page
    assert '<link rel="canonical" href="https://example.org/attic/experiments/first-physalis.html">' in page


def test_an_earlier_address_never_hides_an_experiment() -> None:
    """An earlier id that is another experiment's own leads nowhere."""
    taken = full_run()
    taken = replace(taken, setup=replace(taken.setup, id="newer", was=("first-physalis",)))

    pages, _ = render(site(full_run(), taken))

    assert [p.address for p in pages].count("experiments/first-physalis.html") == 1


def test_canonical_only_with_an_address() -> None:
    """A journal without an address gets no canonical link on any page."""
    pages, _ = render(site(journal=replace(JOURNAL, address="")))

    assert [page.address for page in pages if b'rel="canonical"' in page.content] == []


def test_what_was_not_recorded_is_said() -> None:
    """A run without readings says so."""
    page = text_of("experiments/young-physalis/record.html")

    assert page.count("not recorded") > 5
    assert "No pick is recorded." in page


def test_an_unknown_theme_is_a_finding() -> None:
    """A theme that is not there gives no pages and names those that are."""
    pages, findings = render(site(journal=Journal("Attic", theme="legder")))

    assert pages == ()
    assert [(f.code, f.message, f.mend) for f in findings] == [
        ("unknown-theme", "there is no theme `legder`", "write `ledger`")
    ]


def test_look_goes_before_the_theme(tmp_path: Path) -> None:
    """A template in the journal's own folder takes the place of the theme's."""
    (tmp_path / "templates").mkdir()
    (tmp_path / "templates" / "text.html").write_text("<!doctype html><title>{{ head.title }}</title>")

    pages, _ = render(site(look=tmp_path))

    about = next(page for page in pages if page.address == "about.html")
    assert about.body == "<!doctype html><title>About</title>"


def test_a_failing_template_costs_its_own_page(tmp_path: Path) -> None:
    """A template with an unknown name is a finding at its line; all other pages are made."""
    (tmp_path / "templates").mkdir()
    (tmp_path / "templates" / "text.html").write_text("<p>\n{{ nonsense }}\n")

    pages, findings = render(site(look=tmp_path))

    assert "about.html" not in {page.address for page in pages}
    assert len([page for page in pages if page.address.endswith(".html")]) == len(PAGES) - 1
    assert [(f.code, str(f.source)) for f in findings] == [
        ("bad-template", f"{tmp_path.name}/templates/text.html:2")
    ]


def test_the_same_site_gives_the_same_bytes() -> None:
    """Rendering twice gives identical pages."""
    once, again = render(site())[0], render(site())[0]

    assert [(page.address, page.content) for page in once] == [(page.address, page.content) for page in again]


def test_a_drawing_is_one_image_named_by_its_chart() -> None:
    """It is as wide as the page; what it shows in words is left to the caption below it."""
    found = re.findall(
        r"<svg [^>]*viewBox[^>]* class=\"(?:wide|narrow)\"[^>]*>", text_of("experiments/first-physalis.html")
    )

    assert found == [
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10" class="'
        f'{frame}" role="img" aria-label="Height, cm">'
        for frame in ("wide", "narrow")
    ]
