"""`sitegen begin experiment --arms`: arms dealt at random to spots, varieties and tubs."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.app.begin.layout import random_layout
from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from sitegen.core.records.arms import arms_of
from sitegen.core.records.setup import Setup
from sitegen.ingest import read_journal, read_records
from tests.app.begin.planning import LEAF, bench, comments_of, plan, values_of


def setup_of(root: Path) -> Setup:
    """The set-up as it is read, without an error."""
    files, _ = read_journal(root)
    assert files is not None
    run, findings = read_records(files.folder("next"), files)
    assert run is not None
    assert findings == ()
    assert run.planned
    return run.setup


def test_groups_over_spots(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The arms are groups in blocks of consecutive spots; the comment has the seed, the blocks and the recipe."""
    root = bench(tmp_path)
    assert (
        plan(root, "--like", "leaf", "--arms", "low, mid,high", "--spots", "8", "--seed", "4711")
        == Status.DONE
    )

    values = values_of(root)
    # The layout of this seed is that of tests/app/begin/test_layout.py: a b c, c a b, c b.
    assert values["groups"] == {"low": ["P1", "P5"], "mid": ["P2", "P6", "P8"], "high": ["P3", "P4", "P7"]}
    assert values["compare"] == "groups"
    assert values["plants"] == "8"
    assert comments_of(root)[3:12] == [
        "# groups: {near: P1-P3, far: P4-P6}  # of leaf",
        "# Dealt at random, seed 4711, in blocks of 3 spots in their order, each arm once in a block:",
        "#   P1, P2, P3: low, mid, high",
        "#   P4, P5, P6: high, low, mid",
        "#   P7, P8: high, mid (a part)",
        "# For each block in turn the arms (low, mid, high) take numbers, one after the other, of Python's",
        "# random.Random(4711).random(), and stand in the order of their numbers, the smallest first.",
        "# In a part of a block those with the fewest spots so far go before the others. The first of them get a",
        "# place; to share these out, they take numbers once more.",
    ]
    assert [(arm.kind, arm.key) for arm in arms_of(setup_of(root))] == [
        ("groups", "low"),
        ("groups", "mid"),
        ("groups", "high"),
    ]
    capsys.readouterr()
    assert status_of(["validate", str(root), "--line"]) == Status.DONE
    assert "/next/" not in capsys.readouterr().out


def test_varieties_by_plant(tmp_path: Path) -> None:
    """Varieties are dealt plant by plant; seed of another variety is only a comment then."""
    root = bench(tmp_path)
    options = ("--compare", "varieties", "--arms", "first,second", "--seed", "3")
    assert plan(root, "--like", "leaf", *options) == Status.DONE

    dealt = [arm for block in random_layout(("first", "second"), [6], 3)[0] for arm in block]
    values = values_of(root)
    assert values["variety"] == {f"P{number}": arm for number, arm in enumerate(dealt, 1)}
    assert values["compare"] == "varieties"
    assert "groups" not in values
    assert "seed" not in values
    seed = "{source: 'a neighbour''s: envelope', packed: 2024}"
    assert f"# seed: {seed}  # of leaf, which had other varieties" in comments_of(root)


def test_whole_blocks_need_no_words_on_parts(tmp_path: Path) -> None:
    """Where all blocks are whole, the recipe ends with them."""
    root = bench(tmp_path)
    plan(root, "--like", "leaf", "--arms", "a,b", "--seed", "1")

    assert not [line for line in comments_of(root) if "part" in line]


def test_varieties_of_the_old_run_are_the_arms(tmp_path: Path) -> None:
    """Without names the arms are those that the old run had, and its seed stays."""
    mixed = LEAF.replace("variety: first", "variety: {near: second, P4-P6: first}")
    root = bench(tmp_path, mixed=mixed)
    assert plan(root, "--like", "mixed", "--compare", "varieties", "--seed", "1") == Status.DONE

    dealt = [arm for block in random_layout(("second", "first"), [6], 1)[0] for arm in block]
    assert [plant.variety for plant in setup_of(root).plants] == dealt
    assert "seed" in values_of(root)


