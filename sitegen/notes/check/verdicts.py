"""The verdict on a claim: right, right with something to say, wrong by how much, or not placed.

In: claims, all that is known of a run, a wording. Out: `Verdict`s.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from sitegen.core.findings.source import Source
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import Claim, Hedge, Kind
from sitegen.notes.check.known import Known
from sitegen.notes.check.matching import Match, matches, relevant
from sitegen.notes.check.saying import difference, named
from sitegen.notes.check.unsaid import Unsaid, cannot_be_told

CLOSE = 1.5  # of scores: subjects between which the words do not decide; a custom, no source
_DEGREES = 2
_VAGUE = frozenset({"plant", "piece", "leaf", "spot"})  # counted of many things


class Outcome(StrEnum):
    """What came of a claim."""

    RIGHT = "right"
    SAY = "right, say"
    WRONG = "wrong"
    NOT_PLACED = "not placed"


@dataclass(frozen=True, slots=True)
class Verdict:
    """A claim with what came of it.

    `text` is the verdict in words; `known` is the value that it was held against, `elsewhere` another one that the number
    is of.
    """

    claim: Claim
    outcome: Outcome
    text: str
    known: Known | None = None
    elsewhere: Known | None = None

    @property
    def sources(self) -> tuple[Source, ...]:
        """The lines that it rests on."""
        return self.known.sources if self.known else ()


@dataclass(frozen=True)
class Judge:
    """Holds claims against everything that is known of a run."""

    everything: Sequence[Known]
    unsaid: Unsaid

    def verdict(self, claim: Claim) -> Verdict:
        """The verdict on one claim."""
        if reason := cannot_be_told(claim, self.unsaid.log):
            return Verdict(claim, Outcome.NOT_PLACED, reason)
        found = matches(claim, self.everything)
        meant = _meant(found)
        if meant and "each" in claim.subject.ranks and (of_each := self._of_each(claim, found)):
            return of_each
        if right := _right_ones(claim, meant, found):
            return self._right(claim, right[0], meant)
        if not meant or claim.kind is Kind.NUMBER or not _clear(claim, meant[0]):
            return self._not_placed(claim, found)
        if claim.sentence.rstrip(" \"'”’»)").endswith("?"):
            return Verdict(claim, Outcome.NOT_PLACED, "not placed: it is asked, and not said")
        return self._wrong(claim, meant, found)

    def _right(self, claim: Claim, match: Match, meant: Sequence[Match]) -> Verdict:
        known, said = match.known, named(match.known, self.unsaid.wording)
        if missing := self.unsaid.missing(claim, match):
            return Verdict(claim, Outcome.SAY, f"right, say {missing}: {said}", known)
        words = _scale(claim, match, meant) or self._nearly(match)
        return Verdict(claim, Outcome.RIGHT, f"right{words}: {said}", known)

    def _nearly(self, match: Match) -> str:
        """To how many days a span that was said in weeks is right."""
        if (
            match.reading.kind is not Kind.DAYS
            or not match.known.bounded
            or match.reading.low == match.known.low
        ):
            return ""
        return f" to {difference(match.reading, match.known, self.unsaid.wording)}"

    def _wrong(self, claim: Claim, meant: Sequence[Match], found: Sequence[Match]) -> Verdict:
        best = min(meant, key=lambda match: (_off(match), -match.score))
        words = [f"wrong{self._by(best)}: {named(best.known, self.unsaid.wording)}"]
        other = _elsewhere(found, best)
        if other is not None and other.flaw:
            words.append(other.flaw)
        elif other is not None:
            words.append(f"that number is {named(other, self.unsaid.wording)}")
        if best.known.kind is Kind.PART and (later := self._reached_later(best, found)):
            words.append(later)
        if best.known.kind is Kind.DAY and self.unsaid.corrected(claim):
            words.append("a correction of the page says so already")
        return Verdict(claim, Outcome.WRONG, "; ".join(words), best.known, other)

    def _by(self, match: Match) -> str:
        """By how much: of days and amounts."""
        words = difference(match.reading, match.known, self.unsaid.wording)
        return f" by {words}" if words else ""

    def _reached_later(self, best: Match, found: Sequence[Match]) -> str:
        """When a count was what was said of an earlier day."""
        series = [
            match
            for match in found
            if match.known.series
            and (match.known.what, match.known.who) == (best.known.what, best.known.who)
            and match.known.low == best.reading.low
            and match.known is not best.known
        ]
        return f"{best.reading.low:g} on day {series[0].known.day}" if series else ""

    def _not_placed(self, claim: Claim, found: Sequence[Match]) -> Verdict:
        other = next((match for match in found if match.fits and not match.known.flaw), None)
        if other is not None and claim.kind is not Kind.NUMBER:
            words = f"not placed as it is said; that number is {named(other.known, self.unsaid.wording)}"
            return Verdict(claim, Outcome.NOT_PLACED, words, None, other.known)
        if claim.kind is Kind.NUMBER:
            return Verdict(claim, Outcome.NOT_PLACED, "not placed: nothing says what it is of")
        return Verdict(claim, Outcome.NOT_PLACED, "not placed: the log has no number of this kind")

    def _of_each(self, claim: Claim, found: Sequence[Match]) -> Verdict | None:
        """A number that is said of each plant: all of them have to be so."""
        plants = claim.subject.plants or self.unsaid.log.every
        totals = {
            next(iter(match.known.plants)): match
            for match in reversed(found)
            if match.known.plants
            and len(match.known.plants) == 1
            and match.known.plants <= plants
            and "total" in match.known.ranks
            and match.known.day is None
            and not match.known.series
        }
        if not totals or set(totals) != set(plants):
            return None
        each = [totals[plant] for plant in sorted(totals)]
        said = ", ".join(named(match.known, self.unsaid.wording) for match in each)
        if all(match.fits for match in each):
            return Verdict(claim, Outcome.RIGHT, f"right: {said}", each[0].known)
        mean = next(
            (match for match in found if match.fits and "mean" in match.known.ranks and match.conflicts == 0),
            None,
        )
        if mean is not None:
            return Verdict(claim, Outcome.SAY, f"right, say on average: {said}", mean.known)
        return Verdict(claim, Outcome.WRONG, f"wrong: {said}", each[0].known)


def _clear(claim: Claim, match: Match) -> bool:
    """Whether a sentence says enough of its number for it to be wrong: days and counts are of many things."""
    if claim.kind not in (Kind.DAY, Kind.DATE, Kind.COUNT, Kind.PART):
        return True
    if relevant(claim.subject, match.reading) & match.known.topics and not claim.subject.borrowed:
        return True
    noun = claim.subject.noun
    return bool(noun) and noun not in _VAGUE and noun == match.known.noun


def _meant(found: Sequence[Match]) -> list[Match]:
    """The values that a claim can mean: those with the best subject."""
    free = [match for match in found if match.conflicts == 0 and not match.known.flaw]
    if not free:
        return []
    best = max(match.score for match in free)
    return [match for match in free if match.score >= best - CLOSE] if best > -1 else []


def _right_ones(claim: Claim, meant: Sequence[Match], found: Sequence[Match]) -> list[Match]:
    """The values that a number is, the best first; none where it is another that only looks right."""
    if not meant:
        return _quoted(claim, found)
    right = _fitting(claim, meant)
    if right or any(match.fits and match.known.flaw and match.conflicts == 0 for match in found):
        return right
    return _all_parts(claim, found) or _also_right(claim, found) or _quoted(claim, found)


def _fitting(claim: Claim, meant: Sequence[Match]) -> list[Match]:
    """Those that fit: of the day spoken of before, without being a bound, first; the inside of a span last."""
    context = None if "total" in claim.subject.ranks else claim.subject.context

    def order(match: Match) -> tuple[bool, bool]:
        return match.bound or not _of_context(
            match.known, context
        ), match.bound and match.known.high is not None

    return sorted((match for match in meant if match.fits), key=order)


def _all_parts(claim: Claim, found: Sequence[Match]) -> list[Match]:
    """A sum that holds more than the part that was spoken of."""
    if "part:leaf" not in claim.subject.topics:
        return []
    return [match for match in found if match.fits and match.known.parts and match.conflicts == 0]


def _also_right(claim: Claim, found: Sequence[Match]) -> list[Match]:
    """Values with a poorer subject that nothing contradicts, where the claim is tied to plants or to a day."""
    subject = claim.subject
    if claim.hedge in (Hedge.AT_LEAST, Hedge.OVER, Hedge.UNDER, Hedge.AT_MOST):
        return []
    tied = subject.plants is not None or subject.day is not None or subject.context is not None
    if claim.kind is Kind.DAYS and subject.relations & {"sooner", "behind"}:
        return [match for match in found if match.fits and match.conflicts == 0 and _compares(match.known)]
    unsaid = subject.borrowed or not relevant(subject, claim.readings[0])
    if unsaid and claim.kind in (
        Kind.DAY,
        Kind.DATE,
        Kind.COUNT,
        Kind.PART,
    ):
        return [match for match in found if _same_thing(claim, match)]
    if (
        claim.kind in (Kind.DAYS, Kind.MORE, Kind.MONEY)
        or not tied
        or subject.ranks & {"total", "mean", "max", "min"}
    ):
        return []
    anchored = []
    for match in found:
        topics = relevant(subject, match.reading)
        near = match.score > 0 and not match.known.topics - topics - subject.wide
        placed = (
            subject.plants is not None or subject.day is not None or _of_context(match.known, subject.context)
        )
        if (
            match.fits
            and not (match.bound and match.known.high is not None)
            and match.conflicts == 0
            and near
            and placed
            and not match.known.flaw
        ):
            anchored.append(match)
    return anchored


def _compares(known: Known) -> bool:
    return known.other is not None or ("packet" in known.topics and not known.constant)


def _same_thing(claim: Claim, match: Match) -> bool:
    """Whether a day, or a count of the same thing, is there, where the sentence says nothing else of it."""
    known, subject = match.known, claim.subject
    deed = claim.kind is Kind.PART and bool(known.topics) and not known.series and not known.constant
    if deed and subject.day is None and not subject.words & known.words:
        return False  # nothing hints at what was done to so many
    return (
        match.fits
        and match.conflicts == 0
        and bool(match.known.noun) == bool(claim.subject.noun)
        and not match.known.flaw
    )


def _quoted(claim: Claim, found: Sequence[Match]) -> list[Match]:
    """The author's own words of the log, where the sentence has most of them."""
    words = claim.subject.words
    return [match for match in found if match.fits and match.known.quote and _most(words, match.known.words)]


