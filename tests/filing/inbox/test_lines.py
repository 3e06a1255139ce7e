"""An inbox in visits, each with the experiment that it is of."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.values.day import Start
from sitegen.filing.inbox.lines import Inbox, first_loose, read_inbox, texts_of
from sitegen.filing.inbox.placing import Unplaced, placed
from sitegen.filing.inbox.run_names import KnownRun

TODAY = date(2026, 5, 1)


def run(name: str, start: str, *names: str, last: int | None = None, told: bool = False) -> KnownRun:
    """An experiment with a start to the day."""
    return KnownRun(name, f"seasons/one/{name}", names, Start(date.fromisoformat(start), "day"), last, told)


BASIL = run("basil-sill", "2026-03-01", "Basil on the sill", "basil", "Basil")
OLD = run("basil-wick", "2025-09-01", "Basil on a wick", "basil", "Basil", last=60)
LEAF = run("leaf-left", "2026-02-01", "Leaf lettuce, left", "lettuce", "Leaf lettuce")
TOLD = run("chives-once", "2024-01-01", "Chives", told=True)
RUNS = (OLD, BASIL, LEAF, TOLD)


def read(text: str) -> list[tuple[str, str, str]]:
    """Name, day and text of each visit."""
    return [(visit.name, visit.day.when, visit.text) for visit in read_inbox(text.encode(), RUNS).visits]


@pytest.mark.parametrize(
    "line",
    [
        "basil day 31: picked P1 9 g",
        "basil: day 31: picked P1 9 g",
        "basil, day 31, picked P1 9 g",
        "- basil day 31 picked P1 9 g",
        "day 31 basil: picked P1 9 g",
        "day 31, basil: picked P1 9 g",
        "day 31: basil: picked P1 9 g",
    ],
)
def test_a_name_stands_before_or_after_the_day(line: str) -> None:
    """With any sign between them, also as an item of a list."""
    assert read(line) == [("basil", "day: 31", "picked P1 9 g")]


def test_lines_without_a_day_belong_to_the_one_above() -> None:
    """Indented ones also after an empty line; others only without one: a later thought is nobody's note."""
    text = "basil day 3: watered\n  2 L\nand fed\n\n  much later\n\nbuy twine\nand cups\n\nday 4: x\n"
    inbox = read_inbox(text.encode(), RUNS)

    assert [(visit.lines, visit.text) for visit in inbox.visits] == [
        ((0, 1, 2, 3, 4, 5), "watered\n  2 L\nand fed\n\n  much later"),
        ((9,), "x"),
    ]
    assert (inbox.loose, list(first_loose(inbox))) == ((6, 7), [6])


def test_the_entry_below_a_day_keeps_its_indents() -> None:
    """Text of the file's own syntax, as it would stand in the log."""
    assert read("leaf day 4:\n    harvest:\n      P1: 9 g\n    water: 2 L\n") == [
        ("leaf", "day: 4", "harvest:\n  P1: 9 g\nwater: 2 L")
    ]


@pytest.mark.parametrize(
    ("text", "texts"),
    [
        ("picked P1 9 g", ["picked P1 9 g"]),
        ("watered 2 L\n  and fed\nph 6", ["watered 2 L and fed ph 6"]),
        ("height: 9 in\nwater: 2 L", ["height: 9 in", "water: 2 L"]),
        ("\nharvest:\n  P1: 9 g\n  P2: 8 g\nall well", ["harvest: {P1: 9 g, P2: 8 g}", "all well"]),
        ("photo:\n- a.jpg\n- b.jpg", ["photo: [a.jpg, b.jpg]"]),
        ("photo:\n  - a.jpg\n  - b.jpg", ["photo: [a.jpg, b.jpg]"]),
        ("note: long\n  and longer", ["note: long and longer"]),
        ("note: |\n  as\n  it is", ["note: |\n  as\n  it is"]),
        ("harvest:\n  P1: {weight: 9 g}", ["harvest: {P1: {weight: 9 g}}"]),
        ("harvest:\n  P1: 9 g, cut", ["harvest:\n  P1: 9 g, cut"]),
        ("harvest:", ["harvest:"]),
    ],
)
def test_the_texts_of_a_visit(text: str, texts: list[str]) -> None:
    """Keys of an entry, each with what stands below it; the words between them in a row."""
    assert texts_of(text) == texts


def test_headings_name_the_experiment_or_the_day() -> None:
    """A name alone, also as a heading with a mark; a date alone; today's lines are of the date above."""
    text = "basil:\nday 3: x\n  day 4: y\n\n## leaf lettuce\n2026-03-04\nwatered\n\n2026-03-05\nbasil: z\n"
    text += "leaf: w\ntoday: v\n"

    assert read(text) == [
        ("basil", "day: 3", "x"),
        ("basil", "day: 4", "y"),
        ("leaf lettuce", "date: 2026-03-04", "watered"),
        ("basil", "date: 2026-03-05", "z"),
        ("leaf", "date: 2026-03-05", "w"),
        ("leaf lettuce", "date: 2026-03-05", "v"),
    ]


