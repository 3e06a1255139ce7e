"""Parts and counts in a sentence: "eleven of the twelve", "all six", "both", "four plants".

In: the words of a sentence. Out: `Measure`s of counts.
"""

from __future__ import annotations

from sitegen.core.language.number_words.in_text import SpokenNumber
from sitegen.core.values.units import Dimension
from sitegen.notes.check.claims import Kind, Reading
from sitegen.notes.check.sentences.sentence_words import Measure, SentenceWords
from sitegen.notes.check.sentences.topics import noun_in

_OF = frozenset({"of", "von", "out", "/", "aus"})
_OF_THE = frozenset(
    {"the", "its", "their", "our", "my", "all", "den", "der", "allen", "unseren", "of", "insgesamt"}
)
_ALL = frozenset({"all", "alle", "allen", "every", "sämtliche"})
_BOTH = frozenset({"both", "beide", "beiden", "beider"})


class Counts(SentenceWords):
    """Reads parts and counts."""

    def _part(self, index: int) -> Measure | None:
        """`eleven of the twelve`, `11 out of 12`, `4/5`, `all six`."""
        number = self.numbers[index]
        kind = Kind.SCORE if self.scores else Kind.PART
        words = [token.word for token in self.tokens[number.first : number.after]]
        if number.form == "fraction" and len(words) == 3 and words[1] == "/":
            shown, whole = float(words[0]), int(words[2])
            return self._made(
                index, (Reading(kind, shown, shown, 1, Dimension.COUNT, of=whole),), self._end(index)
            )
        if number.form == "cardinal" and self._word(number.first - 1) in _ALL and number.value > 1:
            reading = Reading(Kind.PART, number.value, number.value, 1, Dimension.COUNT, of=int(number.value))
            noun = noun_in(self._few_words(self._end(index)), self.language)
            return self._made(index, (reading,), self._end(index), noun=noun[0] if noun else "")
        following = index + 1
        if (
            number.form not in ("cardinal", "article", "ordinal", "fraction")
            or following >= len(self.numbers)
            or following in self.taken
        ):
            return None
        between = [self._word(at) for at in range(number.after, self.numbers[following].first)]
        if not between or between[0] not in _OF or not set(between) <= _OF | _OF_THE | {"plants", "seeds"}:
            return None
        whole_of = self.numbers[following]
        if (
            whole_of.value != int(whole_of.value)
            or not 0 < whole_of.value < 10_000
            or number.value > whole_of.value
            or (part := _in_whole(number, whole_of)) is None
        ):
            return None
        noun = noun_in(self._few_words(self._end(following)), self.language)
        score = kind is Kind.SCORE and noun is None
        reading = Reading(
            Kind.SCORE if score else Kind.PART,
            part,
            part,
            1 if number.form == "fraction" else min(1, number.step),
            Dimension.COUNT,
            of=int(whole_of.value),
        )
        return self._made(
            index, (reading,), self._end(following), noun=noun[0] if noun else "", last=following
        )

    def _one_plant(self, index: int) -> Measure | None:
        """`eine Pflanze ist eingegangen`: an article counts where plants live or die."""
        found = self._counted(index) if self.language.startswith("de") and self.lost else None
        return found if found is not None and found.noun == "plant" else None

    def _counted(self, index: int) -> Measure | None:
        number, begin = self.numbers[index], self._end(index)
        found = noun_in(self._few_words(begin), self.language)
        if found is None or number.value != int(number.value):
            return None
        noun, _, end = found
        reading = Reading(Kind.COUNT, number.value, number.value, 1, Dimension.COUNT)
        return self._made(index, (reading,), begin + end, noun=noun)

    def _both(self) -> list[Measure]:
        """`both tubs had flowered`: all of two."""
        found = []
        for at, token in enumerate(self.tokens):
            if token.word in _BOTH and self._word(at + 1) not in ("of", "von"):
                reading = Reading(Kind.PART, 2, 2, 1, Dimension.COUNT, of=2)
                noun = noun_in(self._few_words(token.end), self.language)
                if noun is None and not self.living:
                    continue
                found.append(Measure(-1, at, at + 1, token.end, (reading,), noun=noun[0] if noun else ""))
        return found


def _in_whole(number: SpokenNumber, whole: SpokenNumber) -> float | None:
    """A part as a number: two thirds of twelve are eight; None where it is no whole one."""
    if number.form != "fraction":
        return number.value
    part = round(number.value * whole.value, 6)
    return part if part == int(part) else None
