"""A run with photos, made by hand."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from sitegen.core.findings.source import Source
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.rows import Photo, Rows, Run
from sitegen.core.records.setup import Crop, Plant, Setup, System, Tub
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension

__all__ = ["album", "run"]

HERE = Source("seasons/one/choi/experiment.yaml", 9)


def run(files: tuple[PhotoFile, ...] = (), lines: tuple[Photo, ...] = ()) -> Run:
    """Three plants of pak choi."""
    tub = System("crate", "Crate", "deep water culture", 4, exactly(8000, Dimension.VOLUME, 1000))
    setup = Setup(
        id="choi",
        season="one",
        source=HERE,
        title="Choi in a crate",
        crop=Crop("pak-choi", "Pak choi", "leafy"),
        start=Start(dt.date(2025, 9, 1), "day"),
        plants=tuple(Plant(f"P{n}", n, "tub", "", (), HERE) for n in (1, 2, 3)),
        tubs=(Tub("tub", tub),),
    )
    return Run(setup, Rows(photos=lines), photo_files=files)


def album(
    folder: Path, bodies: dict[str, bytes], files: tuple[PhotoFile, ...] | None = None
) -> tuple[Run, Path]:
    """A folder with these files, and its run."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, body in bodies.items():
        (folder / name).write_bytes(body)
    return run(files or tuple(PhotoFile(name) for name in sorted(bodies))), folder
