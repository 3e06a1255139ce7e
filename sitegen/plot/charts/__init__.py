"""One module for each chart or family of charts; it declares them in `CHARTS`.

In: nothing. Out: the charts that the modules declare, in the order of the page. Every module of this folder is imported.
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
    """Every chart, in the order that `core.site.chart` states.

    Raises
    ------
    LookupError
        Where a name has no declaration, or a declaration no name.

    """
    modules = [import_module(f"{__name__}.{module.name}") for module in iter_modules(__path__)]
    declared = {chart.name: chart for module in modules for chart in getattr(module, "CHARTS", ())}
    if unmatched := declared.keys() ^ set(CHARTS):
        raise LookupError(
            f"named in `core.site.chart` or declared in `plot.charts`, not both: {sorted(unmatched)}"
        )
    return tuple(declared[name] for name in CHARTS)
