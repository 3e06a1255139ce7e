"""The page of a crop: what did best so far, how sure that is, and what else differed."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from sitegen.core.records.rows import Run
from sitegen.core.site.page import Page
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.render import render
from tests.measure.builders import grams, joint, pick, run_of, setup_of
from tests.render.builders import full_run, site, started_run


def _run(number: int, weight: float, *, weighed: bool = True, dated: bool = True) -> Run:
    """An ended run of two plants that were picked one by one."""
    setup = setup_of(
        2, start=Start(date(2020 + number // 12, 1 + number % 12, 1), "day") if dated else Start()
    )
    setup = replace(setup, id=f"run-{number}", title=f"Run {number}")
    picks = [
        pick(50, joint(plant), grams(weight + i) if weighed else replace(grams(0), high=None, unweighed=1))
        for i, plant in enumerate(("P1", "P2"))
    ]
    ended = full_run().rows.events[-1]
    return run_of(setup, events=(ended,), picks=tuple(picks))


def _crop(*runs: Run) -> str:
    pages: dict[str, Page] = {page.address: page for page in render(site(*runs))[0]}
    return pages["crops/physalis.html"].content.decode()


def _text(markup: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", markup)).replace("\u00a0", " ")


def test_the_first_paragraph_names_the_most_from_a_spot() -> None:
    """Of two ended runs the larger harvest per spot leads, with its variety and its run: (90 + 91) / 2 = 90.5."""
    text = _text(_crop(_run(1, 40), _run(2, 90)))

    assert "Best run so far: 91 g (3.2 oz) per spot, Amber, in Run 2 ." in text


def test_a_run_that_still_grows_is_left_out_of_the_most() -> None:
    """It is marked in the table, and the page says that it takes no part."""
    text = _text(_crop(_run(1, 40), started_run()))

    assert "in Run 1 ." in text
    assert "The harvests above are of finished runs." in text
    assert "Young physalis still growing" in text


def test_each_variety_has_an_address_of_its_own() -> None:
    """A variety is found by its address on the page of its crop, and the search leads there."""
    pages = {page.address: page for page in render(site(_run(1, 40)))[0]}

    assert 'id="variety-amber"' in pages["crops/physalis.html"].content.decode()
    assert '"crops/physalis.html#variety-amber"' in pages["find.js"].content.decode()


def test_drawings_need_something_to_compare() -> None:
    """One run has none; two have every plant, and the runs in the order of sowing."""
    assert 'id="plants"' not in _crop(_run(1, 40))
    two = _crop(_run(1, 40), _run(2, 90))
    assert 'id="plants"' in two
    assert 'id="so-far"' in two
    assert 'id="seasons"' in two


def test_without_weights_or_dates_the_page_holds_together() -> None:
    """Nothing weighed draws nothing, and says so; a run without a date is no part of the order of sowing."""
    bare = _text(_crop(_run(1, 0, weighed=False, dated=False), _run(2, 0, weighed=False, dated=False)))

    assert "No finished run has a harvest per spot yet." in bare
    assert "not weighed" in bare
    assert "Run by run" not in bare


def test_of_very_many_runs_the_latest_are_drawn() -> None:
    """Drawings and the table have the latest runs and say how many they leave out, and where those are."""
    page = _crop(*(_run(number, 10 + number) for number in range(40)))
    text = _text(page)

    assert "Only the latest 16 of 40 are drawn; for the others see the numbers below." in text
    assert "Only the latest 24 of 40 runs are drawn; for the others see the numbers below." in text
    assert page[page.index("<tbody>") :].count('<th scope="row">') == 16
    assert "The table has the latest 16 of 40 runs. The figures of the others, by season:" in text
    assert '<a href="../seasons/s.html#numbers">' in page


def test_what_else_differed_stands_beside_the_run_before() -> None:
    """A run in another month, with other lamp hours, says both; the variety is no circumstance."""
    later = _run(2, 90)
    tubs = tuple(
        replace(tub, system=replace(tub.system, footprint=(exactly(50, Dimension.LENGTH),) * 2))
        for tub in later.setup.tubs
    )
    text = _text(_crop(_run(1, 40), replace(later, setup=replace(later.setup, tubs=tubs))))

    assert "Month of sowing: March this time, February in the other run." in text
    assert "Not recorded for both runs: plants per area." in text
