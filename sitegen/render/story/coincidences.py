"""Questions that a log raises: whether something done brought a stage that was first seen soon after it.

In: facts. Out: plain sentences, none of which claims a cause: a question, and what a fair test of it would need; where
the run was split for just that, how far the plants with it came and those without. A deed is set beside a stage only
where it may have touched each plant on which the stage was first seen: where the stage came to other plants too, it
asks nothing about the deed, unless they are the other side of such a split.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sitegen.core.facts.tree import Facts, MilestoneFacts
from sitegen.core.format.entry import key_of
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.language.figure_words import label_words
from sitegen.core.language.text import day_words
from sitegen.core.language.wording import Wording, opening
from sitegen.core.records.roster import Roster
from sitegen.core.records.rows import Deed, Event, MilestoneRow, Which
from sitegen.core.values.day import Day
from sitegen.render.story.arms.split_answer import Split, answer_words, split_of

NEAR_DAYS = 14  # how long before a stage a deed is worth standing beside it; common practice, no source
MOST = 5  # questions of one run; common practice, no source
# What a deed may have brought: each stage as an object.
_BROUGHT = {
    "seed_leaves": tr_noop("open seed leaves"),
    "first_true_leaf": tr_noop("the first true leaf"),
    "rosette": tr_noop("the rosette"),
    "full_rosette": tr_noop("the full rosette"),
    "side_shoots": tr_noop("side shoots"),
    "head_start": tr_noop("the beginning of a head"),
    "head_full": tr_noop("the full head"),
    "head_loose": tr_noop("the head coming loose"),
    "root_swelling": tr_noop("the root filling out"),
    "full_root": tr_noop("the full root"),
    "bolting": tr_noop("bolting"),
    "flower_bud": tr_noop("the first bud"),
    "first_flower": tr_noop("the first flower"),
    "first_fruit": tr_noop("the first fruit"),
    "first_pod": tr_noop("the first pod"),
    "full_pod": tr_noop("full pods"),
    "first_colour": tr_noop("the first fruit turning"),
    "ripe": tr_noop("ripe fruit"),
}
_FAIR_TEST = {
    Deed.PRUNE: tr_noop(
        "A fair test: in each tub, prune half of the plants, drawn by lot, and leave the rest."
    ),
    Deed.TRAIN: tr_noop(
        "A fair test: in each tub, train half of the plants, drawn by lot, and leave the rest."
    ),
    Deed.TREAT: tr_noop(
        "A fair test: in each tub, treat half of the plants, drawn by lot, and leave the rest."
    ),
    Deed.MOVE: tr_noop(
        "A fair test: in each tub, move half of the plants, drawn by lot, and leave the rest."
    ),
}


@dataclass(frozen=True, slots=True)
class _Plants:
    """Plants of a record: `number` of those in `among`; all of them where they are named."""

    among: frozenset[str]
    number: int

    def may_hold(self, other: _Plants) -> bool:
        """Whether all plants of another record may be among these."""
        common = len(self.among & other.among)
        named = len(other.among) == other.number
        return other.number <= self.number and (common == other.number if named else common >= other.number)


@dataclass(frozen=True, slots=True)
class _Pair:
    """A deed and a stage that was first seen on `seen`; `split` where the run was divided for the deed."""

    deed: Event
    stage: MilestoneFacts
    seen: Day
    split: Split | None

    @property
    def nearness(self) -> tuple[bool, int, tuple[int, int]]:
        """Those with an answer first, then by the days between the two."""
        return self.split is None, self.seen.span_since(self.deed.day).last, self.deed.day.key


def coincidences(facts: Facts, wording: Wording) -> tuple[str, ...]:
    """Things done shortly before a stage was first seen, the nearest few of them, as questions."""
    nearest = sorted(_pairs(facts), key=lambda pair: pair.nearness)[:MOST]
    shown = sorted(nearest, key=lambda pair: (pair.deed.day.key, pair.seen.key))
    found = [
        f"{_question(pair)} {answer_words(facts, pair.split, pair.stage.name, wording)}"
        for pair in shown
        if pair.split is not None
    ]
    open_ = [pair for pair in shown if pair.split is None]
    for deed in dict.fromkeys(pair.deed.deed for pair in open_):
        asked = [_question(pair) for pair in open_ if pair.deed.deed is deed]
        found.append(" ".join((*asked, tr("One run cannot say."), _fair_test(deed))))
    return tuple(found)


def _fair_test(deed: Deed) -> str:
    """What would tell."""
    if deed in _FAIR_TEST:
        return tr(_FAIR_TEST[deed])
    message = tr(
        "A fair test: in each tub, {deed} for half of the plants, drawn by lot, and none for the rest."
    )
    return message.format(deed=tr(key_of(deed).noun))


def _pairs(facts: Facts) -> Iterator[_Pair]:
    rows, roster = facts.run.rows, Roster.of(facts.run.setup, facts.run.rows)
    deeds = [event for event in rows.events if key_of(event.deed).noun]
    for deed in deeds:
        touched = _touched(deed, roster)
        split = _split(facts, deed, deeds, roster)
        for stage in facts.milestones:
            seen = [row for row in rows.milestones if row.name == stage.name and _reached(row)]
            first = min((row.day for row in seen), default=None)
            if first is None or not _near(deed.day, first):
                continue
            came = _first_seen((row for row in seen if row.day == first), roster)
            if split is not None or touched.may_hold(came):
                yield _Pair(deed, stage, first, split)


def _split(facts: Facts, deed: Event, deeds: Iterable[Event], roster: Roster) -> Split | None:
    """The split that a deed is of; a plant that was moved has left its group and its tub."""
    if deed.deed is Deed.MOVE:
        return None
    ever = frozenset[str]().union(*(_touched(each, roster).among for each in deeds if each.deed is deed.deed))
    return split_of(facts.run.setup, _touched(deed, roster).among, ever, roster, deed.day)


def _reached(row: MilestoneRow) -> bool:
    return row.reached and not row.which.nobody


def _near(done: Day, seen: Day) -> bool:
    """Whether each possible number of days between them is from 1 to `NEAR_DAYS`."""
    gap = seen.span_since(done)
    return not (done.before or seen.before) and gap.first > 0 and gap.last <= NEAR_DAYS


def _touched(deed: Event, roster: Roster) -> _Plants:
    """The plants of a deed: those it names, else those that stood in its tub, or in all."""
    if deed.which is not None:
        return _plants(deed.which, deed.day, roster, most=True)
    days = {deed.day.first, deed.day.last}
    standing = {(plant, day) for day in days for plant in roster.standing(day)}
    held = frozenset(plant for plant, day in standing if deed.tub in ("", roster.tub_of(plant, day)))
    return _Plants(held, len(held))


def _first_seen(rows: Iterable[MilestoneRow], roster: Roster) -> _Plants:
    """The plants of a stage at the look that found it first: at least so many."""
    each = [_plants(row.which, row.day, roster, most=False) for row in rows]
    named = frozenset[str]().union(*(one.among for one in each if len(one.among) == one.number))
    counted = [one for one in each if len(one.among) != one.number and one.number > len(named)]
    return max(counted, key=lambda one: one.number, default=_Plants(named, len(named)))


def _plants(which: Which, day: Day, roster: Roster, *, most: bool) -> _Plants:
    """Plants as written; `some` are all that stand, or one."""
    if which.named:
        return _Plants(frozenset(which.ids), len(which.ids))
    standing = frozenset(roster.standing(day.first))
    some = len(standing) if most else 1
    return _Plants(standing, some if which.count is None else which.count)


def _question(pair: _Pair) -> str:
    word = tr(key_of(pair.deed.deed).noun)
    named = f"{word} ({pair.deed.what})" if pair.deed.what else word
    stage = _BROUGHT.get(pair.stage.name)
    question = tr(
        "Did {deed} on {day} bring {stage} on {seen}?",
        deed=named,
        day=day_words(pair.deed.day),
        stage=tr(stage) if stage else label_words(pair.stage.label),
        seen=day_words(pair.seen),
    )
    return opening(question)
