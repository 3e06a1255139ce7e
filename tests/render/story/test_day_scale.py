"""The line of a run and the scale of days."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.facts.tree import Phase, Timeline
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Run
from sitegen.core.values.day import Day, Start
from sitegen.render.pages.summary import RunSummary, summary_of
from sitegen.render.story.days.day_scale import DayScale, axis_ticks, day_scale, scale_ticks, strip
from sitegen.render.story.days.day_visits import DayVisit, day_visits
from sitegen.render.story.days.entry_sentences import EntryWording
from sitegen.render.story.days.timeline import phases_of
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


def visits(run: Run | None = None) -> tuple[DayVisit, ...]:
    """The visits of a run."""
    words = EntryWording(facts(run), Wording(), {})
    return day_visits([entry for phase in phases_of(words) for entry in phase.entries], words)


def scale(run: Run | None = None, photos: tuple[Day, ...] = ()) -> DayScale:
    """The day axis of a run's page."""
    return day_scale(facts(run), Wording(), visits(run), photos)


def test_the_line_goes_on_as_long_as_the_log() -> None:
    """Picking ends with the last pick; the end mark stands where the run ended, or was last looked at."""
    found = strip(summary(), 70)

    assert (found.phases_end, found.end) == (round(100 * 60 / 70, 3), round(100 * 64 / 70, 3))
    assert (scale().phases_end, scale().end) == (round(100 * 60 / 64, 3), 100)


def test_the_axis_opens_on_the_last_day_that_has_a_photo() -> None:
    """Without a photo it opens on the last visit; a day after the last of the log is none of the axis."""
    opened = [scale(photos=days).start for days in ((Day.on(41), Day.on(30)), (), (Day.on(90),))]

    assert opened == [41, 64, 64]


def test_the_key_names_what_is_drawn() -> None:
    """No mark that stands nowhere."""
    assert scale().key == (("trouble", "trouble"), ("harvest", "picks"), ("growth", "a new stage"))
    assert scale(started_run()).key == ()


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


def test_every_visit_has_a_mark() -> None:
    """It is the anchor of its day, stands where the day does, and says what counts most of it."""
    found = [(m.anchor, m.at, m.kind, m.words.replace(NBSP, " ")) for m in scale().visits]

    assert found == [
        ("day-0", 0, "", "Day 0: Sown: 2 seeds in each spot, P1–P4."),
        ("day-6", 9.375, "growth", "Day 6: Seedlings up so far: 7 of 8."),
        ("day-14", 21.875, "", "Day 14: Feed: syrup."),
        ("day-30", 46.875, "", "Day 30: Height about 23 cm (9 in), each plant."),
        ("day-36", 56.25, "", "Day 36: Pruned: lower leaves, P1."),
        ("day-37", 57.812, "trouble", "Day 37: Trouble: mould on the plug, 2 of 4, until day 44."),
        ("day-38", 59.375, "", "Day 38: First flower: not yet."),
        ("day-41", 64.062, "growth", "Day 41: First flower: P1–P3."),
        ("day-50", 78.125, "trouble", "Day 50: Lost P4: snapped."),
        ("day-55", 85.938, "harvest", "Day 55: Picked: 84 g."),
        ("day-60", 93.75, "harvest", "Day 60: Picked: at least 112 g."),
        ("day-64", 100, "", "Day 64: End: slow now; the plants were kept."),
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


@pytest.mark.parametrize(
    ("last", "days", "dates"),
    [
        (134, [0, 28, 56, 84, 112, 134], [0, 56, 84, 134]),
        (64, [0, 14, 28, 42, 64], [0, 28, 42, 64]),
        (40, [0, 7, 14, 21, 28, 40], [0, 21, 40]),
        (5, [0, 5], [0, 5]),
    ],
)
def test_labels_of_the_axis_keep_apart(last: int, days: list[int], dates: list[int]) -> None:
    """On a phone a number takes half of what a date takes; the first and the last stand always."""
    ticks = axis_ticks(last, facts().axis.start, Wording())

    assert [tick.day for tick in ticks if not tick.roomy] == days
    assert [tick.day for tick in ticks if tick.date and not tick.tight] == dates
    assert ticks[0].date.replace(NBSP, " ") == "1 Mar 2025"


def test_a_run_without_a_date_has_days_alone() -> None:
    """Nobody knows which dates they were."""
    assert {tick.date for tick in axis_ticks(70, Start(), Wording())} == {""}


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
    """A mark of a certain day has one place."""
    visit = replace(visits()[0], day=Day(16, 32))
    found = day_scale(facts(), Wording(), [visit]).visits[0]

    assert (found.at, found.until) == (25, 50)
    assert {mark.until for mark in scale().visits} == {None}


def test_an_end_on_a_span_of_days_has_no_mark_of_its_own() -> None:
    """The run may have ended from the first of them on; the strip of a certain end has one place."""
    ended = replace(summary(), ended=Day(35, 63))

    assert strip(ended, 70).end_from == 50
    assert strip(summary(), 70).end_from is None
