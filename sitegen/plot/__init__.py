"""Charts: drawings made from facts.

In: `Facts`, the system of units shown first, and a function that gives a quantity in words. Out: `Chart`s,
one for each subject that has data; what would be no more than two marks or a level line is told in a sentence instead.
Definitions are compiled beforehand (`specs/`); Altair is not imported
here. No theme is known: colours
and the font are custom properties of the page.
"""

from __future__ import annotations

from sitegen.core.facts.tree import Facts
from sitegen.core.site.chart import NO_DRAWING, Chart, Drawing
from sitegen.core.store import Store
from sitegen.plot.chart_data import ChartData
from sitegen.plot.chart_type import ChartInput, ChartType, QuantityText
from sitegen.plot.charts import chart_types
from sitegen.plot.drawing.draw import ToDraw, drawings
from sitegen.plot.scale import Units

__all__ = ["chart_of", "charts_with_data", "draw"]


def draw(
    facts: Facts,
    *,
    units: Units,
    say: QuantityText,
    sentence: QuantityText | None = None,
    store: Store | None = None,
) -> tuple[Chart, ...]:
    """Every chart that the facts have data for, in the order of the page. `store` holds drawings made before."""
    found = charts_with_data(facts, units, say, sentence)
    asked = [ToDraw(chart.specification, data, facts.axis) for chart, data in found if not data.said]
    drawn = iter(drawings(asked, store))
    charts = []
    for chart, data in found:
        wide, narrow = (NO_DRAWING, NO_DRAWING) if data.said else next(drawn)
        charts.append(chart_of(chart.name, data, wide, narrow, facts.axis.end))
    return tuple(charts)


def chart_of(name: str, data: ChartData, wide: Drawing, narrow: Drawing, last: int = 0) -> Chart:
    """The data of a chart with its drawings; `last` is the last day of the run."""
    days = (data.begins, data.ends or last)
    return Chart(name, data.title, data.description, wide, narrow, data.table, data.caption, data.said, days)


def charts_with_data(
    facts: Facts, units: Units, say: QuantityText, sentence: QuantityText | None = None
) -> tuple[tuple[ChartType, ChartData], ...]:
    """The charts that the facts have data for, in the order of the page, before they are drawn."""
    given = ChartInput(facts, units, say, sentence)
    found = ((chart, chart.data(given)) for chart in chart_types())
    return tuple((chart, data) for chart, data in found if data)
