"""Cards: what stands on each, that it fits, and that it is transparent around its plate."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Findings
from sitegen.core.language.catalogue import using_catalogue
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Entry
from sitegen.core.records.setup import Journal, Prices
from sitegen.core.site.chart import Chart
from sitegen.core.site.typesetting import font
from sitegen.core.values.day import Day
from sitegen.ingest.catalogues import read_catalogue
from sitegen.measure import measure
from sitegen.notes.cards import Card, cards_of
from sitegen.notes.cards.kinds import (
    Drawn,
    Photo,
    before_and_after,
    chart_card,
    day_cards,
    photo_card,
    total_card,
)
from sitegen.notes.cards.look import FORMATS, Format, Look
from tests.plot.builders import charts, whole_run
from tests.render.builders import full_run, planned_run, remembered_run, started_run

ENGLISH = Wording()
WIDE, UPRIGHT = FORMATS
LOOKS = (Look(), replace(Look(), sans=True))
SVG = "{http://www.w3.org/2000/svg}"
LONG = "Ein Wettbewerb der Buschbohnensortenvergleichsversuchsanordnung im Flutbecken & <was> daraus im Sommer wurde"


def facts(title: str = "First physalis", **rows: Any) -> Facts:
    """The facts of a run of 64 days."""
    run = full_run()
    setup = replace(run.setup, title=title)
    return measure(replace(run, setup=setup, rows=replace(run.rows, **rows)), Prices())


def photo(day: int, *plants: str, colour: tuple[int, int, int] = (200, 40, 40)) -> Photo:
    """A photo of plants, in one colour."""
    body = io.BytesIO()
    Image.new("RGB", (400, 300), colour).save(body, "JPEG")
    return Photo(plants, Day.on(day), body.getvalue())


@cache
def drawn_charts() -> tuple[Chart, ...]:
    """The charts of another run, which has enough weights for a drawing."""
    return tuple(charts(whole_run()).values())


def texts(drawn: Drawn) -> list[str]:
    """The lines of a card, but those inside its chart."""
    found = re.findall(r"<text [^>]*textLength[^>]*>([^<]*)</text>", drawn.svg)
    return [line.replace("&amp;", "&").replace("&lt;", "<").replace("&gt;", ">") for line in found]


def fits(svg: str, form: Format, look: Look) -> None:
    """Every line lies inside its plate, the plate inside what is free, and no line is squeezed."""
    root = ElementTree.fromstring(svg)  # noqa: S314 - our own
    ground = next(each for each in root.iter(f"{SVG}rect") if each.attrib.get("class") == "plate")
    x, y, width, height = (int(ground.attrib[name]) for name in ("x", "y", "width", "height"))

    assert form.side <= x < x + width <= form.width - form.side
    assert form.head <= y < y + height <= form.height - form.foot
    lines = [each for each in root.iter(f"{SVG}text") if "textLength" in each.attrib]
    for line in lines:
        left, base, size = (int(line.attrib[name]) for name in ("x", "y", "font-size"))
        length = int(line.attrib["textLength"])
        own = font(size, bold="font-weight" in line.attrib, sans=look.sans).getlength(line.text or "")
        assert x < left <= left + length < x + width
        assert y + size // 2 < base < y + height
        assert length == pytest.approx(own, abs=1)
    bases = [(int(each.attrib["x"]), int(each.attrib["y"])) for each in lines]
    assert len(set(bases)) == len(bases)


def all_cards(made: Facts, look: Look, form: Format, wording: Wording = ENGLISH) -> list[Drawn]:
    """Every kind of card of a run, in one format."""
    harvest = next(chart for chart in drawn_charts() if chart.name == "harvest")
    photos = (photo(9, "P1"), photo(50, "P1"))
    return [
        *day_cards(made, look, form, wording),
        *total_card(made, look, form, wording),
        *chart_card(made, harvest, look, form),
        *photo_card(made, photos, look, form, wording),
    ]


def test_a_day() -> None:
    """Day, date and title, one card for each day of the log; day 64 from 1 March 2025 is 4 May."""
    cards = {card.name: texts(card) for card in day_cards(facts(), Look(), WIDE, ENGLISH)}

    assert list(cards) == [f"day-{day:03}" for day in (0, 6, 14, 30, 36, 37, 38, 41, 50, 55, 60, 64)]
    assert cards["day-064"] == ["Day 64", "4 May 2025", "First physalis"]


def test_days_that_are_not_one() -> None:
    """A span has no date; an entry that is never told has no card; two of one day have one."""
    run = full_run()
    days = (Day(4, 6), Day.on(9), Day.on(9), Day.on(20), Day(0, 7, before=True))
    entries = tuple(
        Entry(index, day, run.rows.entries[0].source, "never" if day.first == 20 else "")
        for index, day in enumerate(days)
    )
    bare = dict.fromkeys(("events", "readings", "picks", "milestones"), ())
    made = facts(entries=entries, **bare)

    assert {card.name: texts(card)[:-1] for card in day_cards(made, Look(), WIDE, ENGLISH)} == {
        "day-004-006": ["Days 4–6"],
        "day-009": ["Day 9", "10 March 2025"],
        "day-000-007": ["Before day 8"],
    }


def test_a_run_without_dates() -> None:
    """There is the day alone."""
    made = measure(started_run(), Prices())

    assert [texts(card) for card in day_cards(made, Look(), WIDE, ENGLISH)] == [["Day 0", "Young physalis"]]


def test_the_total() -> None:
    """84 g and 112 g were weighed, a third pick was not (by hand from the run): at least, and the reason."""
    (card,) = total_card(facts(), Look(), WIDE, ENGLISH)

    assert texts(card) == [
        "The whole harvest",
        "At least",
        "196 g",
        "(6.9 oz)",
        "One pick was not weighed",
        "First physalis",
    ]


def test_the_total_of_a_run_that_goes_on() -> None:
    """It is what was picked so far."""
    run = full_run()
    made = facts(events=tuple(event for event in run.rows.events if event.deed != "end"))
    (card,) = total_card(made, Look(), WIDE, ENGLISH)

    assert texts(card)[0] == "Picked so far"


@pytest.mark.parametrize("run", [planned_run(), remembered_run(), started_run()], ids=lambda run: run.id)
def test_nothing_to_show(run: Any) -> None:
    """Without a weight, a drawn chart and two photos there is none of these cards."""
    made = measure(run, Prices())

    assert list(total_card(made, Look(), WIDE, ENGLISH)) == []
    assert list(chart_card(made, None, Look(), WIDE)) == []
    assert list(photo_card(made, (photo(9, "P1"),), Look(), WIDE, ENGLISH)) == []


def test_a_chart_in_the_colours_of_the_theme() -> None:
    """No custom property is left in it, and its line has the theme's colour."""
    made, look = facts(), Look({**Look().colours, "harvest": "#fedcba"})
    harvest = next(chart for chart in drawn_charts() if chart.name == "harvest")
    (card,) = chart_card(made, harvest, look, UPRIGHT)

    assert "var(--harvest)" in harvest.narrow.elements()
    assert "var(" not in card.svg
    assert "#fedcba" in card.svg
    assert texts(card) == [harvest.title, "First physalis"]


