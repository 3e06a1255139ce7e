"""New files, with the keys of the format as comments.

In: a path and a text, or the name of a table. Out: a file that was not there before; comment lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import click

from sitegen.core.format import TABLES


def write_new(path: Path, text: str) -> None:
    """Write a new file, whole or not at all; an existing one is never touched."""
    from sitegen.filing.safe_file import replace_file  # noqa: PLC0415 - `--help` does without

    if path.exists():
        raise click.UsageError(f"`{path}` is already there; nothing was written over")
    path.parent.mkdir(parents=True, exist_ok=True)
    replace_file(path, text.encode())
    click.echo(f"wrote {path}", err=True)


def clear_unfinished(root: Path, experiment: str) -> None:
    """Remove the folder that a killed command has left of an experiment, where nothing of an author's lies in it.

    Without its experiment.yaml it would be an error of the journal, and nothing could be begun in it.
    """
    from sitegen.core.files.inside import leads_out  # noqa: PLC0415 - `--help` does without
    from sitegen.filing.safe_file import remove_unfinished  # noqa: PLC0415 - as above

    for folder in root.glob(f"seasons/*/{experiment}"):
        if folder.is_symlink() or leads_out(folder, root) or not folder.is_dir():
            continue
        remove_unfinished(folder / "experiment.yaml")
        with suppress(OSError):  # it holds something
            folder.rmdir()


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
