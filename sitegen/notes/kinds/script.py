"""The script of an episode: what to say by part of the run, what to show, and what to be careful about.

In: the material of a run, the minutes that there are and the rate of speaking. Out: a draft. Parts are left out whole,
the one whose best moment has the lowest score first; nothing is shortened to fit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.core.facts.figure import Label
from sitegen.core.language.catalogue import tr
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import listed
from sitegen.core.language.wording import mid_sentence, opening
from sitegen.core.values.day import Day
from sitegen.notes.draft import AuthorWords, Draft, Number, Passage, Section, passage, told
from sitegen.notes.joining import joined
from sitegen.notes.material import Material
from sitegen.notes.moments.beginning import beginning
from sitegen.notes.moments.care import care
from sitegen.notes.moments.framing import meaning, opening_moments
from sitegen.notes.moments.growth import growth
from sitegen.notes.moments.moment import Moment, Place
from sitegen.notes.moments.picks import picking
from sitegen.notes.moments.questions import questions
from sitegen.notes.moments.stages import stages
from sitegen.notes.moments.sums import sums
from sitegen.notes.scoring import ALWAYS, Scored, repeated, scored
from sitegen.notes.speech.speech import Speech

_SHORT, _LONG = 4, 16  # sentences of a part that stands alone; common practice, no source
_MOST_PHASES = 3  # in one part
_LEAST_SHARE = 0.25  # of a part that was divided
RATE = 150  # words a minute; common practice, no source
_SUBJECTS: tuple[Callable[[Material], Iterable[Moment]], ...] = (
    opening_moments,
    beginning,
    stages,
    growth,
    care,
    picking,
    sums,
    questions,
    meaning,
)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A phase of the run: the days from which it takes moments."""

    title: str
    first: int
    last: int


def moments(material: Material) -> list[Scored]:
    """Everything that could be told of a run, with its score."""
    return list(scored((moment for subject in _SUBJECTS for moment in subject(material)), material))


def script(material: Material, minutes: float | None = None, rate: int = RATE) -> Draft:
    """The script; with `minutes` no longer than these at so many words a minute, as far as whole parts allow."""
    speech = Speech(material.wording, spoken=True)
    told = moments(material)
    sections = [section for section in _sections(told, material) if section.passages]
    kept, left = (sections, ()) if minutes is None else fitted(sections, minutes * rate, speech)
    return Draft(
        "script",
        material.setup.id,
        material.setup.title,
        tuple(kept),
        tuple(left),
        careful(material),
        spoken=True,
    )


def _sections(told: Sequence[Scored], material: Material) -> Iterator[Section]:
    yield _section(_titled(material.setup.title), _placed(told, "opening"), material, first=True)
    for part in _parts(told, material):
        section = _section(None, part.told, material)
        if section.passages:
            yield replace(section, title=_part_title(part), days=part.days)
    title = tr("On the scale so far") if material.facts.running else tr("On the scale")
    yield _section(_plain(title), _placed(told, "scale"), material)
    yield _section(_plain(tr("The bill")), _placed(told, "bill"), material)
    meant = tr("What may be said already") if material.facts.running else tr("What it means")
    yield _section(_plain(meant), _placed(told, "meaning"), material)


@dataclass(frozen=True, slots=True)
class _Part:
    """A stretch of the run that is told together: its phases and its moments."""

    phases: tuple[str, ...]
    told: tuple[Scored, ...]

    @property
    def sentences(self) -> int:
        """How much there is to say."""
        return sum(len(each.moment.passages) for each in self.told)

    @property
    def days(self) -> Day:
        """The days that it tells of."""
        days = [each.moment.day for each in self.told if each.moment.day is not None]
        return Day(min(day.key[0] for day in days), max(day.last for day in days))


def _parts(told: Sequence[Scored], material: Material) -> list[_Part]:
    """The phases of the run with what is told of them: short ones together, long ones in two."""
    parts: list[_Part] = []
    for stretch in _stretches(material):
        within = [each for each in told if _within(each.moment, stretch)]
        kept = [each for each in repeated(sorted(within, key=_in_order)) if each.kept]
        if not kept:
            continue
        part = _Part((stretch.title,), tuple(kept))
        short = parts and min(parts[-1].sentences, part.sentences) < _SHORT
        if short and len(parts[-1].phases) < _MOST_PHASES and not _long(parts[-1], part):
            parts[-1] = _Part((*parts[-1].phases, stretch.title), (*parts[-1].told, *part.told))
        else:
            parts.append(part)
    return [half for part in parts for half in _halved(part)]


def _within(moment: Moment, stretch: _Stretch) -> bool:
    day = moment.day
    return moment.place == "day" and day is not None and stretch.first <= day.key[0] <= stretch.last


def _in_order(each: Scored) -> tuple[tuple[int, int], int]:
    return each.moment.day.key if each.moment.day else (0, 0), each.moment.order


def _long(*parts: _Part) -> bool:
    return sum(part.sentences for part in parts) > _LONG


def _halved(part: _Part) -> list[_Part]:
    """A long part in two, between the days that lie furthest apart near its middle."""
    if part.sentences <= _LONG:
        return [part]
    places = []
    for place in range(1, len(part.told)):
        before, after = part.told[place - 1].moment.day, part.told[place].moment.day
        if before is None or after is None or before.last >= after.first:
            continue
        first = _Part(part.phases, part.told[:place]).sentences
        balance = min(first, part.sentences - first) / part.sentences
        if balance >= _LEAST_SHARE:
            places.append((after.first - before.last, balance, place))
    if not places:
        return [part]
    _, _, place = max(places)
    halves = (_Part(part.phases, part.told[:place]), _Part(part.phases, part.told[place:]))
    return [each for half in halves for each in _halved(half)]