def test_before_and_after() -> None:
    """The two photos of the same plants that lie furthest apart, whatever their order; others are of no use."""
    early, late = photo(9, "P1", "P2"), photo(30, "P2", "P1")
    others = (photo(0, "P3"), photo(20, "P1"), photo(25, "P1"), photo(60, "P4"), photo(0), photo(90))

    assert before_and_after((*others, late, photo(12, "P1", "P2"), early)) == (early, late)
    assert before_and_after(others) == (others[1], others[2])
    assert before_and_after((early, photo(9, "P1", "P2"), *others[:2])) is None
    assert before_and_after(()) is None


def test_before_and_after_are_labelled() -> None:
    """Each has its day; the plants are named unless they are all there are."""
    pair = (photo(9, "P1"), photo(50, "P1"))
    everyone = (photo(9, "P1", "P2", "P3", "P4"), photo(50, "P4", "P2", "P3", "P1"))

    assert [texts(card) for card in photo_card(facts(), pair, Look(), WIDE, ENGLISH)] == [
        ["Day 9", "Day 50", "P1", "First physalis"]
    ]
    assert [texts(card) for card in photo_card(facts(), everyone, Look(), WIDE, ENGLISH)] == [
        ["Day 9", "Day 50", "First physalis"]
    ]


@pytest.mark.parametrize("form", FORMATS, ids=lambda form: form.name)
@pytest.mark.parametrize("look", LOOKS, ids=["serif", "sans"])
@pytest.mark.parametrize("title", ["P", LONG, "x" * 300])
def test_everything_fits(title: str, look: Look, form: Format) -> None:
    """Short and long titles lie inside the plate, and the plate keeps clear of the edges."""
    found = all_cards(facts(title), look, form)

    assert {card.name for card in found} >= {"day-000", "total", "chart", "before-and-after"}
    for card in found:
        fits(card.svg, form, look)


