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
from sitegen.core.values.day import DayAxis
from sitegen.plot.charts import climate, feed, harvest, height, light, milestones, readings, water
from sitegen.plot.drawing.drawing import LayOut, both, scene_graph
from sitegen.plot.drawing.picture import Picture
from sitegen.plot.drawing.scale import Units
from sitegen.plot.marks.photos import photo_marks
from sitegen.plot.marks.series import Say

__all__ = ["draw", "pictures", "scene_graph"]

_PICTURES = (
    height.picture,
    milestones.picture,
    harvest.picture,
    water.picture,
    feed.picture,
    readings.ec,
    readings.ph,
    light.picture,
    climate.temperature,
    climate.humidity,
    climate.vpd,
)


def draw(
    facts: Facts, *, units: Units, say: Say, store: Store | None = None, lay_out: LayOut = scene_graph
) -> tuple[Chart, ...]:
    """Every chart that the facts have data for, in the order of the page. `store` holds drawings made before."""
    return tuple(_chart(picture, facts.axis, store, lay_out) for picture in pictures(facts, units, say))


def _chart(picture: Picture, axis: DayAxis, store: Store | None, lay_out: LayOut) -> Chart:
    wide, narrow = both(picture, axis, store, lay_out)
    return Chart(picture.name, picture.title, picture.description, wide, narrow, picture.table)


def pictures(facts: Facts, units: Units, say: Say) -> tuple[Picture, ...]:
    """Every chart before it is drawn."""
    photos = photo_marks(facts)
    found = (picture(facts, units, say) for picture in _PICTURES)
    return tuple(replace(each, photos=photos) for each in found if each is not None)
