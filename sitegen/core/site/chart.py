"""A drawn chart, and the frame that all drawings of an experiment share.

In: nothing. Out: `Chart` (two drawings and the data as a table), `lead_of` (which of them leads a page), `missing_chart`,
and `Frame`: the positions of day 0 and the last day as shares of the width, so that HTML can align a strip with the same
axis. Never draws.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from sitegen.core.language.text import did_you_mean
from sitegen.core.values.day import DayAxis

# Every chart that an experiment can have, in the order of the page.
CHARTS = (
    "height",
    "milestones",
    "harvest",
    "water",
    "feed",
    "ec",
    "ph",
    "light",
    "ppfd",
    "temperature",
    "humidity",
    "vpd",
)


@dataclass(frozen=True, slots=True)
class Frame:
    """One width of charts.

    `start` and `end` are the empty shares of the width left of day 0 and right of the axis's last day;
    `most_days` is the largest number of labelled days, `text` the size of labels.
    """

    name: str
    width: int
    start: float
    end: float
    most_days: int
    text: int

    @property
    def left(self) -> float:
        """The position of day 0, in units of the drawing."""
        return self.width * self.start

    @property
    def right(self) -> float:
        """The empty width right of the last day, in units of the drawing."""
        return self.width * self.end

    @property
    def inner(self) -> float:
        """The width from day 0 to the last day, in units of the drawing."""
        return self.width - self.left - self.right

    @property
    def insets(self) -> tuple[float, float]:
        """What lies before day 0 and after the last day, in per cent of the width."""
        return round(100 * self.start, 2), round(100 * self.end, 2)

    def x(self, axis: DayAxis, day: float) -> float:
        """The position of a day, from the left edge of the drawing."""
        return self.width * (self.start + (1.0 - self.start - self.end) * axis.share(day))


WIDE = Frame("wide", 760, start=0.0625, end=0.025, most_days=10, text=13)
NARROW = Frame("narrow", 360, start=0.1, end=8 / 360, most_days=6, text=14)
FRAMES = (WIDE, NARROW)


@dataclass(frozen=True, slots=True)
class Table:
    """The data behind a chart, as text with its flags."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing of a chart: its size, its plot's upper left corner, and the SVG elements of each layer, by name.

    The `svg` element around it is written where it is shown: a page names it by a heading, a file by a title.
    """

    width: float
    height: float
    left: float
    top: float
    layers: Mapping[str, str]

    def elements(self) -> str:
        """The SVG elements of all layers, in the order drawn."""
        drawn = "".join(self.layers.values())
        head = (
            f'transform="translate({self.left:g},{self.top:g})" font-family="var(--chart-font)" fill="none"'
        )
        return f"<g {head}>{drawn}</g>"


NO_DRAWING = Drawing(0, 0, 0, 0, {})


@dataclass(frozen=True, slots=True)
class Chart:
    """One chart of an experiment: the same data as a wide drawing, a narrow drawing and a table.

    `caption` is what it shows in a sentence or two, `description` that and how to read it. Readings that make no line
    (fewer than three days, or always the same) are not drawn: `said` tells them. `days` are the ends of its axis.
    """

    name: str
    title: str
    description: str
    wide: Drawing
    narrow: Drawing
    table: Table
    caption: str = ""
    said: str = ""
    days: tuple[int, int] = (0, 0)

    @property
    def insets(self) -> tuple[tuple[float, float], ...]:
        """What lies before and after the axis in the wide and in the narrow drawing, in per cent of their width."""
        return tuple(frame.insets for frame in FRAMES)

    @property
    def drawn(self) -> bool:
        """Whether it is a drawing, and not a sentence."""
        return not self.said


_LEADS = ("harvest", "milestones", "height")
_HEADS = ("heading", "flower head")  # cut once: the stages tell more than two days of weights


def lead_of(charts: Iterable[Chart], kind: str) -> Chart | None:
    """The chart that leads the page of a kind of crop: what it is grown for, else how it grew; only drawn ones."""
    drawn = {chart.name: chart for chart in charts if chart.drawn}
    order = sorted(_LEADS, key=lambda name: name == "harvest") if kind in _HEADS else _LEADS
    return next((drawn[name] for name in order if name in drawn), None)


def missing_chart(name: str, drawn: Sequence[str]) -> tuple[str, str]:
    """The message and the mend about a name that is not drawn; a chart without data is told from an unknown name."""
    if name in CHARTS:
        return f"nothing was recorded for the chart `{name}`", "record it in the log, or remove the block"
    return f"`{name}` is not a chart", did_you_mean(name, drawn or CHARTS)
