"""Growth stages that a log can name, by kind of crop, with their BBCH codes and the phases that they begin.

In: nothing. Out: `KINDS` (kinds of crop), `PHASES`, `MILESTONES`, `milestones_of`; `stages_before` (the order of stages
that holds for every plant), `pick_ends` (the stages that a pick leaves out of reach), `stage_that_matters`.

References
----------
BBCH codes: Meier, U. (ed.), Growth Stages of Mono- and Dicotyledonous Plants, 2nd edition (2001/2018),
in own words. A stage of a stand counts once half of its plants show it. Codes are two digits as text. The
codes after principal stage 5 of fruiting crops and legumes are from memory. Herbs have no scale of their own
there: the general scale is used (common practice, no source). The order of stages and the picks that end one are common
knowledge, no source; only what holds for every plant is declared.

"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from sitegen.core.language.catalogue import tr_c_noop, tr_noop

KINDS = (
    tr_c_noop("kind of crop", "leafy"),
    tr_c_noop("kind of crop", "heading"),
    tr_c_noop("kind of crop", "flower head"),
    tr_c_noop("kind of crop", "fruiting"),
    tr_c_noop("kind of crop", "root"),
    tr_c_noop("kind of crop", "legume"),
    tr_c_noop("kind of crop", "herb"),
)

# In the order of growth. Some milestones begin a phase.
PHASES = (
    tr_noop("germination"),
    tr_noop("seedling"),
    tr_noop("leaf growth"),
    tr_noop("heading"),
    tr_noop("root growth"),
    tr_noop("flowering"),
    tr_noop("fruiting"),
    tr_noop("picking"),
    tr_noop("later flush"),
)


class Milestone(NamedTuple):
    """A growth stage that a log can name.

    `begins` is the phase that it begins, if any. `after` are stages that a plant has always been at before, on the same
    day at the latest. `ended_by` are the parts whose pick leaves a plant that can reach the stage no more.
    """

    name: str
    words: str  # completes "the plant …" in the past tense
    noun: str  # stands alone as a heading
    bbch: str
    kinds: tuple[str, ...]
    begins: str = ""
    after: tuple[str, ...] = ()
    ended_by: tuple[str, ...] = ()


_LEAVES = ("leafy", "heading")
_HEADS = ("heading", "flower head")
_FLOWERS = ("legume", "herb", "flower head")
_FRUITS = ("fruiting",)
_HEAD = ("head", "flower head")

MILESTONES: tuple[Milestone, ...] = (
    Milestone(
        "seed_leaves",
        tr_noop("had opened its seed leaves"),
        tr_noop("seed leaves open"),
        "10",
        KINDS,
        "seedling",
    ),
    Milestone(
        "first_true_leaf",
        tr_noop("had its first true leaf"),
        tr_noop("first true leaf"),
        "11",
        KINDS,
        "leaf growth",
        after=("seed_leaves",),
    ),
    Milestone(
        "rosette",
        tr_noop("had formed a rosette"),
        tr_noop("rosette"),
        "33",
        _LEAVES,
        after=("first_true_leaf",),
        ended_by=("head",),
    ),
    Milestone(
        "full_rosette",
        tr_noop("had a full rosette"),
        tr_noop("full rosette"),
        "39",
        _LEAVES,
        after=("rosette",),
        ended_by=("leaf", "head"),
    ),
    Milestone(
        "side_shoots",
        tr_noop("had made side shoots"),
        tr_noop("side shoots"),
        "21",
        ("herb", "fruiting", "legume"),
        after=("first_true_leaf",),
    ),
    Milestone(
        "head_start",
        tr_noop("had begun a head"),
        tr_noop("head begins"),
        "41",
        _HEADS,
        "heading",
        after=("first_true_leaf",),
        ended_by=_HEAD,
    ),
    Milestone(
        "head_full",
        tr_noop("had a full head"),
        tr_noop("full head"),
        "49",
        _HEADS,
        after=("head_start",),
        ended_by=_HEAD,
    ),
    Milestone(
        "head_loose",
        tr_noop("had a head coming loose"),
        tr_noop("head comes loose"),
        "51",
        ("flower head",),
        after=("head_start",),
        ended_by=_HEAD,
    ),
    Milestone(
        "root_swelling",
        tr_noop("had a root filling out"),
        tr_noop("root fills out"),
        "41",
        ("root",),
        "root growth",
        after=("first_true_leaf",),
        ended_by=("root",),
    ),
    Milestone(
        "full_root",
        tr_noop("had a full root"),
        tr_noop("full root"),
        "49",
        ("root",),
        after=("root_swelling",),
        ended_by=("root",),
    ),
    Milestone(
        "bolting",
        tr_noop("had bolted"),
        tr_noop("bolting"),
        "51",
        (*_LEAVES, "root", "herb"),
        after=("first_true_leaf",),
        ended_by=("root",),
    ),
    Milestone(
        "flower_bud",
        tr_noop("had a flower bud"),
        tr_noop("first bud"),
        "51",
        ("fruiting", "legume"),
        after=("first_true_leaf",),
    ),
    Milestone(
        "first_flower",
        tr_noop("had flowered"),
        tr_noop("first flower"),
        "60",
        _FLOWERS,
        "flowering",
        after=("first_true_leaf", "flower_bud"),
    ),
    Milestone(
        "first_flower",
        tr_noop("had flowered"),
        tr_noop("first flower"),
        "61",
        _FRUITS,
        "flowering",
        after=("flower_bud",),
    ),
    Milestone(
        "first_fruit",
        tr_noop("had set a fruit"),
        tr_noop("first fruit"),
        "71",
        _FRUITS,
        "fruiting",
        after=("first_flower",),
    ),
    Milestone(
        "first_pod",
        tr_noop("had set a pod"),
        tr_noop("first pod"),
        "71",
        ("legume",),
        "fruiting",
        after=("first_flower",),
    ),
    Milestone(
        "full_pod", tr_noop("had full pods"), tr_noop("full pods"), "79", ("legume",), after=("first_pod",)
    ),
    Milestone(
        "first_colour",
        tr_noop("had a fruit turning colour"),
        tr_noop("first fruit turning"),
        "81",
        _FRUITS,
        after=("first_fruit",),
    ),
    Milestone(
        "ripe", tr_noop("had ripe fruit"), tr_noop("ripe fruit"), "89", _FRUITS, after=("first_fruit",)
    ),
)
# By which runs of a kind are compared: the first sign of what is grown for. Common practice, no source.
_THAT_MATTERS = {
    "leafy": "rosette",
    "heading": "head_start",
    "flower head": "head_start",
    "fruiting": "first_flower",
    "root": "root_swelling",
    "legume": "first_flower",
    "herb": "first_true_leaf",
}
_WHOLE = "whole plant"  # its pick ends every stage
# The part that a pick is of where the log does not say it.
_USUAL_PART = {
    "leafy": "leaf",
    "heading": "head",
    "flower head": "flower head",
    "fruiting": "fruit",
    "root": "root",
    "legume": "pod",
    "herb": "leaf",
}


@cache
def milestones_of(kind: str) -> Mapping[str, Milestone]:
    """The milestones of one kind of crop by name, in the order of growth."""
    return {m.name: m for m in sorted(MILESTONES, key=lambda m: m.bbch) if kind in m.kinds}


def stage_that_matters(kind: str) -> str:
    """The stage by which runs of a kind of crop are compared; the first true leaf of a kind that is not known."""
    return _THAT_MATTERS.get(kind, "first_true_leaf")


def stages_before(kind: str, name: str) -> tuple[str, ...]:
    """The stages that a plant of a kind of crop has certainly been at by the time it reaches one."""
    known = milestones_of(kind)
    found: list[str] = []
    for earlier in known[name].after if name in known else ():
        if earlier in known and earlier not in found:
            found += [earlier, *(each for each in stages_before(kind, earlier) if each not in found)]
    return tuple(dict.fromkeys(found))


def pick_ends(kind: str, name: str, part: str) -> bool:
    """Whether a plant from which a part was picked can reach a stage no more; no part is the usual one of its kind."""
    stage, picked = milestones_of(kind).get(name), part or _USUAL_PART.get(kind, "")
    return stage is not None and picked in (_WHOLE, *stage.ended_by)
