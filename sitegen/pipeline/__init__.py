"""The stages in order: ingest → judge → measure → plot → render → write.

The only folder beside `app` that knows all stages. `validate` and `publish` look for an unchanged result of the last
command first. Other commands are in modules of their own: `standalone`, `preview`, `facts`.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sitegen.pipeline.results import Checked, Published

__all__ = ["publish", "untold", "validate"]

# Modules that read, draw and render are imported where something has changed, and only there: importing them takes
# ten times as long as finding that nothing has. What finds it is imported by these two functions: other commands
# import modules of this folder, and do without.


def untold(*_: int) -> None:
    """What is told of a command's progress where nobody listens."""


def validate(root: Path, today: date) -> Checked:
    """Every finding of a journal: those of `publish`."""
    from sitegen.memo import Memo  # noqa: PLC0415 - see above
    from sitegen.pipeline.engine.files import inventory  # noqa: PLC0415 - see above
    from sitegen.pipeline.engine.unchanged import Command, stored_check  # noqa: PLC0415 - see above

    with Memo() as memo:
        command = Command(("validate",), root, today, inventory(root), memo)
        stored = stored_check(command)
        if stored is not None:
            return stored
        from sitegen.pipeline.checks.validation import checked  # noqa: PLC0415 - see above

        return checked(command)


def publish(
    root: Path,
    today: date,
    *,
    output: Path | None = None,
    keep_going: bool = False,
    jobs: int = 0,
    fresh: bool = False,
    progress: Callable[[int, int], None] = untold,
    waiting: Callable[[], None] = untold,
) -> Published:
    """The whole line. Errors keep everything back; with `keep_going`, only the experiments that have them.

    `jobs` processes work at once (0: one a core); `fresh` takes nothing from earlier builds; `progress` is told how
    many of how many experiments are rendered, `waiting` that another process writes to the same folder.
    """
    from sitegen.memo import Memo  # noqa: PLC0415 - see above
    from sitegen.pipeline.engine.files import inventory  # noqa: PLC0415 - see above
    from sitegen.pipeline.engine.unchanged import Command, stored_publication  # noqa: PLC0415 - see above

    # Open until all is written: pages name photo files that lie in the memo's folder.
    with Memo(since=time.time() if fresh else 0.0) as memo:
        words = ("write", str(output.resolve()) if output else "", str(keep_going))
        command = Command(words, root, today, inventory(root), memo)
        stored = stored_publication(command)
        if stored is not None:
            return stored
        from sitegen.pipeline.checks.told import told_before  # noqa: PLC0415 - see above
        from sitegen.pipeline.publishing.publication import Options, published  # noqa: PLC0415 - see above

        done = published(command, Options(output, keep_going, jobs, progress, waiting))
        return replace(done, told=told_before(done.findings, root, command.files, memo))
