"""Addresses, and ways from one page to another."""

from __future__ import annotations

import pytest

from sitegen.core.site.addresses import (
    absolute,
    crop_page,
    day_anchor,
    experiment_page,
    free_page,
    link,
    method_anchor,
    season_page,
    system_page,
    working_anchor,
)
from sitegen.core.values.day import Day

WAYS = [
    ("index.html", "index.html", "index.html"),
    ("index.html", "experiments/a.html", "../index.html"),
    ("experiments/b.html", "experiments/a.html", "b.html"),
    ("experiments/b.html#day-3", "index.html", "experiments/b.html#day-3"),
    ("experiments/a.html#day-3", "experiments/a.html", "#day-3"),
    ("#day-3", "experiments/a.html", "#day-3"),
    ("assets/style-0.css", "crops/a.html", "../assets/style-0.css"),
]


@pytest.mark.parametrize(("target", "page", "way"), WAYS)
def test_links_are_relative(target: str, page: str, way: str) -> None:
    """A link leads from one page to another without knowing where the site lies."""
    assert link(target, page) == way


def test_pages_stand_by_kind() -> None:
    """Experiments, seasons, crops and free pages have their places."""
    made = [experiment_page("a"), season_page("s"), crop_page("c"), system_page("t"), free_page("About us")]

    assert made == ["experiments/a.html", "seasons/s.html", "crops/c.html", "systems/t.html", "about-us.html"]


def test_anchors() -> None:
    """Figures, methods and days have anchors; plants keep their capitals."""
    made = [
        working_anchor("harvest.by_plant.P1"),
        working_anchor("harvest.by_grade.very good"),
        method_anchor("total_weight"),
        day_anchor(Day.on(26)),
        day_anchor(Day(-2, 4)),
    ]

    assert made == [
        "working-harvest-by_plant-P1",
        "working-harvest-by_grade-very-good",
        "method-total-weight",
        "day-26",
        "day-0",
    ]


def test_absolute_addresses_need_the_site_s_own() -> None:
    """Without an address there is none for a page; the home page is the root."""
    made = [
        absolute("a.html", ""),
        absolute("a.html", "https://example.org/b"),
        absolute("index.html", "https://e.org/"),
    ]

    assert made == ["", "https://example.org/b/a.html", "https://e.org/"]