@pytest.mark.parametrize("seed", range(4))
def test_groups_within_tubs_and_varieties(seed: int, tmp_path: Path) -> None:
    """Blocks lie within one tub and one variety: in each of them no arm has two spots more than another."""
    mixed = LEAF.replace("variety: first", "variety: {P1: second, P2-P5: first, P6: second}").replace(
        "system: tray", "tubs: {left: {system: tray, plants: near}, right: {system: tray, plants: far}}"
    )
    root = bench(tmp_path, mixed=mixed)
    assert plan(root, "--like", "mixed", "--arms", "one,two", "--seed", str(seed)) == Status.DONE

    setup = setup_of(root)
    assert {plant.id: (plant.tub, plant.variety) for plant in setup.plants} == {
        "P1": ("left", "second"), "P2": ("left", "first"), "P3": ("left", "first"),
        "P4": ("right", "first"), "P5": ("right", "first"), "P6": ("right", "second"),
    }  # fmt: skip
    one, two = setup.members("one"), setup.members("two")
    assert len(one) == len(two) == 3
    for pair in (("P2", "P3"), ("P4", "P5"), ("P1", "P6")):
        assert len(set(pair) & set(one)) == 1


@pytest.mark.parametrize("seed", range(4))
def test_groups_within_varieties_of_one_tub(seed: int, tmp_path: Path) -> None:
    """In one tub, too, blocks are of plants of one variety, wherever these stand."""
    mixed = LEAF.replace("variety: first", "variety: {P1: second, P2: first, P3: second, P4-P6: first}")
    root = bench(tmp_path, mixed=mixed)
    assert plan(root, "--like", "mixed", "--arms", "one,two", "--seed", str(seed)) == Status.DONE

    one = set(setup_of(root).members("one"))
    assert len(one & {"P1", "P3"}) == 1
    assert len(one & {"P2", "P4"}) == len(one & {"P5", "P6"}) == 1


def test_arms_dealt_to_the_tubs_that_there_are(tmp_path: Path) -> None:
    """Tubs keep their names and plants; a group has the name of each arm."""
    root = bench(tmp_path)
    seed = next(s for s in range(9) if random_layout(("high", "bar"), [2], s)[0][0] == ("bar", "high"))
    options = ("--compare", "tubs", "--arms", "high,bar", "--seed", str(seed))
    assert plan(root, "--like", "two-trays", *options) == Status.DONE

    values = values_of(root)
    assert values["tubs"] == {
        "left": {"system": "tray", "plants": ["P1", "P2", "P3"], "light": {"lamp": "bar", "hours": "15 h"}},
        "right": {"system": "tray", "plants": ["P4", "P5", "P6"]},
    }
    assert values["groups"] == {"high": ["P4", "P5", "P6"], "bar": ["P1", "P2", "P3"]}
    assert values["compare"] == "tubs"
    assert values["variety"] == {f"P{number}": "amber" for number in range(1, 7)}
    assert "#   left, right: bar, high" in comments_of(root)
    assert [(arm.kind, arm.key) for arm in arms_of(setup_of(root))] == [("groups", "bar"), ("groups", "high")]


@pytest.mark.parametrize(("like", "compare"), [("two-trays", "tubs"), ("leaf", "groups")])
def test_arms_are_what_they_were(like: str, compare: str, tmp_path: Path) -> None:
    """Without a kind, arms are of the kind that the old run compares, else groups."""
    root = bench(tmp_path)
    assert plan(root, "--like", like, "--arms", "a,b") == Status.DONE

    assert values_of(root)["compare"] == compare


def test_arms_of_tubs_are_their_groups(tmp_path: Path) -> None:
    """Without names the groups that fill a tub each are dealt anew."""
    root = bench(tmp_path)
    assert plan(root, "--like", "two-trays", "--compare", "tubs", "--seed", "2") == Status.DONE

    first, second = random_layout(("low", "high"), [2], 2)[0][0]
    assert values_of(root)["groups"] == {
        "low": ["P1", "P2", "P3"] if first == "low" else ["P4", "P5", "P6"],
        "high": ["P1", "P2", "P3"] if first == "high" else ["P4", "P5", "P6"],
    }
    assert {first, second} == {"low", "high"}


