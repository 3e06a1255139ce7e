"""What the chart of growth stages says in words, and its table.

In: milestones and fates among the facts. Out: text. A plant that had not reached a stage is said to have waited, never
left out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence

from sitegen.core.facts.tree import Arrival, CountStep, Facts, MilestoneFacts
from sitegen.core.language.catalogue import tr, tr_c, tr_n
from sitegen.core.language.text import listed
from sitegen.core.language.wording import opening
from sitegen.core.site.chart import Table
from sitegen.core.values.day import Day
from sitegen.plot.drawing import tables


def count_text(step: CountStep) -> str:
    """`4 of 6`; where nobody said of how many, at least so many."""
    if step.of is None:
        return tr("at least {amount}", amount=step.count)
    return tr("{part} of {whole}", part=step.count, whole=step.of)


def description(apart: Sequence[MilestoneFacts], counted: Sequence[MilestoneFacts], facts: Facts) -> str:
    """Each stage in a sentence, then the losses, then how to read the drawing."""
    lost = {p.plant: p.fate for p in facts.plants if p.fate.word == "lost"}
    texts = [_of_plants(stage, lost) for stage in apart]
    texts += [_of_counts(stage) for stage in counted]
    if lost:
        plants = [
            tr("{what} on {day}", what=plant, day=fate.day.words) if fate.day else plant
            for plant, fate in lost.items()
        ]
        texts.append(tr("Lost: {plants}.", plants=listed(plants)))
    if apart:
        texts.append(tr("A row thickens with each stage; hatched: it came between two visits."))
    return " ".join(texts)


def _of_plants(stage: MilestoneFacts, lost: Collection[str]) -> str:
    days = [a.day for a in stage.arrivals if a.day]
    rest = _rest([a for a in stage.arrivals if a.day is None], lost)
    reached = _reached(len(days), len(stage.arrivals))
    said = f", {_span(days)}{_half(stage, days)}" if days else ""
    return f"{opening(tr(stage.noun))}: {reached}{said}{rest}."


def _reached(part: int, whole: int) -> str:
    if not part:
        return tr_n("none of {n} plant", "none of {n} plants", whole)
    if part == whole > 1:
        return tr_n("all {n} plant", "all {n} plants", whole)
    return tr_n("{part} of {n} plant", "{part} of {n} plants", whole, part=part)


def _span(days: Sequence[Day]) -> str:
    first, last = min(days, key=lambda d: d.last), max(days, key=lambda d: d.last)
    if first == last:
        return tr("seen on {day}", day=first.words)
    return tr("seen from {first} to {last}", first=first.words, last=last.words)


def _half(stage: MilestoneFacts, days: Sequence[Day]) -> str:
    """The day by which half the plants were there, where that says more than the days do."""
    median = stage.median.value
    if not isinstance(median, Day) or len(set(days)) < 2:
        return ""
    return f", {tr('half by {day}', day=median.words)}"


def _rest(arrivals: Iterable[Arrival], lost: Collection[str]) -> str:
    """What became of those that had not reached it: lost before, or still waiting when last looked at."""
    waiting = [a for a in arrivals if a.plant not in lost]
    gone = sum(a.plant in lost for a in arrivals)
    parts = []
    looks = [a.last_look for a in waiting if a.last_look]
    if looks:
        last = max(looks, key=lambda day: day.last)
        parts.append(
            tr_n(
                "{n} had not when last looked at, on {day}",
                "{n} had not when last looked at, on {day}",
                len(waiting),
                day=last.words,
            )
        )
    if gone:
        parts.append(tr_n("{n} lost before", "{n} lost before", gone))
    return f" ({'; '.join(parts)})" if parts else ""


def _of_counts(stage: MilestoneFacts) -> str:
    steps = [tr("{count} by day {day}", count=count_text(step), day=step.day.last) for step in stage.steps]
    return tr(
        "{stage}: {counts}; plants not told apart.", stage=opening(tr(stage.noun)), counts=listed(steps)
    )


def table(facts: Facts) -> Table:
    """Every day that something is known of, with the plants it is known of."""
    rows: dict[tuple[Day, str, str], list[str]] = defaultdict(list)
    for stage in facts.milestones:
        for arrival in stage.arrivals:
            day, note = _known(arrival)
            if day:
                rows[day, tr(stage.noun), note].append(arrival.plant)
        for step in stage.steps:
            counted = tr("{count} plants", count=count_text(step))
            rows[step.day, tr(stage.noun), tr("counted")].append(counted)
    for plant in facts.plants:
        if plant.fate.word == "lost" and plant.fate.day:
            rows[plant.fate.day, tr_c("a plant", "lost"), plant.fate.why].append(plant.plant)
    found = [(day, (what, ", ".join(who), note)) for (day, what, note), who in rows.items()]
    return tables.by_day(
        facts, (tr("Stage"), tr("Plants"), tr("Note")), sorted(found, key=lambda row: row[0].middle)
    )


def _known(arrival: Arrival) -> tuple[Day | None, str]:
    if arrival.day is None:
        return arrival.last_look, tr("not reached when last looked at")
    if not arrival.after:
        return arrival.day, ""
    return arrival.day, tr("not yet on {day}", day=arrival.after.words)
