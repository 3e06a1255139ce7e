"""Drawings that set the arms of several runs beside one another, with the words that stand around them.

In: arms with their runs. Out: `ArmPicture`s, each only where there is enough to compare; what is left out is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.text import listed
from sitegen.core.language.wording import Wording
from sitegen.core.values.quantity import Quantity
from sitegen.render.drawings.columns import Column, ColumnPlot, Value, column_plot, upright_scale
from sitegen.render.drawings.dots import SHAPES, DotPlot, DotRow, Point, dot_plot
from sitegen.render.drawings.running_totals import Series, TotalsPlot, totals_plot
from sitegen.render.drawings.scale import FULL, Scale
from sitegen.render.numbers.compared_arms import ComparedArm

MOST_ROWS = 16  # arms in a drawing of rows: more do not fit two screens of a phone
FEWEST_COLUMNS = 6  # runs of one system where each has a drawing of its own
MOST_COLUMNS = 24  # runs in a drawing of columns: a mark's width each at 320 px
LABELS = 5  # months that fit beside one another at 320 px, measured on a serif face
FEW_LABELS = 3  # the same where two drawings stand beside each other
MOST_LINES = 24  # arms in a drawing of running totals
MOST_NAMED = 8  # lines with a name of their own
LABEL_ROOM = 75.0  # per mille of the height that the name of a line takes
FEWEST = 2  # below it there is nothing to compare


@dataclass(frozen=True, slots=True)
class NamedTotals:
    """Running totals; `labels` name the latest lines, each with its height per mille and the line's place in the plot."""

    plot: TotalsPlot
    labels: tuple[tuple[str, float, int], ...]


@dataclass(frozen=True, slots=True)
class ArmPicture:
    """A drawing: `said` is what it shows in words, `notes` say how to read it and what it leaves out."""

    title: str
    said: str
    notes: tuple[str, ...] = ()
    dots: DotPlot | None = None
    columns: ColumnPlot | None = None
    totals: NamedTotals | None = None
    key: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Shapes:
    """The shape of the marks of each variety; one for all where there are more than shapes."""

    of: dict[str, int]
    names: dict[str, str]

    @classmethod
    def for_rows(cls, rows: Iterable[ComparedArm]) -> Shapes:
        """The varieties in the order in which the crop lists them."""
        known = {each.id: each.name for row in rows for each in row.summary.setup.crop.varieties}
        grown = {variety for row in rows for variety in row.arm.varieties}
        names = {each: name for each, name in known.items() if each in grown}
        return cls({each: i for i, each in enumerate(names)} if len(names) <= SHAPES else {}, names)

    def shape(self, row: ComparedArm) -> int:
        """The shape of an arm's marks; of several varieties, that of the first."""
        return next((self.of[each] for each in row.arm.varieties if each in self.of), 0)

    @property
    def key(self) -> tuple[tuple[str, int], ...]:
        """Each variety with its shape, where they tell several apart."""
        return tuple((self.names[each], i) for each, i in self.of.items()) if len(self.of) > 1 else ()


def _place(row: ComparedArm, wording: Wording) -> str:
    """What else tells an arm from others of its variety: `slate tub, bar, Oct 2024, still growing`."""
    label = row.label if row.label != row.varieties else ""
    return ", ".join(filter(None, (row.systems, label, row.sown(wording), row.state)))


def every_plant(rows: Sequence[ComparedArm], shapes: Shapes, wording: Wording) -> ArmPicture | None:
    """A dot for each plant, a row for each arm: by variety, then in the order of sowing."""
    with_yields = [row for row in rows if any(each.value.known for each in row.arm.yields)]
    if len(with_yields) < FEWEST:
        return None
    shown = with_yields[-MOST_ROWS:]
    order = {variety: i for i, variety in enumerate(shapes.names)}
    shown.sort(key=lambda row: [order.get(each, 0) for each in row.arm.varieties])
    plot = dot_plot([_dots(row, shapes, wording) for row in shown], wording.units)
    runs = len({row.summary.id for row in shown})
    return ArmPicture(
        tr("Every plant"),
        tr_n(
            "The harvest of each plant: {rows} rows of dots from {n} run",
            "The harvest of each plant: {rows} rows of dots from {n} runs",
            runs,
            rows=len(shown),
        ),
        tuple(_left_out(with_yields, shown, rows)),
        dots=plot,
    )


