"""What other pages show of an experiment.

In: facts. Out: `Brief`: made once for every experiment, before any page is.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sitegen.core.addresses import experiment_page
from sitegen.core.facts import Facts, Figure
from sitegen.core.rows import Run
from sitegen.core.setup import Setup
from sitegen.core.text import listed
from sitegen.core.wording import Wording
from sitegen.render.sentences import Sentence, result_sentence, state_sentence

__all__ = ["Brief", "brief_of", "headlines", "variety_words"]


@dataclass(frozen=True, slots=True)
class Brief:
    """One experiment as a list shows it."""

    facts: Facts
    title: str
    address: str
    when: str
    state: str
    result: Sentence
    variety: str
    system: str

    @property
    def id(self) -> str:
        """The experiment's id."""
        return self.facts.id

    @property
    def setup(self) -> Setup:
        """The experiment's head."""
        return self.facts.run.setup

    @property
    def run(self) -> Run:
        """The experiment as read."""
        return self.facts.run

    @property
    def started(self) -> date:
        """What lists are sorted by; without a date, before all others."""
        return self.setup.start.date or date.min

    @property
    def text(self) -> str:
        """The question, while it runs."""
        return self.setup.question if self.facts.running else ""


def headlines(facts: Facts) -> tuple[Figure, ...]:
    """The figures that other pages link to: the experiment's own page always has their working."""
    return (
        facts.harvest.total,
        facts.harvest.first_pick,
        facts.harvest.per_spot,
        facts.length,
        facts.germination.share,
        facts.last_entry,
    )


def variety_words(setup: Setup) -> str:
    """The varieties grown, as one text."""
    return listed([setup.variety_name(variety) for variety in setup.variety_ids])


def _sown(setup: Setup, wording: Wording) -> str:
    when = setup.start.date
    if when is None:
        return "date of sowing not recorded"
    if setup.start.precision == "month":
        return f"sown in {wording.month(when)}"
    return f"sown {wording.day_of_year(when, short=True)}"


def brief_of(facts: Facts, wording: Wording) -> Brief:
    """The brief of one experiment."""
    setup = facts.run.setup
    systems = dict.fromkeys(tub.system.name for tub in setup.tubs)
    return Brief(
        facts=facts,
        title=setup.title,
        address=experiment_page(setup.id),
        when=_sown(setup, wording),
        state=state_sentence(facts, wording),
        result=result_sentence(facts),
        variety=variety_words(setup),
        system=listed(list(systems)),
    )
