"""Makes experiments, in several processes where there are many.

In: orders, a bench, where pages go. Out: `Made`, one after another, in the same order. A few are made in this
process: starting others takes as long as making them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen.core.language.catalogue import use_catalogue
from sitegen.memo import Memo
from sitegen.pipeline.crew import FEW, Trade, spread
from sitegen.pipeline.making import Made, make
from sitegen.pipeline.shared import Bench
from sitegen.pipeline.tasks import Task

if TYPE_CHECKING:
    from sitegen.ingest import JournalFiles
    from sitegen.render import RunLink, Theme


@dataclass(frozen=True, slots=True)
class Order:
    """An experiment to be made; of one whose pages are there, only the verdict."""

    task: Task
    judge_only: bool = False


def made_by(
    jobs: int, orders: Sequence[Order], bench: Bench, output: Path, *, keep_going: bool, halted: bool
) -> Iterator[Made]:
    """Each experiment made; after the first error no more pages are, unless work goes on without the broken ones."""

    def halts(made: Made) -> bool:
        return not made.verdict.sound and not keep_going

    if jobs > 1 and len(orders) >= FEW:
        tools = _Tools(bench.journal_files, bench.today, bench.theme, bench.run_links, output, bench.since)
        yield from spread(min(jobs, len(orders)), orders, Trade(_ready, tools, halts), halted=halted)
        return
    for order in orders:
        made = make(order.task, bench, output, judge_only=halted or order.judge_only)
        halted = halted or halts(made)
        yield made


@dataclass(frozen=True, slots=True)
class _Tools:
    """What a process needs to make its own bench."""

    journal_files: JournalFiles
    today: date
    theme: Theme
    run_links: tuple[RunLink, ...]
    output: Path
    since: float


def _ready(tools: _Tools, halted: Callable[[], bool]) -> Callable[[Order], Made]:
    """What another process does with an order."""
    use_catalogue(tools.journal_files.catalogue)
    memo = Memo.open(since=tools.since)
    bench = Bench(tools.journal_files, memo, tools.today, tools.theme, tools.run_links, tools.since)

    def work(order: Order) -> Made:
        return make(order.task, bench, tools.output, judge_only=order.judge_only or halted())

    return work
