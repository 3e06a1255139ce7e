"""Words for runs without a log, planned or told from memory, and for numbers of runs with them.

In: the set-up of a run, or summaries. Out: plain text. A date to come is said as it was written, never as a distance
from today; what is remembered is said as the author wrote it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import in_words, listed
from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Stage
from sitegen.core.records.setup import Memory, Setup
from sitegen.core.values.day import Start


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


def sown(start: Start, wording: Wording, *, year: bool = False, remembered: bool = False) -> str:
    """`sown 14 Sep`, `sown in 2023`: as much of the date as is known; `year` where it is said of every date."""
    when, precision = start.date, start.precision
    if when is None:
        return tr("date of sowing not known") if remembered else tr("date of sowing not recorded")
    if precision == "year":
        return tr("sown in {year}", year=when.year)
    if precision == "month":
        return tr("sown in {month}", month=wording.month(when))
    said = wording.calendar_day if year else wording.day_of_year
    return tr("sown {date}", date=said(when, short=True))


def remembered_result(setup: Setup) -> str:
    """What came of a run told from memory, as one sentence in the author's words."""
    memory = setup.from_memory
    if setup.answer and setup.answer.result:
        return setup.answer.result
    if memory is None or not memory.harvest_text:
        return tr("What came of it is not known.")
    return tr("What came of it: {harvest}.", harvest=memory.harvest_text.rstrip("."))


def remembered_plants(memory: Memory, wording: Wording) -> str:
    """`6`, `about 4`, or that their number is not known."""
    return wording.say(memory.plants) if memory.plants else tr("number not known")


def counted_runs(stages: Iterable[Stage]) -> list[str]:
    """`4 runs`, `1 from memory`, `1 planned`."""
    logged, remembered, planned = _numbers(Counter(stages))
    said = [tr_n("{n} run", "{n} runs", logged)] if logged else []
    said += [tr_n("{n} from memory", "{n} from memory", remembered)] if remembered else []
    return said + ([tr_n("{n} planned", "{n} planned", planned)] if planned else [])


def runs_in_words(stages: Iterable[Stage]) -> str:
    """`four runs, one from memory and one planned`."""
    logged, remembered, planned = _numbers(Counter(stages))
    said = [tr_n("{number} run", "{number} runs", logged, number=in_words(logged))] if logged else []
    if remembered:
        number = in_words(remembered)
        said.append(tr_n("{number} from memory", "{number} from memory", remembered, number=number))
    if planned:
        said.append(tr_n("{number} planned", "{number} planned", planned, number=in_words(planned)))
    return listed(said)


def _numbers(counts: Counter[Stage]) -> tuple[int, int, int]:
    """How many have a log, are told from memory, are planned."""
    return counts["running"] + counts["ended"], counts["from memory"], counts["planned"]
