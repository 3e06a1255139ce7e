"""The experiments of a journal by their folders alone, and the one that a word means.

In: the journal's folder, an id or its beginning. Out: `ExperimentFolder`s.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from sitegen.core.files.inside import leads_out
from sitegen.ingest import ExperimentFolder


def experiments(root: Path) -> tuple[ExperimentFolder, ...]:
    """Every folder of a season that may hold an experiment, in the order of seasons and ids; none is opened."""
    return tuple(
        ExperimentFolder(inner.name, season.name, Path(inner.path))
        for season in _folders(root / "seasons", root)
        for inner in _folders(Path(season.path), root)
    )


def _folders(parent: Path, root: Path) -> Iterator[os.DirEntry[str]]:
    """The folders in one that lies in the journal; links that lead out are among them."""
    if leads_out(parent, root):
        return
    try:
        with os.scandir(parent) as found:
            inside = [each for each in found if not each.name.startswith((".", "_")) and each.is_dir()]
    except OSError:
        return
    yield from sorted(inside, key=lambda each: each.name)


def meant_by(word: str, root: Path) -> tuple[ExperimentFolder, ...]:
    """The experiment with an id, else all whose ids begin with it; upper and lower case are the same there."""
    found = experiments(root)
    exact = tuple(each for each in found if each.id == word)
    if exact:
        return exact
    return tuple(each for each in found if each.id.lower().startswith(word.lower()))
