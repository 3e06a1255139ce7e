"""The stages in order: ingest → judge → measure → plot → render → write.

The only folder beside `app` that knows all stages. What a run finds unchanged is taken from the last one; each function
here looks for that first, and imports what reads, draws and renders only where something has changed.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Collection
from contextlib import AbstractContextManager, nullcontext
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen.memo import Memo
from sitegen.pipeline.inventory import inventory
from sitegen.pipeline.known import Asked, known_check, known_publication
from sitegen.pipeline.results import Checked, Copied, Published

if TYPE_CHECKING:
    from sitegen.core.facts.tree import Facts
    from sitegen.core.findings.finding import Finding
    from sitegen.core.records.rows import Run
    from sitegen.core.records.setup import Journal
    from sitegen.core.store import Store
    from sitegen.ingest import JournalFiles
    from sitegen.pipeline.digests import Digests
    from sitegen.pipeline.previewing import Previewer

__all__ = [
    "Checked",
    "Copied",
    "Published",
    "copy",
    "facts_of",
    "facts_of_package",
    "previewer",
    "public",
    "publish",
    "validate",
]


def _nothing() -> None:
    pass


def validate(root: Path, today: date) -> Checked:
    """Every finding that reading and judging give."""
    with Memo.open() as memo:
        asked = Asked(("validate",), root, today, inventory(root), memo)
        known = known_check(asked)
        if known is not None:
            return known
        from sitegen.pipeline.checking import checked  # noqa: PLC0415 - only where something has changed

        return checked(asked)


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

    `jobs` processes work at once (0: one a core); `fresh` takes nothing from earlier runs; `progress` is told how many of
    how many experiments are made, `waiting` that another process writes to the same folder.
    """
    since = time.time() if fresh else 0.0
    with Memo.open(since=since) as memo:  # until all is written: pages name files that lie in it
        words = ("write", str(output.resolve()) if output else "", str(keep_going))
        asked = Asked(words, root, today, inventory(root), memo)
        known = known_publication(asked)
        if known is not None:
            return known
        from sitegen.pipeline.digests import Digests  # noqa: PLC0415 - only where something has changed

        digests = Digests(root, asked.found, memo)
        with _help(digests, jobs):
            from sitegen.pipeline.publishing import Wishes, published  # noqa: PLC0415 - as above

            return published(asked, digests, Wishes(output, keep_going, jobs, since, progress, waiting))


def _help(digests: Digests, jobs: int) -> AbstractContextManager[None]:
    """Another process to draw, which gets ready at once, where this one will make the few experiments that changed."""
    from sitegen.pipeline.crew import FEW, cores  # noqa: PLC0415 - only where something has changed
    from sitegen.pipeline.easel import drawn_aside  # noqa: PLC0415 - as above

    few = 0 < len(digests.touched()) < FEW
    return drawn_aside() if few and (jobs or cores()) > 1 else nullcontext()


def copy(
    root: Path,
    today: date,
    experiment: str,
    *,
    output: Path | None = None,
    fresh: bool = False,
    waiting: Callable[[], None] = _nothing,
) -> Copied:
    """One experiment's page as a folder that stands alone; see `sitegen.pipeline.copying`."""
    from sitegen.pipeline.copying import copied  # noqa: PLC0415 - other commands do without

    with Memo.open(since=time.time() if fresh else 0.0) as memo:
        return copied(root, today, experiment, output, memo, waiting)


def public(run: Run, today: date) -> bool:
    """Whether a run is published by a day: drafts are not, and `publish` holds back until its date."""
    return not run.setup.draft and (run.setup.publish is None or run.setup.publish <= today)


def previewer(root: Path, today: date, store: Store) -> Previewer:
    """What looks at a journal while it is being written; see `sitegen.pipeline.previewing`."""
    from sitegen.pipeline.previewing import Previewer  # noqa: PLC0415 - other commands do without

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
