"""Many drawings laid out in one call.

References
----------
vl-convert, given each specification alone.

"""

from __future__ import annotations

from typing import Any

import pytest
import vl_convert

from sitegen.core.facts.tree import Facts
from sitegen.core.site.chart import FRAMES, WIDE
from sitegen.plot import charts_with_data
from sitegen.plot.drawing.draw import filled
from sitegen.plot.drawing.layout import Specification, laid_out
from tests.plot.builders import say, two_tubs, whole_run


def specifications(run: Facts, frames: tuple[Any, ...] = FRAMES) -> list[Specification]:
    """Those of all charts of a run."""
    found = charts_with_data(run, "metric", say)
    return [filled(chart.specification, data, run.axis, frame) for chart, data in found for frame in frames]


@pytest.mark.parametrize("run", [whole_run(), two_tubs()], ids=["one tub", "two tubs"])
def test_together_they_are_as_each_alone(run: Facts) -> None:
    """The same marks with the same items, in the same order."""
    asked = specifications(run)
    for spec, marks in zip(asked, laid_out(asked), strict=True):
        graph = vl_convert.vega_to_scenegraph(spec, allowed_base_urls=[])
        (frame,) = graph["scenegraph"]["items"]
        alone = frame["items"]

        assert [mark["name"] for mark in marks] == [mark["name"] for mark in alone]
        for mark, expected in zip(marks, alone, strict=True):
            assert mark["marktype"] == expected["marktype"]
            assert mark["items"] == expected["items"], mark["name"]


def test_what_is_defined_alike_is_compiled_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Scales, days and names of lines are the same marks in all charts, and most of a chart's own in both frames."""
    compiled: list[int] = []
    real = vl_convert.vega_to_scenegraph

    def counted(spec: Specification, **options: Any) -> Any:
        compiled.append(len(spec["marks"]))
        return real(spec, **options)

    monkeypatch.setattr(vl_convert, "vega_to_scenegraph", counted)
    one_frame, both = specifications(whole_run(), (WIDE,)), specifications(whole_run())
    laid_out(one_frame)
    laid_out(both)
    in_one, in_both = compiled

    assert in_one < sum(len(spec["marks"]) for spec in one_frame) / 2
    assert in_both <= in_one + 4, "those whose lines are thinner in the narrow frame"


def test_nothing_is_laid_out_of_nothing() -> None:
    """The library is not asked."""
    assert laid_out([]) == []
