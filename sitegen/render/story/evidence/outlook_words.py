"""What is to come in a run that still grows, in sentences.

In: an `Outlook`, the name of the crop. Out: plain sentences: the window of each thing to come with the runs behind it and
the chance that it holds, or that there are too few of them. The days claimed for the seed stand beside them as a
sentence with its figure.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from sitegen.core.facts.across import Expected, Outlook
from sitegen.core.facts.claimant import CLAIMANTS
from sitegen.core.language.catalogue import tr, tr_n, tr_n_noop, tr_noop
from sitegen.core.language.figure_words import label_words, remarks_words
from sitegen.core.language.text import in_words, listed
from sitegen.core.language.wording import Wording, mid_sentence, opening
from sitegen.render.story.result import Headlines
from sitegen.render.story.run_sentences import Sentence

_WEIGHTS = ("total", "per_spot")
_AS_BEFORE = tr_noop("{what}: {window}, as in the {number} {crop} runs before ({chance}).")
# Of a day, and of a weight.
_AS_SOME_BEFORE = (
    tr_noop(
        "{what}: {window}, as in the {number} {crop} runs before that were no further on day {day} ({chance})."
    ),
    tr_noop(
        "{what}: {window}, as in the {number} {crop} runs before that gave more than this one so far ({chance})."
    ),
)
_OPEN = (
    tr_n_noop(
        "{number} more run was not there yet when last checked.",
        "{number} more runs were not there yet when last checked.",
    ),
    tr_n_noop(
        "In {number} more run not everything was weighed.",
        "In {number} more runs not everything was weighed.",
    ),
)
_PAST_ALL = (
    tr_n_noop(
        "{what}: later than in the one run before it.", "{what}: later than in all {number} before it."
    ),
    tr_n_noop("{what}: more than in the one run before it.", "{what}: more than in all {number} before it."),
)
_PAST_BOTH = (
    tr_noop("{what}: later than in both runs before it."),
    tr_noop("{what}: more than in both runs before it."),
)
_PAST_SOME = (
    tr_n_noop(
        "{what}: later than in {number} of the {all} runs before it; the others are too few to say more.",
        "{what}: later than in {number} of the {all} runs before it; the others are too few to say more.",
    ),
    tr_n_noop(
        "{what}: more than in {number} of the {all} runs before it; the others are too few to say more.",
        "{what}: more than in {number} of the {all} runs before it; the others are too few to say more.",
    ),
)
_FEW = tr_n_noop(
    "{things}: {number} earlier run is too few to go by.",
    "{things}: {number} earlier runs are too few to go by.",
)


def claim_sentence(figures: Headlines, *, running: bool) -> Sentence | None:
    """The first pick by the days claimed for the seed, with who claimed them, while nothing was picked."""
    expected = figures.expected
    if not running or not expected.recorded or figures.first_pick.recorded:
        return None
    says = [each for each in expected.remarks if each.code in CLAIMANTS]
    who = f" ({remarks_words(says)})." if says else "."
    return Sentence((tr("Going by the days claimed for the seed, the first pick is due on "), expected, who))


def outlook_sentences(
    outlook: Outlook, crop: str, wording: Wording, *, brief: bool = False
) -> tuple[str, ...]:
    """What is expected and when; nothing where no earlier run says anything.

    In brief, what earlier runs are too few for is left out, unless that is all.
    """
    few = [each for each in outlook.expected if each.window is None and not each.passed]
    told = [each for each in outlook.expected if each not in few]
    sentences = [sentence for each in told for sentence in _told(each, outlook.day, crop, wording)]
    for alike in dict.fromkeys(map(_counts, () if brief and told else few)):
        sentences += _too_few([each for each in few if _counts(each) == alike])
    if told and outlook.once:
        sentences.append(tr("Runs that shared a tub at the same time count once."))
    return tuple(sentences)


def _counts(each: Expected) -> tuple[int, int, bool]:
    """What is said of how few runs there are."""
    return each.runs, each.open, each.open > 0 and each.what in _WEIGHTS


def _too_few(alike: Sequence[Expected]) -> Iterator[str]:
    """That there are too few runs, of things with as many."""
    things, number = opening(listed([label_words(each.label) for each in alike])), alike[0].runs
    if number:
        yield tr_n(*_FEW, number, things=things, number=in_words(number))
    else:
        yield tr("{things}: not enough runs to say.", things=things)
    yield from _without_bound(alike[0])


def _without_bound(each: Expected) -> Iterator[str]:
    """The earlier runs that nothing limits."""
    if each.open:
        yield opening(tr_n(*_OPEN[each.what in _WEIGHTS], each.open, number=in_words(each.open)))


def _told(each: Expected, day: int, crop: str, wording: Wording) -> Iterator[str]:
    """The window, or that the run is past earlier ones."""
    what, weight = opening(label_words(each.label)), each.what in _WEIGHTS
    number, every = in_words(each.passed), in_words(each.passed + each.runs + each.open)
    if each.later and each.passed == 2:
        yield tr(_PAST_BOTH[weight], what=what)
    elif each.later:
        yield tr_n(*_PAST_ALL[weight], each.passed, what=what, number=number)
    elif each.window is None:
        yield tr_n(*_PAST_SOME[weight], each.passed, what=what, number=number, all=every)
    else:
        message = _AS_SOME_BEFORE[weight] if each.passed else _AS_BEFORE
        yield tr(
            message,
            what=what,
            window=wording.say_in_sentence(each.window),
            number=in_words(each.runs),
            crop=mid_sentence(crop),
            day=day,
            chance=_chance(each),
        )
        yield from _without_bound(each)


def _chance(each: Expected) -> str:
    """`a chance of two in three if grown alike`: order alone says no more."""
    chance = each.chance or Fraction(0)
    part, whole = in_words(chance.numerator), in_words(chance.denominator)
    if each.at_least:
        return tr("a chance of at least {part} in {whole} if grown the same way", part=part, whole=whole)
    return tr("a chance of {part} in {whole} if grown the same way", part=part, whole=whole)
