"""Sentences that the pages say of their own accord: short, plain, and true when read alone.

In: facts; messages whose places are not filled yet. Out: `Sentence`s, in which a page links each number to its
working and of which a feed takes the plain words; plain text where nothing has a working. No sentence claims a cause.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from string import Formatter

from markupsafe import Markup, escape

from sitegen.core.facts.figure import Figure, Share
from sitegen.core.facts.tree import Facts, MilestoneFacts
from sitegen.core.language.catalogue import tr, tr_n, tr_n_noop, tr_noop
from sitegen.core.language.figure_words import remarks_words, stage_reached
from sitegen.core.language.text import day_words, in_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.setup import Answer
from sitegen.core.values.day import Day


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence in parts; a part is a text or a figure."""

    parts: tuple[str | Figure, ...]

    def plain(self, wording: Wording) -> str:
        """The sentence as text."""
        said = "".join(
            part if isinstance(part, str) else wording.say_in_sentence(part) for part in self.parts
        )
        return opening(said)

    def led_by(self, text: str) -> Sentence:
        """The same behind a sentence of the author's: after a colon where it begins with a figure."""
        if self.parts and isinstance(self.parts[0], Figure):
            return Sentence((f"{text.rstrip('.')}: ", *self.parts))
        closed = text if text.endswith((".", "!", "?", "…")) else f"{text}."
        return Sentence((f"{closed} ", *self.parts))


def filled_sentence(message: str, /, **values: str | Figure) -> Sentence:
    """A message with its places filled: `filled_sentence(tr("Of the seeds, {share} came up."), share=…)`."""
    parts: list[str | Figure] = [""]
    for text, name, _, _ in Formatter().parse(message):
        for part in (text, values[name]) if name else (text,):
            if isinstance(part, str) and isinstance(parts[-1], str):
                parts[-1] += part
            else:
                parts.append(part)
    return Sentence(tuple(part for part in parts if part != ""))


@cache
def places_in(message: str) -> frozenset[str]:
    """The names of a message's places."""
    return frozenset(name for _, name, _, _ in Formatter().parse(message) if name)


def filled_markup(message: str, /, **values: object) -> Markup:
    """The same for markup: the message is escaped, and so is each value that is none."""
    return escape(message).format(**values)


def span_words(first: int, last: int, *, about: bool = False) -> str:
    """A stretch; one day where it begins and ends on it."""
    if first == last:
        return tr("about day\u00a0{day}", day=first) if about else tr("day\u00a0{day}", day=first)
    if about:
        return tr("about days\u00a0{first}–{last}", first=first, last=last)
    return tr("days\u00a0{first}–{last}", first=first, last=last)


SHARED_WATER = tr_noop(
    "Plants in one tub share water, light and luck. A difference between two tubs may come "
    "from the tubs. It takes other runs to tell."
)


def germination_sentence(facts: Facts) -> Sentence:
    """How many seeds came up."""
    share = facts.germination.share
    if isinstance(share.value, Share):
        return filled_sentence(tr("Seeds that came up: {share}."), share=share)
    if share.remarks:
        return filled_sentence(
            tr("Nobody recorded how many seeds came up: {note}."), note=remarks_words(share.remarks)
        )
    return filled_sentence(tr("Nobody recorded how many seeds came up."))


def milestone_sentences(facts: Facts) -> tuple[Sentence, ...]:
    """For each stage: when it was first seen, by when half the plants had got there, who had not.

    A lost plant misses every later stage too: it is said at the first.
    """
    said, lost = [], frozenset[str]()
    for each in facts.milestones:
        sentence = _milestone(each, lost)
        if sentence is not None:
            said.append(sentence)
            lost |= {arrival.plant for arrival in each.in_state("lost")}
    return tuple(said)


def _milestone(milestone: MilestoneFacts, lost: frozenset[str]) -> Sentence | None:
    did = stage_reached(milestone.name)
    first = milestone.first.value
    if not isinstance(first, Day):
        return _nobody(milestone, did, lost) if milestone.not_yet else None
    left = _said_after(_left(milestone, lost))
    median = milestone.median.value
    if not isinstance(median, Day):
        # "By day 5" and "before day 6" are said with their own word.
        if first.first <= 0 < first.last - 1:
            message = tr("The first plant {did} {before_day}{left}.")
            return filled_sentence(message, did=did, before_day=milestone.first, left=left)
        message = tr("By {day}, the first plant {did}{left}.")
        return filled_sentence(message, did=did, day=milestone.first, left=left)
    if median.first <= 0 < median.last - 1:
        message = tr("Half the plants {did} {before_day}{left}.")
        several = stage_reached(milestone.name, several=True)
        return filled_sentence(message, did=several, before_day=milestone.median, left=left)
    message = (
        tr("Half the plants {did} by {day}{left}.")
        if median.single
        else tr("Half the plants {did} somewhere in {day}{left}.")
    )
    return filled_sentence(
        message, did=stage_reached(milestone.name, several=True), day=milestone.median, left=left
    )


def _nobody(milestone: MilestoneFacts, did: str, lost: frozenset[str]) -> Sentence:
    """That no plant had reached a stage when it was last looked for."""
    others = _gone(milestone, lost)
    look = day_words(max(milestone.not_yet, key=lambda day: (day.last, day.first)))
    message = tr("No plant {did} when last checked, on {day}{left}.")
    return filled_sentence(message, did=did, day=look, left=_said_after(others))