def _plain(title: str) -> Passage:
    return Passage((title,))


def _titled(title: str) -> Passage:
    return Passage((AuthorWords(title),))


def _placed(told: Sequence[Scored], place: Place) -> list[Scored]:
    return sorted((each for each in told if each.moment.place == place), key=lambda each: each.moment.order)


def _section(
    title: Passage | None, told: Sequence[Scored], material: Material, *, first: bool = False
) -> Section:
    kept = [each for each in told if each.kept]
    passages = tuple(joined(each.moment for each in kept))
    days = [each.moment.day for each in kept if each.moment.day is not None]
    best = max((each.score for each in kept), default=None)
    return Section(title or _plain(""), passages, shown(days, material, first=first), score=best)


def _stretches(material: Material) -> list[_Stretch]:
    """The phases of the timeline; the first takes what came before it, the last what comes behind."""
    phases = material.facts.timeline.phases
    if not phases:
        return [_Stretch(tr("The days"), -(10**6), 10**6)]
    begins = [phase.begins.key[0] for phase in phases]
    found = []
    for place, phase in enumerate(phases):
        first = -(10**6) if place == 0 else begins[place]
        last = 10**6 if place == len(phases) - 1 else begins[place + 1] - 1
        if first <= last:
            found.append(_Stretch(opening(label_words(Label(phase.name, "phase"))), first, last))
    return found


def _part_title(part: _Part) -> Passage:
    phases = (part.phases[0], *(mid_sentence(phase) for phase in part.phases[1:]))
    return passage(
        tr("{phase}, {days}"), phase=listed(phases), days=Number("log.day", part.days, "day")
    ) or _plain("")


def shown(days: Sequence[Day], material: Material, *, first: bool = False) -> tuple[Passage, ...]:
    """What to show: footage and photos of these days, else the nearest photo, named as what it is."""
    first_day, last_day = (
        min((day.key[0] for day in days), default=0),
        max((day.last for day in days), default=-1),
    )
    clips = [event for event in material.clips if first_day <= event.day.key[0] <= last_day]
    pictures = [each for each in material.pictures if each[1] in days]
    if first and material.pictures:
        pictures = [material.pictures[-1]]
    said = [
        passage(
            tr("clip {file} of {day}"),
            event.source,
            file=AuthorWords(event.file or event.what, inside=True),
            day=Number("log.day", event.day, "day"),
        )
        for event in clips
    ]
    said += [
        passage(
            tr("photo {file} of {day}"),
            file=AuthorWords(file, inside=True),
            day=Number("log.day", day, "day"),
        )
        for file, day, _ in dict.fromkeys(pictures)
    ]
    if said:
        return told(*said)
    if not days:
        return ()
    middle = days[len(days) // 2]
    near = min(material.pictures, key=lambda each: abs(each[1].middle - middle.middle), default=None)
    if near is None:
        return told(passage(tr("nothing was filmed or photographed")))
    return told(
        passage(
            tr("nothing filmed or photographed; say it over photo {file} of {day}"),
            file=AuthorWords(near[0], inside=True),
            day=Number("log.day", near[1], "day"),
        )
    )


# length


def words_of(section: Section, speech: Speech) -> int:
    """The number of words spoken in a section; those joined by a hyphen are two."""
    return sum(len(speech.say(each).replace("-", " ").split()) for each in section.passages)


def fitted(
    sections: Sequence[Section], words: float, speech: Speech
) -> tuple[list[Section], tuple[Section, ...]]:
    """The sections that fit into so many words, and those left out, the lowest score first."""
    kept, left = list(sections), []
    while kept and math.fsum(words_of(each, speech) for each in kept) > words:
        droppable = [each for each in kept if (each.score or 0) < ALWAYS]
        if not droppable:
            break
        lowest = min(droppable, key=lambda each: (each.score or 0, each.days.last if each.days else 0))
        kept.remove(lowest)
        left.append(lowest)
    return kept, tuple(left)


# what to be careful about


def careful(material: Material) -> tuple[Passage, ...]:
    """What must not be claimed of this run: read before speaking, never spoken."""
    found: list[Passage | None] = []
    total = material.facts.harvest.total
    unweighed = [pick for pick in material.rows.picks if pick.weight.unweighed]
    if unweighed:
        found.append(
            passage(
                tr("Say “at least” before every total: {picks} went unweighed."),
                [pick.source for pick in unweighed],
                picks=Number("harvest.unweighed", len(unweighed), noun="pick"),
            )
        )
    elif total.recorded and material.rows.tallies:
        found.append(passage(tr("The totals rest on running totals, not on each pick."), total.rows))
    for arm in material.arms:
        gone = [plant for plant in arm.plants if plant not in material.stayed(arm)]
        if gone:
            found.append(
                passage(
                    tr(
                        "What changed tubs counts for neither side from then on; give no ratio of the totals."
                    ),
                    *(event.source for event in material.rows.events if event.deed == "move"),
                )
            )
            break
    if material.facts.run.logged and material.facts.climate.energy.recorded:
        found.append(passage(tr("Current is worked out from labels and lamp hours, not read from a meter.")))
    found += [
        passage(
            tr("Corrected since: {text}"),
            material.setup.at("corrections"),
            text=AuthorWords(correction.text, inside=True),
        )
        for correction in material.setup.corrections
    ]
    found.append(passage(tr("Say no cause: the log holds what was done and what was seen, in order.")))
    return told(*found)
