"""What each entry of the log says on the timeline."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Deed, Entry, Event, Run, Which
from sitegen.core.records.setup import Lamp, LampUse
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import counted, exactly, unknown
from sitegen.core.values.units import Dimension
from sitegen.render.story.days.entry_sentences import EntryWording, sentences_of, which_words
from sitegen.render.story.days.timeline import lines_of, phases_of
from tests.measure.builders import (
    event,
    grams,
    joint,
    litres,
    milestone,
    ml,
    of,
    pick,
    place,
    reading,
    routine,
    run_of,
    seeds,
    setup_of,
    some,
    tally,
    unweighed,
)
from tests.render.builders import ALL, facts, full_run

PRODUCTS = {"syrup": "Syrup", "sour": "Sour drops"}


def wording(run: Run) -> EntryWording:
    """The wording of a run's entries."""
    return EntryWording(facts(run), Wording(), PRODUCTS)


def spaced(text: str) -> str:
    """A text with plain spaces."""
    return text.replace(NBSP, " ")


SENTENCES: list[tuple[Event, str]] = [
    (seeds(5, 2, "P1", "P2"), "Sown: 2 seeds in each spot, P1 and P2."),
    (seeds(5, 1, "P1"), "Sown: 1 seed in P1."),
    (event(Deed.SOW, 5), "Sown; the seeds were not counted."),
    (event(Deed.SOW, 5, amount=unknown(Dimension.COUNT)), "Sown: seeds, not counted."),
    (event(Deed.THIN, 5, ALL, amount=counted(1), each=True), "Thinned to 1: every spot."),
    (event(Deed.THIN, 5, joint("P2")), "Thinned, number left not recorded: P2."),
    (event(Deed.TRANSPLANT, 5, ALL), "Transplanted into the tub: all."),
    (
        event(Deed.PRUNE, 5, some(), what="lower leaves"),
        "Pruned: lower leaves, some plants, which ones not recorded.",
    ),
    (event(Deed.POLLINATE, 5), "Pollinated by hand."),
    (event(Deed.TREAT, 5, ALL, product="sour"), "Treated with Sour drops: all."),
    (event(Deed.TREAT, 5, ALL, what="soap"), "Treated with soap: all."),
    (event(Deed.TREAT, 5), "Treated: all."),
    (
        event(Deed.TREAT, 5, joint("P2"), product="sour", amount=ml(20)),
        "Treated with Sour drops, 20 ml (0.68 fl oz): P2.",
    ),
    (event(Deed.LOST, 5, joint("P3"), what="snapped"), "Lost P3: snapped."),
    (event(Deed.LOST, 5, joint("P3")), "Lost P3."),
    (event(Deed.MOVE, 5, joint("P2"), tub="right"), "Moved to right tub: P2."),
    (event(Deed.TASTE, 5, amount=counted(4), out_of=5, what="crisp"), "Taste: 4 out of 5, crisp."),
    (event(Deed.TASTE, 5, amount=counted(4)), "Taste: 4."),
    (event(Deed.END, 5, what="slow now", kept=True), "End: slow now; the plants were kept."),
    (event(Deed.END, 5, kept=False), "End of the run; the plants were cleared."),
    (event(Deed.STOP, 5, what="feed"), "No more feed from here on."),
    (event(Deed.STOP, 5, what="prune"), "No more pruning from here on."),
]


@pytest.mark.parametrize(("row", "said"), SENTENCES, ids=[said for _, said in SENTENCES])
def test_sentences(row: Event, said: str) -> None:
    """Each thing done is one sentence."""
    assert [spaced(text) for text in sentences_of(5, wording(run_of(events=(row,))))] == [said]


@pytest.mark.parametrize(
    "deed", [Deed.SPROUTED, Deed.WATER, Deed.CHANGE, Deed.FEED, Deed.ADJUST, Deed.TROUBLE, Deed.NOTE]
)
def test_events_with_a_line_or_a_note_have_no_sentence(deed: Deed) -> None:
    """Nothing is said twice: an event with a marked line of its own, or a note, has no sentence."""
    assert sentences_of(5, wording(run_of(events=(event(deed, 5, ALL, what="grey"),)))) == ()


def test_routine() -> None:
    """A routine says how often, and whether it counts."""
    run = run_of(routines=(routine(5, "every refill", ml(20)), routine(6, "every logged refill", ml(5))))

    said = [spaced(text) for entry in (5, 6) for text in sentences_of(entry, wording(run))]

    assert said == [
        (
            "From here on Syrup, 20 ml (0.68 fl oz), at every refill. Every logged refill counts as one dose, "
            "others as none."
        ),
        "From here on Syrup, 5 ml (1.0 tsp), at every logged refill. Every logged refill counts as one dose.",
    ]


