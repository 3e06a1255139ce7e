"""Whatever has one reading is read: an entry in another spelling gives the run that the format's own spelling gives."""

from __future__ import annotations

import re
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.core.records.rows import Addition, Run, Sowing, Watering
from sitegen.core.values.quantity import some, unknown
from sitegen.core.values.units import Dimension
from sitegen.ingest import read_experiment, read_journal
from tests.cases import Case
from tests.ingest.builders import EXPERIMENT, GROUPS, HEAD, TUBS, found, rows, said, shown

GEAR = """\
systems:
  crate: {name: Wooden crate, spots: 4, reservoir: 8 L}
  bowl: {name: Bowl, spots: 2}
lamps:
  strip: {name: 20 W strip, power: 20 W}
products:
  syrup: {name: Beet syrup, kind: feed, dose: 2 ml/L}
  ph-down: {name: pH down, kind: acid}
  soap: {name: Soft soap, kind: treatment}
"""


def _read(root: Path, log: str, head: str = HEAD) -> Run:
    """A run in a journal whose things have names unlike their ids."""
    case = Case("", "", ((EXPERIMENT, f"{head}log:\n{log}".encode()), ("gear.yaml", GEAR.encode())), "")
    journal_files, findings = read_journal(case.write(root))
    assert journal_files is not None
    run, more = read_experiment(journal_files.folders[0], journal_files)
    assert said((*findings, *more)) == []
    assert run is not None
    return run


def _run(folder: Path, entry: str, head: str = HEAD) -> str:
    """A run with one entry beside its sowing as text, without the places of its rows."""
    run = _read(folder, f"  - {{day: 0, sow: 3 a spot}}\n{entry}", head)
    return re.sub(r"Source\([^)]*\)", "", repr(run))


