"""The runs of a season on the calendar."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Deed, Run
from sitegen.core.values.day import Day, Start
from sitegen.render.pages.calendar import calendar_of
from sitegen.render.pages.summary import RunSummary, summary_of
from tests.measure.builders import event, grams, joint, pick, run_of, seeds, setup_of
from tests.render.builders import facts, started_run

SAY = Wording()


def sown(when: dt.date, *, ended: bool = True) -> RunSummary:
    """A run of 20 days, picked on day 10."""
    end = (event(Deed.END, 20, what="done", kept=False),) if ended else (event(Deed.NOTE, 20, what="green"),)
    setup = setup_of(1, start=Start(when, "day"))
    run: Run = run_of(setup, events=(seeds(0, 1, "P1"), *end), picks=(pick(10, joint("P1"), grams(5)),))
    return summary_of(facts(replace(run, setup=setup)))


def test_bars_lie_in_whole_months() -> None:
    """Of the 30 days of June a run sown on the 7th takes 6 to 26; picking begins with 16."""
    (bar,) = calendar_of([sown(dt.date(2025, 6, 7))], SAY).bars

    assert (bar.begin, bar.pick, bar.end) == (20.0, 53.333, 86.667)
    assert bar.words.replace(NBSP, " ") == "Sown 7 Jun 2025, first pick 17 Jun 2025, ended 27 Jun 2025."


def test_a_run_that_goes_on_ends_with_its_last_entry() -> None:
    """What has not ended is said to be known up to its last entry."""
    (bar,) = calendar_of([sown(dt.date(2025, 6, 5), ended=False)], SAY).bars

    assert bar.words.replace(NBSP, " ") == "Sown 5 Jun 2025, first pick 15 Jun 2025, last visit 25 Jun 2025."


def test_months_are_named_and_the_first_of_a_year_says_its_number() -> None:
    """Every month from the first sowing to the last day stands on the calendar, in order."""
    months = calendar_of([sown(dt.date(2025, 11, 20)), sown(dt.date(2026, 1, 2))], SAY).months

    assert [month.name for month in months] == ["Nov 2025", "Dec", "Jan 2026"]


def test_runs_without_a_date_have_no_bar() -> None:
    """Where no run is dated there is no calendar."""
    assert calendar_of([summary_of(facts(started_run()))], SAY).bars == ()


def test_uncertain_days_of_the_first_pick_and_the_end_are_stretches() -> None:
    """Picking may begin on any day of its span, and so may the end be; both are said with two dates."""
    when = dt.date(2025, 6, 7)
    setup = setup_of(1, start=Start(when, "day"))
    end = event(Deed.END, 18, what="done", kept=False)._replace(day=Day(17, 20))
    picked = replace(pick(10, joint("P1"), grams(5)), day=Day(9, 12))
    run = replace(run_of(setup, events=(seeds(0, 1, "P1"), end), picks=(picked,)), setup=setup)
    (bar,) = calendar_of([summary_of(facts(run))], SAY).bars

    assert (bar.pick_from, bar.pick, bar.end_from, bar.end) == (50.0, 60.0, 76.667, 86.667)
    assert bar.words.replace(NBSP, " ") == (
        "Sown 7 Jun 2025, first pick 16 Jun 2025 to 19 Jun 2025, ended 24 Jun 2025 to 27 Jun 2025."
    )


def test_a_name_beside_a_year_has_no_room_on_a_phone() -> None:
    """The first month and January say their year; of five months the next is named on broad screens alone."""

    def named(first: dt.date, last: dt.date) -> list[str]:
        months = calendar_of([sown(first), sown(last)], SAY).months
        return [month.name for month in months if not month.roomy]

    assert named(dt.date(2025, 3, 5), dt.date(2025, 5, 2)) == ["Mar 2025", "Apr", "May"]
    assert named(dt.date(2025, 3, 5), dt.date(2025, 7, 2)) == ["Mar 2025", "May", "Jun", "Jul"]
    assert named(dt.date(2025, 11, 5), dt.date(2026, 3, 2)) == ["Nov 2025", "Jan 2026", "Mar"]
