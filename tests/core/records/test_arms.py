"""Arms of a run: which sets of plants are compared, and which of them are the same."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitegen.core.records.arms import arms_of, crossed, sets_of, splits_of
from sitegen.core.records.setup import Compared, Plant, Setup, Tub
from tests.measure.builders import BUCKET, place, setup_of

Sets = Mapping[str, tuple[str, ...]]


def setup(
    plants: int, *, tubs: Sets | None = None, groups: Sets | None = None, varieties: Sets | None = None
) -> Setup:
    """A set-up whose plants P1, P2 … are divided as given."""
    ids = [f"P{number}" for number in range(1, plants + 1)]
    tub_of = {plant: key for key, members in (tubs or {"tub": tuple(ids)}).items() for plant in members}
    variety_of = {plant: key for key, members in (varieties or {}).items() for plant in members}
    made = [
        Plant(each, number, tub_of[each], variety_of.get(each, ""), (), place(5))
        for number, each in enumerate(ids, 1)
    ]
    return replace(
        setup_of(),
        plants=tuple(made),
        tubs=tuple(Tub(key, BUCKET) for key in (tubs or {"tub": ()})),
        groups=tuple((groups or {}).items()),
    )


HALVES = {"near": ("P1", "P2"), "far": ("P3", "P4")}
ODD_EVEN = {"pruned": ("P1", "P3"), "whole": ("P2", "P4")}


def test_groups_before_tubs_before_varieties() -> None:
    """Without a word of the author, groups are compared, else tubs, else varieties."""
    amber = {"amber": ("P1", "P4"), "rust": ("P2", "P3")}
    every = setup(4, groups=ODD_EVEN, tubs=HALVES, varieties=amber)
    assert [arm.key for arm in arms_of(every)] == ["pruned", "whole"]
    assert [arm.key for arm in arms_of(replace(every, groups=()))] == ["near", "far"]
    assert [arm.key for arm in arms_of(setup(4, varieties=amber))] == ["amber", "rust"]
    assert arms_of(setup(4)) == ()


def test_the_author_decides() -> None:
    """`compare` takes the split that it names."""
    both = setup(4, groups=ODD_EVEN, tubs=HALVES)
    assert [arm.key for arm in arms_of(replace(both, compare="tubs"))] == ["near", "far"]


def test_splits_that_divide_alike_are_one() -> None:
    """Two lamps over two tubs are two arms, which have the groups' names and the tubs' water."""
    lamps = {"bar": ("P1", "P2"), "panel": ("P3", "P4")}
    alike = replace(setup(4, groups=lamps, tubs=HALVES), compare="tubs")
    assert [(arm.kind, arm.key, arm.key_of("tubs")) for arm in arms_of(alike)] == [
        ("groups", "bar", "near"),
        ("groups", "panel", "far"),
    ]
    assert crossed(alike) == ()


@pytest.mark.parametrize(
    ("groups", "kinds"),
    [
        pytest.param(ODD_EVEN, ("groups", "tubs"), id="across"),
        pytest.param({"a": ("P1",), "b": ("P2",), "c": ("P3", "P4")}, (), id="further divided"),
        pytest.param({"a": ("P1",), "b": ("P3",)}, (), id="a plant from each"),
    ],
)
def test_crossed(groups: Sets, kinds: tuple[Compared, ...]) -> None:
    """Splits cross each other where neither only divides the other further."""
    assert crossed(setup(4, groups=groups, tubs=HALVES)) == kinds


def test_groups_that_share_a_plant_are_no_split() -> None:
    """Groups with a plant in common are not compared; the tubs are."""
    sharing = setup(4, groups={"a": ("P1", "P2"), "b": ("P2", "P3")}, tubs=HALVES)
    assert list(splits_of(sharing)) == ["tubs"]
    assert arms_of(replace(sharing, compare="groups")) == ()


PLANTS = 6
ASSIGNED = st.lists(st.integers(0, 2), min_size=PLANTS, max_size=PLANTS)


def _divided(assigned: list[int], name: str) -> Sets:
    return {
        f"{name}{which}": tuple(f"P{n}" for n, each in enumerate(assigned, 1) if each == which)
        for which in sorted(set(assigned))
    }


@given(
    groups=ASSIGNED,
    tubs=ASSIGNED,
    varieties=ASSIGNED,
    compare=st.sampled_from(["groups", "tubs", "varieties"]),
)
def test_arms_divide_the_plants(
    groups: list[int], tubs: list[int], varieties: list[int], compare: Compared
) -> None:
    """Arms hold each plant once; one of several alike has its place in each; nothing crosses itself."""
    every = replace(
        setup(
            PLANTS, groups=_divided(groups, "g"), tubs=_divided(tubs, "t"), varieties=_divided(varieties, "v")
        ),
        compare=compare,
    )
    assume(compare in sets_of(every))
    arms = arms_of(every)
    held = [plant for arm in arms for plant in arm.plants]
    assert sorted(held) == sorted(every.plant_ids)
    assert len(arms) > 1
    for arm in arms:
        assert (arm.kind, arm.key) in arm.alike
        assert all(set(splits_of(every)[kind][key]) == set(arm.plants) for kind, key in arm.alike)
    assert len(crossed(every)) != 1
