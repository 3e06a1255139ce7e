"""The log: every key of an entry in every form, and what is said of what is none."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cases import BASE
from tests.ingest.builders import GROUPS, HEAD, PICTURES, TUBS, found, rows, shown

# The gear of the shared journal with a second feed, and with an acid.
GEAR = (
    "../../../gear.yaml",
    (BASE / "gear.yaml").read_bytes()
    + b"  bloom: {name: Bloom, kind: feed}\n  sour: {name: Sour, kind: acid}\n",
)

SOWN = [
    ("sow: 3 a spot", ["sow all 3 each"]),
    ("sow: 18 in all", ["sow all 18"]),
    ("sow: {P1: 3, P2: 2}", ["sow P1 3 each", "sow P2 2 each"]),
    ("sow: {plants: P3, seeds: 4 a spot}", ["sow P3 4 each"]),
    ("sow: about 3 a spot", ["sow all about 3 each"]),
    ("sow: 2-3 a spot", ["sow all 2-3 each"]),
    ("sow: 3+ a spot", ["sow all 3+ each"]),
    ("sow: at least 3 a spot", ["sow all 3+ each"]),
    ("sow: unmeasured", ["sow all ?"]),
    ("sow: {front: 2 a spot}", ["sow front 2 each"]),
    ("sprouted: 6 of 8", ["sprouted all 6 of 8"]),
    ("sprouted: 6", ["sprouted all 6"]),
    ("sprouted: about 6", ["sprouted all about 6"]),
    ("sprouted: 5-6 of 8", ["sprouted all 5-6 of 8"]),
    ("sprouted: 6+", ["sprouted all 6+"]),
    ("sprouted: all", ["sprouted all 'all'"]),
    ("sprouted: every spot", ["sprouted all 4+ 'every spot'"]),
    ("sprouted: some", ["sprouted all 1+ 'some'"]),
    ("sprouted: none", ["sprouted all 0 'none'"]),
    ("sprouted: {P1: 3, P2: 1 of 2}", ["sprouted P1 3", "sprouted P2 1 of 2"]),
    ("thin_to: 1", ["thin_to all 1 each"]),
    ("thin_to: {front: 1, back: 2}", ["thin_to front 1 each", "thin_to back 2 each"]),
    ("transplant: all", ["transplant all"]),
    ("transplant: [P1, P3]", ["transplant P1, P3"]),
    ("transplant: P1-P2", ["transplant P1-P2"]),
    ("transplant: [P1-P2, P4]", ["transplant P1, P2, P4"]),
    ("transplant: 2 of 4", ["transplant 2 of 4"]),
    ("transplant: some", ["transplant some"]),
    ("transplant: front", ["transplant front"]),
    ("lost: P1", ["lost P1"]),
    ("lost: {P1: snapped, front: mould}", ["lost P1 'snapped'", "lost front 'mould'"]),
    ("lost: [P1, P2]", ["lost P1, P2"]),
    ("lost: 2 of 4", ["lost 2 of 4"]),
    ("lost: {P1: }", ["lost P1"]),
    ("end: slow now", ["end 'slow now'"]),
    ("end: {why: slow, plants: kept}", ["end 'slow' kept"]),
    ("end: {plants: cleared}", ["end cleared"]),
]

TUBBED = [
    ("water: 2 L", ["water 2000 ml"]),
    ("water: about 2 L", ["water about 2000 ml"]),
    ("water: filled", ["water filled"]),
    ("water: changed", ["change filled"]),
    ("water: changed to 11 L", ["change 1.1e+04 ml"]),
    ("water: changed to about 11 L", ["change about 1.1e+04 ml"]),
    ("water: unmeasured", ["water ?"]),
    ("feed: {syrup: 10 ml}", ["feed syrup 10 ml"]),
    ("feed: {syrup: 2 ml/L}", ["feed syrup 2 ml/L"]),
    ("feed: {syrup: as labelled}", ["feed syrup as labelled"]),
    ("feed: {syrup: unmeasured}", ["feed syrup ?"]),
    ("feed: {syrup: ½ tsp}", ["feed syrup 2.464 ml"]),
    ("feed: {syrup: 2 fl oz}", ["feed syrup 59.15 ml"]),
    ("feed: {syrup: 5 g, bloom: 1 ml}", ["feed syrup 5 g", "feed bloom 1 ml"]),
    ("feed: {syrup: 1 tsp/gal}", ["feed syrup 1.302 ml/L"]),
    ("adjust: {sour: 2 ml}", ["adjust sour 2 ml"]),
    ("adjust: {sour: about 2 ml by eye}", ["adjust sour about 2 ml by eye"]),
    ("light: {hours: 14 h}", ["light 14 h"]),
    ("light: off", ["light off"]),
    ("light: {lamp: strip, hours: 16 h, distance: 30 cm}", ["light strip 16 h 30 cm"]),
    ("from_now: {feed: {syrup: 20 ml, at: every refill}}", ["from now feed syrup 20 ml every refill"]),
    (
        "from_now: {feed: {syrup: as labelled, at: every logged refill}}",
        ["from now feed syrup as labelled every logged refill"],
    ),
    ("from_now: {light: {hours: 12 h}}", ["light 12 h"]),
    (
        "from_now: {water: every Sunday, prune: weekly}",
        ["from now water every Sunday", "from now prune weekly"],
    ),
    ("stop: feed", ["stop 'feed'"]),
    ("stop: [feed, light]", ["stop 'feed'", "stop 'light'"]),
    ("ec: 1.4 mS/cm", ["ec 1.4 mS/cm"]),
    ("ph: '7.1, then 5.9'", ["ph before 7.1", "ph after 5.9"]),
    ("ph: {each: 6.1}", ["ph 6.1"]),
    ("ec: 700 ppm500", ["ec 1.4 mS/cm"]),
    ("humidity: 60 %", ["humidity 60 %"]),
    ("water_temperature: 21 C", ["water_temperature 21 °C"]),
    ("air_temperature: 70 F", ["air_temperature 21.11 °C"]),
    ("leaf_temperature: 22 C", ["leaf_temperature 22 °C"]),
]

SEVERAL = [
    ("water: {left: 2 L, right: filled}", ["water in left 2000 ml", "water in right filled"]),
    (
        "feed: {left: {syrup: 10 ml}, right: {syrup: 5 ml}}",
        ["feed in left syrup 10 ml", "feed in right syrup 5 ml"],
    ),
    ("ec: {left: 1.4 mS/cm, right: 1.5 mS/cm}", ["ec left 1.4 mS/cm", "ec right 1.5 mS/cm"]),
    ("light: {left: off}", ["light left off"]),
    (
        "from_now: {feed: {left: {syrup: 20 ml, at: every refill}}}",
        ["from now feed in left syrup 20 ml every refill"],
    ),
    ("move: {P1: right}", ["move P1 in right"]),
    ("move: {left: right}", ["move left in right"]),
    ("height: {left: 9 cm}", ["height left 9 cm"]),
    ("harvest: {left: 20 g}", ["pick left 20 g"]),
    ("trouble: {what: mould, tub: left}", ["trouble in left 'mould'"]),
    ("lost: {left: mould}", ["lost left 'mould'"]),
]

MEASURED = [
    ("height: 9 cm", ["height all 9 cm"]),
    ("height: about 9 cm to the stem tip", ["height all about 9 cm to the stem tip"]),
    ("height: 9 cm to the topmost leaf", ["height all 9 cm"]),
    ("height: {P1: 9 cm, P2: 8-9 cm}", ["height P1 9 cm", "height P2 8-9 cm"]),
    ("height: {front: 9 cm}", ["height front 9 cm"]),
    ("height: {each: 9 cm, plants: P1-P2}", ["height P1-P2 9 cm"]),
    ("height: {P1: {each: 9 cm}}", ["height P1 9 cm"]),
    ("height: {P1: unmeasured}", ["height P1 ?"]),
    ("leaves: 7", ["leaves all 7"]),
    ("leaves: {together: 28}", ["leaves all 28 together"]),
    ("count: 3 flowers", ["count all 3 flowers"]),
    ("count: 12+ flowers", ["count all 12+ flowers"]),
    ("count: {together: 12 flowers, plants: front}", ["count front 12 flowers together"]),
    ("spread: {P1-P2: 20 cm}", ["spread P1-P2 20 cm"]),
    ("milestone: {rosette: all}", ["rosette all reached"]),
    ("milestone: {rosette: none}", ["rosette all not yet"]),
    ("milestone: {rosette: 2 of 4, bolting: none}", ["rosette 2 of 4 reached", "bolting all not yet"]),
    ("milestone: {rosette: [P1, P3]}", ["rosette P1, P3 reached"]),
    ("milestone: {rosette: front}", ["rosette front reached"]),
    ("milestone: {rosette: some}", ["rosette some reached"]),
]

DONE = [
    ("prune: lower leaves", ["prune 'lower leaves'"]),
    ("prune: P1", ["prune P1"]),
    ("prune: [P1, P2]", ["prune P1, P2"]),
    ("prune: {what: lower leaves, plants: some}", ["prune some 'lower leaves'"]),
    ("prune: {P1: tip, P2: lower leaves}", ["prune P1 'tip'", "prune P2 'lower leaves'"]),
    ("train: tied to the string", ["train 'tied to the string'"]),
    ("pollinate: with a brush", ["pollinate 'with a brush'"]),
    ("clean: the pump", ["clean 'the pump'"]),
    ("treat: soap", ["treat soap"]),
    ("treat: {product: soap, plants: P2}", ["treat P2 soap"]),
    ("treat: {P1: soap}", ["treat P1 soap"]),
    ("trouble: tip burn", ["trouble 'tip burn'"]),
    ("trouble: {what: tip burn, plants: 2 of 4, until: day 51}", ["trouble 2 of 4 'tip burn' until 51"]),
    ("trouble: {P1: tip burn}", ["trouble P1 'tip burn'"]),
    ("taste: '4/5, crisp and mild'", ["taste 4 of 5 'crisp and mild'"]),
    ("taste: 4/5", ["taste 4 of 5"]),
    ("taste: 4.5/5 crisp", ["taste 4.5 of 5 'crisp'"]),
    ("taste: 4/5 - crisp", ["taste 4 of 5 'crisp'"]),
    ("note: roots white", ["note 'roots white'"]),
    ("private: ask the club", []),
    ("clip: the cut", ["clip 'the cut'"]),
    ("clip: {what: the cut, file: a12.mp4}", ["clip 'the cut' a12.mp4"]),
    (
        "clip: {what: the cut, file: a12.mp4, at: 4:10, length: 0:12, plants: P1}",
        ["clip P1 'the cut' a12.mp4 at 250 s for 12 s"],
    ),
    ("clip: {at: 0:00}", ["clip at 0 s"]),
    ("clip: {at: 1:02:30, plants: some}", ["clip some at 3750 s"]),
    (
        "clip: [the cut, {what: the scale, at: 4:40}, {file: a13.mp4}]",
        ["clip 'the cut'", "clip 'the scale' at 280 s", "clip a13.mp4"],
    ),
    ("photo: day-3-leaf.jpg", ["photo day-3-leaf.jpg"]),
    (
        "photo: [{file: day-3-leaf.jpg, alt: A leaf}, day-3-leaf.jpg]",
        ["photo day-3-leaf.jpg A leaf", "photo day-3-leaf.jpg"],
    ),
    ("photo: {file: day-3-leaf.jpg, plants: P1, shows: ready}", ["photo day-3-leaf.jpg ready"]),
]

PICKED = [
    ("harvest: 84 g", ["pick all 84 g"]),
    (
        "harvest: {P1: 84 g, P4: {weight: 121 g, part: leaf, grade: good}, P2: unweighed}",
        ["pick P1 84 g", "pick P4 121 g leaf good", "pick P2 ?"],
    ),
    (
        "harvest: {weight: 205 g, plants: all, count: 9, spoilt: 1, earlier_picks: apart}",
        ["pick all 205 g count 9 spoilt 1 apart"],
    ),
    (
        "harvest: [{P1: 84 g}, {plants: P2-P3, weight: 118 g, count: 12}]",
        ["pick P1 84 g", "pick P2-P3 118 g count 12"],
    ),
    ("harvest: {each: 20 g, plants: front}", ["pick P1 20 g", "pick P2 20 g"]),
    ("harvest: {each: 20 g, plants: 2 of 4}", ["pick 2 of 4 40 g"]),
    ("harvest: {each: 20 g, plants: some}", ["pick some ?"]),
    ("harvest: {together: 205 g}", ["pick all 205 g"]),
    ("harvest: {weights: [8 g, 9 g]}", ["pick all 17 g count 2"]),
    ("harvest: {weight: 17 g, weights: [8 g, 9 g]}", ["pick all 17 g count 2"]),
    ("harvest: {P1: {weights: [8 g, 9 g]}}", ["pick P1 17 g count 2"]),
    (
        "harvest: {P1: {weight: 84 g, count: 9, spoilt: {count: 2, weight: 30 g}}}",
        ["pick P1 84 g count 9 spoilt 2 weighing 30 g"],
    ),
    ("harvest: {weight: 84 g, spoilt: {count: 2}}", ["pick all 84 g spoilt 2"]),
    ("harvest: {weight: 84 g, spoilt: {weight: about 30 g}}", ["pick all 84 g weighing about 30 g"]),
    ("harvest: {weight: 84 g, spoilt: {weight: 20-30 g by eye}}", ["pick all 84 g weighing 20-30 g by eye"]),
    ("harvest: {weight: 84 g, spoilt: {weight: at least 9 g}}", ["pick all 84 g weighing 9+ g"]),
    ("harvest: {weight: 84 g, spoilt: {count: 3, weight: unweighed}}", ["pick all 84 g spoilt 3 weighing ?"]),
    (
        "harvest: {P1: {weight: 84 g, spoilt: {weight: up to 9 g}}, P2: {weight: 9 g, spoilt: 1}}",
        ["pick P1 84 g weighing 0-9 g", "pick P2 9 g spoilt 1"],
    ),
    ("harvest: {flush: 2, weight: 20 g}", ["pick all 20 g flush 2"]),
    ("harvest: {front: 20 g}", ["pick front 20 g"]),
    ("harvest: unweighed", ["pick all ?"]),
    ("harvest: [8 g, 9 g]", ["pick all 8 g", "pick all 9 g"]),
    ("harvest: {plants: P1, count: 3}", ["pick P1 ? count 3"]),
    ("total_so_far: 4.6 kg", ["total so far all 4600 g"]),
    ("total_so_far: {front: about 2 kg}", ["total so far front about 2000 g"]),
]

FORMS = [
    *((GROUPS, entry, expected) for entry, expected in SOWN),
    *((HEAD, entry, expected) for entry, expected in TUBBED),
    *((TUBS, entry, expected) for entry, expected in SEVERAL),
    *((GROUPS, entry, expected) for entry, expected in MEASURED),
    *((GROUPS, entry, expected) for entry, expected in DONE),
    *((GROUPS, entry, expected) for entry, expected in PICKED),
]


def _log(entry: str) -> str:
    return f"  - {{day: 3, {entry}}}\n"


@pytest.mark.parametrize(("head", "entry", "expected"), FORMS, ids=[entry for _, entry, _ in FORMS])
def test_form(head: str, entry: str, expected: list[str], tmp_path: Path) -> None:
    """Each form of a key gives the rows that it says, and no finding."""
    assert shown(rows(tmp_path, _log(entry), head, (*PICTURES, GEAR))) == expected


def test_days_decide_the_order(tmp_path: Path) -> None:
    """Entries are understood in the order of their days, whatever their order in the file."""
    log = "  - {day: 9, note: third}\n  - {day: 0, note: first}\n  - {day: before 5, note: second}\n"
    read_rows = rows(tmp_path, log)

    assert [event.what for event in read_rows.events] == ["first", "second", "third"]
    assert [str(entry.day) for entry in read_rows.entries] == ["0", "before 5", "9"]


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("day: 26", "26"),
        ("day: 33-38", "33-38"),
        ("day: 33 – 38", "33-38"),
        ("day: about 36", "about 36"),
        ("day: about 33-38", "about 33-38"),
        ("day: before 40", "before 40"),
        ("day: before 0", "0"),
        ("date: 2025-03-27", "26"),
        ("day: 26, date: 2025-03-27", "26"),
    ],
)
def test_day(written: str, day: str, tmp_path: Path) -> None:
    """A day is a number, a span, about or before; a date is counted from the start."""
    assert [str(entry.day) for entry in rows(tmp_path, f"  - {{{written}, note: white}}\n").entries] == [day]


def test_a_date_from_a_month(tmp_path: Path) -> None:
    """Where only the month of the start is known, a date is a span of days."""
    head = HEAD.replace("2025-03-01", "2025-03")

    assert [str(e.day) for e in rows(tmp_path, "  - {date: 2025-04-05, note: white}\n", head).entries] == [
        "5-35"
    ]


@pytest.mark.parametrize(
    ("written", "finding"),
    [
        (
            "day: monday",
            (
                "8:11: not-a-day: `monday` is not a day; `day` counts days since sowing "
                "(write days since sowing, such as `day: 26`, `day: 33-38`, `day: about 36` or `day: before 40`)"
            ),
        ),
        ("day: 38-33", "8:11: reversed-range: the days `38-33` end before they begin (write `33-38`)"),
        (
            "date: 2025-02-30",
            (
                "8:12: not-a-date: `2025-02-30` is not a date: February 2025 has 28 days "
                "(write a day from `2025-02-01` to `2025-02-28`)"
            ),
        ),
        (
            "day: 5, date: 2025-03-27",
            (
                "8:20: day-and-date: day 5 and 2025-03-27 disagree: 2025-03-27 is day 26 "
                "(keep one of them: `day: 5` or `date: 2025-03-27`)"
            ),
        ),
        (
            "tell: never",
            (
                "8:5: no-day: this entry says neither day nor date "
                "(begin it with its day, such as `day: 26` or `date: 2025-10-19`)"
            ),
        ),
    ],
)
def test_error_day(written: str, finding: str, tmp_path: Path) -> None:
    """An entry without a day that can be told is refused."""
    assert found(tmp_path, f"  - {{{written}, note: white}}\n") == [finding]


def test_each_and_together(tmp_path: Path) -> None:
    """A plain reading is each plant's, a plain harvest is of all together; `each` and `together` say otherwise."""
    log = (
        "  - {day: 3, leaves: 7, harvest: 20 g}\n  - {day: 4, leaves: {together: 28}, harvest: {each: 5 g}}\n"
    )
    read_rows = rows(tmp_path, log)

    assert [(r.plants, r.together) for r in read_rows.readings] == [
        (("P1", "P2", "P3", "P4"), False),
        (("P1", "P2", "P3", "P4"), True),
    ]
    assert [(str(pick.which), pick.weight.low) for pick in read_rows.picks] == [
        ("all", 20),
        *((plant, 5) for plant in ("P1", "P2", "P3", "P4")),
    ]


