"""What the charts of air and water say in words, and their tables.

In: readings and daily ranges of one thing. Out: `Recorded`, and texts of it. Days without samples are said, never
filled.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.core.chart import FRAMES, Table
from sitegen.core.day import Day
from sitegen.core.facts import DailyRange, Facts, PlotPoint, TubClimate
from sitegen.core.quantity import Quantity
from sitegen.core.text import listed
from sitegen.core.tongue import tr, tr_n
from sitegen.core.units import Dimension
from sitegen.core.wording import opening
from sitegen.plot import tables
from sitegen.plot.scale import Scale, plain
from sitegen.plot.series import Say
from sitegen.plot.stretches import Stretch, days_a_bar, runs_of

__all__ = ["Recorded", "description", "said", "table", "warmth"]

# Decimals that such sensors tell apart; common practice, no source.
_DECIMALS = {Dimension.TEMPERATURE: 1, Dimension.SHARE: 0, Dimension.PRESSURE: 2}
_MOST_GAPS = 4  # more of them are counted


@dataclass(frozen=True, slots=True)
class Recorded:
    """What was recorded of one thing: `key` names its layers, `words` it in texts."""

    key: str
    words: str
    days: tuple[DailyRange, ...]
    read: tuple[PlotPoint, ...]

    @property
    def any(self) -> bool:
        """Whether there is anything."""
        return bool(self.days or self.read)


def said(stretch: Stretch, scale: Scale) -> str:
    """A stretch of samples in words."""
    return f"{stretch.name}: {_range(stretch, scale)}"


def _range(stretch: Stretch, scale: Scale) -> str:
    low, mean, high = (_short(value, scale) for value in (stretch.low, stretch.mean, stretch.high))
    return tr(
        "{low} to {high} {unit}, mean {mean} ({samples})",
        low=low,
        high=high,
        unit=scale.unit.symbol,
        mean=mean,
        samples=tr_n("{n} sample", "{n} samples", stretch.samples),
    )


def _cell(day: DailyRange, scale: Scale) -> str:
    return _range(Stretch.of((day,)), scale)


def _short(canonical: float, scale: Scale) -> str:
    """No more decimals than such a sensor tells apart."""
    return plain(round(scale.of(canonical), _DECIMALS[scale.unit.dimension]))


def description(
    sources: Iterable[Recorded], scale: Scale, last: Sequence[str], facts: Facts, say: Say
) -> str:
    """What each source recorded, and what is said last."""
    texts = []
    for source in sources:
        texts += [_of_days(source, scale, facts)] if source.days else []
        texts += [_of_readings(source, say)] if source.read else []
    return " ".join(filter(None, (*texts, *last)))


def warmth(tub: TubClimate, say: Say, *, several: bool) -> str:
    """The degree days of a tub, where they are known."""
    value = tub.degree_days.value
    note = f" {tub.degree_days.note}" if tub.degree_days.note else ""
    if not isinstance(value, Quantity):
        return ""
    said = say(value) + note
    if several:
        return tr("Degree days, {tub}: {amount}.", tub=tub.label, amount=said)
    return tr("Degree days: {amount}.", amount=said)


def _of_days(source: Recorded, scale: Scale, facts: Facts) -> str:
    coldest = min(source.days, key=lambda d: d.low)
    warmest = max(source.days, key=lambda d: d.high)
    unit = f" {scale.unit.symbol}"
    low, high = _short(coldest.low, scale), _short(warmest.high, scale)
    found = tr(
        "{what}: lowest {low} on day {coldest}, highest {high} on day {warmest}; a sensor on {days}.",
        what=opening(source.words),
        low=low + unit,
        coldest=coldest.day,
        high=high + unit,
        warmest=warmest.day,
        days=tr_n("{n} day", "{n} days", len(source.days)),
    )
    return f"{found} {_drawn(facts)} {_gaps(source, facts)}"


def _drawn(facts: Facts) -> str:
    """How to read the bars, and whether they hold more than a day in any frame."""
    if any(days_a_bar(facts.axis, f) > 1 for f in FRAMES):
        return tr(
            "Bars run from a day's lowest sample to its highest, the line through its mean; days that would "
            "touch share a bar."
        )
    return tr("Bars run from a day's lowest sample to its highest, the line through its mean.")


def _gaps(source: Recorded, facts: Facts) -> str:
    """The days without samples."""
    sampled = {d.day for d in source.days}
    without = [day for day in range(facts.axis.last + 1) if day not in sampled]
    if not without:
        return tr("No day is missing.")
    spans = runs_of(without)
    if len(spans) > _MOST_GAPS:
        return tr_n(
            "Without samples: {n} day of {whole}.",
            "Without samples: {n} days of {whole}.",
            len(without),
            whole=facts.axis.last + 1,
        )
    return tr_n(
        "Without samples: day {days}.",
        "Without samples: days {days}.",
        len(without),
        days=listed([str(span) for span in spans]),
    )


def _of_readings(source: Recorded, say: Say) -> str:
    if len(source.read) == 1:
        (read,) = source.read
        return tr(
            "{what}: read once, {value} on {day}.",
            what=opening(source.words),
            value=say(read.value),
            day=read.day.words,
        )
    low = min(source.read, key=lambda p: p.value.low)
    high = max(source.read, key=lambda p: p.value.high or p.value.low)
    return tr(
        "{what}: {readings}, lowest {low} on {low_day}, highest {high} on {high_day}; not read between them.",
        what=opening(source.words),
        readings=tr_n("{n} single reading", "{n} single readings", len(source.read)),
        low=say(low.value),
        low_day=low.day.words,
        high=say(high.value),
        high_day=high.day.words,
    )


def table(sources: Sequence[Recorded], scale: Scale, facts: Facts, say: Say) -> Table:
    """Each day of a sensor, and each reading."""
    rows: list[tuple[Day, tuple[str, ...]]] = []
    for source in sources:
        rows += [(Day.on(d.day), (source.words, _cell(d, scale))) for d in source.days]
        rows += [(p.day, (source.words, say(p.value))) for p in source.read]
    ordered = sorted(rows, key=lambda row: row[0].middle)
    return tables.by_day(facts, (tr("Of"), tr("Recorded")), ordered)