def _left_out(
    with_values: Sequence[ComparedArm], shown: Sequence[ComparedArm], rows: Sequence[ComparedArm]
) -> Iterable[str]:
    if len(shown) < len(with_values):
        yield tr(
            "Only the latest {n} of {all} are drawn; for the others see the numbers below.",
            n=len(shown),
            all=len(with_values),
        )
    if len(with_values) < len(rows):
        yield tr(
            "Not drawn: {n} of the {all} rows of the table, where nothing was weighed plant by plant.",
            n=len(rows) - len(with_values),
            all=len(rows),
        )


def _dots(row: ComparedArm, shapes: Shapes, wording: Wording) -> DotRow:
    mean = row.figures.per_spot.value
    return DotRow(
        row.varieties or row.summary.title,
        tuple(Point(each.value, f"{each.plant}: {wording.say(each.value)}") for each in row.arm.yields),
        mean if isinstance(mean, Quantity) and mean.known and len(row.arm.yields) > 1 else None,
        _place(row, wording),
        row.summary.address,
        shapes.shape(row),
    )


def so_far(rows: Sequence[ComparedArm], shapes: Shapes, wording: Wording) -> ArmPicture | None:
    """What each plant had given by a day, on average: a line for each arm, the latest of them named."""
    drawn = [row for row in rows if row.arm.picked and row.arm.plants and row.arm.picked[-1].total.known]
    if len(drawn) < FEWEST:
        return None
    shown = drawn[-MOST_LINES:]
    series = [
        Series(
            _line_name(row, wording),
            tuple((each.day, each.total.times(1 / row.arm.plants)) for each in row.arm.picked),
            shapes.shape(row),
        )
        for row in shown
    ]
    plot = totals_plot(series, 0, wording.units)
    if plot is None:
        return None
    named = sorted(
        enumerate(plot.lines[-MOST_NAMED:], len(plot.lines[:-MOST_NAMED])), key=lambda each: each[1].end
    )
    ends = spread([line.end for _, line in named], LABEL_ROOM)
    said = [
        f"{_name(row, wording)}: {wording.say(row.arm.picked[-1].total.times(1 / row.arm.plants))}"
        for row in shown
    ]
    notes = [
        tr(
            "The least that had been picked by each day, divided by all plants of the row. Each line "
            "begins with the first pick."
        )
    ]
    if len(shown) > MOST_NAMED:
        notes.append(tr("Grey: rows before the latest {n}.", n=MOST_NAMED))
    if len(shown) < len(drawn):
        notes.append(
            tr(
                "Only the latest {n} of {all} are drawn; for the others see the numbers below.",
                n=len(shown),
                all=len(drawn),
            )
        )
    return ArmPicture(
        tr("Harvest so far"),
        tr("Picked by the last day, per plant. {values}", values="; ".join(said[-MOST_NAMED:])),
        tuple(notes),
        totals=NamedTotals(
            plot, tuple((line.series.label, at, i) for (i, line), at in zip(named, ends, strict=True))
        ),
        key=shapes.key,
    )


def _line_name(row: ComparedArm, wording: Wording) -> str:
    """`Oct 2024, bar`: short enough to stand at the end of a line."""
    label = row.label if row.label != row.varieties else ""
    return ", ".join(filter(None, (row.sown(wording) or row.summary.title, label)))


def spread(ends: Sequence[float], room: float) -> list[float]:
    """Heights per mille in their order, moved as little downwards as keeps them apart, and none below the foot."""
    found: list[float] = []
    for end in ends:
        found.append(max(end, found[-1] + room) if found else end)
    for i in reversed(range(len(found))):
        found[i] = min(found[i], FULL - room * (len(found) - 1 - i))
    return found


def seasons(rows: Sequence[ComparedArm], shapes: Shapes, wording: Wording) -> ArmPicture | None:
    """What a spot gave, run by run in the order of sowing."""
    usable, columns = _columns(rows, shapes, wording)
    scale = upright_scale(columns, wording.units)
    if len(columns) < FEWEST or scale is None:
        return None
    shown = columns[-MOST_COLUMNS:]
    return ArmPicture(
        tr("Run by run"),
        _described(usable, wording),
        tuple(_not_in_order(rows, usable, wording, len(shown), len(columns))),
        columns=column_plot(shown, scale, LABELS),
        key=shapes.key,
    )


