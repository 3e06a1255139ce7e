"""Questions to the author: asked on a terminal, and nowhere else.

In: what is asked, answers to choose from. Out: the answer.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

import click


def on_terminal() -> bool:
    """Whether somebody is there to answer."""
    return sys.stdin.isatty() and sys.stderr.isatty()


def asked(question: str, options: Sequence[str] = (), default: str | None = None) -> str:
    """The answer to a question; one of the options where only these will do."""
    kind = click.Choice(options) if options else None
    answer: str = click.prompt(question, default=default, type=kind, err=True, show_default=bool(default))
    return answer.strip()
