"""The line of a run and the scale of days."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.tree import Phase, Timeline
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day, DayAxis
from sitegen.render.pages.summary import RunSummary, summary_of
from sitegen.render.story.day_scale import day_scale, scale_ticks, strip
from tests.render.builders import facts, started_run


def summary(run: Run | None = None) -> RunSummary:
    """What lists show of a run."""
    return summary_of(facts(run))


def test_strip_says_its_phases() -> None:
    """A strip describes itself in words, so that nobody has to see it."""
    label = strip(summary(), 70).label.replace(NBSP, " ")

    assert label == (
        "Germination days 0–6; Seedling days 6–41; Flowering days 41–55; Picking days 55–60; the log goes on to day 64"
    )


def test_the_line_goes_on_as_long_as_the_log() -> None:
    """Picking ends with the last pick; the end mark stands where the run ended, or was last looked at."""
    found, scale = strip(summary(), 70), day_scale(facts(), Wording(), {})

    assert (found.phases_end, found.end) == (round(100 * 60 / 70, 3), round(100 * 64 / 70, 3))
    assert (scale.phases_end, scale.end) == (found.phases_end, found.end)


def test_photos_have_a_mark_a_day() -> None:
    """It leads to the first of its day, and says how many there are."""
    photos = [(Day.on(41), "day-41"), (Day.on(30), "pictures"), (Day.on(41), "photo-late")]
    scale = day_scale(facts(), Wording(), {}, photos)

    assert [(m.at, m.anchor, m.words.replace(NBSP, " ")) for m in scale.photos] == [
        (42.857, "pictures", "Day 30: 1 photo"),
        (58.571, "day-41", "Day 41: 2 photos"),
    ]


def test_the_key_names_what_is_drawn() -> None:
    """No lane that is empty, and photos only where there are any."""
    full = day_scale(facts(), Wording(), {}, [(Day.on(41), "day-41")])
    bare = day_scale(facts(started_run()), Wording(), {})

    assert full.key == (
        ("harvest", "picks"),
        ("water", "water"),
        ("feed", "feed"),
        ("trouble", "trouble"),
        ("photo", "photo"),
    )
    assert bare.key == ()


def test_running_strip_is_open() -> None:
    """The line of a run without an end stays open, and says so."""
    found = strip(summary(started_run()), 70)

    assert found.open
    assert found.label.endswith("; still growing at the last visit")


def test_places_are_shares_of_the_scale() -> None:
    """Days stand at their share of the width, and nothing stands outside it."""
    segments = strip(summary(), 140).segments

    assert [(s.begin, s.end) for s in segments] == [
        (0, 4.286),
        (4.286, 29.286),
        (29.286, 39.286),
        (39.286, 42.857),
    ]


def test_marks_lead_to_their_day() -> None:
    """Each pick, filling, feed and trouble has its mark, once an entry, leading to its entry."""
    scale = day_scale(facts(), Wording(), {("water", 0): "water 8 L"})

    assert [(m.lane, m.anchor, m.words.replace(NBSP, " ")) for m in scale.marks] == [
        ("water", "day-0", "Day 0: water 8 L"),
        ("feed", "day-14", "Day 14: feed"),
        ("trouble", "day-37", "Day 37: trouble"),
        ("trouble", "day-50", "Day 50: trouble"),
        ("harvest", "day-55", "Day 55: picks"),
        ("harvest", "day-60", "Day 60: picks"),
    ]


def test_ticks_keep_their_distance() -> None:
    """A long scale has fewer labels, and a telephone half of them."""
    assert [(t.day, t.roomy) for t in scale_ticks(56)] == [
        (0, False),
        (14, False),
        (28, False),
        (42, False),
        (56, False),
    ]
    assert [t.day for t in scale_ticks(168) if not t.roomy] == [0, 28, 56, 84, 112, 140, 168]


def test_the_last_date_keeps_its_distance() -> None:
    """On a telephone it is left out where the one before it would touch it; its day stays."""
    given = facts()
    ends = {
        days: day_scale(replace(given, axis=DayAxis.covering(days, given.axis.start)), Wording(), {}).ticks[
            -1
        ]
        for days in (140, 84)
    }

    assert {days: (tick.day, tick.tight, tick.roomy) for days, tick in ends.items()} == {
        140: (140, True, False),
        84: (84, False, False),
    }


def test_a_phase_that_began_on_a_span_of_days_is_certain_between_its_ends_alone() -> None:
    """Both phases may hold the days of the span; the words say it, and nothing stands at its middle."""
    given = facts()
    phases = (
        Phase("germination", Day.on(0), Day(7, 14), None),
        Phase("seedling", Day(7, 14), Day.on(28, about=True), None),
    )
    found = strip(summary_of(replace(given, timeline=Timeline(phases, ()))), 70)

    assert [(s.begin, s.end, s.maybe) for s in found.segments] == [
        (0, 10, ((10, 20),)),
        (20, 37.143, ((10, 20), (37.143, 42.857))),
    ]
    assert found.label.startswith(
        "Germination from day 0 to days 7–14; Seedling from days 7–14 to about day 28"
    )


def test_a_phase_that_may_have_begun_on_its_last_day() -> None:
    """A beginning known by its end only, on the day that ended the phase, is said by that day; nothing goes backwards."""
    phases = (
        Phase("seedling", Day.on(5), Day(6, 50, before=True), None),
        Phase("root growth", Day(6, 50, before=True), Day.on(50), None),
    )
    found = strip(summary_of(replace(facts(), timeline=Timeline(phases, ()))), 70)

    assert found.label.startswith("Seedling from day 5 to before day 51; Root growth by day 50")


def test_a_mark_of_an_uncertain_day_lies_over_its_days() -> None:
    """So does a photo; a mark of a certain day has one place."""
    photos = [(Day(7, 14), "photo-1"), (Day.on(21), "photo-2")]
    scale = day_scale(facts(), Wording(), {}, photos)

    assert [(m.at, m.until) for m in scale.photos] == [(10, 20), (30, None)]
    assert {m.until for m in scale.marks} == {None}


def test_an_end_on_a_span_of_days_has_no_mark_of_its_own() -> None:
    """The run may have ended from the first of them on; the strip of a certain end has one place."""
    ended = replace(summary(), ended=Day(35, 63))

    assert strip(ended, 70).end_from == 50
    assert strip(summary(), 70).end_from is None