def test_a_lone_tub_becomes_one_an_arm(tmp_path: Path) -> None:
    """A run in one tub is planned in as many tubs of its system as there are arms, with plants in equal parts."""
    root = bench(tmp_path)
    options = ("--compare", "tubs", "--arms", "dim,bright,mid", "--spots", "7", "--seed", "5")
    assert plan(root, "--like", "leaf", *options) == Status.DONE

    values = values_of(root)
    assert values["tubs"] == {
        "tub-1": {"system": "tray", "plants": "P1-P3"},
        "tub-2": {"system": "tray", "plants": "P4-P5"},
        "tub-3": {"system": "tray", "plants": "P6-P7"},
    }
    assert "system" not in values
    assert values["compare"] == "tubs"
    assert all(tub.light is not None for tub in setup_of(root).tubs)


@pytest.mark.parametrize(("compare", "tubs"), [("groups", 1), ("tubs", 2)])
def test_a_lone_tub_under_its_own_name(compare: str, tubs: int, tmp_path: Path) -> None:
    """A tub that stands alone under `tubs` is dealt to as one that is written as `system`, with its lamp."""
    lone = "tubs: {only: {system: tray, plants: P1-P6, light: {lamp: bar, hours: 9 h}}}"
    root = bench(tmp_path, lone=LEAF.replace("system: tray", lone))
    assert plan(root, "--like", "lone", "--arms", "a,b", "--compare", compare, "--spots", "4") == Status.DONE

    assert values_of(root)["light"] == {"lamp": "bar", "hours": "9 h"}
    setup = setup_of(root)
    assert [tub.system.id for tub in setup.tubs] == ["tray"] * tubs
    assert len(setup.plants) == 4


def test_more_tubs_than_arms(tmp_path: Path) -> None:
    """With two tubs an arm the groups are compared: each tub would else be an arm of its own."""
    tubs = ", ".join(f"t-{number}: {{system: tray, plants: P{number}}}" for number in range(1, 5))
    four = LEAF.replace("system: tray", f"tubs: {{{tubs}}}").replace("plants: 6\n", "plants: 4\n")
    four = four.replace("groups: {near: P1-P3, far: P4-P6}\n", "").replace(", P5: 62 g, P6: 58 g", "")
    root = bench(tmp_path, four=four)
    assert plan(root, "--like", "four", "--compare", "tubs", "--arms", "a,b", "--seed", "1") == Status.DONE

    assert values_of(root)["compare"] == "groups"
    assert [len(arm.plants) for arm in arms_of(setup_of(root))] == [2, 2]


def test_without_an_earlier_run(tmp_path: Path) -> None:
    """Arms can be dealt to the spots of a first run; its log is empty, and its question is the author's to write."""
    root = bench(tmp_path)
    options = ("--season", "one", "--crop", "leaf", "--system", "tray", "--arms", "a,b", "--seed", "9")
    assert plan(root, *options, "--plants", "6", "--start", "2027-01-02") == Status.DONE

    groups = random_layout("ab", [6], 9)[0]
    dealt = [arm for block in groups for arm in block]
    assert values_of(root) == {
        "format": "1",
        "title": "next",
        "crop": "leaf",
        "system": "tray",
        "start": "2027-01-02",
        "plants": "6",
        "groups": {arm: [f"P{n}" for n, each in enumerate(dealt, 1) if each == arm] for arm in "ab"},
        "compare": "groups",
        "log": [],
    }
    assert comments_of(root)[0] == "# question: What is this run to show?"
    assert setup_of(root).plant_ids == ("P1", "P2", "P3", "P4", "P5", "P6")


def test_named_plants_keep_their_names(tmp_path: Path) -> None:
    """Plants with names of their own are dealt by these."""
    named = LEAF.replace("plants: 6", "plants: [leaf-a, leaf-b]").replace(
        "groups: {near: P1-P3, far: P4-P6}\n", ""
    )
    root = bench(tmp_path, named=named[: named.index("  - day: 40")])
    assert plan(root, "--like", "named", "--arms", "a,b", "--seed", "1") == Status.DONE

    values = values_of(root)
    assert values["plants"] == ["leaf-a", "leaf-b"]
    assert sorted(sum((setup_of(root).members(arm) for arm in "ab"), ())) == ["leaf-a", "leaf-b"]


