"""Sentences that the pages say of their own accord: short, plain, and true when read alone.

In: facts. Out: `Sentence`, a text with figures in it, so that a page can link each number to its working
and a feed can take the plain words. No sentence claims a cause.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.core.day import Day
from sitegen.core.facts import Facts, Figure, MilestoneFacts, Share
from sitegen.core.quantity import Quantity
from sitegen.core.rows import Deed, Event
from sitegen.core.text import in_words, plural
from sitegen.core.wording import NBSP, Wording, opening

__all__ = [
    "SHARED_WATER",
    "Sentence",
    "coincidences",
    "germination_sentence",
    "milestone_sentences",
    "result_sentence",
    "run_length",
    "state_sentence",
]

SHARED_WATER = (
    "Plants in one tub share water, light and luck. A difference inside one run describes these tubs; "
    "about a variety it says little until other runs agree."
)
NEAR_DAYS = 10  # how long before a milestone a deed is worth standing beside it; common practice, no source


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence in parts; a part is a text or a figure."""

    parts: tuple[str | Figure, ...]

    def plain(self, wording: Wording) -> str:
        """The sentence as text."""
        said = "".join(part if isinstance(part, str) else wording.say(part) for part in self.parts)
        return opening(said)


def _of(*parts: str | Figure) -> Sentence:
    return Sentence(tuple(part for part in parts if part != ""))


def result_sentence(facts: Facts) -> Sentence:
    """What the run gave, or that it gave nothing."""
    harvest = facts.harvest
    if not facts.run.rows.picks and not facts.run.rows.tallies:
        return _nothing_picked(facts)
    note = f"; {harvest.total.note}" if harvest.total.note else ""
    plants = plural(len(facts.run.setup.plants), "plant")
    began = f"{plants} started"
    if not harvest.total.recorded or not _known(harvest.total):
        return _of(f"Something was picked from {began}, and nobody weighed it.")
    return _of(harvest.total, f"{_what(facts)} from {began}{note}.")


def _nothing_picked(facts: Facts) -> Sentence:
    if facts.running:
        return _of("Nothing had been picked by the last entry, on ", facts.last_entry, ".")
    return _of("Nothing was picked from this run, which ended after ", facts.length, ".")


def _known(figure: Figure) -> bool:
    return not isinstance(figure.value, Quantity) or figure.value.known


def _what(facts: Facts) -> str:
    """`of fruit`, where every pick says the same part."""
    parts = {pick.part for pick in facts.run.rows.picks}
    return f" of {parts.pop()}" if len(parts) == 1 and "" not in parts else ""


def state_sentence(facts: Facts, wording: Wording) -> str:
    """How long it ran, or where it stands: true whenever it is read."""
    if not facts.running:
        return opening(wording.say(facts.length))
    day = facts.last_entry.value
    when = facts.axis.start.date_of(day.first) if isinstance(day, Day) else None
    said = [wording.say(facts.last_entry), *([wording.day_of_year(when)] if when else []), "last entry"]
    return opening(", ".join(said))


def run_length(facts: Facts, wording: Wording) -> str:
    """`14 September to 17 November 2025`; days alone where no date is known."""
    start, last = facts.axis.start, facts.axis.last
    first_date, last_date = start.date_of(0), start.date_of(last)
    if first_date is None or last_date is None:
        return f"days{NBSP}0–{last}; the dates were not recorded"
    if facts.running:
        return f"sown {wording.calendar_day(first_date)}"
    same_year = first_date.year == last_date.year
    first = wording.day_of_year(first_date) if same_year else wording.calendar_day(first_date)
    return f"{first} to {wording.calendar_day(last_date)}"


def germination_sentence(facts: Facts) -> Sentence:
    """How many seeds came up."""
    share = facts.germination.share
    if isinstance(share.value, Share):
        return _of("Of the seeds, ", share, " came up.")
    note = f": {share.note}" if share.note else ""
    return _of(f"How many seeds came up is not recorded{note}.")


def milestone_sentences(facts: Facts) -> tuple[Sentence, ...]:
    """For each stage: when it was first seen, by when half the plants had got there, who had not."""
    return tuple(sentence for each in facts.milestones if (sentence := _milestone(each, facts)) is not None)


def _milestone(milestone: MilestoneFacts, facts: Facts) -> Sentence | None:
    if not isinstance(milestone.first.value, Day):
        return _of(f"No plant {milestone.words} by the last look.") if milestone.not_yet else None
    if isinstance(milestone.median.value, Day):
        words, left = milestone.words.replace(" its ", " their "), f"{_left(milestone, facts)}."
        when = "by" if milestone.median.value.single else "at some time in"
        return _of(f"Half the plants {words} {when} ", milestone.median, left)
    return _of(f"The first plant {milestone.words} on ", milestone.first, f"{_left(milestone, facts)}.")


def _left(milestone: MilestoneFacts, facts: Facts) -> str:
    """`; one of five had not at the last look`."""
    share = milestone.share.value
    if not isinstance(share, Share) or share.part == share.whole:
        return ""
    left, when = (
        share.whole - share.part,
        "at its last look" if facts.running else "when it was last looked at",
    )
    return f"; {in_words(left)} of {in_words(share.whole)} had not {when}" if left else ""


def coincidences(facts: Facts, wording: Wording) -> tuple[str, ...]:
    """Things done shortly before a stage was first seen, each with the remark that this shows no cause."""
    firsts = [(m, m.first.value) for m in facts.milestones if isinstance(m.first.value, Day)]
    deeds = facts.run.rows.of(Deed.PRUNE, Deed.TRAIN, Deed.TREAT, Deed.MOVE)
    return tuple(_coincidences(deeds, firsts, wording))


def _coincidences(
    deeds: Iterable[Event], firsts: Iterable[tuple[MilestoneFacts, Day]], wording: Wording
) -> Iterable[str]:
    words = {Deed.PRUNE: "pruning", Deed.TRAIN: "training", Deed.TREAT: "a treatment", Deed.MOVE: "a move"}
    stages = tuple(firsts)
    for deed in deeds:
        near = [(m, day) for m, day in stages if 0 < day.first - deed.day.last <= NEAR_DAYS]
        for milestone, day in near:
            gap = wording.say(_days(day.span_since(deed.day)))
            what = f"{words[deed.deed]} ({deed.what})" if deed.what else words[deed.deed]
            yield (
                f"{opening(wording.say(deed.day))} brought {what}, {gap} before this was first seen: "
                f"{milestone.noun}. One run cannot tell chance from cause."
            )


def _days(span: Day) -> int | str:
    return plural(span.first, "day") if span.single else f"{span.first}–{span.last} days"
