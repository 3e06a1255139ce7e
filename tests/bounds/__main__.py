"""`python -m tests.bounds [validate|write] [PART OF A NAME]`: seconds, memory and the first finding of each input."""

from __future__ import annotations

import sys

import sitegen.app.console.report
import sitegen.pipeline.checks.validation
import sitegen.pipeline.publishing.publication  # noqa: F401 - imported once, before the processes are forked
from tests.bounds.inputs import INPUTS
from tests.bounds.measured import measured


def main(command: str = "validate", *parts: str) -> None:
    """Print a line for each input."""
    for name in INPUTS:
        if not parts or any(part in name for part in parts):
            found = measured(name, command)
            mark = (
                "*"
                if found.seconds > 2 or found.megabytes > 500 or found.said.startswith(("!", "e"))
                else " "
            )
            print(
                f"{mark} {found.seconds:6.2f} s {found.megabytes:6.0f} MB  {name:<40} {found.said}",
                flush=True,
            )


main(*sys.argv[1:])
