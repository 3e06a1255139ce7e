"""How fast charts are drawn, against the drawing library alone: `python -m tests.bench.charts`.

In: the tests' invented run. Out: drawings a second of both, and their ratio, on standard output. Both draw the same
filled specifications in turns, so that a busy machine slows the one as it does the other.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import partial
from statistics import median
from time import perf_counter
from typing import Any

import vl_convert

from sitegen.core.site.chart import FRAMES
from sitegen.plot import charts_with_data
from sitegen.plot.drawing.draw import ToDraw, drawn, filled
from tests.bench.floor import sized
from tests.plot.builders import say, whole_run

ROUNDS = 15
TARGET = 0.9


def timed(work: Callable[[], object]) -> float:
    """Seconds that it takes once."""
    begun = perf_counter()
    work()
    return perf_counter() - begun


def one_round(jobs: list[ToDraw], specifications: list[dict[str, Any]]) -> tuple[float, float]:
    """Seconds for all drawings by the library alone, one after another, and by ours, which are laid out together."""
    draw = partial(vl_convert.vega_to_svg, allowed_base_urls=[])
    return timed(lambda: list(map(draw, specifications))), timed(partial(drawn, jobs))


def main() -> int:
    """Draw everything in turns; a status of 1 where the ratio misses its target."""
    run = whole_run()
    found = charts_with_data(run, "metric", say)
    jobs = [ToDraw(chart.specification, data, run.axis) for chart, data in found]
    specifications = [sized(filled(*job, frame)) for job in jobs for frame in FRAMES]
    one_round(jobs, specifications)  # the first drawing starts the library
    rounds = [one_round(jobs, specifications) for _ in range(ROUNDS)]
    ratio = median(one / other for one, other in rounds)
    alone, whole = (len(specifications) / median(times) for times in zip(*rounds, strict=True))
    print(f"library alone {alone:.0f} drawings/s, charts {whole:.0f} drawings/s, ratio {ratio:.2f}")
    return 0 if ratio >= TARGET else 1


if __name__ == "__main__":
    sys.exit(main())
