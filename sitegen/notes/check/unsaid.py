"""What is honest to say with a number that is there: at least, by, about, which parts.

In: a claim and the value that it fits. Out: the words that are missing, with the reason; what no log can tell.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Tasting
from sitegen.core.values.quantity import Quantity
from sitegen.notes.check.claims import Claim, Hedge, Kind
from sitegen.notes.check.known_of.log import Log
from sitegen.notes.check.matching import Match

_BOUNDED = re.compile(
    r"\b(?:at least|at most|up to|between|mindestens|höchstens|bis zu|zwischen)\b", re.IGNORECASE
)
_ABOUT = re.compile(
    r"\b(?:about|around|roughly|some|nearly|almost|not quite|over|etwa|ungefähr|rund|circa|knapp|fast|gut)\b"
)


@dataclass(frozen=True)
class Unsaid:
    """Asks what a claim leaves out."""

    log: Log
    wording: Wording

    def missing(self, claim: Claim, match: Match) -> str:
        """What has to be said with a number that is right; empty where nothing is missing."""
        known = match.known
        if known.parts and "part:leaf" in claim.subject.topics:
            return f"“{known.parts.split(':')[0]}” ({known.parts.partition(': ')[2]})"
        if match.bound and not _hedged_up(claim) and not _whole_span(match):
            return self._bound(match)
        if known.series and known.kind is Kind.PART and (counted := self._counted(claim, match)):
            return counted
        if claim.kind in (Kind.DAY, Kind.DATE) and known.seen is not None:
            return _by(claim, known.seen)
        return _flags(claim, known.value)

    def _counted(self, claim: Claim, match: Match) -> str:
        """The day on which a count was made, where one was spoken that has no entry."""
        day, known = claim.subject.day, match.known
        if day is None or known.day is None or known.low == 0 or known.day.last >= day.first:
            return ""
        looked = any(
            day.first <= entry.day.last and entry.day.first <= day.last for entry in self.log.rows.entries
        )
        return "" if looked else f"“by day {known.day}”, when it was counted"

    def _bound(self, match: Match) -> str:
        known = match.known
        reason = f" ({known.least}{self._unweighed(match)})" if known.least else ""
        at_low = known.high is None or abs(match.reading.low - known.low) <= abs(
            match.reading.low - known.high
        )
        if known.kind is Kind.AMOUNT or known.kind is Kind.MONEY:
            inside = known.high is not None and known.low < match.reading.low < known.high
            near = not inside or match.reading.low - known.low <= match.reading.step
            return f"“{'at least' if at_low and near else 'at most' if near else 'between'}”{reason}"
        return f"“at least”{reason}" if known.high is None else ""

    def _unweighed(self, match: Match) -> str:
        """The days of the picks that were not weighed."""
        value = match.known.value
        if not isinstance(value, Quantity) or not value.unweighed:
            return ""
        lines = set(match.known.sources)
        days = [pick.day for pick in self.log.rows.picks if pick.weight.unweighed and pick.source in lines]
        return f", day {', '.join(map(str, dict.fromkeys(days)))}" if days else ""

    def corrected(self, claim: Claim) -> bool:
        """Whether a correction of the run's page names the day that was spoken."""
        day = f"{claim.readings[0].low:g}"
        return any(re.search(rf"\b{re.escape(day)}\b", each.text) for each in self.log.setup.corrections)


def _flags(claim: Claim, value: object) -> str:
    """What the log itself says of a value: about, by eye."""
    if not isinstance(value, Quantity):
        return ""
    if value.about and not _ABOUT.search(claim.sentence):
        return "“about”, as the log does"
    return "that it was judged by eye" if value.by_eye and claim.hedge is Hedge.NONE else ""


def _whole_span(match: Match) -> bool:
    """Whether both ends of a span were spoken."""
    low, high, half = match.reading.low, match.reading.high, match.reading.step / 2
    known = match.known
    return (
        low != high
        and known.high is not None
        and abs(low - known.low) <= half
        and abs(high - known.high) <= half
    )


def _hedged_up(claim: Claim) -> bool:
    said = claim.hedge in (Hedge.AT_LEAST, Hedge.OVER) or "least" in claim.subject.relations
    return said or bool(_BOUNDED.search(claim.sentence))


def _by(claim: Claim, seen: int) -> str:
    """A change that a look found may have come on any day since the look before."""
    day = claim.subject.day
    if "turned" not in claim.subject.ranks or day is None or day.by or day.first - seen <= 1:
        return ""
    looked = f"the look before was on day {seen}" if seen >= 0 else "no look before says not yet"
    return f"“by day {day.last}” ({looked})"


def cannot_be_told(claim: Claim, log: Log) -> str:
    """Why a comparison of tastes has no answer in a log: no fruit of both arms was at the tasting."""
    subject = claim.subject
    if (
        "taste" not in subject.wide
        or "about taste between" not in subject.relations
        or len(log.distinct_arms) < 2
    ):
        return ""
    for row in log.rows.of(Tasting):
        given = {plant for pick in log.rows.picks if pick.day == row.day for plant in pick.which.ids}
        tubs = {log.roster.tub_of(plant, row.day.first) for plant in given}
        arms = [arm for arm in log.distinct_arms if arm.plants & given]
        if not given or (len(tubs) < 2 and len(log.setup.tubs) > 1) or len(arms) < 2:
            named = ", ".join(plant for plant in log.setup.plant_ids if plant in given)
            where = " all of one tub" if len(tubs) == 1 and len(log.setup.tubs) > 1 else ""
            of = f"fruit of {named} only,{where}" if given else "no pick"
            return f"not placed: the tasting on day {row.day} had {of}".rstrip(",")
    return ""