def test_a_key_of_the_log_is_no_name() -> None:
    """`water: 2 L` behind a day is what was done."""
    assert read("day 3 water: 2 L\nday 3: height: 9 cm\n") == [
        ("", "day: 3", "water: 2 L"),
        ("", "day: 3", "height: 9 cm"),
    ]


def test_a_misspelt_name_is_a_name_and_no_note() -> None:
    """It must not go to the log of another experiment, nor to the visit above."""
    assert read("basil day 3: x\nbasli day 4: y\nday 5 orchid: z\n") == [
        ("basil", "day: 3", "x"),
        ("basli", "day: 4", "y"),
        ("orchid", "day: 5", "z"),
    ]


def test_a_heading_goes_with_the_last_line_below_it() -> None:
    """While one line stays, its heading does; a line is one piece with all that belongs to it."""
    inbox = read_inbox(b"basil:\nday 3: x\n more\nday 4: y\n", RUNS)

    def left(places: dict[int, str]) -> bytes:
        return b"".join(piece.text for piece in inbox.pieces(places) if not piece.places)

    assert [left({}), left({0: "a"}), left({0: "a", 1: "a"})] == [
        b"basil:\nday 3: x\n more\nday 4: y\n",
        b"basil:\nday 4: y\n",
        b"",
    ]


def test_a_day_with_nothing_behind_or_below_it_stays() -> None:
    """It is no heading without lines."""
    inbox = read_inbox(b"2026-03-04\n\n2026-03-05\nbasil: z\n", RUNS)

    assert (inbox.loose, [visit.lines for visit in inbox.visits]) == ((0,), [(3,)])


PARTS = st.sampled_from(
    [
        "basil",
        "leaf:",
        "day 3",
        "2026-03-04",
        ":",
        " ",
        "\t",
        "- ",
        "# ",
        "\n",
        "\r\n",
        "today",
        "x 9 g",
        "\ufeff",
        "ß",
    ]
)


@given(
    st.one_of(st.binary(max_size=60), st.lists(PARTS, max_size=25).map(lambda parts: "".join(parts).encode()))
)
def test_no_byte_of_an_inbox_is_lost(content: bytes) -> None:
    """Whatever it holds, its pieces are its bytes in their order, and each line is in one place."""
    inbox = read_inbox(content, RUNS)
    taken = [line for visit in inbox.visits for line in visit.lines]

    assert b"".join(piece.text for piece in inbox.pieces({})) == content
    assert b"".join(piece.text for piece in inbox.pieces(dict.fromkeys(range(9), "a"))) == content
    assert len(taken) == len(set(taken))
    assert not set(taken) & set(inbox.loose)


def place(line: str, *runs: KnownRun) -> str | Unplaced:
    """The id of the experiment of a line."""
    inbox: Inbox = read_inbox(line.encode(errors="surrogateescape"), runs or RUNS)
    found = placed(inbox.visits[0], runs or RUNS, TODAY)
    return found if isinstance(found, Unplaced) else found.id


def test_one_experiment_is_found_by_its_name_and_its_days() -> None:
    """The beginning of an id, a crop, a title; of two, the one that grew on the date, or that grows today."""
    assert place("leaf day 3: x") == "leaf-left"
    assert place("Lettuce day 3: x") == "leaf-left"
    assert place("Leaf lettuce, left day 3: x") == "leaf-left"
    assert place("basil-wick day 3: x") == "basil-wick"
    assert place("basil day 3: x") == "basil-sill"
    assert place("basil 2025-10-02: x") == "basil-wick"
    assert place("day 3: x", OLD, BASIL) == "basil-sill"
    assert place("2025-10-02: x", OLD, BASIL) == "basil-wick"


def test_a_line_that_no_one_experiment_fits_is_told() -> None:
    """What may be meant, and how to say it."""
    either = "`basil-sill` or `leaf-left`"
    assert place("day 3: x") == Unplaced(
        "which-experiment",
        "the line names no experiment, and 2 experiments grow now",
        f"begin the line with {either}",
    )
    assert place("2023-01-01: x", OLD) == Unplaced(
        "which-experiment",
        "the line names no experiment, and none grew on 2023-01-01",
        "begin the line with `basil-wick`",
    )
    assert place("basil 2026-01-05: x") == Unplaced(
        "which-experiment",
        "`basil` may be `basil-wick` or `basil-sill`",
        "begin the line with `basil-wick` or `basil-sill`",
    )
    assert place("basli day 3: x") == Unplaced(
        "unknown-experiment",
        "no experiment is called `basli`",
        "write `basil-wick` or `basil-sill`; put a colon behind the day where it is no name",
    )
    assert place("chives day 3: x") == Unplaced(
        "log-from-memory",
        "`chives-once` is told from memory and has no log",
        "begin the line with another experiment",
    )
    assert place("basil day 3: x\udcff") == Unplaced(
        "not-utf8", "the line is not UTF-8 text", "save the file as UTF-8"
    )
    assert place("basil day 3:") == Unplaced(
        "unplaced-line", "nothing stands after the day", "write what was done or seen, or remove the line"
    )
