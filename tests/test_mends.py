"""Mends of whole journals: each keeps what the author wrote, and says what it does."""

from __future__ import annotations

import datetime as dt
import re
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.mend import Edit
from sitegen.core.findings.told import told
from sitegen.filing.mending import edited
from sitegen.pipeline import validate
from sitegen.pipeline.filing.mending import mend_journal
from tests.cases import Case, cases

TODAY = dt.date(2025, 4, 1)
PLACE = "seasons/spring/crate-run/experiment.yaml"
HEAD = "format: 1\ntitle: Sorrel in a crate\ncrop: sorrel\nsystem: crate\nstart: 2025-03-01\nplants: 4\n"
_TOKEN = re.compile(r"[^\W\d_]+|\d+")

# What an edit may lose and gain: words of the format, in place of slips of the pen and of other words for the same.
SPELLED = {
    "not-a-count.cup": ("cup", "spot"),
    "not-a-count.spoilt": ("", "weight"),
    "not-a-count": ("one", "1"),
    "not-a-currency": ("", "EUR"),
    "not-a-date.letter": ("O 4 l 2", "04 12"),
    "not-a-date.no-year": ("April", "2025 04"),  # the year of the start; its choice is left to the author
    "not-a-link": ("", "https"),
    "not-a-day.letter": ("1 O", "10"),
    "not-a-day.flag": ("abuot", "about"),
    "not-a-quantity.about": ("abuot", "about"),
    "not-a-quantity.spoken": ("three", "3"),
    "not-a-selection.out-of": ("out", ""),
    "not-a-zone": ("", "Europe"),  # offered, and left to the author
    "not-a-time.lamp": ("6 pm", "18 00"),
    "unknown-choice": ("leaves", "leaf"),
    "unknown-choice.refill": ("loged", "logged"),
    "unknown-choice.yes": ("yes", "again"),
    "unknown-column": ("onne", "one"),
    "unknown-crop": ("sorel", "sorrel"),
    "unknown-key": ("hieght", "height"),
    "unknown-meter": ("pan", "pen"),
    "unknown-plant.range": ("", "P"),
    "unknown-plant.shares": ("lefd", "left"),
    "unknown-product": ("sirup", "syrup"),
    "unknown-variety": ("brod", "broad"),
    "yaml-syntax.rest": ("sirup", "syrup"),
    "which-product": ("", "syrup"),  # the one feed of the journal; its choice is left to the author
}


def _tokens(text: str) -> Counter[str]:
    return Counter(_TOKEN.findall(text))


def _journal(root: Path, setup: str, *files: tuple[str, bytes]) -> Path:
    Case("mends", "", ((PLACE, (HEAD + setup).encode()), *files), "").write(root)
    return root


def _about_mends(finding: Finding) -> tuple[str, str]:
    return finding.message, finding.mend


@pytest.mark.parametrize("case", cases(), ids=lambda case: case.name)
def test_every_mend_of_every_broken_journal(case: Case, tmp_path: Path) -> None:
    """Each mend fits its file, keeps every number, id, day and word, and its finding is gone after it."""
    case.write(tmp_path)
    found = validate(tmp_path, TODAY).findings
    for finding in (f for item in told(found) for f in item.kind if f.edits):
        path = tmp_path / finding.source.file
        before = path.read_bytes()
        after = edited(before, finding.edits)
        old, new = _tokens(before.decode()), _tokens(after.decode())
        path.write_bytes(after)
        left = {(f.code, f.message) for f in validate(tmp_path, TODAY).findings}
        path.write_bytes(before)
        lost, gained = SPELLED.get(case.name, ("", ""))

        assert (old - new, new - old) == (_tokens(lost), _tokens(gained))
        assert (finding.code, finding.message) not in left
        assert all(f"{edit.text}`" in finding.mend or not edit.text for edit in finding.edits)


def test_what_a_mend_may_spell_otherwise_is_used() -> None:
    """No case is excused that is not there."""
    assert set(SPELLED) - {case.name for case in cases()} == set()


