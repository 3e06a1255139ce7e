"""What the chart of growth stages says in words, and its table.

In: milestones and fates among the facts. Out: text. A plant that had not reached a stage is said to have waited, never
left out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence

from sitegen.core.chart import Table
from sitegen.core.day import Day
from sitegen.core.facts import Arrival, CountStep, Facts, MilestoneFacts
from sitegen.core.text import listed, plural
from sitegen.plot import tables

__all__ = ["count_text", "description", "table"]


def count_text(step: CountStep) -> str:
    """`4 of 6`; where nobody said of how many, at least so many."""
    return f"{step.count} of {step.of}" if step.of is not None else f"at least {step.count}"


def description(apart: Sequence[MilestoneFacts], counted: Sequence[MilestoneFacts], facts: Facts) -> str:
    """Each stage in a sentence, then the losses, then how to read the drawing."""
    lost = {p.plant: p.fate for p in facts.plants if p.fate.word == "lost"}
    texts = [_of_plants(stage, lost) for stage in apart]
    texts += [_of_counts(stage) for stage in counted]
    if lost:
        whose = [f"{plant} on {fate.day.words}" if fate.day else plant for plant, fate in lost.items()]
        texts.append(f"Lost: {listed(whose)}.")
    if apart:
        texts.append("A row thickens with each stage; hatched: it came between two visits.")
    return " ".join(texts)


def _of_plants(stage: MilestoneFacts, lost: Collection[str]) -> str:
    days = [a.day for a in stage.arrivals if a.day]
    whole = plural(len(stage.arrivals), "plant")
    rest = _rest([a for a in stage.arrivals if a.day is None], lost)
    if not days:
        return f"{_opening(stage)}: none of {whole}{rest}."
    reached = f"all {whole}" if len(days) == len(stage.arrivals) > 1 else f"{len(days)} of {whole}"
    return f"{_opening(stage)}: {reached}, {_span(days)}{_half(stage, days)}{rest}."


def _opening(stage: MilestoneFacts) -> str:
    return stage.noun[:1].upper() + stage.noun[1:]


def _span(days: Sequence[Day]) -> str:
    first, last = min(days, key=lambda d: d.last), max(days, key=lambda d: d.last)
    return f"seen on day {first}" if first == last else f"seen from day {first} to day {last}"


def _half(stage: MilestoneFacts, days: Sequence[Day]) -> str:
    """The day by which half the plants were there, where that says more than the days do."""
    median = stage.median.value
    return f", half by day {median}" if isinstance(median, Day) and len(set(days)) > 1 else ""


def _rest(arrivals: Iterable[Arrival], lost: Collection[str]) -> str:
    """What became of those that had not reached it: lost before, or still waiting when last looked at."""
    waiting = [a for a in arrivals if a.plant not in lost]
    gone = sum(a.plant in lost for a in arrivals)
    parts = []
    looks = [a.last_look for a in waiting if a.last_look]
    if looks:
        last = max(looks, key=lambda day: day.last)
        parts.append(f"{len(waiting)} had not when last looked at, on day {last}")
    if gone:
        parts.append(f"{gone} lost before")
    return f" ({'; '.join(parts)})" if parts else ""


def _of_counts(stage: MilestoneFacts) -> str:
    steps = [f"{count_text(step)} by day {step.day.last}" for step in stage.steps]
    return f"{_opening(stage)}: {listed(steps)}; plants not told apart."


def table(facts: Facts) -> Table:
    """Every day that something is known of, with the plants it is known of."""
    rows: dict[tuple[Day, str, str], list[str]] = defaultdict(list)
    for stage in facts.milestones:
        for arrival in stage.arrivals:
            day, note = _known(arrival)
            if day:
                rows[day, stage.noun, note].append(arrival.plant)
        for step in stage.steps:
            rows[step.day, stage.noun, "counted"].append(f"{count_text(step)} plants")
    for plant in facts.plants:
        if plant.fate.word == "lost" and plant.fate.day:
            rows[plant.fate.day, "lost", plant.fate.why].append(plant.plant)
    found = [(day, (what, ", ".join(who), note)) for (day, what, note), who in rows.items()]
    return tables.by_day(facts, ("Stage", "Plants", "Note"), sorted(found, key=lambda row: row[0].middle))


def _known(arrival: Arrival) -> tuple[Day | None, str]:
    if arrival.day is None:
        return arrival.last_look, "not reached when last looked at"
    return arrival.day, f"not yet on day {arrival.after}" if arrival.after else ""