def by_system(rows: Sequence[ComparedArm], shapes: Shapes, wording: Wording) -> tuple[ArmPicture, ...]:
    """The same for each system by itself, on one scale; none where fewer than two have several runs."""
    systems = {name: None for row in rows if len(row.arm.systems) == 1 for name in (row.systems,)}
    _, every = _columns(rows, shapes, wording)
    scale = upright_scale(every, wording.units)
    if scale is None:
        return ()
    most = max(FEWEST_COLUMNS, MOST_COLUMNS // max(1, len(systems)))
    found = [_one_system(name, rows, shapes, scale, wording, most) for name in sorted(systems)]
    pictures = tuple(each for each in found if each is not None)
    several = [each for each in pictures if each.columns and len(each.columns.labels) >= FEWEST]
    return pictures if len(several) >= FEWEST else ()


def _one_system(
    name: str, rows: Sequence[ComparedArm], shapes: Shapes, scale: Scale, wording: Wording, most: int
) -> ArmPicture | None:
    usable, columns = _columns([row for row in rows if row.systems == name], shapes, wording)
    if not columns:
        return None
    plot = column_plot(columns[-most:], scale, FEW_LABELS)
    notes = tuple(_latest_only(min(most, len(columns)), len(columns)))
    return ArmPicture(name, _described(usable, wording, most), notes, columns=plot, key=shapes.key)


def _columns(
    rows: Sequence[ComparedArm], shapes: Shapes, wording: Wording
) -> tuple[list[ComparedArm], list[Column]]:
    """The ended, dated arms with a weight, and a column for each of their runs."""
    usable = [
        row for row in rows if _weight(row) is not None and row.sown(wording) and not row.summary.running
    ]
    by_run: dict[str, list[ComparedArm]] = {}
    for row in usable:
        by_run.setdefault(row.summary.id, []).append(row)
    columns = [
        Column(arms[0].sown(wording), tuple(_value(row, shapes, wording) for row in arms))
        for arms in by_run.values()
    ]
    return usable, columns


def _weight(row: ComparedArm) -> Quantity | None:
    value = row.figures.per_spot.value
    return value if isinstance(value, Quantity) and value.known else None


def _value(row: ComparedArm, shapes: Shapes, wording: Wording) -> Value:
    weight = _weight(row)
    assert weight is not None
    return Value(weight, f"{_name(row, wording)}: {wording.say(weight)}", shapes.shape(row))


def _name(row: ComparedArm, wording: Wording) -> str:
    return ", ".join(filter(None, (row.varieties or row.summary.title, _place(row, wording))))


def _described(usable: Sequence[ComparedArm], wording: Wording, most: int = MOST_COLUMNS) -> str:
    """What each arm gave, one after the other: the drawing in words."""
    weights = ((row, _weight(row)) for row in usable[-most:])
    said = [f"{_name(row, wording)}: {wording.say(weight)}" for row, weight in weights if weight]
    return tr("Harvest per spot, in order of sowing. {values}", values="; ".join(said))


_STILL_GROWING = tr_noop("Not drawn, still growing: {runs}.")
_NO_DATE = tr_noop("Not drawn, date of sowing not recorded: {runs}.")
_NOT_WEIGHED = tr_noop("Not drawn, no harvest per spot: {runs}.")


def _latest_only(shown: int, columns: int) -> Iterable[str]:
    if shown < columns:
        yield tr(
            "Only the latest {n} of {all} runs are drawn; for the others see the numbers below.",
            n=shown,
            all=columns,
        )


def _not_in_order(
    rows: Sequence[ComparedArm], usable: Sequence[ComparedArm], wording: Wording, shown: int, columns: int
) -> Iterable[str]:
    yield from _latest_only(shown, columns)
    left = [row for row in rows if row not in usable]
    reasons = (
        ([row for row in left if row.summary.running], _STILL_GROWING),
        ([row for row in left if not row.summary.running and not row.sown(wording)], _NO_DATE),
        ([row for row in left if not row.summary.running and row.sown(wording)], _NOT_WEIGHED),
    )
    for of_reason, message in reasons:
        titles = list(dict.fromkeys(row.summary.title for row in of_reason))
        if titles:
            more = len(titles) - LABELS
            named = [*titles[:LABELS], *([tr_n("{n} more", "{n} more", more)] if more > 0 else [])]
            yield tr(message, runs=listed(named))
