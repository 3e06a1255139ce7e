"""Experiments by their names and by the days on which they grew."""

from __future__ import annotations

from datetime import date
from itertools import islice

from sitegen.core.values.day import Start
from sitegen.filing.inbox.run_names import KnownRun, runs_named
from sitegen.filing.pictures import free_names


def test_the_days_of_an_experiment_reach_as_far_as_its_start_may_be_late() -> None:
    """Sown in a month that is known, ended on day 40: until 40 days after the last of that month."""
    run = KnownRun("a", "seasons/one/a", start=Start(date(2026, 3, 1), "month"), last=40)

    assert [run.grew_on(date(2026, *when)) for when in ((2, 28), (3, 1), (5, 10), (5, 11))] == [
        False,
        True,
        True,
        False,
    ]


def test_what_grows_has_begun_and_not_ended() -> None:
    """One without a known start may have; one told from memory has no log to write to."""
    start = Start(date(2026, 3, 1), "day")
    runs = (
        KnownRun("running", "", start=start),
        KnownRun("ended", "", start=start, last=12),
        KnownRun("told", "", start=start, told=True),
        KnownRun("unknown", ""),
    )

    assert [run.id for run in runs if run.grows(date(2026, 3, 1))] == ["running", "unknown"]
    assert [run.id for run in runs if run.grows(date(2026, 2, 28))] == ["unknown"]
    assert [run.id for run in runs if run.grew_on(date(2026, 3, 14))] == ["running"]


def test_a_whole_id_is_meant_before_the_beginning_of_another() -> None:
    """Upper and lower case, spaces for hyphens and signs make no difference; an empty name means none."""
    runs = (
        KnownRun("oak", ""),
        KnownRun("oak-in-jars", "", ("Oak, in jars!",)),
        KnownRun("ash", "", ("Oak",)),
    )

    assert [
        [run.id for run in runs_named(name, runs)] for name in ("oak", "Oak", "oak in", "OAK in jars", "…")
    ] == [
        ["oak"],
        ["oak", "oak-in-jars", "ash"],
        ["oak-in-jars"],
        ["oak-in-jars"],
        [],
    ]


def test_a_name_that_is_taken_gets_a_number() -> None:
    """Some disks know no difference between upper and lower case."""
    assert list(islice(free_names("A.b.JPG", {"a.b.jpg", "a.b-2.JPG"}), 2)) == ["A.b-3.JPG", "A.b-4.JPG"]
