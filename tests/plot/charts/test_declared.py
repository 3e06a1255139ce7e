"""The charts that are declared."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

import pytest

from sitegen.core.facts.tree import Facts
from sitegen.core.site.chart import CHARTS
from sitegen.plot import charts, charts_with_data
from sitegen.plot.charts import chart_types
from tests.plot.builders import say, two_tubs, whole_run


def test_every_chart_has_a_place_on_the_page() -> None:
    """What modules declare are the names that a text may ask for, each once and in their order."""
    modules = [import_module(f"{charts.__name__}.{module.name}") for module in iter_modules(charts.__path__)]
    declared = [chart.name for module in modules for chart in vars(module).get("CHARTS", ())]

    assert tuple(chart.name for chart in chart_types()) == CHARTS
    assert sorted(declared) == sorted(CHARTS)


def test_charts_of_one_family_have_the_same_layers() -> None:
    """They share what is compiled of them."""
    layers = {chart.specification: chart.layers for chart in chart_types()}

    assert [chart.layers for chart in chart_types()] == [
        layers[chart.specification] for chart in chart_types()
    ]


@pytest.mark.parametrize("run", [whole_run(), two_tubs()], ids=["one tub", "two tubs"])
def test_rows_are_given_to_declared_layers(run: Facts) -> None:
    """A row under any other name would not be drawn."""
    for chart, data in charts_with_data(run, "metric", say):
        given = {*data.layers, *(name for layers in data.frame_layers.values() for name in layers)}

        assert given <= {layer.name for layer in chart.layers}, chart.name
