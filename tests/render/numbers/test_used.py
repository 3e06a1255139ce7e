"""The equipment of a run in words."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.site.site_map import SiteMap
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.used import used
from tests.render.builders import facts, full_run


def _light(name: str) -> str:
    """What the page says of a lamp of 60 W that is called so."""
    run = full_run()
    use = LampUse(Lamp("lamp", name, power=exactly(60, Dimension.POWER, 1)))
    tubs = tuple(replace(tub, light=use) for tub in run.setup.tubs)
    rows = replace(run.rows, lights=())
    found = facts(replace(run, setup=replace(run.setup, tubs=tubs), rows=rows))
    items = used(found, FigureBook(Wording(), "experiments/first-physalis.html"), SiteMap())
    (lines,) = [item.lines for item in items if item.name == "Light"]
    return ", ".join(lines).replace("\u00a0", " ")


def test_the_power_of_a_lamp_is_said_once() -> None:
    """A lamp whose name says its power needs no second number; a longer number in a name is another one."""
    assert _light("60 W bar") == "60 W bar"
    assert _light("shelf bar") == "shelf bar, 60 W"
    assert _light("160 W bar") == "160 W bar, 60 W"