def test_light() -> None:
    """A lamp's setting is said as what holds from here on."""
    use = LampUse(Lamp("bar", "Bar"), exactly(14, Dimension.DURATION, 1), exactly(30, Dimension.LENGTH, 1))
    run = run_of(
        lights=(Light(Day.on(5), 5, place(9), "tub", use),), entries=(Entry(5, Day.on(5), place(9)),)
    )

    assert [spaced(text) for text in sentences_of(5, wording(run))] == [
        "Lamp from here on: Bar, 14 h a day, 30 cm (12 in) above the plants."
    ]
    timed = replace(run.rows.lights[0], use=replace(use, on=6 * 60 + 5))
    run = replace(run, rows=replace(run.rows, lights=(timed,)))
    assert [spaced(text) for text in sentences_of(5, wording(run))] == [
        "Lamp from here on: Bar, 14 h a day, on at 06:05, 30 cm (12 in) above the plants."
    ]


def test_readings_of_light_and_of_a_meter() -> None:
    """Light and lux have lines of their own; ppm never stand without their scale."""
    by_pen = exactly(1.68, Dimension.CONDUCTIVITY, 0.01)
    readings = (
        reading("ppfd", 5, exactly(210, Dimension.PHOTON_FLUX, 1), tub="tub"),
        reading("lux", 5, exactly(14000, Dimension.ILLUMINANCE, 100), tub="tub"),
        reading("ec", 5, by_pen, tub="tub", scale=500),
    )
    run = run_of(readings=(*readings, reading("ec", 9, exactly(840, Dimension.PPM, 1), tub="tub")))

    assert [spaced(line.text) for entry in (5, 9) for line in lines_of(entry, wording(run))] == [
        "light at the plants 210 µmol/m²/s",
        "illuminance 14,000 lux",
        "EC 1.68 mS/cm (840 ppm on the 500 scale)",
        "EC 840 ppm of a scale not recorded",
    ]


LINES = [
    ({"events": (event(Deed.WATER, 5, amount=litres(2)),)}, ["water added, 2 L (0.53 gal)"]),
    ({"events": (event(Deed.WATER, 5, amount=unknown(Dimension.VOLUME)),)}, ["water added, not measured"]),
    ({"events": (event(Deed.WATER, 5, filled=True),)}, ["water filled up; holds 8 L (2.1 gal)"]),
    ({"events": (event(Deed.CHANGE, 5, amount=litres(8)),)}, ["all the water changed, 8 L (2.1 gal)"]),
    ({"events": (event(Deed.FEED, 5, product="syrup", as_labelled=True),)}, ["Syrup as labelled"]),
    (
        {"events": (event(Deed.TROUBLE, 5, of(2, 4), what="tip burn", until=Day.on(9)),)},
        ["trouble: tip burn, 2 of 4, until day 9"],
    ),
    ({"events": (event(Deed.SPROUTED, 5, amount=counted(7), out_of=8),)}, ["seedlings up so far: 7 of 8"]),
    (
        {
            "readings": (
                reading("ph", 5, exactly(7.1, Dimension.ACIDITY, 0.1), tub="tub", moment="before"),
                reading("ph", 5, exactly(5.9, Dimension.ACIDITY, 0.1), tub="tub", moment="after"),
            )
        },
        ["pH 7.1, then 5.9"],
    ),
    (
        {"readings": (reading("height", 5, exactly(9, Dimension.LENGTH, 1), ALL.ids),)},
        ["height 9 cm (3.5 in), each plant"],
    ),
    (
        {
            "readings": (
                reading("height", 5, exactly(9, Dimension.LENGTH, 1), ("P1",), at="stem tip"),
                reading("height", 5, exactly(8, Dimension.LENGTH, 1), ("P2",), at="stem tip"),
            )
        },
        ["height (to the stem tip) P1 9 cm (3.5 in); P2 8 cm (3.1 in)"],
    ),
    ({"picks": (pick(5, joint("P1"), grams(84), part="leaf"),)}, ["picked from P1: 84 g (2.96 oz), leaf"]),
    ({"picks": (pick(5, joint("P1"), unweighed()),)}, ["picked from P1: not weighed"]),
    (
        {"picks": (pick(5, joint("P1", "P2"), grams(84), count=9, spoilt=1, grade="good"),)},
        ["picked from P1 and P2 together: 84 g (2.96 oz), 9 pieces, 1 of them spoilt, good"],
    ),
    (
        {"picks": (pick(5, joint("P1"), grams(84), count=9, spoilt=2, spoilt_weight=grams(30)),)},
        ["picked from P1: 84 g (2.96 oz), 9 pieces, 2 of them spoilt, 30 g (1.06 oz)"],
    ),
    (
        {"picks": (pick(5, joint("P1"), grams(84), count=9, spoilt=2, spoilt_weight=unweighed()),)},
        ["picked from P1: 84 g (2.96 oz), 9 pieces, 2 of them spoilt, not weighed"],
    ),
    (
        {"picks": (pick(5, joint("P1"), grams(84), spoilt_weight=grams(30)),)},
        ["picked from P1: 84 g (2.96 oz), 30 g (1.06 oz) of it spoilt"],
    ),
    (
        {"picks": (pick(5, joint("P1"), grams(84), spoilt_weight=unweighed()),)},
        ["picked from P1: 84 g (2.96 oz), some of it spoilt, not weighed"],
    ),
    (
        {"picks": (pick(5, joint("P1"), grams(84), spoilt=0, spoilt_weight=grams(0)),)},
        ["picked from P1: 84 g (2.96 oz)"],
    ),
    ({"tallies": (tally(5, grams(460), ALL),)}, ["total so far, all: 460 g (1 lb 0.23 oz)"]),
    ({"milestones": (milestone("ripe", 5, of(2, 4)),)}, ["ripe fruit: 2 of 4"]),
    ({"milestones": (milestone("ripe", 5, ALL, reached=False),)}, ["ripe fruit: not yet"]),
    ({"milestones": (milestone("ripe", 5, joint("P2"), reached=False),)}, ["ripe fruit: not yet on P2"]),
]


