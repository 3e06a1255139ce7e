"""Pictures of arms: names at the ends of lines, and the runs that are not drawn."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Start
from sitegen.measure import run_arms
from sitegen.render.numbers.compared_arms import compared_arms
from sitegen.render.pages.compared.arm_pictures import Shapes, by_system, seasons, spread
from sitegen.render.pages.summary import summary_of
from tests.render.builders import facts, full_run, started_run


def test_names_that_do_not_touch_stay_where_they_are() -> None:
    """Each stands at the end of its line."""
    assert spread([100, 300, 900], 75) == [100, 300, 900]


def test_names_that_would_touch_are_moved_apart() -> None:
    """Downwards by as little as is needed, and up again where they would leave the drawing."""
    assert spread([100, 100, 120], 75) == [100, 175, 250]
    assert spread([980, 990, 1000], 75) == [850, 925, 1000]


def _named(run: Run, title: str) -> Run:
    return replace(run, setup=replace(run.setup, id=title, title=title))


def test_a_run_that_is_not_drawn_has_its_reason() -> None:
    """Still growing, without a date, without a weight: each reason with its runs."""
    whole = full_run()
    undated = replace(whole, setup=replace(whole.setup, start=Start()))
    unpicked = replace(whole, rows=replace(whole.rows, picks=(), tallies=()))
    runs = [
        *(_named(whole, f"Run {n}") for n in range(3)),
        _named(undated, "Undated"),
        _named(unpicked, "Bare"),
    ]
    runs.append(_named(started_run(), "Young"))
    rows = compared_arms([summary_of(facts(run), (), run_arms(facts(run))) for run in runs])
    picture = seasons(rows, Shapes.for_rows(rows), Wording())
    assert picture is not None
    assert picture.notes == (
        "Not drawn, still growing: Young.",
        "Not drawn, date of sowing not recorded: Undated.",
        "Not drawn, no harvest per spot: Bare.",
    )


def _grown_in(run: Run, title: str, system: str) -> Run:
    named = _named(run, title)
    tubs = tuple(
        replace(tub, system=replace(tub.system, id=system, name=system)) if tub.system else tub
        for tub in named.setup.tubs
    )
    return replace(named, setup=replace(named.setup, tubs=tubs))


def test_systems_are_drawn_beside_each_other_where_two_have_several_runs() -> None:
    """One run in a system is one mark, which the drawing of all runs has already."""
    early = full_run()
    late = replace(early, setup=replace(early.setup, start=Start(dt.date(2026, 2, 1))))

    def titles(*systems: str) -> list[str]:
        runs = [_grown_in(early if n % 2 else late, f"Run {n}", system) for n, system in enumerate(systems)]
        rows = compared_arms([summary_of(facts(run), (), run_arms(facts(run))) for run in runs])
        return [each.title for each in by_system(rows, Shapes.for_rows(rows), Wording())]

    assert titles("Jar", "Jar", "Tray", "Wick") == []
    assert titles("Jar", "Jar", "Tray", "Tray", "Wick") == ["Jar", "Tray", "Wick"]
