"""`sitegen facts --compare` and `--crop`: several runs of one crop beside one another, as text or as JSON.

In: `RunArms` of kept summaries. Out: text on stdout: the runs, what counts once, what may be said of each pair of
varieties and systems with its working, and what else differed from run to run.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sitegen.app.console.status import Status
from sitegen.app.options import report, unknown_run
from sitegen.core.language.text import did_you_mean, plural

if TYPE_CHECKING:
    import datetime as dt

    from sitegen.core.facts.across import Comparison, Contrast, Differed, Measure, RunArms
    from sitegen.core.language.wording import Wording

COMPARISON_FORMAT = 1


def compare_runs(root: Path, wanted: Sequence[str], crop: str, today: dt.date, *, as_json: bool) -> int:
    """Compare the runs named (none: all) of one crop; 1 where a run has errors."""
    from sitegen.core.language.wording import Wording  # noqa: PLC0415 - `--help` does without
    from sitegen.pipeline.facts import arms_of_runs  # noqa: PLC0415 - as above

    found = arms_of_runs(root, wanted, crop, today)
    report([f for f in found.findings if f.is_error], root)
    if found.journal_files is None:
        return Status.ERRORS
    journal = found.journal_files.journal
    _refuse(wanted, crop, [f.id for f in found.journal_files.folders], found.crops, found.arms)
    shown = _Shown.of(found.arms, found.names, Wording(journal.units, journal.language))
    if as_json:
        click.echo(json.dumps(shown.data(), indent=1, ensure_ascii=False))
    else:
        click.echo("\n".join(shown.lines()))
    return Status.ERRORS if any(f.is_error for f in found.findings) else Status.DONE


def _refuse(
    wanted: Sequence[str], crop: str, known: Sequence[str], crops: Sequence[str], arms: Sequence[RunArms]
) -> None:
    for name in wanted:
        if name not in known:
            raise unknown_run(name, known)
    if crop and crop not in crops:
        raise click.UsageError(f"there is no crop `{crop}`: {did_you_mean(crop, crops)}")
    several = sorted({run.crop for run in arms})
    if len(several) > 1:
        raise click.UsageError(
            f"runs of one crop can be compared, not of {', '.join(several)}: name one with `--crop`"
        )


_MEASURES: dict[Measure, str] = {
    "per_spot": "harvest per spot",
    "square_metre": "harvest for the floor space used",
    "total": "harvest",
    "emergence": "day of the first seedling",
    "stage": "day of the stage that matters for the kind of crop",
    "first_pick": "day of the first pick",
}


@dataclass(frozen=True, slots=True)
class _Shown:
    """A comparison as it is printed."""

    found: Comparison
    names: dict[str, str]
    wording: Wording

    @classmethod
    def of(cls, arms: Sequence[RunArms], names: dict[str, str], wording: Wording) -> _Shown:
        from sitegen.measure import ACROSS  # noqa: PLC0415 - `--help` does without

        return cls(ACROSS.compare(arms), names, wording)

    # text

    def lines(self) -> Iterator[str]:
        yield f"{plural(len(self.found.runs), 'run')}, of which {len(self.found.units)} independent"
        for run in self.found.runs:
            yield from self._run(run)
        for contrast in self.found.contrasts:
            yield ""
            yield from self._contrast(contrast)
        for earlier, run in pairwise(self.found.runs):
            yield from self._differed(run, earlier)

    def _run(self, run: RunArms) -> Iterator[str]:
        notes = [note for note in (self._once(run), "still growing" if run.running else "") if note]
        yield f"  {run.run}: {run.title}" + (f" ({', '.join(notes)})" if notes else "")
        for arm in run.of_role("row"):
            best = any((name, key) == (run.run, arm.key) for _, name, key in self.found.best)
            value = self.wording.say(arm.figures.per_spot)
            yield f"    {arm.key or 'whole run'}: {value} per spot" + (", the most" if best else "")

    def _once(self, run: RunArms) -> str:
        if run.run in self.found.left_out:
            return "not counted: no date, and the tub may have been in use"
        if not (run.log and run.arms):
            return "not counted: no log"
        unit = next(unit for unit in self.found.units if run.run in unit.runs)
        return f"counts once with {unit.key}" if unit.key != run.run else ""

    def _contrast(self, contrast: Contrast) -> Iterator[str]:
        first, second = (self.names.get(each, each) for each in (contrast.first, contrast.second))
        yield f"{first} and {second} ({contrast.factor}), by {_MEASURES[contrast.measure]}:"
        said = self._words(contrast)
        yield from (f"  {sentence}" for sentence in said[0])
        yield from (f"    {line}" for line in said[1])

    def _words(self, contrast: Contrast) -> tuple[tuple[str, ...], tuple[str, ...]]:
        from sitegen.render.story.evidence.evidence_words import evidence_words  # noqa: PLC0415 - `--help` does without

        said = evidence_words(contrast, self.found, self.names, self.wording)
        return said.sentences, said.working

    def _differed(self, run: RunArms, earlier: RunArms) -> Iterator[str]:
        from sitegen.render.story.arms.differences import differences  # noqa: PLC0415 - `--help` does without

        found = differences(_differences(run, earlier), self.wording)
        if found:
            yield f"\n{run.run} differs from {earlier.run}:"
        yield from (f"  {sentence}" for sentence in found)

    # JSON

    def data(self) -> dict[str, Any]:
        return {
            "format": COMPARISON_FORMAT,
            "runs": [
                {"experiment": run.run, "title": run.title, "crop": run.crop, "running": run.running}
                for run in self.found.runs
            ],
            "units": [list(unit.runs) for unit in self.found.units],
            "left_out": list(self.found.left_out),
            "best": [{"measure": m, "experiment": run, "arm": key} for m, run, key in self.found.best],
            "contrasts": [self._contrast_data(contrast) for contrast in self.found.contrasts],
            "differed": [
                {
                    "experiment": run.run,
                    "earlier": earlier.run,
                    "in": [each.code for each in _differences(run, earlier)],
                }
                for earlier, run in pairwise(self.found.runs)
            ],
        }

    def _contrast_data(self, contrast: Contrast) -> dict[str, Any]:
        from sitegen.core.facts.data import value_data  # noqa: PLC0415 - one form is imported

        found, difference = contrast.evidence, contrast.evidence.difference
        sentences, working = self._words(contrast)
        return {
            "factor": contrast.factor,
            "first": contrast.first,
            "second": contrast.second,
            "measure": contrast.measure,
            "row": found.row,
            "pairs": [
                {"unit": pair.unit, "first": value_data(pair.first), "second": value_data(pair.second)}
                for pair in contrast.pairs
            ],
            "ahead": dict(found.orders),
            "test": found.test or None,
            "chance": None if found.chance is None else round(float(found.chance), 12),
            "adjusted": None if found.adjusted is None else round(float(found.adjusted), 12),
            "difference": None
            if difference is None
            else {"middle": difference.middle, "low": difference.low, "high": difference.high},
            "sentences": list(sentences),
            "working": list(working),
        }


def _differences(run: RunArms, earlier: RunArms) -> tuple[Differed, ...]:
    from sitegen.measure import ACROSS  # noqa: PLC0415 - `--help` does without

    return ACROSS.differed(run.conditions, earlier.conditions)
