"""What the pages of one experiment are made from, before a template is filled.

In: a run, a bench. Out: `Parts`: facts and photos; charts. Which page shows them is not known here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Run
from sitegen.core.site.chart import Chart
from sitegen.ingest import ExperimentFolder
from sitegen.pipeline.easel import drawn_by
from sitegen.pipeline.shared import Bench

if TYPE_CHECKING:
    from sitegen.photos import PhotoSet


@dataclass(frozen=True, slots=True)
class Parts:
    """The facts and photos of one experiment, and what was found in the photos."""

    facts: Facts
    photos: PhotoSet
    faults: tuple[Finding, ...] = ()


def parts_of(folder: ExperimentFolder, run: Run, bench: Bench) -> Parts:
    """The parts of a run."""
    photos, faults = photos_of(folder, run, bench)
    return Parts(facts_of(run, bench), photos, faults)


def facts_of(run: Run, bench: Bench) -> Facts:
    """Everything computed from a run."""
    from sitegen.measure import measure  # noqa: PLC0415 - only where an experiment is made

    return measure(run, bench.journal_files.journal.prices)


def photos_of(
    folder: ExperimentFolder, run: Run, bench: Bench, *, wait: bool = True
) -> tuple[PhotoSet, tuple[Finding, ...]]:
    """The photos of a run, and what was found in them; their files are made later where nobody may wait."""
    from sitegen.photos import Album, prepare, ready, soon  # noqa: PLC0415 - only where an experiment is made

    say, one = bench.context.wording.say, ready if wait else soon
    (photos,), faults = prepare([Album(run, folder.path / "photos")], bench.store, say, one)
    return photos, faults


def charts_of(parts: Parts, bench: Bench) -> tuple[Chart, ...]:
    """Every chart that the facts have data for."""
    from sitegen.plot import draw, scene_graph  # noqa: PLC0415 - only where an experiment is made

    say, units = bench.context.wording.say, bench.journal_files.journal.units
    return draw(parts.facts, units=units, say=say, store=bench.store, lay_out=drawn_by(scene_graph))
