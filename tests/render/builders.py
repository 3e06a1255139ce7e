"""A small invented site, for the tests of the pages.

In: nothing. Out: runs, their facts and a `Site` of them. The garden, its varieties and its weights are invented.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Deed, Event, Rows, Run, Which
from sitegen.core.records.setup import (
    Answer,
    Author,
    Correction,
    Episode,
    FreePage,
    Journal,
    Memory,
    Product,
    Season,
    Seed,
)
from sitegen.core.site.chart import Chart, Drawing, Table
from sitegen.core.site.content import ExperimentContent, Site
from sitegen.core.values.day import Day, Start
from sitegen.core.values.quantity import counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import ACROSS, measure, methods, run_arms
from tests.measure.builders import (
    event,
    grams,
    joint,
    litres,
    milestone,
    ml,
    of,
    pick,
    reading,
    run_of,
    seeds,
    setup_of,
    unweighed,
)

__all__ = [
    "ALL",
    "JOURNAL",
    "chart",
    "facts",
    "full_run",
    "planned_run",
    "remembered_run",
    "site",
    "started_run",
]

ALL = Which(("P1", "P2", "P3", "P4"), word="all")
JOURNAL = Journal(
    title="Attic Trough",
    tagline="Invented trials",
    author=Author("The attic", "https://example.org"),
    address="https://example.org/attic/",
    licence="CC-BY-4.0",
)


def _events() -> tuple[Event, ...]:
    return (
        seeds(0, 2, "P1", "P2", "P3", "P4"),
        event(Deed.WATER, 0, amount=litres(8), filled=True),
        event(Deed.SPROUTED, 6, amount=counted(7), out_of=8),
        event(Deed.FEED, 14, amount=ml(10), product="syrup"),
        event(Deed.ADJUST, 14, amount=ml(2), product="sour", line=1114),
        event(Deed.PRUNE, 36, joint("P1"), what="lower leaves"),
        event(Deed.TROUBLE, 37, of(2, 4), what="mould on the plug", until=Day.on(44)),
        event(Deed.LOST, 50, joint("P4"), what="snapped"),
        event(Deed.TASTE, 60, amount=counted(4), out_of=5, what="sharp <b>"),
        event(Deed.NOTE, 60, what="Weighed & eaten: {{ nothing }}", line=1160),
        event(Deed.END, 64, what="slow now", kept=True),
    )


def full_run(recap: str = "") -> Run:
    """A run with one of nearly everything."""
    setup = replace(
        setup_of(4, groups=(("early", ("P1", "P2")), ("late", ("P3", "P4")))),
        question="Does it fruit in an attic?",
        answer=Answer("again", "it fruited"),
        seed=Seed("a swap", "2024"),
        before="One try came to little.",
        disclosure="Seed bought.",
        episodes=(Episode("Under the roof", "https://example.org/e1", dt.date(2025, 6, 1), Day.on(64)),),
        corrections=(Correction(dt.date(2025, 6, 2), "Eight litres, not ten."),),
        was=("old-physalis",),
    )
    run = run_of(
        setup,
        events=_events(),
        readings=(
            reading("height", 30, replace(exactly(22.86, Dimension.LENGTH, 2.54), about=True), ALL.ids),
            reading("ph", 14, exactly(7.1, Dimension.ACIDITY, 0.1), tub="tub", moment="before"),
            reading("ph", 14, exactly(5.9, Dimension.ACIDITY, 0.1), tub="tub", moment="after"),
        ),
        picks=(
            pick(55, joint("P1"), grams(84), part="fruit", count=9, spoilt=1),
            pick(60, joint("P2"), unweighed(), part="fruit"),
            pick(60, joint("P1", "P2", "P3"), grams(112), line=2061, part="fruit"),
        ),
        milestones=(
            milestone("first_flower", 38, Which((), 0, word="none"), reached=False),
            milestone("first_flower", 41, joint("P1", "P2", "P3")),
        ),
    )
    return replace(run, recap=recap)


def started_run() -> Run:
    """A run that has hardly begun: no date, nothing picked."""
    setup = replace(setup_of(2, start=Start()), id="young-physalis", title="Young physalis")
    return run_of(setup, events=(seeds(0, 1, "P1", "P2"),))


def planned_run() -> Run:
    """Four plants in two groups, to be sown on 5 March 2026."""
    setup = replace(
        setup_of(4, groups=(("early", ("P1", "P2")), ("late", ("P3", "P4")))),
        id="next-physalis",
        title="Next physalis",
        question="Does an early prune help?",
        start=Start(dt.date(2026, 3, 5), "day"),
    )
    return Run(setup, Rows())


def remembered_run() -> Run:
    """About four plants of some year, of which little came."""
    setup = replace(
        setup_of(0, start=Start(dt.date(2023, 1, 1), "year")),
        id="sill-physalis",
        title="Physalis on the sill",
        question="Does it grow without a lamp?",
        answer=Answer("not again", "it leaned", "hang a lamp over it"),
        from_memory=Memory("a few small fruits", None, replace(counted(4), about=True), ("amber",)),
    )
    return Run(setup, Rows())


def facts(run: Run | None = None) -> Facts:
    """The facts of a run."""
    return measure(full_run() if run is None else run)


def chart() -> Chart:
    """A drawing with a table."""
    drawn = Drawing(10, 10, 0, 0, {"lines": '<path class="lines" d="M0 0h9"/>'})
    return Chart(
        "height",
        "Height, cm",
        "Tallest 23 cm.",
        drawn,
        drawn,
        Table(("Day", "P1"), (("30", "23"),)),
        "Tallest 23 cm.",
    )


def site(
    *runs: Run, journal: Journal = JOURNAL, look: Path | None = None, texts: tuple[FreePage, ...] = ()
) -> Site:
    """A site of runs; of a finished and a running one unless told."""
    chosen = runs or (full_run("A recap: {{ facts.harvest.total }}."), started_run())
    return Site(
        journal=journal,
        source=Source("journal.yaml"),
        seasons=(Season("s", "Spring 2025", "Under the roof."),),
        across=ACROSS,
        experiments=tuple(
            ExperimentContent(facts(run), (chart(),), arms=run_arms(facts(run))) for run in chosen
        ),
        texts=texts or (FreePage("about", "# About\n\nAn *invented* attic.", Source("about.md")),),
        methods=methods(),
        products=(Product("syrup", "Syrup", "feed"), Product("sour", "Sour drops", "acid")),
        look=look,
        version="0",
    )
