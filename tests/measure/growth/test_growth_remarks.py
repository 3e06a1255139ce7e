"""What is said with the figures of growth."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sitegen.core.facts.figure import NOT_RECORDED, Label, Remark, RemarkCode, remark
from sitegen.core.facts.tree import Growth
from sitegen.core.records.rows import Reading, Which
from sitegen.core.records.setup import Claims, Seed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure.growth.growth import growth_of
from tests.measure.builders import reading, remarks_of, run_of, setup_of

FOUR = ("P1", "P2", "P3", "P4")


def cm(low: float, high: float | None = None) -> Quantity:
    """A length."""
    return Quantity(low, low if high is None else high, Dimension.LENGTH, step=1)


def height(day: int, size: float, *ids: str, line: int = 0, **more: Any) -> Reading:
    """A height of some plants."""
    return reading("height", day, cm(size), ids, line, **more)


def grown(*rows: Reading, tubs: tuple[str, ...] = ("tub",), **head: Any) -> Growth:
    """Growth of a run; P1 to P3 are a group."""
    setup = setup_of(5, tubs=tubs, groups=(("early", FOUR[:3]),))
    return growth_of(run_of(replace(setup, **head), readings=rows))


def said(*codes: RemarkCode) -> tuple[Remark, ...]:
    """Remarks without values."""
    return tuple(remark(code) for code in codes)


def test_whose_and_when_the_largest_was() -> None:
    """Up to three plants are named, more are counted, none where no plant is known; the place of a measure is said."""
    three = grown(height(40, 34, "P1", "P2", "P3")).tallest
    assert three.remarks == (remark("plants_on_day", plants=("P1", "P2", "P3"), day=Day.on(40)),)
    four = grown(height(40, 34, *FOUR)).tallest
    assert four.remarks == (remark("many_plants_on_day", n=4, day=Day.on(40)),)
    nobody = grown(height(40, 34)).tallest
    assert nobody.remarks == (remark("on_day", day=Day.on(40)),)
    unnamed = grown(height(40, 34)._replace(which=Which((), 2, 4))).tallest
    assert unnamed.remarks == (remark("plants_on_day", plants=("2 of 4",), day=Day.on(40)),)
    tip = grown(height(40, 34, "P1", at="stem tip")).tallest
    assert tip.remarks == (
        remark("plants_on_day", plants=("P1",), day=Day.on(40)),
        remark("measured_to", place="stem tip"),
    )
    two = grown(height(40, 34, "P1", line=1), height(40, 34, "P2", line=2)).tallest
    assert two.remarks == (remark("plants_on_day", plants=("P2",), day=Day.on(40)),)


def test_room() -> None:
    """The tub with the least room is named where there are several; the day of its reading is said in any case."""
    last = remark("when_last_measured", day=Day.on(40))
    assert grown(height(40, 34, "P1")).headroom.remarks == (last,)
    rows = (height(40, 34, "P1"), height(41, 44, "P5"))
    assert grown(*rows, tubs=("left", "right")).headroom.remarks == (
        remark("in_tub", tub="right"),
        remark("when_last_measured", day=Day.on(41)),
    )
    later = grown(height(40, 34, "P1"), height(50, 30, "P1"))
    assert later.headroom.remarks == (remark("when_measured", day=Day.on(40)),)
    other = grown(height(40, 34, "P1"), height(50, 30, "P5"), tubs=("left", "right"))
    assert other.headroom.remarks == (remark("in_tub", tub="left"), last)
    assert remarks_of(other.headroom) == "in the left tub; on day 40, when last measured"
    before = grown(height(0, 34, "P1")._replace(day=Day(0, 39, before=True))).headroom
    assert remarks_of(before) == "before day 40, when measured"
    bare = grown()
    assert [f.remarks for f in (bare.tallest, bare.widest, bare.most_leaves, bare.headroom)] == [
        (NOT_RECORDED,)
    ] * 4


def test_rates_of_plants() -> None:
    """Both rates say from which reading to which; a plateau needs no remark; plants are called by their id."""
    rate = grown(
        height(10, 4, "P1"), height(15, 14, "P1"), height(20, 14, "P1"), height(30, 14, "P1")
    ).rate.height
    span = (remark("from_day_to_day", first=Day.on(10), last=Day.on(30)),)
    (absolute,), (relative,), (plateau,) = rate.absolute, rate.relative, rate.plateau
    assert (absolute.figure.remarks, relative.figure.remarks, plateau.figure.remarks) == (span, span, ())
    assert [n.label for n in (absolute, relative, plateau)] == [Label("P1")] * 3


def group(*rows: Reading) -> tuple[Remark, ...]:
    """What is said with the rate of the group."""
    (found,) = grown(*rows).rate.height.by_group
    assert found.label == Label("early")
    return found.figure.remarks


def test_rates_of_groups() -> None:
    """How many plants and which days, or why there is no rate."""
    rows = (height(10, 4, *FOUR), height(15, 6, *FOUR), height(20, 8, *FOUR))
    assert group(*rows) == (
        remark("group_size", n=3),
        remark("day_to_day", first=Day.on(10), last=Day.on(20)),
    )
    assert group(rows[0], height(20, 8, "P1", "P2")) == said("group_not_measured_together")
    assert group(rows[0], height(20, 8, "P1", "P2"), height(20, 0, "P3", line=9)) == said(
        "reading_without_size"
    )
    opened = height(20, 8, *FOUR[:3])._replace(value=replace(cm(8), high=None))
    assert group(rows[0], opened) == said("reading_without_size")


def test_the_packet() -> None:
    """How the tallest plant stands to the packet's height, or what is missing."""
    seed = Seed(claims=Claims(height=cm(25, 30), by="the packet"))
    by = remark("claimed_by", who="the packet")

    def packet(*sizes: float, seed: Seed | None = seed) -> tuple[Remark, ...]:
        return grown(*(height(50, size, "P1") for size in sizes), seed=seed).rate.claim.remarks

    assert [packet(size) for size in (24, 25, 30, 31)] == [
        (remark(code), by)
        for code in ("lower_than_claim", "within_claim", "within_claim", "taller_than_claim")
    ]
    assert packet() == (remark("heights_not_recorded"), by)
    assert packet(24, seed=None) == packet(24, seed=Seed()) == said("no_height_claimed")


def test_a_claim_names_its_source() -> None:
    """A claimed height says who claims it, else from whom the seed is, else that neither is noted."""
    seed = Seed("a neighbour's envelope", claims=Claims(height=cm(25, 30)))
    source = remark("claim_source", source="a neighbour's envelope")

    assert grown(seed=seed).rate.claim.remarks == (*said("heights_not_recorded"), source)
    assert grown(height(50, 24, "P1"), seed=seed).rate.claim.remarks == (*said("lower_than_claim"), source)
    for who, by in (
        ("the maker", remark("claimed_by", who="the maker")),
        ("", remark("claimant_not_said")),
    ):
        named = Seed("a swap" * bool(who), claims=Claims(height=cm(25, 30), by=who))
        assert grown(seed=named).rate.claim.remarks == (*said("heights_not_recorded"), by)
