"""The verdict on each number that was spoken: right, right with something to add, wrong by how much, or not placed.

In: sentences, facts. Out: `Verdict`s. A number is held against those of the log that are of its kind and that the
sentence is about; it is right within half the step in which it was spoken.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Source
from sitegen.core.language.wording import Wording
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension, unit_named
from sitegen.notes.check.claims import Claim, claims_of, date_of
from sitegen.notes.check.holdings import Holding, holdings_of, subjects_of
from sitegen.notes.check.transcript import Sentence

# What a number is of where the sentence says only its unit.
_OF_DIMENSION = {
    Dimension.MASS: "harvest",
    Dimension.TEMPERATURE: "temperature",
    Dimension.LENGTH: "height",
    Dimension.VOLUME: "water",
    Dimension.ENERGY: "power",
    Dimension.POWER: "power",
}
_RATE = re.compile(
    r"\b(?:per|each|every|a (?:day|week|plant)|an? hour|pro|je|am tag|in der woche)\b", re.IGNORECASE
)
Outcome = Literal["right", "right, say", "wrong", "not placed"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """One claim with its sentence and what the log says; `found` is the number of the log that it was held against."""

    sentence: Sentence
    claim: Claim
    outcome: Outcome
    why: str
    found: Holding | None = None

    @property
    def sources(self) -> tuple[Source, ...]:
        """The lines of the log behind it."""
        return self.found.sources if self.found else ()


def verdicts_on(
    sentences: Iterable[Sentence], facts: Facts, wording: Wording, language: str
) -> tuple[Verdict, ...]:
    """A verdict on each number of some sentences."""
    judge = _Judge(facts, wording, holdings_of(facts))
    return tuple(
        judge.verdict(claim, claims, sentence)
        for sentence in sentences
        for claims in [claims_of(sentence.text, language)]
        for claim in claims
    )


@dataclass(frozen=True)
class _Judge:
    """Holds claims against the numbers of one run."""

    facts: Facts
    wording: Wording
    holdings: Sequence[Holding]

    def verdict(self, claim: Claim, beside: Sequence[Claim], sentence: Sentence) -> Verdict:
        """The verdict on one claim; `beside` are all of its sentence."""
        if claim.kind == "date":
            return self._of_date(claim, sentence)
        rate = bool(_RATE.search(sentence.text))
        alike = [each for each in self.holdings if _comparable(claim, each) and each.rate <= rate]
        if not alike:
            return Verdict(sentence, claim, "not placed", "the log has no number of this kind")
        about = subjects_of(sentence.text) | {
            _OF_DIMENSION[c.dimension] for c in beside if c.dimension in _OF_DIMENSION
        }
        day = next((each for each in beside if each.kind == "day" and each is not claim), None)
        # The claims of the packet are no measurements: only a sentence about them is held against them.
        measured = [each for each in alike if "claim" not in each.about or "claim" in about]
        near = _nearest_in_meaning(measured, about)
        on_day = [each for each in near if day is not None and _on(each, day)]
        fitting = [each for each in on_day or near if _fits(claim, each)]
        if fitting:
            return self._right(claim, max(fitting, key=lambda each: (each.main, -_width(each))), sentence)
        if not near or not about & near[0].about:
            return Verdict(sentence, claim, "not placed", "nothing in the log says what this is of")
        best = min(on_day or near, key=lambda each: (not each.main, _distance(claim, each)))
        return Verdict(sentence, claim, "wrong", self._wrong(claim, best, alike), best)

    def _right(self, claim: Claim, found: Holding, sentence: Sentence) -> Verdict:
        where = self._where(found)
        if found.bound and not claim.least:
            why = f"say “at least”: {found.limits}" if found.limits else "say “at least”"
            return Verdict(sentence, claim, "right, say", f"{why}{where}", found)
        exact = found.kind == "day" or found.spread or claim.about
        if found.high is not None and not exact and found.high - found.low > 2 * claim.tolerance:
            return Verdict(
                sentence, claim, "right, say", f"say {self._value(found)} ({found.said}{where})", found
            )
        return Verdict(sentence, claim, "right", f"{found.said}{where}", found)

    def _wrong(self, claim: Claim, best: Holding, alike: Sequence[Holding]) -> str:
        """What the log has, by how much that is off, and where the number stands under another meaning."""
        said = f"the log has {self._value(best)} ({best.said}{self._where(best)})"
        off = self._off(claim, best)
        others = [each for each in alike if each is not best and _fits(claim, each)]
        elsewhere = (
            f"; the number itself is there as: {others[0].said}{self._where(others[0])}" if others else ""
        )
        return f"{said}{off}{elsewhere}"

    def _off(self, claim: Claim, best: Holding) -> str:
        if claim.kind == "day":
            days = round(_distance(claim, best))
            return f", {days} {'day' if days == 1 else 'days'} off"
        if claim.kind != "amount" or claim.dimension is None:
            return ""
        nearest = best.low if best.high is None or claim.value < best.low else best.high
        difference = Quantity(
            abs(claim.value - nearest),
            abs(claim.value - nearest),
            _difference(claim.dimension),
            step=claim.step,
        )
        return f", {self.wording.say_in_sentence(difference)} {'less' if nearest < claim.value else 'more'}"

    def _value(self, held: Holding) -> str:
        if held.kind == "day":
            return self.wording.say(Day(int(held.low), int(held.high if held.high is not None else held.low)))
        if held.whole is not None:
            return f"{held.low:g} of {held.whole:g}"
        if held.dimension is None or held.dimension is Dimension.COUNT:
            return f"{held.low:.3g} %" if held.kind == "per cent" else f"{held.low:g}"
        step = 0.0 if held.high is None else min(1.0, max(held.low / 100, 0.01))
        return self.wording.say_in_sentence(Quantity(held.low, held.high, held.dimension, step=step))

    def _where(self, held: Holding) -> str:
        if held.day is None or held.kind == "day":
            return ""
        return f", {self.wording.say(held.day)}"

    def _of_date(self, claim: Claim, sentence: Sentence) -> Verdict:
        """A date is a day of the run; then it is held against the log as that."""
        start = self.facts.run.setup.start
        if start.date is None or start.precision != "day":
            return Verdict(sentence, claim, "not placed", "the run has no dates")
        years = range(start.date.year, start.date.year + 3)
        days = [(when - start.date).days for when in date_of(claim, years)]
        inside = [day for day in days if 0 <= day <= self.facts.run.last_day]
        if not inside:
            return Verdict(sentence, claim, "wrong", "the run has no such date")
        as_day = Claim("day", claim.text, float(inside[0]))
        found = self.verdict(as_day, (as_day,), sentence)
        return Verdict(sentence, claim, found.outcome, f"day {inside[0]}: {found.why}", found.found)


def _comparable(claim: Claim, held: Holding) -> bool:
    """Whether a number of the log is of the kind that was spoken."""
    if claim.kind == "amount":
        return held.kind == "amount" and held.dimension is claim.dimension
    if claim.kind == "count":
        return held.kind == "count" and claim.noun in held.about
    if claim.kind == "number":
        return held.kind in ("amount", "count")
    return held.kind == claim.kind


def _nearest_in_meaning(alike: Sequence[Holding], about: frozenset[str]) -> list[Holding]:
    """Those numbers of a kind that share most with what a sentence is about."""
    shared = [len(about & each.about) for each in alike]
    most = max(shared, default=0)
    return [each for each, number in zip(alike, shared, strict=True) if number == most]


def _on(held: Holding, day: Claim) -> bool:
    """Whether a number is of the day that a sentence says."""
    if held.day is None:
        return False
    return held.day.last <= day.value if day.by else held.day.first <= day.value <= held.day.last


def _values(claim: Claim, held: Holding) -> list[float]:
    """The value of a claim in the unit of a number; of a number without a unit, in every unit of its dimension."""
    if claim.kind != "number" or held.dimension is None:
        return [-claim.value if claim.less else claim.value]
    symbols = {
        Dimension.MASS: ("g", "oz"),
        Dimension.LENGTH: ("cm", "in"),
        Dimension.TEMPERATURE: ("°C", "°F"),
        Dimension.VOLUME: ("L", "gal"),
    }.get(held.dimension, ())
    units = [unit for symbol in symbols if (unit := unit_named(symbol, held.dimension)) is not None]
    return [unit.to_canonical(claim.value) for unit in units] or [claim.value]


def _tolerance(claim: Claim, held: Holding) -> float:
    if claim.kind != "number" or held.dimension not in (
        Dimension.MASS,
        Dimension.LENGTH,
        Dimension.TEMPERATURE,
    ):
        return claim.tolerance
    return claim.tolerance * (0.5 if held.dimension is Dimension.TEMPERATURE else 1.0)


def _fits(claim: Claim, held: Holding) -> bool:
    if claim.whole is not None and claim.whole != held.whole:
        return False
    if claim.kind == "number" and _width(held) > 2 * claim.tolerance:
        return False  # a number without a unit would lie in many a wide range
    by_day = claim.kind == "day"
    allowed = 0.5 if by_day else _tolerance(claim, held)
    high = held.low if held.high is None else held.high
    if held.spread:
        return any(abs(end - value) <= allowed for end in (held.low, high) for value in _values(claim, held))
    return any(held.low - allowed <= value <= high + allowed for value in _values(claim, held))


def _width(held: Holding) -> float:
    """How wide a range is; a lower bound is as good as its number."""
    return 0.0 if held.high is None or held.spread else held.high - held.low


def _distance(claim: Claim, held: Holding) -> float:
    high = held.low if held.high is None else held.high
    value = _values(claim, held)[0]
    apart = max(held.low - value, value - high, 0.0)
    return apart + (0 if claim.whole in (None, held.whole) else 1000)


def _difference(dimension: Dimension) -> Dimension:
    return Dimension.TEMPERATURE_DIFFERENCE if dimension is Dimension.TEMPERATURE else dimension
