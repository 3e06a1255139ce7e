"""`sitegen validate --upgrade`: files of an earlier format rewritten, or with `--diff` shown first."""

from __future__ import annotations

from pathlib import Path

import click


def upgrade_files(root: Path, *, show: bool) -> None:
    """Rewrite files and print which on stderr, or print the difference on stdout."""
    from sitegen.core.language.text import plural  # noqa: PLC0415 - only where something is upgraded
    from sitegen.pipeline.filing.upgrading import upgrade  # noqa: PLC0415 - as above

    found = upgrade(root, write=not show)
    if show:
        click.echo("".join(each.difference for each in found), nl=False)
        return
    for each in found:
        click.echo(f"upgraded {each.place}", err=True)
    click.echo(f"{plural(len(found), 'file')} upgraded", err=True)
