"""How far two arms lay apart in each earlier run of a crop, by the mean yield of a plant.

In: the set-up of a planned run, the journal. Out: relative differences. Only ended runs count, and yields that are one
number and were not judged by eye. Runs in one tub at the same time count once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import combinations
from statistics import fmean

from sitegen.core.facts.figure import Several
from sitegen.core.facts.indices import PlantSetFacts
from sitegen.core.facts.tree import Facts
from sitegen.core.files.inside import leads_out
from sitegen.core.records.setup import Setup
from sitegen.core.values.quantity import Quantity
from sitegen.ingest import JournalFiles
from sitegen.measure import relative_difference
from sitegen.pipeline.facts import facts_of

Differences = Mapping[tuple[int, int], float]  # of one run, by the places of two arms

MOST_RUNS = 12  # each takes some tenths of a second; a spread is known to a fifth then
_LOG = re.compile(rb"^log:.*\n(?:[ \t#-].*\n|\n)*", re.MULTILINE)
_START = re.compile(rb"^start:\s*(\d{4}-\d{2}\S*)", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Earlier:
    """The differences of earlier runs by their ids; `latest` says that only the latest of them were looked at."""

    differences: Mapping[str, Differences]
    latest: bool = False

    def by_pair(self) -> list[list[float]]:
        """The differences of each pair of arms, one a run."""
        found = self.differences.values()
        pairs = sorted({pair for each in found for pair in each})
        return [[each[pair] for each in found if pair in each] for pair in pairs]


def earlier_differences(
    setup: Setup, arms: Sequence[str], journal_files: JournalFiles, today: date
) -> Earlier:
    """The relative differences in each run of the crop that held two of the arms or more."""
    texts = {
        folder.id: (folder.path / "experiment.yaml").read_bytes()
        for folder in journal_files.folders
        if folder.id != setup.id and not leads_out(folder.path / "experiment.yaml", journal_files.root)
    }
    begun = {
        run: start
        for run, text in texts.items()
        if (start := _may_hold(text, setup.crop.id, arms)) is not None
    }
    latest = sorted(begun, key=begun.__getitem__)[-MOST_RUNS:]
    if not latest:
        return Earlier({})
    _, all_facts, _ = facts_of(journal_files.root, latest, today)
    of_crop = [facts for facts in all_facts if facts.run.setup.crop == setup.crop and not facts.running]
    return Earlier(dict(_differences(of_crop, arms)), len(latest) < len(begun))


def _may_hold(text: bytes, crop: str, arms: Sequence[str]) -> bytes | None:
    """The start of a file whose set-up can name the crop and two of the arms; None of any other, which is not read."""
    set_up = _LOG.sub(b"", text)
    if not _names(set_up, crop) or sum(_names(set_up, arm) for arm in arms) < 2:
        return None
    start = _START.search(set_up)
    return start[1] if start else b""


def _names(text: bytes, name: str) -> bool:
    return re.search(rb"(?<![\w-])" + re.escape(name).encode() + rb"(?![\w-])", text) is not None


def _differences(all_facts: Sequence[Facts], arms: Sequence[str]) -> Iterator[tuple[str, Differences]]:
    seen: set[str] = set()
    for facts in all_facts:
        yields = {place: value for place, arm in enumerate(arms) if (value := _yield(facts, arm)) is not None}
        found = {
            (one, other): relative_difference(yields[one], yields[other])
            for one, other in combinations(yields, 2)
            if yields[one] or yields[other]
        }
        if found and not any(share.run in seen for share in facts.run.setup.shares):
            seen.add(facts.id)
            yield facts.id, found


def _yield(facts: Facts, key: str) -> float | None:
    """The mean yield a plant of an arm [g], where it was weighed."""
    sets = facts.sets
    found = next((each for each in (*sets.by_group, *sets.by_variety, *sets.by_tub) if each.key == key), None)
    return None if found is None else _mean(found)


def _mean(plants: PlantSetFacts) -> float | None:
    """The mean where it is one number that was not judged by eye; fewer than three plants have values instead of one."""
    mean, values = plants.harvest.mean.value, plants.harvest.range.value
    if isinstance(mean, Quantity):
        return mean.low if _measured(mean) else None
    each = values.values if isinstance(values, Several) else (values,)
    if len(each) < len(plants.plants):
        return None
    numbers = [value.low for value in each if isinstance(value, Quantity) and _measured(value)]
    return fmean(numbers) if len(numbers) == len(each) else None


def _measured(value: Quantity) -> bool:
    return value.single and not value.by_eye
