"""Charts: facts in, drawings out.

In: `Facts`, the system of units shown first, and a function that says a quantity in words. Out: `Chart`s,
one for each subject that has data. Definitions are compiled beforehand (`specs/`); Altair is not imported
here. Knows no theme: colours and the font are variables of the page.
"""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.tree import Facts
from sitegen.core.site.chart import Chart
from sitegen.core.store import Store
from sitegen.plot.chart_type import ChartType
from sitegen.plot.charts import chart_types
from sitegen.plot.drawing.drawing import LayOut, both, scene_graph
from sitegen.plot.drawing.picture import Picture
from sitegen.plot.drawing.scale import Units
from sitegen.plot.marks.photos import photo_marks
from sitegen.plot.marks.series import Say

__all__ = ["draw", "pictures", "scene_graph"]


def draw(
    facts: Facts, *, units: Units, say: Say, store: Store | None = None, lay_out: LayOut = scene_graph
) -> tuple[Chart, ...]:
    """Every chart that the facts have data for, in the order of the page. `store` holds drawings made before."""
    charts = []
    for chart, picture in pictures(facts, units, say):
        wide, narrow = both(chart.specification, picture, facts.axis, store, lay_out)
        charts.append(Chart(chart.name, picture.title, picture.description, wide, narrow, picture.table))
    return tuple(charts)


def pictures(facts: Facts, units: Units, say: Say) -> tuple[tuple[ChartType, Picture], ...]:
    """Every chart before it is drawn."""
    photos = photo_marks(facts)
    found = ((chart, chart.picture(facts, units, say)) for chart in chart_types())
    return tuple((chart, replace(picture, photos=photos)) for chart, picture in found if picture)
