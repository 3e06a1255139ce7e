"""`sitegen live` in a process of its own."""

from __future__ import annotations

import contextlib
import subprocess
import sys
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

__all__ = ["line_with", "running"]


@contextlib.contextmanager
def running(
    root: Path, today: date, *options: str, closed_input: bool = False, inside: Sequence[str] = ()
) -> Iterator[subprocess.Popen[str]]:
    """`sitegen live`, ended however the test ends; `inside` is a command that starts it elsewhere."""
    arguments = [sys.executable, "-m", "sitegen", "live", str(root), "--today", today.isoformat(), *options]
    if closed_input:
        arguments = ["sh", "-c", 'exec "$@" <&-', "sh", *arguments]
    with subprocess.Popen([*inside, *arguments], stderr=subprocess.PIPE, text=True) as process:
        try:
            yield process
        finally:
            process.kill()


def line_with(process: subprocess.Popen[str], words: str) -> str:
    """The first line of stderr that has these words."""
    assert process.stderr is not None
    return next(line for line in process.stderr if words in line)
