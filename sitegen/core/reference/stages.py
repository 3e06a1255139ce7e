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

__all__ = ["KINDS", "MILESTONES", "PHASES", "Milestone", "milestones_of"]

KINDS = ("leafy", "heading", "flower head", "fruiting", "root", "legume", "herb")

# Phases in the order they are lived through; a stage begins its phase.
PHASES = (
    "germination",
    "seedling",
    "leaf growth",
    "heading",
    "root growth",
    "flowering",
    "fruiting",
    "picking",
    "later flush",
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
    Milestone("seed_leaves", "had opened its seed leaves", "seed leaves open", "10", _ALL, "seedling"),
    Milestone("first_true_leaf", "had its first true leaf", "first true leaf", "11", _ALL, "leaf growth"),
    Milestone("rosette", "had formed a rosette", "rosette", "33", ("leafy", "heading"), ""),
    Milestone("full_rosette", "had a full rosette", "full rosette", "39", ("leafy", "heading"), ""),
    Milestone("side_shoots", "had made side shoots", "side shoots", "21", ("herb", "fruiting", "legume"), ""),
    Milestone("head_start", "had begun a head", "head begins", "41", ("heading", "flower head"), "heading"),
    Milestone("head_full", "had a full head", "full head", "49", ("heading", "flower head"), ""),
    Milestone("head_loose", "had a loosening head", "head loosens", "51", ("flower head",), ""),
    Milestone("root_swelling", "had a swelling root", "root swells", "41", ("root",), "root growth"),
    Milestone("full_root", "had a full root", "full root", "49", ("root",), ""),
    Milestone("bolting", "had bolted", "bolting", "51", ("leafy", "heading", "root", "herb"), ""),
    Milestone("flower_bud", "showed a flower bud", "first bud", "51", ("fruiting", "legume"), ""),
    Milestone(
        "first_flower",
        "had flowered",
        "first flower",
        "60",
        ("legume", "herb", "flower head"),
        "flowering",
    ),
    Milestone("first_flower", "had flowered", "first flower", "61", ("fruiting",), "flowering"),
    Milestone("first_fruit", "had set a fruit", "first fruit", "71", ("fruiting",), "fruiting"),
    Milestone("first_pod", "had set a pod", "first pod", "71", ("legume",), "fruiting"),
    Milestone("full_pod", "had full pods", "full pods", "79", ("legume",), ""),
    Milestone("first_colour", "had a colouring fruit", "first colour", "81", ("fruiting",), ""),
    Milestone("ripe", "had ripe fruit", "ripe fruit", "89", ("fruiting",), ""),
)


def milestones_of(kind: str) -> dict[str, Milestone]:
    """The milestones of one kind of crop by name, in the order of growth."""
    return {m.name: m for m in sorted(MILESTONES, key=lambda m: m.bbch) if kind in m.kinds}