def test_varieties_by_plant_of_other_plants(tmp_path: Path) -> None:
    """Where the number of plants changes, varieties by plant are only a comment."""
    mixed = LEAF.replace("variety: first", "variety: {P1-P3: second, P4-P6: first}")
    root = bench(tmp_path, mixed=mixed)
    assert plan(root, "--like", "mixed", "--arms", "a,b", "--spots", "4") == Status.DONE

    assert "variety" not in values_of(root)
    assert "# variety: {P1-P3: second, P4-P6: first}  # of mixed, which had 6 plants" in comments_of(root)


def test_a_seed_is_chosen_and_written_down(tmp_path: Path) -> None:
    """Without a seed one is chosen; with the one in the file the same layout comes again."""
    root = bench(tmp_path)
    plan(root, "--like", "leaf", "--arms", "a,b,c")
    comment = next(line for line in comments_of(root) if "seed" in line and "Dealt" in line)
    seed = comment.partition("seed ")[2].partition(",")[0]
    plan(root, "--like", "leaf", "--arms", "a,b,c", "--seed", seed, run="again")

    assert values_of(root)["groups"] == values_of(root, "again")["groups"]


NO_ARMS = "name two arms or more, such as `--arms one,two`: "


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ("--like leaf --arms a", "`a` is one arm; write two or more, such as `one,two`"),
        ("--like leaf --arms a,a", "`a,a` wants a name for each arm, each once"),
        ("--like leaf --arms a,,b", "`a,,b` wants a name for each arm, each once"),
        (
            "--like leaf --arms P1,b",
            "`P1` is already the name of a plant: choose another name; nothing was written",
        ),
        ("--like leaf --arms a_b,c", "`a_b` cannot be an id: write `a-b`; nothing was written"),
        (
            "--like leaf --arms note,c",
            (
                "`note` is a word of the format and cannot be an id: choose another name, such as `note-1`; "
                "nothing was written"
            ),
        ),
        (
            "--like leaf --compare varieties --arms first,secnd",
            "`secnd` is not a variety of leaf: write `second`; nothing was written",
        ),
        ("--like leaf --compare varieties", f"{NO_ARMS}`leaf` has no varieties to take them from"),
        ("--like leaf --compare tubs", f"{NO_ARMS}`leaf` has no tubs to take them from"),
        (
            "--like leaf --arms a,b,c --spots 2",
            "3 arms need as many spots or more, not 2; give `--spots`",
        ),
        (
            "--like leaf --arms a,b --spots 41",
            (
                "41 plants stand in `tray`, which has 40 spots: write 40 plants or fewer, or correct `spots` in "
                "gear.yaml; nothing was written"
            ),
        ),
        (
            "--like two-trays --arms a,b --spots 8",
            (
                "`two-trays` has several tubs, and `--spots` does not say which plants stand in which: leave it out "
                "for 6 spots as there"
            ),
        ),
        (
            "--like two-trays --compare tubs --arms a,b,c",
            "there are 2 tubs for 3 arms; give each arm a tub",
        ),
        ("--season one --crop leaf --compare groups", f"{NO_ARMS}nothing else says what they are"),
        (
            "--season one --crop leaf --arms a,b --plants 4 --spots 5",
            "a spot holds one plant: `--plants` and `--spots` differ; give one of them",
        ),
        ("--arms a,b", "which crop? `--crop` wants one of `orange`, `tomato` or `leaf`"),
    ],
)
def test_layouts_that_cannot_be(
    options: str, message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Arms that are none, or that the set-up cannot hold, are wrong usage, and nothing is written."""
    root = bench(tmp_path)
    assert plan(root, *options.split()) == Status.USAGE

    assert capsys.readouterr().err.rstrip("\n").endswith(message)
    assert not (root / "seasons" / "one" / "next").exists()
