"""One module a chart, or a family of charts: the facts it draws. Each declares its charts in `CHARTS`.

In: nothing. Out: the charts that the modules declare, in the order of the page. A module is found by lying here.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from sitegen.core.site.chart import CHARTS
from sitegen.plot.chart_type import ChartType

__all__ = ["chart_types"]


@cache
def chart_types() -> tuple[ChartType, ...]:
    """Every chart declared, in the order that `core.site.chart` states."""
    modules = [import_module(f"{__name__}.{module.name}") for module in iter_modules(__path__)]
    declared = [chart for module in modules for chart in getattr(module, "CHARTS", ())]
    return tuple(sorted(declared, key=lambda chart: CHARTS.index(chart.name)))
