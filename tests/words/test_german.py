"""A small German journal, written: whole sentences, numbers, dates and marks of the language."""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import pytest
from babel.messages.pofile import read_po

from sitegen.app.main import status_of
from tests.journal_maker import make_journal
from tests.pages import parse, words

CATALOGUE = Path(__file__).parents[2] / "sitegen" / "words" / "de.po"
# An invented run: four plants, of which one gave nothing and one pick was not weighed.
RUN = """\
format: 1
title: Zwei Sorten in einer Schale
crop: tomato
system: tray
start: 2025-10-19
plants: 4
log:
  - {day: 0, sow: 2 a spot, water: filled}
  - {day: 7, sprouted: 7 of 8}
  - {day: 44, milestone: {first_flower: 3 of 4}, height: {P1: 22.5 cm, P2: 20 cm}}
  - {day: 90, harvest: {P1: 1250 g, P2: unweighed}}
  - {day: 100, harvest: {P3: 84 g}, end: {why: abgetragen, plants: cleared}}
"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The journal's site."""
    root = tmp_path_factory.mktemp("german")
    head = "language: de\nauthor: {name: Eine Gärtnerin}\naddress: https://example.org/\n"
    journal = make_journal(root / "journal", {"schale": RUN}, journal=head)
    status_of(["write", str(journal), "-o", str(root / "site"), "--today", "2026-03-01"])
    return root / "site"


@pytest.fixture(scope="module")
def page(site: Path) -> str:
    """The text of the run's page and of its record, with plain spaces."""
    pages = (site / "experiments" / "schale.html", site / "experiments" / "schale" / "record.html")
    return " ".join(words(parse(each)) for each in pages)


@pytest.mark.parametrize(
    "sentence",
    [
        "Mindestens 1,33 kg (2 lb 15 oz) von 4 Pflanzen; eine Ernte wurde nicht gewogen.",
        "19. Oktober 2025 bis 27. Januar 2026",
        "Aufgegangene Samen: 7 von 8.",
        "Erste Ernte: Tag 90 nach der Aussaat.",
        "Größte gemessene Höhe: 22,5 cm (8,86 in), P1, Tag 44.",
        "5 Besuche, Dauer 100 Tage: 1 zum Gießen, 2 mit Arbeit an den Pflanzen.",
        "Die Hälfte der Pflanzen hatte eine Blüte (bis Tag 44); eine beim letzten Nachsehen (Tag 44) noch nicht.",
    ],
)
def test_a_sentence_of_the_page(page: str, sentence: str) -> None:
    """It stands on the page whole, with numbers, dates and plurals as German has them."""
    assert sentence in page


def test_one_is_said_in_the_case_of_its_preposition() -> None:
    """`{number}` is a word, "eine": after "bei" and "von" one thing is "einer", so that the message says it itself."""
    text = CATALOGUE.read_text("utf-8")
    singular = (
        "".join(re.findall('"(.*)"', each)) for each in re.findall(r'msgstr\[0\] ((?:".*"\n)+)', text)
    )

    assert [each for each in singular if re.search(r"\b(bei|von|mit|aus) \{number\}", each)] == []


def test_the_language_is_said(site: Path) -> None:
    """Pages and feed name German as their language, and the feed says its entry in it."""
    feed = ElementTree.parse(site / "feed.xml").getroot()  # noqa: S314 - written by this test
    languages = {parse(each).get("lang") for each in site.glob("*.html")}

    assert (languages, feed.get("{http://www.w3.org/XML/1998/namespace}lang")) == ({"de"}, "de")
    assert "eine Ernte wurde nicht gewogen" in "".join(feed.itertext())


def test_one_run_is_said_in_its_gender(site: Path) -> None:
    """A count of one takes the article of its noun."""
    assert "Ein Versuch." in words(parse(site / "seasons" / "one.html"))


def test_notes_behind_a_source_are_in_german(site: Path) -> None:
    """What is noted behind a publication is translated; its title, its publisher and its parts stay as they are."""
    texts = map(words, parse(site / "methods.html").iter("{http://www.w3.org/1999/xhtml}p"))
    source = "Cohen, J. (1988). Statistical Power Analysis for the Behavioral Sciences, 2nd edition. Erlbaum, chapter 2"

    assert {text.removeprefix(source) for text in texts if text.startswith(source)} == {
        " (aus dem Gedächtnis angegeben)."
    }


def test_a_stage_reached_has_its_verb() -> None:
    """Each stage of a plant and of several is a whole predicate, for “Die Hälfte der Pflanzen {did}”."""
    catalog = read_po(BytesIO(CATALOGUE.read_bytes()), "de", charset="utf-8")
    said = {each.id: each.string for each in catalog if str(each.id).startswith("had ") and not each.context}
    del said["had reached: {stage}"]

    assert {message: words for message, words in said.items() if not words.startswith("hatte ")} == {}