@pytest.mark.parametrize(("tables", "said"), LINES, ids=[said[0] for _, said in LINES])
def test_lines(tables: dict[str, Any], said: list[str]) -> None:
    """What was measured, added and picked is said in one short line, and so is what was not measured."""
    assert [spaced(line.text) for line in lines_of(5, wording(run_of(**tables)))] == said


MARKS = {
    "growth": ("height", "spread", "leaves", "count"),
    "feed": ("ec", "ph"),
    "water": ("water_temperature",),
    "light": ("air_temperature", "leaf_temperature", "humidity"),
}


@pytest.mark.parametrize(("mark", "name"), [(mark, name) for mark, names in MARKS.items() for name in names])
def test_marks_of_readings(mark: str, name: str) -> None:
    """Each reading has the mark of its subject: growth, food, water, or light and air."""
    run = run_of(readings=(reading(name, 5, counted(7), tub="tub"),))

    assert [line.mark for line in lines_of(5, wording(run))] == [mark]


def test_marks_of_events_and_picks() -> None:
    """What was added, gone wrong, seen and picked has a mark each; all seedling counts share one line."""
    run = run_of(
        events=(
            event(Deed.SPROUTED, 5, joint("P1"), amount=counted(1)),
            event(Deed.SPROUTED, 5, joint("P2"), amount=counted(2)),
            event(Deed.CHANGE, 5, amount=litres(8)),
            event(Deed.ADJUST, 5, product="sour", amount=ml(20)),
            event(Deed.TROUBLE, 5, what="tip burn"),
        ),
        picks=(pick(5, joint("P1"), unweighed()),),
        tallies=(tally(5, grams(460), ALL),),
        milestones=(milestone("ripe", 5, ALL),),
    )

    assert [(spaced(line.text), line.mark) for line in lines_of(5, wording(run))] == [
        ("seedlings up so far: P1 1; P2 2", "growth"),
        ("all the water changed, 8 L (2.1 gal)", "water"),
        ("Sour drops 20 ml (0.68 fl oz)", "feed"),
        ("trouble: tip burn", "trouble"),
        ("picked from P1: not weighed", "harvest"),
        ("total so far, all: 460 g (1 lb 0.23 oz)", "harvest"),
        ("ripe fruit: all", "growth"),
    ]


def test_two_entries_of_a_day_have_two_anchors() -> None:
    """Every entry has an address of its own."""
    entries = tuple(Entry(index, Day.on(5), place(index + 1)) for index in range(2))

    (phase,) = phases_of(wording(run_of(setup_of(1), entries=entries)))

    assert [entry.anchor for entry in phase.entries] == ["day-5", "day-5-2"]


def test_visits_stand_under_their_phase() -> None:
    """Phases follow one another, each with the days of its visits and the pauses between them."""
    phases = phases_of(wording(full_run()))

    assert [(p.name, spaced(p.words), [e.days for e in p.entries]) for p in phases] == [
        ("germination", "day 0", ["0"]),
        ("seedling", "days 6–38", ["6", "14", "30", "36", "37", "38"]),
        ("flowering", "days 41–50", ["41", "50"]),
        ("picking", "days 55–60", ["55", "60"]),
        ("afterwards", "day 64", ["64"]),
    ]
    assert [e.pause for p in phases for e in p.entries] == [0, 0, 7, 15, 0, 0, 0, 0, 8, 0, 0, 0]


def test_private_and_silent_entries_are_still_visits() -> None:
    """An entry without anything to show is not left out."""
    run = run_of(setup_of(1), entries=(replace(Entry(0, Day.on(5), place(1)), private=True),))

    (phase,) = phases_of(wording(run))

    assert [(e.sentences, e.notes, e.lines) for e in phase.entries] == [((), (), ())]


WHICH = [
    (Which(("P1", "P2", "P3"), word="P1-P3"), "P1–P3"),
    (Which(("P1", "P2"), word="early"), "group “early”"),
    (Which((), 2, 4), "2 of 4"),
    (Which(word="some"), "some plants, which ones not recorded"),
    (Which((), 0, word="none"), "none"),
    (Which(("P1", "P2", "P4")), "P1, P2 and P4"),
    (Which(("basil-a", "basil-b")), "basil-a and basil-b"),
]


@pytest.mark.parametrize(("which", "said"), WHICH, ids=[said for _, said in WHICH])
def test_plants(which: Which, said: str) -> None:
    """Plants are named as shortly as is true."""
    assert which_words(which) == said
