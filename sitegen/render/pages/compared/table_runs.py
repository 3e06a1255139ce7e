"""The runs whose arms a table of many runs has, and where the others are read: on the pages of their seasons.

In: the context, summaries. Out: `TableRuns`. A row takes some 2 kB: with all of 200 runs a page would be a
megabyte.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.core.records.setup import Season
from sitegen.core.site.addresses import season_page
from sitegen.render.numbers.compared_arms import compared_arms
from sitegen.render.pages.run_lists import latest_first, number_of_runs
from sitegen.render.pages.summary import RunSummary
from sitegen.render.templates.context import Context

MOST_ROWS = 48  # of a page that is little more than its table
FEW_ROWS = 16  # of one that has drawings too: as many as the drawing of every plant


@dataclass(frozen=True, slots=True)
class EarlierRuns:
    """The runs of a season that a table leaves out: their number in words, and the page that has their figures."""

    season: Season
    address: str
    words: str


@dataclass(frozen=True, slots=True)
class TableRuns:
    """Runs in the order of a table, how many there are in all, and the seasons of the others, the latest first."""

    shown: tuple[RunSummary, ...]
    number: int
    earlier: tuple[EarlierRuns, ...] = ()


def table_runs(context: Context, summaries: Sequence[RunSummary], most: int = MOST_ROWS) -> TableRuns:
    """The latest runs whose arms make up to so many rows; a run whose season has no page is never left out."""
    seasons = {season.id: season for season in context.seasons}
    left: dict[str, list[RunSummary]] = {}
    rows = 0
    for number, each in enumerate(latest_first(summaries)):
        rows += len(compared_arms([each]))
        if number and rows > most and each.setup.season in seasons:
            left.setdefault(each.setup.season, []).append(each)
    others = {each.id for runs in left.values() for each in runs}
    return TableRuns(
        tuple(each for each in summaries if each.id not in others),
        len(summaries),
        tuple(
            EarlierRuns(seasons[name], season_page(name), number_of_runs(runs)) for name, runs in left.items()
        ),
    )
