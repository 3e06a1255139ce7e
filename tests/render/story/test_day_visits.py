"""What the day axis says of each visit, and the totals so far."""

from __future__ import annotations

from dataclasses import replace

from sitegen.core.facts.tree import Facts
from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.values.day import Day
from sitegen.render.story.days.day_visits import DayVisit, day_visits, nearest_visit, so_far
from sitegen.render.story.days.entry_sentences import EntryWording
from sitegen.render.story.days.timeline import phases_of
from tests.render.builders import facts, started_run


def visits(given: Facts) -> tuple[DayVisit, ...]:
    """The visits of a run."""
    words = EntryWording(given, Wording(), {})
    return day_visits([entry for phase in phases_of(words) for entry in phase.entries], words)


def plain(text: object) -> str:
    """A text with plain spaces."""
    return str(text).replace(NBSP, " ")


def test_a_day_is_told_in_ready_sentences() -> None:
    """Number, date, what was done, the totals so far: picks that nobody weighed stay open in the sum."""
    rows = {visit.number: visit.row for visit in visits(facts())}

    assert [plain(part) for part in rows[55]] == [
        "55",
        "25 April 2025",
        "Picked: 84 g.",
        "So far: 84 g picked, 8 L of water.",
    ]
    assert [plain(part) for part in rows[60][2:]] == [
        "Picked: at least 112 g. Taste: 4 out of 5, sharp <b>. Weighed & eaten: {{ nothing }}",
        "So far: at least 196 g picked, 8 L of water.",
    ]


def test_before_the_first_pick_nothing_was_picked() -> None:
    """A run that never recorded picks or water says nothing of them."""
    assert plain(so_far(facts(), Wording(), Day.on(20))) == "So far: nothing picked, 8 L of water."
    assert so_far(facts(started_run()), Wording(), Day.on(0)) == ""


def test_a_pick_of_an_uncertain_day_may_have_come() -> None:
    """On the days of its span the total is at least what had come for certain."""
    given = facts()
    first, *more = given.harvest.cumulative
    harvest = replace(given.harvest, cumulative=(first, *(replace(each, day=Day(58, 62)) for each in more)))
    said = [
        plain(so_far(replace(given, harvest=harvest), Wording(), Day.on(day))).split(",")[0]
        for day in (57, 60, 62)
    ]

    assert said == ["So far: 84 g picked", "So far: at least 84 g picked", "So far: at least 196 g picked"]


def test_entries_of_one_day_are_one_visit() -> None:
    """Their sentences stand together; an uncertain day is said in words, without a date."""
    words = EntryWording(facts(), Wording(), {})
    entries = [entry for phase in phases_of(words) for entry in phase.entries][:2]
    (same,) = day_visits([replace(entry, day=Day.on(3)) for entry in entries], words)
    (span,) = day_visits([replace(entries[0], day=Day(7, 14))], words)

    assert (same.anchor, same.kind) == ("day-3", "growth")
    assert [plain(text) for text in same.deed] == [
        "Seedlings up so far: 7 of 8.",
        "Sown: 2 seeds in each spot, P1–P4.",
        "Water: 8 L.",
    ]
    assert (span.date, plain(span.row[-1]), len(span.row)) == ("", "Days 7–14", 5)


def test_what_has_no_room_is_left_to_the_record() -> None:
    """A visit says at least one sentence, and no more than a phone shows in a few lines."""
    words = EntryWording(facts(), Wording(), {})
    entry = next(entry for phase in phases_of(words) for entry in phase.entries)
    long = replace(entry, notes=("An aside. " * 3, "A" * 140 + ". More."), sentences=(), lines=())
    (visit,) = day_visits([long], words)

    assert [plain(text) for text in visit.deed] == ["An aside.", "Water: 8 L."]


def test_a_day_between_visits_leads_to_the_nearest() -> None:
    """The earlier of two that are equally near; a run without visits has none."""
    found = [nearest_visit(visits(facts()), day) for day in (0, 10, 11, 63, 900)]

    assert [visit and visit.anchor for visit in found] == ["day-0", "day-6", "day-14", "day-64", "day-64"]
    assert nearest_visit((), 5) is None
