"""The result of a run in a sentence, how long it ran or where it stands.

In: the headline figures of a run. Out: `Sentence`s and plain text, alike on the run's own page and in lists.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.facts.figure import Figure, Label
from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.figure_words import label_words, remarks_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.values.day import Day, DayAxis
from sitegen.core.values.quantity import Quantity
from sitegen.render.story.run_sentences import Sentence, filled_sentence


@dataclass(frozen=True, slots=True)
class Headlines:
    """The figures that other pages link to: the experiment's own page always has their working."""

    total: Figure
    first_pick: Figure
    per_spot: Figure
    length: Figure
    share: Figure
    last_entry: Figure
    expected: Figure


def headlines(facts: Facts) -> Headlines:
    """The headlines of one experiment."""
    return Headlines(
        total=facts.harvest.total,
        first_pick=facts.harvest.first_pick,
        per_spot=facts.harvest.per_spot,
        length=facts.length,
        share=facts.germination.share,
        last_entry=facts.last_entry,
        expected=facts.harvest.timing.expected,
    )


def picked_part(facts: Facts) -> str | None:
    """The part that every pick says it is of, empty where they say none or several; None without a harvest."""
    if not facts.run.rows.picks and not facts.run.rows.tallies:
        return None
    parts = {pick.part for pick in facts.run.rows.picks}
    return parts.pop() if len(parts) == 1 else ""


def result_sentence(figures: Headlines, part: str | None, plants: int, *, running: bool) -> Sentence:
    """What the run gave, or that it gave nothing."""
    total = figures.total
    if part is None:
        return _nothing_picked(figures, running=running)
    if not total.recorded or not _known(total):
        return filled_sentence(
            tr_n(
                "Picked from {n} plant, but never weighed.",
                "Picked from {n} plants, but never weighed.",
                plants,
            )
        )
    return filled_sentence(
        _harvest_words(plants, part=bool(part)),
        harvest=total,
        part=label_words(Label(part, "part")) if part else "",
        note=f"; {remarks_words(total.remarks)}" if total.remarks else "",
    )


def _harvest_words(plants: int, *, part: bool) -> str:
    """The message for a harvest, its places but the number of plants not filled."""
    kept = {"harvest": "{harvest}", "part": "{part}", "note": "{note}"}
    if part:
        return tr_n(
            "{harvest} of {part} from {n} plant{note}.",
            "{harvest} of {part} from {n} plants{note}.",
            plants,
            **kept,
        )
    return tr_n(
        "{harvest} from {n} plant{note}.",
        "{harvest} from {n} plants{note}.",
        plants,
        **kept,
    )


def _nothing_picked(figures: Headlines, *, running: bool) -> Sentence:
    if running:
        return filled_sentence(
            tr("Nothing had been picked by the last visit, on {day}."), day=figures.last_entry
        )
    return filled_sentence(tr("The run ended after {length} with nothing picked."), length=figures.length)


def _known(figure: Figure) -> bool:
    return not isinstance(figure.value, Quantity) or figure.value.known


def state_sentence(figures: Headlines, axis: DayAxis, wording: Wording, *, running: bool) -> str:
    """How long it ran, or where it stands: true whenever it is read."""
    if not running:
        return opening(wording.say(figures.length))
    day = figures.last_entry.value
    when = axis.start.date_of(day.first) if isinstance(day, Day) and day.single else None
    said = wording.say(figures.last_entry)
    if when is None:
        return opening(tr("{day}, last visit", day=said))
    return opening(tr("{day}, {date}, last visit", day=said, date=wording.calendar_day(when)))


def run_length(axis: DayAxis, wording: Wording, *, running: bool) -> str:
    """`14 September to 17 November 2025`; days alone where no date is known."""
    first_date, last_date = axis.start.date_of(0), axis.start.date_of(axis.last)
    if first_date is None or last_date is None:
        return tr("days\u00a00–{last}, dates not recorded", last=axis.last)
    if running:
        return tr("sown {date}", date=wording.calendar_day(first_date))
    same_year = first_date.year == last_date.year
    first = wording.day_of_year(first_date) if same_year else wording.calendar_day(first_date)
    return tr("{first} to {last}", first=first, last=wording.calendar_day(last_date))