@pytest.mark.parametrize("form", FORMATS, ids=lambda form: form.name)
def test_german_fits(form: Format) -> None:
    """German words, dates and a long title."""
    german = read_catalogue(Path(__file__).parent, Journal("Test", language="de"), Findings())
    with using_catalogue(german):
        wording = Wording("metric", "de")
        found = all_cards(facts(LONG), Look(), form, wording)
        days = [texts(card)[:2] for card in found if card.name == "day-064"]

    assert days == [["Tag 64", "4. Mai 2025"]]
    for card in found:
        fits(card.svg, form, Look())


def test_days_of_three_digits_are_as_large() -> None:
    """Day 134 has the letters of day 9."""
    run = full_run()
    entries = tuple(Entry(n, Day.on(day), run.rows.entries[0].source) for n, day in enumerate((9, 134)))
    bare = dict.fromkeys(("events", "readings", "picks", "milestones"), ())
    cards = list(day_cards(facts(entries=entries, **bare), Look(), UPRIGHT, ENGLISH))

    assert [re.findall(r'font-size="(\d+)"', card.svg)[0] for card in cards] == ["168", "168"]


def card(name: str, form: str) -> Card:
    """One of all cards of a run with photos and charts."""
    made = facts()
    photos = (photo(9, "P1"), photo(50, "P1", colour=(40, 40, 200)))
    few = facts(entries=made.run.rows.entries[:1])
    return next(
        each
        for each in cards_of(few, drawn_charts(), photos, Look(), ENGLISH)
        if each.stem == f"{name}-{form}"
    )


@pytest.mark.parametrize("form", FORMATS, ids=lambda form: form.name)
def test_a_picture_is_transparent(form: Format) -> None:
    """The corners show the footage; the plate is paper, and nothing of the picture is half transparent."""
    found = card("total", form.name)
    image = Image.open(io.BytesIO(found.png))

    assert (image.size, image.mode) == ((form.width, form.height), "RGBA")
    assert image.getpixel((0, 0)) == image.getpixel((form.width - 1, form.height - 1)) == (0, 0, 0, 0)
    paper = image.getpixel((form.side + 10, form.height - form.foot - 10))
    assert paper == (0xF4, 0xF7, 0xEF, 255)
    assert {number for number, count in enumerate(image.getchannel("A").histogram()) if count} == {0, 255}


def test_letters_are_drawn() -> None:
    """The fonts that lie with the program are found: there is ink of both weights on the plate."""
    image = Image.open(io.BytesIO(card("day-000", "16x9").png)).convert("RGBA")
    plate = Image.new("RGBA", image.size, "white")
    plate.alpha_composite(image)
    ink = sum(plate.convert("L").histogram()[:60])

    assert ink > 8000  # of `Day 0` in letters of 168 px; the rule alone has less


def test_photos_are_drawn() -> None:
    """Both photos are in the picture, the earlier at the left."""
    image = Image.open(io.BytesIO(card("before-and-after", "16x9").png)).convert("RGB")
    left, right = (image.getpixel((x, 540)) for x in (500, 1400))

    assert (reddish(left), reddish(right)) == (True, False)


def reddish(pixel: object) -> bool:
    """Whether a pixel is more red than blue."""
    assert isinstance(pixel, tuple)
    return bool(pixel[0] > pixel[2])


@given(st.text(max_size=120), st.sampled_from(FORMATS), st.sampled_from(LOOKS))
def test_any_title(title: str, form: Format, look: Look) -> None:
    """No text makes a card that is no XML, that leaves its plate or that says what is no text."""
    made = replace(BASE, run=replace(BASE.run, setup=replace(BASE.run.setup, title=title)))
    for drawn in (*day_cards(made, look, form, ENGLISH), *total_card(made, look, form, ENGLISH)):
        fits(drawn.svg, form, look)


@settings(max_examples=6)
@given(st.text(max_size=60))
def test_any_title_becomes_a_picture(title: str) -> None:
    """Whatever the title is, the library draws it."""
    run = replace(BASE.run, setup=replace(BASE.run.setup, title=title))
    made = replace(BASE, run=run, timeline=replace(BASE.timeline, visits=BASE.timeline.visits[:1]))
    found = cards_of(made, (), (), Look(), ENGLISH)

    assert [each.stem for each in found] == ["day-000-16x9", "total-16x9", "day-000-9x16", "total-9x16"]
    assert all(each.png.startswith(b"\x89PNG") for each in found)


BASE = facts()