def _most(words: frozenset[str], quoted: frozenset[str]) -> bool:
    """Whether most words of a sentence are those of the log, or all of a short one."""
    shared = len(words & quoted)
    return shared >= max(2, len(words) / 2) or 0 < shared == len(words)


def _of_context(known: Known, day: int | None) -> bool:
    return known.day is not None and day is not None and known.day.first <= day <= known.day.last


def _elsewhere(found: Sequence[Match], best: Match) -> Known | None:
    """Another value that the number is of: one that looks right before all others, then the nearest in subject."""
    fits = [match for match in found if match.fits and match.known is not best.known]
    flawed = [match.known for match in fits if match.known.flaw and match.score > 0]
    if flawed:
        return flawed[0]
    exact = [match.known for match in fits if not match.bound or match.known.low == match.reading.low]
    if best.reading.kind in (Kind.DAY, Kind.DATE, Kind.COUNT, Kind.PART):
        return None  # small whole numbers are of many things
    return exact[0] if exact else None


def _off(match: Match) -> float:
    """How far off in the spoken unit's own canonical unit; a scale that fits better comes first."""
    return match.off


def _scale(claim: Claim, match: Match, meant: Sequence[Match]) -> str:
    """Which scale of degrees was meant, where both were possible."""
    if len(claim.readings) != _DEGREES or match.reading.dimension is not Dimension.TEMPERATURE:
        return ""
    other = [each for each in meant if each.known is match.known and each.reading is not match.reading]
    unit = match.reading.unit
    return f" in {unit.name}" if unit and other and not other[0].fits else ""
