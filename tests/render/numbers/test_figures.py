"""Figures as HTML, and their working."""

from __future__ import annotations

import re

from sitegen.core.facts.figure import Figure, Per, Rate
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.render.numbers.figures import FigureBook
from tests.render.builders import facts


def test_a_figure_elsewhere_leads_to_its_experiment() -> None:
    """On a page that lists experiments, a figure leads to the working on the experiment's page."""
    book = FigureBook(Wording(), "crops/physalis.html")

    html = book.show(facts().length, facts())

    assert html == (
        '<a data-figure="length" data-experiment="first-physalis" '
        f'href="../experiments/first-physalis/record.html#working-length">64{NBSP}days</a>'
    )
    assert book.working() == ()


def test_a_missing_figure_is_said() -> None:
    """A figure without a value says that it was not recorded."""
    html = FigureBook(Wording(), "index.html").show(Figure("growth.widest", None, "largest_reading"), facts())

    assert html.endswith('widest">not recorded</a>')
    assert html.startswith('<a class="none" data-figure="growth.widest" ')


def test_what_is_too_wide_for_a_line_is_marked() -> None:
    """A range stays on its line; a rate, which is wider than a column of a phone, may be broken between its words."""
    book, several = FigureBook(Wording(), "index.html"), Quantity(613, 968, Dimension.MASS, step=1)
    values = (several, Rate(several, Per.LITRE))

    said = [book.show(Figure("harvest.total", value, "total_picked"), facts()) for value in values]

    assert [re.findall('class="([^"]*)"', html) for html in said] == [["also"], ["long", "also long"]]


def test_working_is_grouped_by_subject() -> None:
    """The working lists each figure once, harvest first, whatever the order on the page."""
    found, book = facts(), FigureBook(Wording(), "experiments/first-physalis.html")
    for figure in (found.length, found.work.visits, found.harvest.total, found.length):
        book.show(figure, found)

    assert [(g.title, [w.label for w in g.items]) for g in book.working()] == [
        ("Harvest", ["Harvest"]),
        ("Work", ["Visits"]),
        ("The run", ["Length"]),
    ]
