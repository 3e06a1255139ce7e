"""What a planned run, and several like it, could show: said on stderr before it is sown.

In: a set-up, the journal. Out: lines. The plants of one run share its tubs, so that a run counts once; how far
differences of single runs lie apart is taken from earlier runs of the crop, or else assumed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import combinations
from math import comb
from textwrap import fill
from typing import Any

import click

from sitegen.app.begin.trials.earlier import MOST_RUNS, Earlier, earlier_differences
from sitegen.core.language.text import listed, plural
from sitegen.core.records.arms import Arm, arms_of
from sitegen.core.records.setup import Setup
from sitegen.ingest import JournalFiles
from sitegen.measure import (
    detectable_difference,
    fewest_paired_runs,
    smallest_chance_apart,
    spread_between_runs,
)

_ASSUMED = (0.10, 0.25, 0.50)  # small, middle, large: common practice, no source
_RUNS = (6, 8, 10)
_MOST = 2.0  # one arm gives nothing at all
_MARGIN: dict[str, Any] = {"width": 110, "initial_indent": "  ", "subsequent_indent": "  "}


def print_outlook(setup: Setup, journal_files: JournalFiles, today: date) -> None:
    """Say what the arms of a run could show, where it has any."""
    arms = arms_of(setup)
    if len(arms) < 2:
        return
    where = f"{plural(len(setup.plants), 'plant')} in {plural(len(setup.tubs), 'tub')}"
    click.echo(f"what it could show: {_names(arms)}, {where}", err=True)
    for line in (*_alone(setup, arms), *_several(setup, arms, journal_files, today)):
        click.echo(line if line.startswith(" ") else fill(line, **_MARGIN), err=True)


def _names(arms: Sequence[Arm]) -> str:
    return listed([arm.key for arm in arms])


def _tubs(setup: Setup, arm: Arm) -> set[str]:
    return {plant.tub for plant in setup.plants if plant.id in arm.plants}


def _alone(setup: Setup, arms: Sequence[Arm]) -> Iterator[str]:
    """What this one run can say."""
    tubs = [_tubs(setup, arm) for arm in arms]
    if any(one & other for one, other in combinations(tubs, 2)):
        these = "this tub" if len(setup.tubs) == 1 else f"these {len(setup.tubs)} tubs"
        yield f"A difference would describe {these}, once."
        return
    if min(map(len, tubs)) == 1:
        reason = "whatever the difference: the tubs differ too."
        yield f"One tub an arm: nothing about {_names(arms)} themselves, {reason}"
        return
    chance = smallest_chance_apart(*sorted(map(len, tubs))[-2:])
    numbers = listed([str(len(each)) for each in tubs])
    times = f"in {chance.numerator} of {chance.denominator} cases"
    yield f"{numbers} tubs: luck alone puts all tubs of one arm ahead of all those of another {times}."


def _several(setup: Setup, arms: Sequence[Arm], journal_files: JournalFiles, today: date) -> Iterator[str]:
    """What several runs like it could show."""
    comparisons = comb(len(arms), 2)
    fewest = fewest_paired_runs(comparisons)
    pairs = "" if comparisons == 1 else f", {comparisons} pairs compared"
    yield (
        f"Fewer than {fewest} such runs can never show a difference (exact sign-flip test, p < 0.05{pairs}). "
        "Deal the arms anew for each run."
    )
    numbers = [number for number in dict.fromkeys((fewest, *_RUNS)) if fewest <= number <= max(_RUNS)]
    if not numbers:
        return
    earlier = earlier_differences(setup, [arm.key for arm in arms], journal_files, today)
    spread = spread_between_runs(earlier.by_pair())
    yield (
        "The difference in yield a plant that such runs show in 4 of 5 cases (simulated, normally spread), by the "
        "spread of the differences of single runs (standard deviation), both in per cent of the mean:"
    )
    yield _row("spread", [plural(number, "run") for number in numbers])
    multiples = [detectable_difference(number, comparisons) or 0 for number in numbers]
    for each in _ASSUMED if spread is None else (spread,):
        yield _row(_percent(each), [_percent(each * multiple) for multiple in multiples])
    yield _origin(setup, earlier, spread)


def _row(head: str, cells: Sequence[str]) -> str:
    return "".join(f"{cell:>10}" for cell in (head, *cells))


def _percent(difference: float) -> str:
    """No difference is larger than that of an arm that gives nothing from one that does."""
    return f"{round(100 * difference)} %" if difference < _MOST else "never"


def _origin(setup: Setup, earlier: Earlier, spread: float | None) -> str:
    """Where the spread is from."""
    runs, crop = tuple(earlier.differences), setup.crop.id
    of = f" of the latest {MOST_RUNS}" if earlier.latest else ""
    held = f"{plural(len(runs), 'earlier run')} of {crop}" if runs else f"no earlier run of {crop}"
    named = f" ({listed(runs)})" if runs else ""
    if spread is not None:
        return f"This spread is that of {held}{of}{named}, and only roughly known."
    have = "has" if len(runs) < 2 else "have"
    weighed = f"{held}{of} {have} weighed yields of two arms{named}; a spread needs three"
    return f"These spreads are assumed (common practice, no source): {weighed}."
