"""That the charts which a recap places have data: known from the facts, without drawing.

In: a run. Out: findings. A recap without such blocks costs nothing; of a run with errors, whose facts cannot be had, only
names that no experiment could have are found.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Run
from sitegen.core.site.blocks import KINDS, Block, blocks_of
from sitegen.core.site.chart import CHARTS, NamedChart, NoChart, chart_named
from sitegen.core.values.quantity import Quantity


def chart_blocks(run: Run, *, sound: bool) -> Iterator[Finding]:
    """A finding for each block whose chart the experiment does not have."""
    asked = [block for block in blocks_of(run) if block.kind == "chart" and block.name]
    if not asked:
        return
    there = tuple(_charts(run)) if sound else ()
    for block in asked:
        if sound or block.name not in CHARTS:
            yield from _missing(block, there)


def _missing(block: Block, charts: Iterable[NamedChart]) -> Iterator[Finding]:
    found = chart_named(charts, block.name)
    if isinstance(found, NoChart):
        yield Finding("unknown-chart", block.at, found.problem, found.help, block.name, KINDS["chart"])


def _charts(run: Run) -> Iterable[NamedChart]:
    """The charts that a run has, not drawn; in which words and units they are said does not matter."""
    from sitegen.measure import measure  # noqa: PLC0415 - only a recap that places charts pays for it
    from sitegen.plot import pictures  # noqa: PLC0415 - as above

    def say(_quantity: Quantity) -> str:
        return ""

    return [chart for chart, _ in pictures(measure(run), "metric", say)]