# Entry or set-up below the heading, the help of its finding, and the same line after `--fix`.
LOGGED = [
    ("feed: leaf 20 ml", "write `feed: {leaf: 20 ml}`", "feed: {leaf: 20 ml}"),
    ("feed: 20 ml of leaf", "write `feed: {leaf: 20 ml}`", "feed: {leaf: 20 ml}"),
    ("feed: leaf: 20 ml", "write `feed: {leaf: 20 ml}`", "feed: {leaf: 20 ml}"),
    ("feed: 20 ml", "write `feed: {leaf: 20 ml}` or `feed: {root: 20 ml}`", ""),
    ("feed: leaf", "write how much, such as `feed: {leaf: 10 ml}`, or `{leaf: unmeasured}`", ""),
    ("milestone: {flower: P1}", "write `flower_bud` or `first_flower`", ""),
    ("light: {hours: 14/10}", "write the hours with light: `14 h`; the other 10 go without saying", ""),
    (
        "trouble: {what: mould, plants: P1, P2}",
        "write `plants: [P1, P2]`",
        "trouble: {what: mould, plants: [P1, P2]}",
    ),
    ("harvest: {P1: 9,5 g, P2: 3 g}", "write `P1: 9.5 g`", "harvest: {P1: 9.5 g, P2: 3 g}"),
    (
        "harvest: {P1: about 9,5 g by eye}",
        "write `P1: about 9.5 g by eye`",
        "harvest: {P1: about 9.5 g by eye}",
    ),
    ("harvest: {P1: 1,200 g}", "write `P1: 1.200 g` or `P1: 1200 g`", ""),
    ("harvest: about 1.234,5 g", "write `about 1234.5 g`", "harvest: about 1234.5 g"),
    ('harvest: "9,5 g"', "write `9.5 g`", 'harvest: "9.5 g"'),
    ("harvest: '9,5 g'   # wet", "write `9.5 g`", "harvest: '9.5 g'   # wet"),
    ('harvest: "9,5\\x20g"', "write `9.5 g`", ""),
    ("thin_to: -2", "write `thin_to: 2`", ""),
    ("thin_to: 2 or 3", "write a whole number, such as `thin_to: 6`", ""),
    (
        "note: one thing: white   # seen",
        "write `note: 'one thing: white'`",
        "note: 'one thing: white'   # seen",
    ),
    ("lost: P11", "write `P1`", ""),
    ("lost: half", "write how many, such as `lost: 2 of 4`, or `lost: some`", ""),
]
GEAR = b"""\
systems:
  crate: {name: Crate, kind: raft, spots: 4, reservoir: 20 L}
products:
  leaf: {name: Leaf mix, kind: feed}
  root: {name: Root mix, kind: feed}
"""
CROPS = b"sorrel: {name: Sorrel, kind: fruiting}\n"


@pytest.mark.parametrize(("entry", "mend", "after"), LOGGED, ids=[row[0] for row in LOGGED])
def test_mends_of_an_entry(entry: str, mend: str, after: str, tmp_path: Path) -> None:
    """The help keeps the author's own values, and `--fix` writes what it says; advice is left to the author."""
    log = "log:\n  - {day: 0, sow: 2 a spot}\n  - day: 20\n    "
    _journal(tmp_path, f"{log}{entry}\n", ("gear.yaml", GEAR), ("crops.yaml", CROPS))
    found = validate(tmp_path, TODAY).findings

    assert mend in [finding.mend for finding in found]
    assert mend_journal(tmp_path, TODAY, write=True).refused == ()
    assert (tmp_path / PLACE).read_text("utf-8") == f"{HEAD}{log}{after or entry}\n"


SET_UP = [
    ("start: 4/10/2024", "write `start: 2024-10-04` or `start: 2024-04-10`", ""),
    ("start: 24-10-19", "write `start: 2019-10-24` or `start: 2024-10-19`", ""),
    ("start: 19 October", "write the year too: `start: YYYY-10-19`", ""),
    ("start: 2024", "write the month too, such as `start: 2024-06`, or `start: unknown`", ""),
    ("start: soon", "write year, month and day, such as `start: 2025-10-19`", ""),
    ("plants: P1, P2", "write `plants: [P1, P2]`", "plants: [P1, P2]"),
    ("plants: P1 and P2", "write `plants: [P1, P2]`", "plants: [P1, P2]"),
]


@pytest.mark.parametrize(("line", "mend", "after"), SET_UP, ids=[row[0] for row in SET_UP])
def test_mends_of_the_set_up(line: str, mend: str, after: str, tmp_path: Path) -> None:
    """Dates and plants are mended with the author's own numbers."""
    key = line.partition(":")[0]
    head = re.sub(rf"^{key}: .*$", line.replace("\\", ""), HEAD, flags=re.MULTILINE)
    content = f"{head}log:\n  - {{day: 0, sow: 2 a spot}}\n"
    Case("mends", "", ((PLACE, content.encode()),), "").write(tmp_path)

    assert mend in [finding.mend for finding in validate(tmp_path, TODAY).findings]
    mend_journal(tmp_path, TODAY, write=True)
    assert (tmp_path / PLACE).read_text("utf-8") == content.replace(line, after or line)


def test_a_title_above_the_headings_of_a_sheet(tmp_path: Path) -> None:
    """A sheet whose headings stand below a title is told so."""
    sheet = b"Leaves in the crate\nday,one\n10,3\n"
    setup = "log:\n  - {day: 0, sow: 2 a spot}\nreadings:\n  - {file: a.csv, reading: leaves, columns: {one: P1}}\n"
    _journal(tmp_path, setup, ("seasons/spring/crate-run/a.csv", sheet))
    expected = "remove the row above the headings of `a.csv`, which stand in row 2"

    assert {finding.mend for finding in validate(tmp_path, TODAY).findings} == {expected}


