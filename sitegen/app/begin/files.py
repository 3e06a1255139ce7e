"""New files, with the keys of the format as comments.

In: a path and a text, or the name of a table. Out: a file that was not there before; comment lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from sitegen.core.format import TABLES


def write_new(path: Path, text: str) -> None:
    """Write a new file; an existing one is never touched."""
    if path.exists():
        raise click.UsageError(f"`{path}` is already there; nothing was written over")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    click.echo(f"wrote {path}", err=True)


@contextmanager
def held(root: Path) -> Iterator[None]:
    """Nobody else changes the journal meanwhile."""
    from sitegen.cache_folder import lock_folder  # noqa: PLC0415 - as above
    from sitegen.filing.journal_lock import journal_lock  # noqa: PLC0415 - `--help` does without

    with lock_folder() as locks, journal_lock(locks, root):
        yield


def commented(table: str, given: dict[str, str]) -> str:
    """A file with some keys filled in, and the others as comments with their meaning and an example."""
    lines = []
    for field in TABLES[table].fields:
        if field.key in given:
            lines.append(f"{field.key}: {given[field.key]}".rstrip())
        elif field.example:
            lines.append(f"# {field.key}: {field.example}  # {field.about}")
    return "\n".join(lines) + "\n"


def entry_comments() -> str:
    """The keys of an entry of the log, as comments below it."""
    lines = [f"#   {field.key}: {field.example}  # {field.about}" for field in TABLES["entry"].fields]
    return "\n# Keys of an entry:\n" + "\n".join(lines) + "\n"