# fmt: off
ENTRIES = [
    # words of the format
    ("day: 20, milestone: {First true leaf: p1}", "day: 20, milestone: {first_true_leaf: P1}"),
    ("day: 20, milestone: {full-rosette: NONE}", "day: 20, milestone: {full_rosette: none}"),
    ("Day: 20, Total so far: 84 g", "day: 20, total_so_far: 84 g"),
    ("day: 20, water-temperature: 21 C", "day: 20, water_temperature: 21 C"),
    ("day: 20, harvest: {Each: 8 g, Part: Side Shoots, Plants: p2}",
     "day: 20, harvest: {each: 8 g, part: side shoot, plants: P2}"),
    ("day: 20, harvest: {weight: 8 g, part: leaves}", "day: 20, harvest: {weight: 8 g, part: leaf}"),
    ("day: 20, stop: Feed", "day: 20, stop: feed"),
    ("day: 20, tell: Never, note: x", "day: 20, tell: never, note: x"),
    ("day: 20, end: {why: slow, plants: Kept}", "day: 20, end: {why: slow, plants: kept}"),
    # plants
    ("day: 20, lost: p3", "day: 20, lost: P3"),
    ("day: 20, lost: p1 to p3", "day: 20, lost: P1-P3"),
    ("day: 20, lost: P1 - P3", "day: 20, lost: P1-P3"),
    ("day: 20, lost: 1/4", "day: 20, lost: 1 of 4"),
    ("day: 20, lost: two of the four", "day: 20, lost: 2 of 4"),
    ("day: 20, transplant: P1 and P3", "day: 20, transplant: [P1, P3]"),
    ("day: 20, milestone: {rosette: not yet}", "day: 20, milestone: {rosette: none}"),
    ("day: 20, harvest: {p1: 8 g, p2-p3: 9 g}", "day: 20, harvest: {P1: 8 g, P2-P3: 9 g}"),
    # counts
    ("day: 20, sprouted: 11/12", "day: 20, sprouted: 11 of 12"),
    ("day: 20, sprouted: 11 out of 12", "day: 20, sprouted: 11 of 12"),
    ("day: 20, sprouted: All", "day: 20, sprouted: all"),
    ("day: 20, sow: 3 per spot", "day: 20, sow: 3 a spot"),
    ("day: 20, sow: three seeds per cup", "day: 20, sow: 3 a spot"),
    ("day: 20, sow: 18 in total", "day: 20, sow: 18 in all"),
    ("day: 20, thin_to: one", "day: 20, thin_to: 1"),
    ("day: 20, count: about twelve", "day: 20, count: about 12"),
    # days and dates
    ("date: 2025-3-21, note: x", "date: 2025-03-21, note: x"),
    ("date: 21 March 2025, note: x", "date: 2025-03-21, note: x"),
    ("date: 21.3.2025, note: x", "date: 2025-03-21, note: x"),
    ("day: ~20, note: x", "day: about 20, note: x"),
    ("day: Days 20 to 22, note: x", "day: 20-22, note: x"),
    # quantities
    ("day: 20, height: ~9 cm", "day: 20, height: about 9 cm"),
    ("day: 20, height: ca. 9 cm to the stem tip", "day: 20, height: about 9 cm to the stem tip"),
    ("day: 20, height: c. 9 cm", "day: 20, height: about 9 cm"),
    ("day: 20, height: approx. 9 cm", "day: 20, height: about 9 cm"),
    ("day: 20, height: “9 cm”", "day: 20, height: 9 cm"),
    ("day: 20, harvest: {P1: „84 gm“}", "day: 20, harvest: {P1: 84 g}"),
    ("day: 20, harvest: 84 grams", "day: 20, harvest: 84 g"),
    ("day: 20, water_temperature: 21 degrees C", "day: 20, water_temperature: 21 C"),
    ("day: 20, water_temperature: 21 °C", "day: 20, water_temperature: 21 C"),
    ("day: 20, air_temperature: 70F", "day: 20, air_temperature: 70 F"),
    ("day: 20, ph: pH 6.1", "day: 20, ph: 6.1"),
    ("day: 20, water: Filled up", "day: 20, water: filled"),
    ("day: 20, water: topped up", "day: 20, water: some"),
    ("day: 20, water: 2 L of water", "day: 20, water: 2 L"),
    ("day: 20, water: all new", "day: 20, water: changed"),
    # names for ids
    ("day: 20, feed: {Beet syrup: 10 ml}", "day: 20, feed: {syrup: 10 ml}"),
    ("day: 20, adjust: {pH down: 2 ml}", "day: 20, adjust: {ph-down: 2 ml}"),
    ("day: 20, treat: soft soap", "day: 20, treat: soap"),
    ("day: 20, light: {lamp: 20 w strip, hours: 14 h}", "day: 20, light: {lamp: strip, hours: 14 h}"),
    ("day: 20, light: 14 h", "day: 20, light: {hours: 14 h}"),
    ("day: 20, light: 20 W strip", "day: 20, light: {lamp: strip}"),
    # tastes
    ("day: 20, taste: 'four out of five, crisp'", "day: 20, taste: '4/5, crisp'"),
    ("day: 20, taste: 'crisp and mild, 4/5'", "day: 20, taste: '4/5, crisp and mild'"),
    # routines
    ("day: 20, from_now: {feed: {syrup: 2 ml}, at: every refill}",
     "day: 20, from_now: {feed: {syrup: 2 ml, at: every refill}}"),
    ("day: 20, from_now: {light: 14 h, at: 06:00}", "day: 20, from_now: {light: {hours: 14 h, on: 06:00}}"),
    ("day: 20, from_now: {prune: side shoots, at: every visit}",
     "day: 20, from_now: {prune: 'side shoots, every visit'}"),
]
# fmt: on


@pytest.mark.parametrize(("written", "canonical"), ENTRIES, ids=[written for written, _ in ENTRIES])
def test_one_reading(written: str, canonical: str, tmp_path: Path) -> None:
    """Both spellings give equal runs."""
    one, other = (
        _run(tmp_path / name, f"  - {{{text}}}\n") for name, text in (("a", written), ("b", canonical))
    )

    assert one == other


@settings(max_examples=25, deadline=None)
@given(st.lists(st.sampled_from(ENTRIES), min_size=2, max_size=8))
def test_any_log(pairs: list[tuple[str, str]]) -> None:
    """A whole log in other spellings, in any order, gives the run of the format's own."""
    with TemporaryDirectory() as folder:
        one, other = (
            _run(Path(folder) / str(side), "".join(f"  - {{{pair[side]}}}\n" for pair in pairs))
            for side in (0, 1)
        )

    assert one == other


HEADS = [
    ("crop: Sorrel", "crop: sorrel"),
    ("crop: sorrel\nvariety: red-Veined", "crop: sorrel\nvariety: red"),
    (
        "crop: sorrel\nvariety: {p1-p2: Broad, P3-P4: Red-veined}",
        "crop: sorrel\nvariety: {P1-P2: broad, P3-P4: red}",
    ),
    ("crop: sorrel\nsystem: wooden crate", "crop: sorrel\nsystem: crate"),
    ("crop: sorrel\nlight: {lamp: 20 W strip}", "crop: sorrel\nlight: {lamp: strip}"),
    ("crop: sorrel\npublish: 2025-4-1", "crop: sorrel\npublish: 2025-04-01"),
    ("crop: sorrel\nanswer: {Verdict: Not again}", "crop: sorrel\nanswer: {verdict: not again}"),
]


