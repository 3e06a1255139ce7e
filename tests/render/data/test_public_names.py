"""Names that are not published with the data of a run."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from sitegen.core.findings.source import Source
from sitegen.core.records.files import Export
from sitegen.core.records.rows import Clip, Deed, Reading
from sitegen.core.records.setup import SharedTub, ViewerQuestion
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.render.data.public_names import public_run
from tests.measure.builders import reading
from tests.render.builders import full_run

AT = Source("seasons/one/run/experiment.yaml", 9)
SHEET, SENSOR = (Source(f"seasons/one/run/{name}", 7, 2) for name in ("Anna heights.XLSX", "kitchen.csv"))


def read(source: Source) -> Reading:
    """A height from a spreadsheet."""
    return reading("height", 30, exactly(9, Dimension.LENGTH, 1), ("P1",))._replace(source=source, entry=None)


def test_sheets() -> None:
    """Each spreadsheet has a number in place of its name; the line in it stays, and what the log says too."""
    run = full_run()
    export = Export("air_temperature", "tub", SENSOR, (dt.datetime(2025, 4, 1),), (21.0,), "°C")
    rows = replace(run.rows, readings=(*run.rows.readings, read(SHEET), read(SHEET)), exports=(export,))
    made = public_run(replace(run, rows=rows), lambda _run: True)
    home = run.setup.source.file.rpartition("/")[0]
    folder = f"{home}/" if home else ""

    assert made.rows.readings[: len(run.rows.readings)] == run.rows.readings
    assert [each.source for each in made.rows.readings[-2:]] == [Source(f"{folder}sheet-1.xlsx", 7, 2)] * 2
    assert made.rows.exports == (replace(export, source=Source(f"{folder}sheet-2.csv", 7, 2)),)


def test_footage() -> None:
    """A clip keeps what it shows, its place in the episode and its length; not the name of its file."""
    clip = Clip(
        Deed.CLIP, full_run().rows.events[0].day, 0, AT, what="the cut", file="anna.mov", at=10, length=12
    )
    run = full_run()
    made = public_run(replace(run, rows=replace(run.rows, events=(clip,))), lambda _run: True)

    assert made.rows.events == (clip._replace(file=""),)


def test_other_runs_and_viewers() -> None:
    """A run that is held back is not named, one that is published is; what viewers asked is not data."""
    run = full_run()
    shares = tuple(SharedTub("tub", name, AT) for name in ("known", "secret"))
    asked = (ViewerQuestion("Did the roots smell?", "No.", AT),)
    setup = replace(run.setup, shares=shares, viewer_questions=asked)
    made = public_run(replace(run, setup=setup), lambda name: name == "known")

    assert [share.run for share in made.setup.shares] == ["known", "another-run"]
    assert made.setup.viewer_questions == ()
    assert public_run(run, lambda _run: True) == run
