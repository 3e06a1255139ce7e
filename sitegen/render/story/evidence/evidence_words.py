"""How two varieties, or two systems, compare over several runs, in words: never more than the runs allow.

In: a `Contrast` and the comparison that it is of, names of varieties or systems. Out: `EvidenceWords`: plain sentences,
and the working with tests, chances and intervals, which stands apart from them. `ROWS` is the table of what may be said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.core.facts.across import (
    MORE_IS_BETTER,
    Comparison,
    Contrast,
    Evidence,
    Interval,
    Measure,
    RunArms,
)
from sitegen.core.facts.figure import Label, Per, Rate
from sitegen.core.language.catalogue import tr, tr_n, tr_n_noop, tr_noop
from sitegen.core.language.figure_words import label_words, stage_reached
from sitegen.core.language.text import in_words, listed
from sitegen.core.language.wording import Wording, opening
from sitegen.core.reference.milestones import stage_that_matters
from sitegen.core.values.quantity import Quantity
from sitegen.render.story.evidence.evidence_working import working

MOST_NAMED = 3  # runs named in a sentence
RARE = 1000  # one time in more than so many is said as less than one in so many
ROUND_TO = 10  # the largest whole of a chance that is said as it is

# What is ahead, by measure; `{did}` is the stage that matters for the kind of crop.
_CLAUSES: Mapping[Measure, str] = {
    "per_spot": tr_noop("{ahead} gave more per spot than {behind}"),
    "square_metre": tr_noop("{ahead} gave more for the floor space it took than {behind}"),
    "total": tr_noop("{ahead} gave more in all than {behind}"),
    "emergence": tr_noop("{ahead} came up earlier than {behind}"),
    "stage": tr_noop("{ahead} {did} earlier than {behind}"),
    "first_pick": tr_noop("{ahead} was first picked earlier than {behind}"),
}
_WHAT: Mapping[Measure, str] = {
    "per_spot": tr_noop("harvest per spot"),
    "square_metre": tr_noop("harvest for the floor space used"),
    "total": tr_noop("whole harvest"),
    "emergence": tr_noop("first seedling"),
    "first_pick": tr_noop("first pick"),
}
_IN_TUBS = tr_n_noop(
    "In this one tub, this one time: {what}.", "In these {number} tubs, this one time: {what}."
)
_LEFT_OPEN = tr_n_noop(
    "In {number} more run it is not clear: the two overlap.",
    "In {number} more runs it is not clear: the two overlap.",
)
_ALIKE = tr_n_noop("In {number} more run they were alike.", "In {number} more runs they were alike.")
_OPPOSITE = tr_n_noop(
    "The other way round in one run: {runs}.", "The other way round in {number} runs: {runs}."
)
_APART = {
    "variety": tr_noop("These runs differ in more than the variety."),
    "system": tr_noop("These runs differ in more than the system."),
}
# By whether days are compared: the difference of the arm ahead.
_BY = (tr_noop("That is {amount} more."), tr_noop("That is {amount} earlier."))
_ON_AVERAGE = (
    tr_noop("Typically {amount} more; going by these runs, {range}."),
    tr_noop("Typically {amount} earlier; going by these runs, {range}."),
)
_EITHER = (
    tr_noop("{second} may give up to {less} less than {first}, or up to {more} more."),
    tr_noop("{second} may be up to {less} earlier than {first}, or up to {more} later."),
)
_ONE_SIDED = (
    tr_noop("Going by these runs alone, {ahead} gives {range} more than {behind}."),
    tr_noop("Going by these runs alone, {ahead} is {range} earlier than {behind}."),
)


@dataclass(frozen=True, slots=True)
class EvidenceWords:
    """What may be said of two arms: plain sentences, and the working behind them."""

    sentences: tuple[str, ...]
    working: tuple[str, ...]


def evidence_words(
    contrast: Contrast, comparison: Comparison, names: Mapping[str, str], wording: Wording
) -> EvidenceWords:
    """A contrast in words; `names` are those of varieties and systems by id."""
    said = _Said(contrast, comparison, names, wording)
    lines = working(contrast, (said.first, said.second), wording)
    return EvidenceWords(tuple(said.sentences()), lines)


@dataclass(frozen=True, slots=True)
class _Said:
    """The sentences of one contrast."""

    contrast: Contrast
    comparison: Comparison
    names: Mapping[str, str]
    wording: Wording

    @property
    def evidence(self) -> Evidence:
        return self.contrast.evidence

    @property
    def first(self) -> str:
        return self.names.get(self.contrast.first, self.contrast.first)

    @property
    def second(self) -> str:
        return self.names.get(self.contrast.second, self.contrast.second)

    @property
    def days(self) -> bool:
        """Whether days are compared, of which fewer are better."""
        return not MORE_IS_BETTER[self.contrast.measure]

    def sentences(self) -> Iterator[str]:
        """What the row of the table allows."""
        row = self.evidence.row
        if row == "one run":
            yield from self._once()
        elif row == "few runs":
            yield from self._counted()
        elif row == "many runs":
            yield from self._tested()
            yield from self._others()
        elif row == "many different runs" and self.evidence.difference:
            yield from self._tested()
            yield tr(_APART[self.contrast.factor])
        elif row in ("different runs", "many different runs"):
            yield tr(_APART[self.contrast.factor])
            if row == "many different runs":
                yield from self._bounds()

    # rows

    def _once(self) -> Iterator[str]:
        order = self.evidence.order
        if order:
            yield self._in_tubs(self._clause(order))
            yield from self._by()
        elif order == 0:
            yield self._in_tubs(
                tr(
                    "{what} alike for {first} and {second}",
                    what=self._what,
                    first=self.first,
                    second=self.second,
                )
            )
        else:
            yield tr(
                "{what}: not clear in these tubs, because what was recorded overlaps.",
                what=opening(self._what),
            )

    def _in_tubs(self, what: str) -> str:
        run = self._runs.get(next(iter(self.evidence.orders))[0])
        tubs = sum(use.tubs for use in run.uses) if run else 1
        return tr_n(*_IN_TUBS, tubs, number=in_words(tubs), what=what)

    def _counted(self) -> Iterator[str]:
        found = self.evidence
        if not found.units(1) and not found.units(-1):
            yield tr(
                "{what}: {number} runs show no clear order.",
                what=opening(self._what),
                number=in_words(found.runs),
            )
            return
        leader = found.leader
        if not leader:
            ahead = len(found.units(1))
            yield tr(
                "{what}: each of {first} and {second} was ahead in {part} of {whole} runs.",
                what=opening(self._what),
                first=self.first,
                second=self.second,
                part=in_words(ahead),
                whole=in_words(found.runs),
            )
        else:
            yield self._of_runs(leader)
        yield from self._luck(found.chance)
        yield from self._others()

    def _of_runs(self, leader: int) -> str:
        return tr(
            "{what}, in {part} of {whole} runs.",
            what=self._clause(leader),
            part=in_words(len(self.evidence.units(leader))),
            whole=in_words(self.evidence.runs),
        )

    def _tested(self) -> Iterator[str]:
        found, difference = self.evidence, self.evidence.difference
        assert difference is not None  # the row says so
        if found.significant:
            sign = 1 if difference.middle > 0 else -1
            yield tr("Evidence that {what}.", what=self._clause(sign))
            yield self._typical(difference)
            yield from self._luck(found.adjusted)
        else:
            yield tr("{what}: no evidence either way.", what=opening(self._what))
            yield self._either(difference)
        if found.leader and found.row == "many runs":
            yield self._of_runs(found.leader)

    def _bounds(self) -> Iterator[str]:
        """Of runs whose values are bounds: an order only where none overlaps."""
        if self.evidence.order:
            yield tr("So far, in every one of them, {what}.", what=self._clause(self.evidence.order))
            yield from self._by()
        else:
            yield tr("{what}: not clear, because what was recorded overlaps.", what=opening(self._what))

    # parts of sentences

    @property
    def _runs(self) -> Mapping[str, RunArms]:
        return {run.run: run for run in self.comparison.runs}

    @property
    def _values(self) -> list[Quantity]:
        return [each for pair in self.contrast.pairs for each in (pair.first, pair.second) if each]

    @property
    def _what(self) -> str:
        measure = self.contrast.measure
        if measure == "stage":
            return label_words(Label(self._stage, "stage"))
        return tr(_WHAT[measure])

    @property
    def _stage(self) -> str:
        kinds = [run.kind for run in self.comparison.runs]
        return stage_that_matters(kinds[0]) if kinds else ""

    def _clause(self, sign: int) -> str:
        """What the arm ahead did: `sign` is that of the second value less the first."""
        second_ahead = (sign > 0) is not self.days
        ahead, behind = (self.second, self.first) if second_ahead else (self.first, self.second)
        did = stage_reached(self._stage) if self.contrast.measure == "stage" else ""
        return tr(_CLAUSES[self.contrast.measure], ahead=ahead, behind=behind, did=did)

    def _by(self) -> Iterator[str]:
        gap = self.evidence.gap
        if gap is not None:
            # Seen at the first look: nobody knows how long it had been so, and sowing is no bound worth saying.
            unseen = self.days and any(value.low <= 0 < (value.high or 0) for value in self._values)
            gap = replace(gap, high=None, open=1) if unseen and gap.low > 0 and not gap.single else gap
            yield tr(_BY[self.days], amount=self._amount(gap))
        else:
            yield tr("By how much is not known: it was judged by eye.")

    def _amount(self, amount: Quantity) -> str:
        ground = self.contrast.measure == "square_metre"
        return self.wording.say_in_sentence(Rate(amount, Per.SQUARE_METRE) if ground else amount)

    def _between(self, low: float, high: float) -> Quantity:
        """A difference in the unit of the values, without what was finer than they were written."""
        values = self._values
        return Quantity(low, high, values[0].dimension, step=max(value.step for value in values))

    def _typical(self, difference: Interval) -> str:
        low, high = sorted((abs(difference.low), abs(difference.high)))
        one_sided = difference.low * difference.high > 0
        middle = self._between(abs(difference.middle), abs(difference.middle))
        span = self._between(low if one_sided else 0.0, high)
        return tr(_ON_AVERAGE[self.days], amount=self._amount(middle), range=self._amount(span))

    def _either(self, difference: Interval) -> str:
        low, high = difference.low, difference.high
        if low < 0 < high:
            return tr(
                _EITHER[self.days],
                first=self.first,
                second=self.second,
                less=self._amount(self._between(-low, -low)),
                more=self._amount(self._between(high, high)),
            )
        second_ahead = (difference.middle > 0) is not self.days
        ahead, behind = (self.second, self.first) if second_ahead else (self.first, self.second)
        least, most = sorted((abs(low), abs(high)))
        span = self._amount(self._between(least, most))
        return tr(_ONE_SIDED[self.days], ahead=ahead, behind=behind, range=span)

    def _luck(self, chance: Fraction | None) -> Iterator[str]:
        if chance is not None:
            yield luck_sentence(chance)

    def _others(self) -> Iterator[str]:
        """The runs that went otherwise."""
        found = self.evidence
        if found.opposite:
            titles = self._titles(found.opposite)
            yield tr_n(*_OPPOSITE, len(found.opposite), number=in_words(len(found.opposite)), runs=titles)
        for forms, order in ((_ALIKE, 0), (_LEFT_OPEN, None)):
            if number := len(found.units(order)):
                yield tr_n(*forms, number, number=in_words(number))

    def _titles(self, units: Sequence[str]) -> str:
        runs = self._runs
        shown = [runs[unit].title if unit in runs else unit for unit in units[:MOST_NAMED]]
        return listed(shown) + (" …" if len(units) > MOST_NAMED else "")


def luck_sentence(chance: Fraction) -> str:
    """How often luck alone would do as much."""
    if chance > Fraction(1, 2):
        return tr("Luck alone does that more often than not.")
    if chance < Fraction(1, RARE):
        return tr("Luck alone does that less than one time in {whole}.", whole=RARE)
    if chance.denominator <= ROUND_TO:
        return tr_n(
            "Luck alone does that {part} time in {whole}.",
            "Luck alone does that {part} times in {whole}.",
            chance.numerator,
            part=in_words(chance.numerator),
            whole=in_words(chance.denominator),
        )
    return tr("Luck alone does that about one time in {whole}.", whole=in_words(round(1 / chance)))
