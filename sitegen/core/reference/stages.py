"""Milestones by kind of crop, with the growth stage behind each and the phase it begins.

References
----------
BBCH codes: Meier, U. (ed.), Growth Stages of Mono- and Dicotyledonous Plants, 2nd edition (2001/2018),
in own words. A stage of a stand counts once half of its plants show it. Codes are two digits as text. The
codes after principal stage 5 of fruiting crops and legumes are from memory. Herbs have no scale of their own
there: the general scale is used (common practice, no source).

"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.language.catalogue import noted, noted_c

KINDS = (
    noted_c("kind of crop", "leafy"),
    noted_c("kind of crop", "heading"),
    noted_c("kind of crop", "flower head"),
    noted_c("kind of crop", "fruiting"),
    noted_c("kind of crop", "root"),
    noted_c("kind of crop", "legume"),
    noted_c("kind of crop", "herb"),
)

# Phases in the order they are lived through; a stage begins its phase.
PHASES = (
    noted("germination"),
    noted("seedling"),
    noted("leaf growth"),
    noted("heading"),
    noted("root growth"),
    noted("flowering"),
    noted("fruiting"),
    noted("picking"),
    noted("later flush"),
)


@dataclass(frozen=True, slots=True)
class Milestone:
    """A growth stage that a log can name."""

    name: str
    words: str  # completes "the plant …" in the past tense
    noun: str  # stands alone as a heading
    bbch: str
    kinds: tuple[str, ...]
    begins: str = ""


_ALL = KINDS

MILESTONES: tuple[Milestone, ...] = (
    Milestone(
        "seed_leaves", noted("had opened its seed leaves"), noted("seed leaves open"), "10", _ALL, "seedling"
    ),
    Milestone(
        "first_true_leaf",
        noted("had its first true leaf"),
        noted("first true leaf"),
        "11",
        _ALL,
        "leaf growth",
    ),
    Milestone("rosette", noted("had formed a rosette"), noted("rosette"), "33", ("leafy", "heading"), ""),
    Milestone(
        "full_rosette", noted("had a full rosette"), noted("full rosette"), "39", ("leafy", "heading"), ""
    ),
    Milestone(
        "side_shoots",
        noted("had made side shoots"),
        noted("side shoots"),
        "21",
        ("herb", "fruiting", "legume"),
        "",
    ),
    Milestone(
        "head_start",
        noted("had begun a head"),
        noted("head begins"),
        "41",
        ("heading", "flower head"),
        "heading",
    ),
    Milestone(
        "head_full", noted("had a full head"), noted("full head"), "49", ("heading", "flower head"), ""
    ),
    Milestone("head_loose", noted("had a loosening head"), noted("head loosens"), "51", ("flower head",), ""),
    Milestone(
        "root_swelling", noted("had a swelling root"), noted("root swells"), "41", ("root",), "root growth"
    ),
    Milestone("full_root", noted("had a full root"), noted("full root"), "49", ("root",), ""),
    Milestone(
        "bolting", noted("had bolted"), noted("bolting"), "51", ("leafy", "heading", "root", "herb"), ""
    ),
    Milestone(
        "flower_bud", noted("showed a flower bud"), noted("first bud"), "51", ("fruiting", "legume"), ""
    ),
    Milestone(
        "first_flower",
        noted("had flowered"),
        noted("first flower"),
        "60",
        ("legume", "herb", "flower head"),
        "flowering",
    ),
    Milestone("first_flower", noted("had flowered"), noted("first flower"), "61", ("fruiting",), "flowering"),
    Milestone("first_fruit", noted("had set a fruit"), noted("first fruit"), "71", ("fruiting",), "fruiting"),
    Milestone("first_pod", noted("had set a pod"), noted("first pod"), "71", ("legume",), "fruiting"),
    Milestone("full_pod", noted("had full pods"), noted("full pods"), "79", ("legume",), ""),
    Milestone("first_colour", noted("had a colouring fruit"), noted("first colour"), "81", ("fruiting",), ""),
    Milestone("ripe", noted("had ripe fruit"), noted("ripe fruit"), "89", ("fruiting",), ""),
)


def milestones_of(kind: str) -> dict[str, Milestone]:
    """The milestones of one kind of crop by name, in the order of growth."""
    return {m.name: m for m in sorted(MILESTONES, key=lambda m: m.bbch) if kind in m.kinds}