def _said_after(parts: Sequence[str]) -> str:
    return tr("; {rest}", rest=_joined(parts)) if parts else ""


def _joined(parts: Sequence[str]) -> str:
    """Clauses with commas of their own: `…, on day 66, and …`."""
    if len(parts) < 2:
        return "".join(parts)
    return tr("{before}, and {last}", before=", ".join(parts[:-1]), last=parts[-1])


def _left(milestone: MilestoneFacts, lost: frozenset[str]) -> list[str]:
    """`one had not when last looked at, on day 66`, `one was lost on day 12`: the plants without the stage."""
    if not milestone.arrivals:
        return _left_of_counts(milestone)
    waiting = milestone.in_state("not yet")
    parts = [_waiting(len(waiting), [a.last_look for a in waiting if a.last_look])] if waiting else []
    return [*parts, *_gone(milestone, lost)]


def _gone(milestone: MilestoneFacts, lost: frozenset[str]) -> list[str]:
    """The plants that were picked or lost before a stage, and those that nobody looked at for it."""
    return [words for words in (_picked(milestone), _lost(milestone, lost), _unknown(milestone)) if words]


def _picked(milestone: MilestoneFacts) -> str:
    """The plants that were picked before they were seen at a stage that they could reach no more."""
    number = len(milestone.in_state("picked"))
    if not number:
        return ""
    message = tr_n_noop("{number} was picked before it", "{number} were picked before it")
    return tr_n(*message, number, number=in_words(number))


def _waiting(number: int, looks: Sequence[Day]) -> str:
    """The plants that had not reached a stage, with the last of their last looks."""
    last = max(looks, key=lambda day: (day.last, day.first))
    if any(look != last for look in looks):
        message = tr_n_noop(
            "{number} had not when last checked (by {day})", "{number} had not when last checked (by {day})"
        )
    else:
        message = tr_n_noop(
            "{number} had not when last checked ({day})", "{number} had not when last checked ({day})"
        )
    return tr_n(*message, number, number=in_words(number), day=day_words(last))


def _lost(milestone: MilestoneFacts, said: frozenset[str]) -> str:
    """The plants lost before they reached a stage, with the day where it is one; none that were said before."""
    lost = milestone.in_state("lost")
    days = [arrival.lost for arrival in lost if arrival.lost and arrival.plant not in said]
    if not days:
        return ""
    number, one_day = len(days), len(set(days)) == 1
    message = _LOST[len(days) < len(lost), one_day]
    return tr_n(*message, number, number=in_words(number), day=day_words(days[0]))


# Whether others were said at an earlier stage, and whether all were lost on one day.
_LOST = {
    (False, False): tr_n_noop("{number} was lost before it could", "{number} were lost before they could"),
    (False, True): tr_n_noop(
        "{number} was lost before it could, on {day}", "{number} were lost before they could, on {day}"
    ),
    (True, False): tr_n_noop(
        "{number} more was lost before it could", "{number} more were lost before they could"
    ),
    (True, True): tr_n_noop(
        "{number} more was lost before it could, on {day}",
        "{number} more were lost before they could, on {day}",
    ),
}


def _unknown(milestone: MilestoneFacts) -> str:
    """The plants that nobody looked at for a stage."""
    number = len(milestone.in_state("unknown"))
    if not number:
        return ""
    return tr_n(
        "{number} was not checked for it",
        "{number} were not checked for it",
        number,
        number=in_words(number),
    )


def _left_of_counts(milestone: MilestoneFacts) -> list[str]:
    """The same from counts: those that were not there at the last of them, and those that it no longer counted."""
    share, counted = milestone.share.value, [step for step in milestone.steps if step.of is not None]
    if not isinstance(share, Share) or not counted:
        return []
    last = counted[-1]
    waiting = max(0, (last.of or 0) - last.count)
    gone = share.whole - share.part - waiting
    parts = [_waiting(waiting, [last.day])] if waiting else []
    if gone > 0:
        parts.append(
            tr_n(
                "{number} was no longer counted",
                "{number} were no longer counted",
                gone,
                number=in_words(gone),
            )
        )
    return parts


VERDICTS = {"again": tr_noop("Again"), "not again": tr_noop("Not again"), "undecided": tr_noop("Undecided")}
# A reason that begins with one of these goes on from the verdict instead of explaining it.
_JOINING = re.compile(
    r"(?:but|because|since|as|if|though|although|unless|only|when|with|in|and|for),*(?!\S)", re.IGNORECASE
)


def verdict_words(answer: Answer | None) -> str:
    """`Again: it fruited.`, `Again, but in a bigger bucket.`; nothing without a verdict and a reason."""
    if answer is None:
        return ""
    why = answer.why.strip().rstrip(".")
    if answer.verdict is None:
        return f"{why[:1].upper()}{why[1:]}." if why else ""
    verdict = tr(VERDICTS[answer.verdict])
    if not why:
        return f"{verdict}."
    return f"{verdict}, {why[:1].lower()}{why[1:]}." if _JOINING.match(why) else f"{verdict}: {why}."
