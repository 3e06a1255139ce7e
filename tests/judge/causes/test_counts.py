"""How many findings it takes for a single value to be told as their cause, and what is said of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import listed
from sitegen.core.records.rows import Reading
from sitegen.judge.causes.days import end_before_records, sheet_unlike_run
from sitegen.judge.causes.plants import (
    lost_before_records,
    name_unlike_log,
    plants_too_few,
    seeds_unlike_counts,
    sown_after_records,
)
from sitegen.judge.causes.start import a_year_before_sowing, a_year_early, both_disagree, undated, year_later
from sitegen.judge.context import Context
from tests.judge.builders import TODAY, Row, ended, height, lost, named, place, run, setup, sheet_row, sown

GROUPED = setup(groups=(("pairs", ("P1", "P2")),))


def context(*rows: Row, head: object = None) -> Context:
    """The context of a run of four plants."""
    return Context.of(run(*rows, head=head or setup()), TODAY)  # type: ignore[arg-type]


def found(code: str, *lines: int, plant: str = "P2", said: str = "is odd", mend: str = "") -> list[Finding]:
    """Findings about a plant, one on each line."""
    return [Finding(code, place(line), f"`{plant}` {said}", mend, plant) for line in lines]


@pytest.mark.parametrize(
    ("count", "said"),
    [
        (0, []),
        (1, []),
        (2, ["2 later records are of it (lines 20 and 21)"]),
        (3, ["3 later records are of it (lines 20, 21 and 22)"]),
        (4, ["4 later records are of it (lines 20, 21 and 22 and further)"]),
    ],
)
def test_a_loss_before_records(count: int, said: list[str]) -> None:
    """Two records after it are enough; three lines of them are named."""
    findings = found("lost-plant", *range(20, 20 + count))
    causes = list(lost_before_records(context(sown(), lost(5, named("P2"))), findings))

    assert [each.message.partition(", but ")[2] for each in causes] == said
    assert [each.message.partition(", but ")[0] for each in causes] == ["`P2` was lost on day 5"] * len(said)


def test_a_loss_of_another_plant_is_no_cause() -> None:
    """Nor is one of which no loss is in the log; each plant is told by itself."""
    findings = [*found("lost-plant", 20, 21), *found("lost-plant", 22, plant="P3")]

    assert list(lost_before_records(context(lost(5, named("P1"))), findings)) == []
    (cause,) = lost_before_records(context(lost(5, named("P2")), lost(6, named("P3"))), findings)
    assert (cause.found, cause.expected) == ("`P2`", "no record of it after")


@pytest.mark.parametrize(("count", "told"), [(1, False), (2, True), (3, True)])
def test_a_sowing_after_records(count: int, *, told: bool) -> None:
    """Two records before it are enough; a record before the start has a finding of its own."""
    findings = found("never-sown", *range(20, 20 + count), said="on day 3")
    early = found("never-sown", 19, said="on day -3")
    causes = list(sown_after_records(context(sown(9)), [*early, *findings]))

    assert [each.message for each in causes] == (
        [f"sown on day 9, but {count} records of `P2` are earlier"] if told else []
    )


def test_records_count_for_the_first_sowing_of_their_plant() -> None:
    """Of each plant by itself: one of two plants, sown apart, is no cause of either."""
    findings = [*found("never-sown", 20), *found("never-sown", 21, plant="P3")]
    apart = context(sown(9, which=named("P2")), sown(11, which=named("P3")), sown(12, which=named("P2")))
    (cause,) = sown_after_records(context(sown(9), sown(12)), findings)

    assert list(sown_after_records(apart, findings)) == []
    assert list(sown_after_records(context(), findings)) == []
    assert cause.message == "sown on day 9, but 2 records of `P2` and `P3` are earlier"


@pytest.mark.parametrize("codes", [(), ("seeds-disagree",), ("seeds-disagree", "thinned-to-more")])
def test_seeds_unlike_counts(codes: tuple[str, ...]) -> None:
    """Two numbers that do not fit are enough, of whichever kind; four lines of them are named."""
    findings = [each for number, code in enumerate(codes) for each in found(code, 20 + number)]
    causes = list(seeds_unlike_counts(context(sown()), findings))
    many = found("too-many-sprouted", 27, 26, 25, 24, 23)

    assert [each.message for each in causes] == (
        ["2 later numbers do not fit the seeds sown here (lines 20 and 21)"] if len(codes) == 2 else []
    )
    (cause,) = seeds_unlike_counts(context(sown(4)), many)
    assert cause.message == (
        f"5 later numbers do not fit the seeds sown on day 4 (lines {listed(['23', '24', '25', '26'])})"
    )
    assert list(seeds_unlike_counts(context(sown(), sown(9)), many)) == []


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (("P5",), ""),
        (("P5", "P5"), "`plants` makes 4, but `P5` is named in 2 places"),
        (("P5", "P6"), "`plants` makes 4, but `P5` and `P6` are named in 2 places"),
        (("P3-P6", "P5"), "`plants` makes 4, but `P3-P6` and `P5` are named in 2 places"),
        (("P6", "P6"), ""),
        (("P5", "P12"), ""),
        (("P5", "basil"), ""),
        (("P3", "P5"), ""),
    ],
)
def test_a_number_of_plants_that_is_too_low(names: tuple[str, ...], said: str) -> None:
    """Two places that name the next ones are enough; what is no number, or further off, is a slip."""
    findings = [each for name in names for each in found("unknown-plant", 20, plant=name)]

    assert [each.message for each in plants_too_few(context(), findings)] == ([said] if said else [])


@pytest.mark.parametrize(
    ("words", "used", "told"),
    [
        (("pair",), "", False),
        (("pair", "pair"), "", True),
        (("pair", "pair"), "pairs", False),
        (("pair", "pair", "pars", "pars"), "", False),
        (("pair", "pair", "pars"), "", True),
    ],
)
def test_a_group_that_the_log_names_otherwise(words: tuple[str, ...], used: str, *, told: bool) -> None:
    """Two places with one word are enough, where the name itself is nowhere."""
    findings = [
        each for word in words for each in found("unknown-plant", 20, plant=word, mend="write `pairs`")
    ]
    measured = height(9, 4)._replace(which=replace(named("P1", "P2"), word=used))
    causes = list(name_unlike_log(context(measured, head=GROUPED), findings))

    assert [(each.found, each.mend) for each in causes] == (
        [("pair", "write `pair` for `pairs` under `groups`")] if told else []
    )


def _said_both(line: int, when: str, expected: str) -> Finding:
    return Finding("day-and-date", place(line), "odd", "", when, expected)


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ([], ""),
        ([("2025-03-11", "day 9")], ""),
        ([("2025-03-11", "day 9"), ("2025-03-12", "day 10")], "2025-03-02"),
        ([("2025-03-11", "day 9"), ("2025-03-12", "day 9")], ""),
        ([("2025-03-11", "day 9-10"), ("2025-03-12", "day 10")], ""),
        ([("2025-03-12", "day 9"), ("2025-03-11", "day 9"), ("2025-03-13", "day 11")], "2025-03-02"),
    ],
)
def test_days_and_dates_that_agree_on_another_start(said: list[tuple[str, str]], meant: str) -> None:
    """Two of them are enough; a span of days says nothing."""
    findings = [_said_both(20 + number, *pair) for number, pair in enumerate(said)]
    causes = list(both_disagree(context(sown()), findings))

    assert [(each.message, each.mend) for each in causes] == (
        [
            (
                f"by the days and dates of 2 entries, day 0 was {meant}, not 2025-03-01",
                f"write `start: {meant}`",
            )
        ]
        if meant
        else []
    )


@pytest.mark.parametrize(("count", "told"), [(0, False), (1, False), (2, True), (3, True)])
def test_dates_without_a_start(count: int, *, told: bool) -> None:
    """Two of them are enough; the earliest is offered."""
    dates = [
        Finding("date-without-start", place(20 + n), "odd", "", f"2025-03-{9 - n:02}") for n in range(count)
    ]
    elsewhere = [replace(each, source=each.source._replace(file="a.csv")) for each in dates]
    causes = list(undated(context(sown()), dates))

    assert [(each.message, each.expected) for each in causes] == (
        [(f"`start` is unknown, but {count} entries have a date", f"2025-03-{10 - count:02}")] if told else []
    )
    assert list(undated(context(sown()), elsewhere)) == []


@pytest.mark.parametrize(("first", "about"), [(334, False), (335, True), (396, True), (397, False)])
def test_a_first_sowing_a_year_after_the_start(first: int, *, about: bool) -> None:
    """About a year counts, and less or more does not; nor where something is recorded before it."""
    late = run(sown(first), height(first + 9, 4))
    causes = list(a_year_early(Context.of(late, TODAY), ()))

    assert a_year_before_sowing(late) is about
    assert len(causes) == about
    assert list(a_year_early(context(sown(first), height(9, 4)), ())) == []
    assert list(a_year_early(context(height(first, 4)), ())) == []


def test_the_same_day_of_another_year() -> None:
    """28 February for the 29th."""
    assert year_later(date(2024, 2, 29), 1) == date(2025, 2, 28)
    assert year_later(date(2024, 2, 28), -1) == date(2023, 2, 28)


@pytest.mark.parametrize(
    ("days", "said"),
    [
        ((-9,), ""),
        ((-9, -8), "all 2 rows lie before the start"),
        ((-9, 8), ""),
        ((-360, -359), "all 2 rows lie before the start: is it 2025?"),
        ((12, 13), "all 2 rows lie after the last entry, on day 10"),
        ((10, 13), ""),
    ],
)
def test_a_spreadsheet_beside_the_run(days: tuple[int, ...], said: str) -> None:
    """Two rows are enough where all of them lie before the start, or after an end that cleared the plants."""
    rows = [sheet_row(when, 2 + number) for number, when in enumerate(days)]
    causes = list(sheet_unlike_run(context(sown(), *rows, ended(10, line=30)), ()))
    going_on = list(sheet_unlike_run(context(sown(), *rows, height(10, 4)), ()))

    assert [each.message for each in causes] == ([said] if said else [])
    assert [each.message for each in going_on] == ([said] if "start" in said else [])


@pytest.mark.parametrize(("count", "told"), [(1, False), (2, True)])
def test_an_end_before_records(count: int, *, told: bool) -> None:
    """Two findings of the same file are enough; the latest entry is named."""
    made = context(sown(), ended(10, line=30), height(12, 4), height(14, 5))
    findings = [Finding("after-the-end", place(40 + number), "odd") for number in range(count)]
    causes = list(end_before_records(made, findings))

    assert [each.message for each in causes] == (
        ["the plants were cleared on day 10, but 2 entries follow, up to day 14"] if told else []
    )
    elsewhere = [replace(each, source=each.source._replace(file="a.csv")) for each in findings]
    assert list(end_before_records(made, elsewhere)) == []
    assert list(end_before_records(context(sown(), ended(10, kept=True), height(12, 4)), findings)) == []


def test_each_spreadsheet_is_looked_at() -> None:
    """One with a single row is no reason to stop, nor is one that fits."""
    first = [replace_file(sheet_row(-9, 2), "a.csv")]
    second = [replace_file(sheet_row(when, 2 + when), "b.csv") for when in (3, 4)]
    third = [sheet_row(-9, 2), sheet_row(-8, 3)]
    causes = list(sheet_unlike_run(context(sown(), *first, *second, *third, height(10, 4)), ()))

    assert [(each.source.file, each.message) for each in causes] == [
        ("sheet.csv", "all 2 rows lie before the start")
    ]


def replace_file(row: Reading, file: str) -> Reading:
    """The row of another spreadsheet."""
    return row._replace(source=row.source._replace(file=file))
