"""What a planned run could show, on stderr."""

from __future__ import annotations

import re
from pathlib import Path
from statistics import stdev

import pytest

from sitegen.app.begin.layout import random_layout
from sitegen.app.console.status import Status
from sitegen.measure import detectable_difference
from tests.app.begin.planning import LEAF, bench, plan


def said(capsys: pytest.CaptureFixture[str]) -> str:
    """What was printed between the file and the next step, on one line."""
    return " ".join(" ".join(capsys.readouterr().err.splitlines()[1:-1]).split())


def pair(near: str, far: str, *, more: str = "") -> str:
    """An ended run of two groups of three plants, with the picks of all."""
    weights = [f"P{number}: {weight}" for number, weight in enumerate((near, near, near, far, far, far), 1)]
    log = LEAF.index("  - day: 40")
    end = more or "  - day: 41\n    end: {plants: cleared}\n"
    return f"{LEAF[:log]}  - day: 40\n    harvest: {{{', '.join(weights)}}}\n{end}"


ASSUMED = (
    "Fewer than 6 such runs can never show a difference (exact sign-flip test, p < 0.05). "
    "Deal the arms anew for each run. "
    "The difference in yield a plant that such runs show in 4 of 5 cases (simulated, normally spread), by the spread "
    "of the differences of single runs (standard deviation), both in per cent of the mean: "
    "spread 6 runs 8 runs 10 runs 10 % 18 % 12 % 10 % 25 % 45 % 30 % 25 % 50 % 90 % 60 % 50 % "
    "These spreads are assumed (common practice, no source): "
)


