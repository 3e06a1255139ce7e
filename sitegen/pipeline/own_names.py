"""The names that a journal defines, for the schemas of its files.

In: a journal's folder, the id of an experiment. Out: `OwnNames`; what cannot be read is left out without a finding, which
`validate` gives.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Protocol

from sitegen.core.format.own_names import OwnNames
from sitegen.core.records.setup import Crop, Setup
from sitegen.ingest import JournalFiles, read_journal, read_records


class _Named(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def name(self) -> str: ...


def names_of(root: Path, experiment: str = "") -> tuple[OwnNames, tuple[str, ...]]:
    """The names of a journal, those of an experiment among them, and the ids of all its experiments."""
    files, _ = read_journal(root)
    if files is None:
        return OwnNames(), ()
    ids = tuple(folder.id for folder in files.folders)
    setup = None
    if experiment in ids:
        run, _ = read_records(files.folder(experiment), files, None)
        setup = run.setup if run is not None else None
    return _names(files, ids, setup), ids


def _names(files: JournalFiles, ids: Iterable[str], setup: Setup | None) -> OwnNames:
    library = files.library
    crops: Iterable[Crop] = library.crops if setup is None else (setup.crop,)
    return OwnNames(
        _by_id(library.crops),
        {name: about for crop in crops for name, about in _by_id(crop.varieties).items()},
        _by_id(library.systems),
        _by_id(library.lamps),
        _by_id(library.meters),
        _by_id(library.products),
        dict.fromkeys(ids, ""),
        dict.fromkeys(setup.plant_ids, "") if setup else {},
        {name: ", ".join(plants) for name, plants in setup.groups} if setup else {},
        {tub.id: tub.system.name for tub in setup.tubs} if setup else {},
        setup.crop.kind if setup else "",
    )


def _by_id(items: Iterable[_Named]) -> dict[str, str]:
    return {item.id: item.name for item in items}
