"""The charts' layers compiled to the Vega specifications that `plot` draws from.

In: the layers that charts declare. Out: one specification for each family of charts and frame, with named data that
are yet to come and with signals for the ends of the scales. Imported by hand and by tests, never while a site is
written.
"""

from __future__ import annotations

import json
from pathlib import Path

from sitegen.core.site.chart import FRAMES
from sitegen.plot.charts import chart_types
from sitegen.plot.definitions.compiling import vega
from sitegen.plot.definitions.layers import definition

__all__ = ["FOLDER", "compiled"]

FOLDER = Path(__file__).parent.parent / "specs"


def compiled() -> dict[str, str]:
    """File name and text of every specification."""
    layers = {chart.specification: chart.layers for chart in chart_types()}
    return {
        f"{name}-{frame.name}.json": json.dumps(vega(definition(own, frame)), indent=1, sort_keys=True) + "\n"
        for name, own in layers.items()
        for frame in FRAMES
    }
