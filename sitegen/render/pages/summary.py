"""The summary of an experiment for other pages.

In: facts, and the pictures of the run. Out: `RunSummary`: plain data, made once for every experiment, so that index pages
and feeds need nothing else of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from sitegen.core.facts.across import RunArms
from sitegen.core.facts.figure import Figure
from sitegen.core.facts.tree import Facts, Phase
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import in_words, listed
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Stage
from sitegen.core.records.setup import Setup
from sitegen.core.site.addresses import experiment_page
from sitegen.core.site.content import Picture
from sitegen.core.values.day import Day, DayAxis, Start
from sitegen.render.story.gallery import captioned, gallery_of
from sitegen.render.story.outlook_words import claim_sentence
from sitegen.render.story.result import (
    Headlines,
    headlines,
    picked_part,
    result_sentence,
    run_length,
    state_sentence,
)
from sitegen.render.story.run_sentences import Sentence, verdict_words


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

    def when(self, wording: Wording, *, year: bool = False) -> str:
        """When it was sown, or is to be; with the year where seasons stand side by side."""
        if self.stage == "planned":
            return to_be_sown(self.setup.start, wording)
        return _sown(self.setup, wording, year=year)

    def state(self, wording: Wording) -> str:
        """How long it ran, or how far it is."""
        if self.stage == "planned":
            return tr("Planned")
        return state_sentence(self.figures, self.axis, wording, running=self.running)

    def dates(self, wording: Wording) -> str:
        """From when to when it ran."""
        if not self.logged:
            return self.when(wording)
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
        return "" if self.stage == "ended" else self.setup.question


def counted_runs(runs: Sequence[RunSummary]) -> list[str]:
    """`4 runs`, `1 planned`: how many runs were begun, and how many are to come."""
    planned = sum(each.stage == "planned" for each in runs)
    begun = len(runs) - planned
    said = [tr_n("{n} run", "{n} runs", begun)] if begun else []
    return [*said, *([tr_n("{n} planned", "{n} planned", planned)] if planned else [])]


def runs_in_words(runs: Sequence[RunSummary]) -> str:
    """`four runs and one planned`."""
    planned = sum(each.stage == "planned" for each in runs)
    begun = len(runs) - planned
    said = [tr_n("{number} run", "{number} runs", begun, number=in_words(begun))] if begun else []
    if planned:
        said.append(tr_n("{number} planned", "{number} planned", planned, number=in_words(planned)))
    return listed(said)


def variety_words(setup: Setup) -> str:
    """The varieties grown, as one text."""
    return listed([setup.variety_name(variety) for variety in setup.variety_ids])


def to_be_sown(start: Start, wording: Wording) -> str:
    """`to be sown on 5 March 2026`, of a run that is planned."""
    if start.date is None:
        return tr("to be sown")
    if start.precision == "month":
        return tr("to be sown in {month}", month=wording.month(start.date))
    return tr("to be sown on {date}", date=wording.calendar_day(start.date))


def planned_sentence(start: Start, wording: Wording) -> str:
    """`Planned: to be sown on 5 March 2026`, as a sentence."""
    return tr("Planned: {what}.", what=to_be_sown(start, wording))


def _sown(setup: Setup, wording: Wording, *, year: bool) -> str:
    when = setup.start.date
    if when is None:
        return tr("date of sowing not recorded")
    if setup.start.precision == "month":
        return tr("sown in {month}", month=wording.month(when))
    said = wording.calendar_day if year else wording.day_of_year
    return tr("sown {date}", date=said(when, short=True))


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