def test_all_are_those_that_stand(tmp_path: Path) -> None:
    """`all` and a group mean the plants that stand at that entry; lost ones leave from the next entry on."""
    log = "  - {day: 3, lost: P1, leaves: 6}\n  - {day: 4, leaves: 7}\n  - {day: 5, leaves: {front: 8}}\n"
    plants = [reading.plants for reading in rows(tmp_path, log, GROUPS).readings]

    assert plants == [("P1", "P2", "P3", "P4"), ("P2", "P3", "P4"), ("P2",)]


def test_a_moved_plant_counts_in_its_new_tub(tmp_path: Path) -> None:
    """A plant that was moved belongs to the new tub from the next entry on."""
    log = "  - {day: 3, move: {P1: right}, harvest: {P1: 8 g}}\n  - {day: 4, harvest: {P1: 9 g}}\n"

    assert [pick.tubs for pick in rows(tmp_path, log, TUBS).picks] == [("left",), ("right",)]


def test_routines_end(tmp_path: Path) -> None:
    """A routine runs until the next of the same thing, or until it is stopped."""
    log = (
        "  - {day: 3, from_now: {feed: {syrup: 20 ml, at: every refill}, pollinate: daily}}\n"
        "  - {day: 9, from_now: {feed: {syrup: 30 ml, at: every refill}}}\n"
        "  - {day: 20, stop: [feed, pollinate]}\n"
    )

    assert [(r.what, str(r.day), str(r.until)) for r in rows(tmp_path, log).routines] == [
        ("feed", "3", "9"),
        ("pollinate", "3", "20"),
        ("feed", "9", "20"),
    ]


def test_a_lamp_keeps_what_is_not_said(tmp_path: Path) -> None:
    """A lamp's setting holds until the next; what that does not say stays as it was."""
    head = HEAD + "light: {lamp: strip, hours: 14 h, distance: 30 cm}\n"
    log = "  - {day: 5, light: {hours: 16 h}}\n  - {day: 9, from_now: {light: {distance: 40 cm}}}\n"

    assert shown(rows(tmp_path, log, head)) == [
        "light strip 14 h 30 cm",
        "light strip 16 h 30 cm",
        "light strip 16 h 40 cm",
    ]


def test_private_text_stays_in_the_journal(tmp_path: Path) -> None:
    """Of private text only its being there is kept, and `tell` is kept as written."""
    read_rows = rows(tmp_path, "  - {day: 3, private: ask the club, tell: never}\n")

    assert "ask the club" not in repr(read_rows)
    assert [(entry.private, entry.tell) for entry in read_rows.entries] == [(True, "never")]
