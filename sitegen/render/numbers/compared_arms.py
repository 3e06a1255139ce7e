"""Arms of runs as rows of tables and drawings: each with its run, and the words that tell it from the others.

In: summaries. Out: `ComparedArm`s, one for each arm that stands for itself, or for a whole run.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.core.facts.across import ArmFigures, ArmStage, ArmSummary
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import listed, tub_words
from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import Setup, System
from sitegen.core.reference.milestones import stage_that_matters
from sitegen.render.pages.summary import RunSummary


@dataclass(frozen=True, slots=True)
class ComparedArm:
    """One arm, with its run."""

    summary: RunSummary
    arm: ArmSummary

    @property
    def key(self) -> tuple[str, str]:
        """The run and the arm, as `Comparison.best` names them."""
        return self.summary.id, self.arm.key

    @property
    def figures(self) -> ArmFigures:
        """The figures of the arm."""
        return self.arm.figures

    @property
    def label(self) -> str:
        """What the arm is called in its run; empty for a whole run."""
        if self.arm.kind == "run":
            return ""
        if self.arm.kind == "tubs":
            return tub_words(self.arm.key)
        return label_words(self.arm.label)

    @property
    def varieties(self) -> str:
        """The varieties of its plants, in words; empty where none is recorded."""
        return listed([self.summary.setup.variety_name(each) for each in self.arm.varieties])

    @property
    def systems(self) -> str:
        """The systems that its plants stood in, in words."""
        return listed([system.name for system in systems_of(self.summary.setup, self.arm)])

    @property
    def stage(self) -> ArmStage | None:
        """The stage by which runs of its kind of crop are compared, where anything is recorded of it."""
        name = stage_that_matters(self.summary.setup.crop.kind)
        return next((stage for stage in self.arm.stages if stage.name == name), None)

    @property
    def state(self) -> str:
        """That its run still grows, is planned or is told from memory; empty where it has ended."""
        words = {
            "running": tr("still growing"),
            "planned": tr("planned"),
            "from memory": tr("from memory"),
        }
        return words.get(self.summary.stage, "")

    def sown(self, wording: Wording) -> str:
        """`Oct 2024`, or the year alone; empty where the date of sowing is not known."""
        when = self.summary.setup.start.date
        if when and self.summary.setup.start.precision == "year":
            return str(when.year)
        return wording.month(when, short=True) if when else ""


def systems_of(setup: Setup, arm: ArmSummary) -> list[System]:
    """The systems that the plants of an arm stood in."""
    known = {tub.system.id: tub.system for tub in setup.tubs}
    return [known[each] for each in arm.systems if each in known]


def compared_arms(summaries: Iterable[RunSummary]) -> tuple[ComparedArm, ...]:
    """The arms of runs, run by run; of one without a log only the run itself."""
    return tuple(ComparedArm(each, arm) for each in summaries for arm in _arms(each))


def _arms(summary: RunSummary) -> tuple[ArmSummary, ...]:
    if summary.arms is None:
        return ()
    return summary.arms.of_role("row") if summary.logged else summary.arms.arms[:1]