@pytest.mark.parametrize(("written", "canonical"), HEADS, ids=[written for written, _ in HEADS])
def test_set_up(written: str, canonical: str, tmp_path: Path) -> None:
    """A set-up by names and in other spellings is that of the ids."""
    head = HEAD if "system" not in written else HEAD.replace("system: crate\n", "")
    one, other = (
        _run(tmp_path / name, "", head.replace("crop: sorrel", text))
        for name, text in (("a", written), ("b", canonical))
    )

    assert one == other


def test_tubs_and_groups(tmp_path: Path) -> None:
    """Tubs and groups are known in any case, and with a space for a hyphen."""
    tubs = rows(
        tmp_path / "a",
        "  - {day: 0, water: {Left: 2 L, RIGHT: 1 L}}\n  - {day: 9, move: {p1: Right}}\n",
        TUBS,
    )
    groups = rows(tmp_path / "b", "  - {day: 9, harvest: {Front: 8 g}}\n", GROUPS)

    assert shown(tubs) == ["water in left 2000 ml", "water in right 1000 ml", "move P1 in right"]
    assert shown(groups) == ["pick front 8 g"]


def test_an_id_is_never_another(tmp_path: Path) -> None:
    """Where two plants differ in case alone, each is meant as it is written, and any third spelling is asked about."""
    head = HEAD.replace("plants: 4", "plants: [Ab, aB]")

    assert shown(rows(tmp_path / "a", "  - {day: 9, harvest: {aB: 8 g}}\n", head)) == ["pick aB 8 g"]
    assert found(tmp_path / "b", "  - {day: 9, harvest: {ab: 8 g}}\n", head) == [
        "8:24: unknown-plant: `ab` can be `Ab` or `aB` (write `Ab` or `aB`)"
    ]


def test_a_key_in_two_spellings(tmp_path: Path) -> None:
    """The same key in two spellings is the same key twice."""
    assert found(tmp_path, "  - day: 9\n    note: x\n    Note: y\n") == [
        "10:5: duplicate-key: `Note` stands twice here; as `note` it is in line 9 (keep one `note`)"
    ]


AMOUNTS = [
    ("harvest: some", "pick all ?"),
    ("harvest: {P1: a little, P2: 8 g}", "pick P1 ?"),
    ("total_so_far: some", "total so far all ?"),
    ("leaves: some", "leaves all ?"),
    ("count: some flowers", "count all ? flowers"),
    ("feed: {syrup: some}", "feed syrup ?"),
    ("feed: {syrup: 3 drops}", "feed syrup ? '3 drops'"),
    ("adjust: {ph-down: half a capful}", "adjust ph-down ? 'half a capful'"),
    ("adjust: {ph-down: about 2 pinches}", "adjust ph-down ? 'about 2 pinches'"),
    ("from_now: {feed: {syrup: 2 capfuls, at: every refill}}", "from now feed syrup ? every refill"),
    ("taste: sweet and crisp", "taste 'sweet and crisp'"),
    ("taste: three of four liked it", "taste 'three of four liked it'"),
    ("from_now: {water: every Sunday, at: noon}", "from now water every Sunday, noon"),
    ("from_now: {light: 14 h, at: every cloudy day}", "light 14 h"),
]


@pytest.mark.parametrize(("entry", "row"), AMOUNTS, ids=[entry for entry, _ in AMOUNTS])
def test_open_amounts(entry: str, row: str, tmp_path: Path) -> None:
    """Amounts without a size, and tastes without a score, are recorded with their words."""
    assert shown(_read(tmp_path, f"  - {{day: 9, {entry}}}\n").rows)[0] == row


def test_some_is_open(tmp_path: Path) -> None:
    """`some` is not measured and more than nothing; a drop has no size, and what was said stays."""
    pick = "{weight: some, count: some, spoilt: some}"
    log = f"  - {{day: 9, sow: some, water: topped up, feed: {{syrup: 3 drops}}, harvest: {pick}}}\n"
    read_rows = rows(tmp_path, log)
    (sown,), (water,), (fed,) = read_rows.of(Sowing), read_rows.of(Watering), read_rows.of(Addition)
    (picked,) = read_rows.picks

    assert sown.seeds == some(Dimension.COUNT)
    assert (water.amount, water.filled) == (some(Dimension.VOLUME), False)
    assert (fed.amount, fed.what, fed.as_labelled) == (unknown(Dimension.VOLUME), "3 drops", False)
    assert (picked.weight, picked.count) == (some(Dimension.MASS), None)
    assert (picked.spoilt, picked.spoilt_weight) == (None, some(Dimension.MASS))
