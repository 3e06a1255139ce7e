"""The stages in order: ingest → judge → measure → plot → render → write.

The only folder beside `app` that knows all stages. Each function looks for an unchanged result of the last command
first, and imports the modules that read, draw and render only where something has changed.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Collection
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen.memo import Memo
from sitegen.pipeline.files import inventory
from sitegen.pipeline.results import Checked, Copied, Published
from sitegen.pipeline.unchanged import Command, stored_check, stored_publication

if TYPE_CHECKING:
    from sitegen.core.facts.tree import Facts
    from sitegen.core.findings.finding import Finding
    from sitegen.core.records.setup import Journal
    from sitegen.core.store import Store
    from sitegen.ingest import JournalFiles
    from sitegen.pipeline.preview import Previewer

__all__ = [
    "Checked",
    "Copied",
    "Published",
    "copy",
    "facts_of",
    "facts_of_package",
    "previewer",
    "publish",
    "validate",
]


def _nothing() -> None:
    pass


def validate(root: Path, today: date) -> Checked:
    """Every finding that reading and judging give."""
    with Memo.open() as memo:
        command = Command(("validate",), root, today, inventory(root), memo)
        stored = stored_check(command)
        if stored is not None:
            return stored
        from sitegen.pipeline.validation import checked  # noqa: PLC0415 - only where something has changed

        return checked(command)


def publish(
    root: Path,
    today: date,
    *,
    output: Path | None = None,
    keep_going: bool = False,
    jobs: int = 0,
    fresh: bool = False,
    progress: Callable[[int, int], None] = lambda _done, _of: None,
    waiting: Callable[[], None] = _nothing,
) -> Published:
    """The whole line. Errors keep everything back; with `keep_going`, only the experiments that have them.

    `jobs` processes work at once (0: one a core); `fresh` takes nothing from earlier builds; `progress` is told how
    many of how many experiments are rendered, `waiting` that another process writes to the same folder.
    """
    since = time.time() if fresh else 0.0
    # Open until all is written: pages name photo files that lie in the memo's folder.
    with Memo.open(since=since) as memo:
        words = ("write", str(output.resolve()) if output else "", str(keep_going))
        command = Command(words, root, today, inventory(root), memo)
        stored = stored_publication(command)
        if stored is not None:
            return stored
        from sitegen.pipeline.publication import Options, published  # noqa: PLC0415 - only where something has changed

        return published(command, Options(output, keep_going, jobs, since, progress, waiting))


def copy(
    root: Path,
    today: date,
    experiment: str,
    *,
    output: Path | None = None,
    fresh: bool = False,
    waiting: Callable[[], None] = _nothing,
) -> Copied:
    """One experiment's page as a folder that stands alone; see `sitegen.pipeline.standalone`."""
    from sitegen.pipeline.standalone import copied  # noqa: PLC0415 - other commands do without

    with Memo.open(since=time.time() if fresh else 0.0) as memo:
        return copied(root, today, experiment, output, memo, waiting)


def previewer(root: Path, today: date, store: Store) -> Previewer:
    """Builds a journal in memory again and again while it is being written; see `sitegen.pipeline.preview`."""
    from sitegen.pipeline.preview import Previewer  # noqa: PLC0415 - other commands do without

    return Previewer(root, today, store)


def facts_of(
    root: Path, wanted: Collection[str], today: date
) -> tuple[JournalFiles | None, tuple[Facts, ...], tuple[Finding, ...]]:
    """The facts of the experiments named (none: of all) that are sound, drafts included."""
    from sitegen.pipeline.facts import facts_of_journal  # noqa: PLC0415 - other commands do without

    with Memo.open() as memo:
        return facts_of_journal(root, wanted, today, memo)


def facts_of_package(path: Path) -> tuple[Journal | None, Facts | None, tuple[Finding, ...]]:
    """The facts of a run that was written as a Data Package, and the journal whose words they are said in."""
    from sitegen.pipeline.facts import facts_of_files  # noqa: PLC0415 - other commands do without

    return facts_of_files(path)
