"""The summary of an experiment for other pages.

In: facts, and the pictures of the run. Out: `RunSummary`: plain data, made once for every experiment, so that index pages
and feeds need nothing else of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from sitegen.core.facts.across import Condition, RunArms
from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Facts, Phase
from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import listed
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Stage
from sitegen.core.records.setup import Setup
from sitegen.core.site.addresses import experiment_page
from sitegen.core.site.content import Picture
from sitegen.core.values.day import Day, DayAxis, Start
from sitegen.render.story.arms.short_answer import short_answer
from sitegen.render.story.days.gallery import captioned, gallery_of
from sitegen.render.story.evidence.outlook_words import claim_sentence
from sitegen.render.story.result import (
    Headlines,
    headlines,
    picked_part,
    result_sentence,
    run_length,
    state_sentence,
)
from sitegen.render.story.run_sentences import Sentence, verdict_words
from sitegen.render.story.stage_words import planned_sentence, remembered_result, sown, to_be_sown


@dataclass(frozen=True, slots=True)
class RunSummary:
    """One experiment as a list shows it. Its set-up is without what only the experiment's own page says.

    `part` is what was picked, as `picked_part` has it; of its pictures it has the latest, without texts of the site.
    """

    setup: Setup
    axis: DayAxis
    stage: Stage
    phases: tuple[Phase, ...]
    figures: Headlines
    part: str | None
    picture: Picture | None = None
    ended: Day | None = None
    arms: RunArms | None = None

    @property
    def id(self) -> str:
        """The experiment's id."""
        return self.setup.id

    @property
    def title(self) -> str:
        """The experiment's title."""
        return self.setup.title

    @property
    def address(self) -> str:
        """The experiment's own page."""
        return experiment_page(self.setup.id)

    @property
    def running(self) -> bool:
        """Whether its log has no end yet."""
        return self.stage == "running"

    @property
    def logged(self) -> bool:
        """Whether it is told by a log, and has figures."""
        return self.stage in ("running", "ended")

    @property
    def variety(self) -> str:
        """The varieties grown, in words."""
        return variety_words(self.setup)

    @property
    def system(self) -> str:
        """The systems used, in words."""
        return listed(list(dict.fromkeys(tub.system.name for tub in self.setup.tubs)))

    @property
    def started(self) -> date:
        """The date that lists are sorted by; without one, before all others."""
        return self.setup.start.date or date.min

    @property
    def result(self) -> Sentence:
        """What it gave; of a run to come nothing beside its question."""
        if self.stage == "planned":
            return Sentence(() if self.text else (tr("Planned."),))
        answer = self.setup.answer
        if self.setup.from_memory is not None or not (answer and answer.result):
            return self._given
        return self._given.led_by(answer.result)

    @property
    def answer(self) -> Sentence:
        """Its answer in a sentence, the author's where there is one; of a run to come nothing beside its question."""
        return self.result if self.stage == "planned" else short_answer(self.setup, self._given, self.arms)

    @property
    def _given(self) -> Sentence:
        """What it gave as a whole."""
        if self.setup.from_memory is not None:
            return Sentence((remembered_result(self.setup),))
        return result_sentence(self.figures, self.part, len(self.setup.plants), running=self.running)

    def in_words(self, wording: Wording) -> str:
        """What it gave, or when it is to begin, as one text."""
        if self.stage == "planned":
            return planned_sentence(self.setup.start, wording)
        return self.result.plain(wording)

    def pictures(self, wording: Wording) -> tuple[Picture, ...]:
        """The latest picture, where there is one, with its texts."""
        latest = () if self.picture is None else (self.picture,)
        return captioned(latest, self.setup, wording.say)

    def pictured(self, picture: Picture, wording: Wording) -> str:
        """The caption of its picture with the date: `Day 119, 21 November 2026`."""
        day = picture.day
        when = self.axis.start.date_of(day.first) if day and day.single and not day.about else None
        return ", ".join(filter(None, (picture.caption, wording.calendar_day(when) if when else "")))

    def when(self, wording: Wording, *, year: bool = False) -> str:
        """When it was sown, or is to be; with the year where seasons stand side by side."""
        if self.stage == "planned":
            return to_be_sown(self.setup.start, wording)
        return sown(self.setup.start, wording, year=year, remembered=self.setup.from_memory is not None)

    def state(self, wording: Wording) -> str:
        """How long it ran, or how far it is."""
        if self.stage == "planned":
            return tr("Planned")
        if self.setup.from_memory is not None:
            return tr("From memory")
        return state_sentence(self.figures, self.axis, wording, running=self.running)

    def dates(self, wording: Wording) -> str:
        """From when to when it ran."""
        if not self.logged:
            return self.when(wording)
        if self.axis.start.date_of(0) is None:
            return tr("dates not recorded")  # its length stands beside it
        return run_length(self.axis, wording, running=self.running)

    @property
    def lesson(self) -> str:
        """The author's verdict in a sentence, once there is one."""
        return verdict_words(self.setup.answer)

    @property
    def next(self) -> Sentence | None:
        """The first pick by the days claimed for the seed, with who claimed them, while nothing was picked."""
        return claim_sentence(self.figures, running=self.running)

    @property
    def text(self) -> str:
        """The question, until it ends."""
        return self.setup.question if self.stage in ("planned", "running") else ""


@dataclass(frozen=True, slots=True)
class EarlierRun:
    """What the page of a later run of its crop shows of a run, and nothing beside that.

    `conditions` are those that two runs are compared by.
    """

    id: str
    title: str
    start: Start
    conditions: tuple[Condition, ...] = ()

    @property
    def address(self) -> str:
        """The experiment's own page."""
        return experiment_page(self.id)

    def when(self, wording: Wording, *, year: bool = False) -> str:
        """When it was sown; with the year where seasons stand side by side."""
        return sown(self.start, wording, year=year)


def earlier_run(summary: RunSummary) -> EarlierRun:
    """A run that has a log, as the page of a later one shows it."""
    conditions = summary.arms.conditions if summary.arms else ()
    compared = tuple(each for each in conditions if each.code != "variety")
    return EarlierRun(summary.id, summary.title, summary.setup.start, compared)


def variety_words(setup: Setup) -> str:
    """The varieties grown, as one text."""
    return listed([setup.variety_name(variety) for variety in setup.variety_ids])


def summary_of(facts: Facts, pictures: tuple[Picture, ...] = (), arms: RunArms | None = None) -> RunSummary:
    """The summary of one experiment; `arms` is the run as others are compared with it."""
    figures = headlines(facts)
    return RunSummary(
        setup=_listed_setup(facts.run.setup),
        axis=facts.axis,
        stage=facts.run.stage,
        phases=tuple(replace(phase, source=None) for phase in facts.timeline.phases),
        figures=Headlines(*(_bare(getattr(figures, name)) for name in Headlines.__slots__)),
        part=picked_part(facts),
        picture=gallery_of(pictures).latest,
        ended=facts.run.ended.day if facts.run.ended else None,
        arms=arms,
    )


def _listed_setup(setup: Setup) -> Setup:
    """A set-up with what other pages say of it, and no places in files: those move with every line that is written."""
    plants = tuple(replace(plant, source=setup.source) for plant in setup.plants)
    return replace(
        setup, plants=plants, spans=(), products=(), before="", disclosure="", groups=(), seed=None, shares=()
    )


def _bare(figure: Figure) -> Figure:
    """A figure without the lines that went in: only its own page names them."""
    return replace(figure, rows=())
