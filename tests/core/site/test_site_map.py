"""What links to other experiments need."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sitegen.core.site.site_map import Neighbour, Neighbours, RunLink, SiteMap, run_link_of
from sitegen.core.values.day import Start
from sitegen.render.metadata.feeds import publication_dates
from sitegen.render.pages.summary import summary_of
from tests.render.builders import facts, full_run


def run_link(name: str, started: date) -> RunLink:
    """An experiment with a name and a day of sowing."""
    return RunLink(name, name.title(), started, "leaf", "one", ("tray",), (), dated=True)


def test_neighbours_are_those_sown_before_and_after() -> None:
    """In the order of sowing, and of names where the day is the same; undated ones come first."""
    began = {"b": date(2025, 3, 1), "a": date(2025, 3, 1), "c": date.min}

    site_map = SiteMap([run_link(name, day) for name, day in began.items()])
    a, b, c = Neighbour("a", "A"), Neighbour("b", "B"), Neighbour("c", "C")

    assert {run: site_map.neighbours(run) for run in "abc"} == {
        "c": Neighbours(None, a, a),
        "a": Neighbours(c, b, b),
        "b": Neighbours(a, None, None),
    }


@pytest.mark.parametrize(
    "head",
    [
        {},
        {"episodes": (), "corrections": (), "start": Start()},
        {"episodes": (), "corrections": (), "start": Start(date(2025, 3, 1), "month")},
        {"corrections": (), "start": Start()},
        {"episodes": (), "corrections": (), "start": Start(), "revised": date(2025, 6, 1)},
        {"episodes": (), "corrections": (), "start": Start(), "publish": date(2025, 6, 1)},
    ],
    ids=["as it is", "undated", "month", "episode", "revised", "published"],
)
def test_dated_is_what_feeds_can_list(head: dict[str, object]) -> None:
    """The head alone tells what the whole does."""
    run = full_run()
    run = replace(run, setup=replace(run.setup, **head))  # type: ignore[arg-type]

    assert run_link_of(run).dated == (publication_dates(summary_of(facts(run))).updated is not None)