def test_groups_in_one_tub(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A difference in one tub describes it, once; without earlier runs the spread is assumed, and that is said."""
    assert plan(bench(tmp_path), "--like", "leaf", "--arms", "a,b") == Status.DONE

    assert said(capsys) == (
        "what it could show: a and b, 6 plants in 1 tub A difference would describe this tub, once. "
        f"{ASSUMED}no earlier run of leaf has weighed yields of two arms; a spread needs three."
    )


def test_one_tub_an_arm(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With one tub an arm nothing is said about the arms themselves, whatever the difference."""
    seed = next(s for s in range(9) if random_layout(("dim", "bright"), [2], s)[0][0] == ("dim", "bright"))
    options = ("--compare", "tubs", "--arms", "dim,bright", "--seed", str(seed))
    assert plan(bench(tmp_path), "--like", "two-trays", *options) == Status.DONE

    assert said(capsys).startswith(
        "what it could show: dim and bright, 6 plants in 2 tubs One tub an arm: nothing about dim and bright "
        "themselves, whatever the difference: the tubs differ too. Fewer than 6 such runs"
    )


def test_tubs_without_a_new_layout(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Arms that the old set-up has are looked at in the same way."""
    assert plan(bench(tmp_path), "--like", "two-trays") == Status.DONE

    assert "One tub an arm: nothing about low and high themselves" in said(capsys)


def test_two_tubs_an_arm(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two tubs an arm: of the six ways to choose two of four tubs, two are as clear as can be."""
    tubs = ", ".join(f"t-{number}: {{system: tray, plants: P{number}}}" for number in range(1, 5))
    four = LEAF.replace("system: tray", f"tubs: {{{tubs}}}").replace("plants: 6\n", "plants: 4\n")
    four = four.replace("groups: {near: P1-P3, far: P4-P6}\n", "").replace(", P5: 62 g, P6: 58 g", "")
    assert (
        plan(bench(tmp_path, four=four), "--like", "four", "--compare", "tubs", "--arms", "a,b")
        == Status.DONE
    )

    assert (
        "2 and 2 tubs: luck alone puts all tubs of one arm ahead of all those of another in 1 of 3 cases. "
        in said(capsys)
    )


def test_groups_over_several_tubs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Arms that stand side by side in each tub describe these tubs."""
    assert plan(bench(tmp_path), "--like", "two-trays", "--arms", "a,b", "--compare", "groups") == Status.DONE

    assert "A difference would describe these 2 tubs, once." in said(capsys)


def test_three_arms_need_more_runs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Three pairs are compared: the first has to pass a third of 0.05, which seven runs can."""
    assert plan(bench(tmp_path), "--like", "leaf", "--arms", "a,b,c") == Status.DONE

    printed = said(capsys)
    assert (
        "Fewer than 7 such runs can never show a difference (exact sign-flip test, p < 0.05, 3 pairs compared)."
        in printed
    )
    assert " spread 7 runs 8 runs 10 runs 10 % " in printed


def test_many_arms(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where more than ten runs are needed, that is all that is said."""
    arms = ",".join("abcdefgh")
    assert plan(bench(tmp_path), "--like", "leaf", "--arms", arms, "--spots", "8") == Status.DONE

    assert said(capsys).endswith(
        "Fewer than 11 such runs can never show a difference (exact sign-flip test, p < 0.05, 28 pairs compared). "
        "Deal the arms anew for each run."
    )


def test_nothing_is_compared(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A run without arms could show nothing of any, and nothing is said."""
    bare = LEAF.replace("groups: {near: P1-P3, far: P4-P6}\n", "")
    assert plan(bench(tmp_path, bare=bare), "--like", "bare") == Status.DONE

    assert said(capsys) == ""


def test_the_spread_of_earlier_runs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With three runs that held both arms the spread is theirs: the standard deviation of the relative differences."""
    root = bench(tmp_path, one=pair("80 g", "60 g"), two=pair("50 g", "70 g"))
    assert plan(root, "--like", "leaf") == Status.DONE

    spread = stdev([(60 - 80) / 70, (60 - 80) / 70, (70 - 50) / 60])
    shown = [f"{round(100 * spread * (detectable_difference(runs) or 0))} %" for runs in (6, 8, 10)]
    printed = said(capsys)
    assert f" spread 6 runs 8 runs 10 runs {round(100 * spread)} % {' '.join(shown)} " in printed
    assert printed.endswith(
        "This spread is that of 3 earlier runs of leaf (leaf, one and two), and only roughly known."
    )


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (pair("80 g", "60 g by eye"), "by eye"),
        (pair("80 g", "unweighed"), "not weighed"),
        (pair("80 g", "60-64 g"), "a range"),
        (pair("80 g", "at least 60 g"), "open"),
        (
            pair("80 g", "60 g")
            .replace("crop: leaf", "crop: tomato")
            .replace("variety: first", "variety: amber"),
            "crop",
        ),
        (pair("80 g", "60 g").replace("far", "apart"), "another arm"),
        (pair("80 g", "60 g", more="  - {day: 42, note: they grow}\n"), "not ended"),
    ],
    ids=lambda each: each if len(each) < 20 else "",
)
def test_runs_that_give_no_difference(
    text: str, why: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Only ended runs of the crop with both arms and single measured yields count."""
    root = bench(tmp_path, one=pair("80 g", "60 g"), other=text)
    assert plan(root, "--like", "leaf") == Status.DONE

    assert said(capsys).endswith(
        f"{ASSUMED}2 earlier runs of leaf have weighed yields of two arms (leaf and one); a spread needs three."
    )


def test_two_plants_an_arm(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two plants weighed one by one have a mean, too."""
    small = re.sub(r"near: P1-P3, far: P4-P6", "near: P1-P2, far: P3-P4", pair("80 g", "60 g"))
    small = (
        small.replace("plants: 6\n", "plants: 4\n")
        .replace(", P5: 60 g, P6: 60 g", "")
        .replace("P3: 80 g", "P3: 60 g")
    )
    root = bench(tmp_path, one=small, two=small.replace("80 g", "70 g"))
    assert plan(root, "--like", "leaf") == Status.DONE

    spread = stdev([(60 - 80) / 70, (60 - 80) / 70, (60 - 70) / 65])
    assert f" 10 runs {round(100 * spread)} % " in said(capsys)


def test_plants_weighed_together(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Arms that were weighed each as a whole have a yield a plant."""
    log = LEAF.index("  - day: 40")
    picks = "  - day: 40\n    harvest: {near: 240 g, far: 150 g}\n  - {day: 41, end: {plants: cleared}}\n"
    together = LEAF[:log] + picks
    root = bench(tmp_path, one=together, two=together.replace("240", "200"))
    assert plan(root, "--like", "leaf") == Status.DONE

    spread = stdev([(60 - 80) / 70, (50 - 80) / 65, (150 - 200) / 175])
    assert f" 10 runs {round(100 * spread)} % " in said(capsys)


def test_spreads_too_large(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No difference is larger than twice the mean, so that what would be is never shown."""
    root = bench(tmp_path, one=pair("300 g", "5 g"), two=pair("5 g", "300 g"))
    assert plan(root, "--like", "leaf") == Status.DONE

    spread = stdev([(60 - 80) / 70, (5 - 300) / 152.5, (300 - 5) / 152.5])
    last = f"{round(100 * spread * (detectable_difference(10) or 0))} %"
    assert f" 10 runs {round(100 * spread)} % never never {last} This spread" in said(capsys)


def test_the_same_words_again(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The simulation is the same each time."""
    root = bench(tmp_path)
    plan(root, "--like", "leaf", "--arms", "a,b")
    first = said(capsys)
    plan(root, "--like", "leaf", "--arms", "a,b", run="again")
    assert said(capsys) == first