def _slips() -> st.SearchStrategy[str]:
    """Entries of a log in which something is written as the format does not have it."""
    number = st.integers(1, 89).map(str)
    flag = st.sampled_from(["", "~", "ca. ", "about ", "around "])
    mass = st.builds(
        "{}{}{}{}".format,
        flag,
        number,
        st.sampled_from(["", ",5", ".5", "-90", " to 90"]),
        st.sampled_from([" g", "g", " oz"]),
    )
    plants = st.sampled_from(
        ["P1", "p2", "P1, P2", "P1 and P3", "P4-P2", "P2 to P4", "both", "2/4", "2 out of 4"]
    )
    words = st.sampled_from(
        ["roots white", "roots: white", "white, brown tips", "don't know", "cup #2 ahead", "*new"]
    )
    return st.one_of(
        st.builds("harvest: {{P1: {}, P2: {}}}".format, mass, mass),
        st.builds("harvest: {}".format, mass),
        st.builds("hravest: {}".format, mass),
        st.builds("harvest:{}".format, mass),
        st.builds("lost: {}".format, plants),
        st.builds("trouble: {{what: {}, plants: {}}}".format, words, plants),
        st.builds("note: {}".format, words),
        st.builds("note: '{}'".format, words),
        st.builds("feed: leaf {} ml".format, number),
        st.builds("ph: {}.1 -> 5.{}".format, st.integers(5, 7), st.integers(0, 9)),
    )


_SAID = {"ca": "", "around": "about", "hravest": "harvest", "out": "", "to": "", "and": "", "about": ""}


def _said(text: str) -> Counter[str]:
    """The numbers and words of a text, without those that say nothing but how it is spelled."""
    found = (_SAID.get(token, token) for token in _TOKEN.findall(text.lower().replace("then", "")))
    return Counter(token for token in found if token not in ("", "about"))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(entries=st.lists(_slips(), min_size=1, max_size=4))
def test_no_slip_loses_anything(entries: list[str], tmp_path_factory: pytest.TempPathFactory) -> None:
    """Whatever is mended, the lines stay, and each keeps its numbers, plants and words; errors only become fewer."""
    root = tmp_path_factory.mktemp("slips")
    log = "".join(f"  - day: {20 + n}\n    {entry}   # seen {n}\n" for n, entry in enumerate(entries))
    _journal(root, f"log:\n  - {{day: 0, sow: 2 a spot}}\n{log}", ("gear.yaml", GEAR), ("crops.yaml", CROPS))
    before = (root / PLACE).read_text("utf-8")
    found = validate(root, TODAY).findings
    mended = mend_journal(root, TODAY, write=True)
    after = (root / PLACE).read_text("utf-8")
    again = mend_journal(root, TODAY, write=False)

    assert [_said(line) for line in after.split("\n")] == [_said(line) for line in before.split("\n")]
    assert [line.partition("   # ")[2] for line in after.split("\n")] == [
        line.partition("   # ")[2] for line in before.split("\n")
    ]
    assert again.edits == ()
    assert bool(mended.edits) or found == validate(root, TODAY).findings


# Several slips in one log: a colon, brackets, a tab and a column, each of which hides others from the parser.
SLIPPED = """\
  - day: 3
    water: 3 L feed: {leaf: 2 ml}
   - day: 5
    lost: {P2 = wet}
\ttell: never
  - day: 9
    harvest: {P1: 9,5 g}}
    note: lot #3
    milestone: {ripe: [P1, P3}
    prune: [what: tips, plants: P1]
"""
MENDED = """\
  - day: 3
    water: 3 L
    feed: {leaf: 2 ml}
  - day: 5
    lost: {P2: wet}
    tell: never
  - day: 9
    harvest: {P1: 9.5 g}
    note: 'lot #3'
    milestone: {ripe: [P1, P3]}
    prune: {what: tips, plants: P1}
"""


def test_slips_that_hide_each_other(tmp_path: Path) -> None:
    """Slips of one file are mended round by round, a line that becomes two included."""
    log = "log:\n  - {day: 0, sow: 2 a spot}\n"
    _journal(tmp_path, f"{log}{SLIPPED}", ("gear.yaml", GEAR), ("crops.yaml", CROPS))

    assert mend_journal(tmp_path, TODAY, write=True).refused == ()
    assert (tmp_path / PLACE).read_text("utf-8") == f"{HEAD}{log}{MENDED}"


def test_edits_in_data(tmp_path: Path) -> None:
    """A finding carries its edit with the exact span of the file."""
    _journal(tmp_path, "log:\n  - {day: 0, sow: 2 a spot}\n  - {day: 20, height: '9,5 cm'}\n")

    assert [f.edits for f in validate(tmp_path, TODAY).findings] == [
        (Edit(PLACE, 9, 24, 6, "9.5 cm", "9,5 cm"),)
    ]
