"""A diary read line by line; the diary is invented, and what its words mean is by hand."""

from __future__ import annotations

import datetime as dt
import re

from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.diary import plants_named, read_diary
from sitegen.filing.drafting.log_text import log_text
from sitegen.filing.words.understanding import Understood


def heights_only(text: str) -> Understood:
    """Understands `height 9 cm`, and nothing else."""
    match = re.search(r"height (\d+ cm)", text)
    return (
        Understood((("height", match[1]),), text.replace(match[0], "").strip(" ,"))
        if match
        else Understood((), text)
    )


def read(text: str) -> tuple[list[str], list[tuple[str, str]], list[str]]:
    """The lines of the log, what stands above it, and what was assumed."""
    choices = Choices()
    found = read_diary(text, heights_only, choices, year=2026, month_first=False)
    return log_text(found).splitlines(), found.titles, choices.assumed


def test_days_and_dates() -> None:
    """A line that begins with a day or a date begins an entry; a line from which something was taken is kept."""
    text = "Basil, spring\n\nDay 0: sown\n- Tag 12 - height 4 cm, pale\n  roots white\nDay 33-38 rain: no change\n"

    assert read(text) == (
        [
            "  - day: 0",
            "    note: sown",
            "  # line 4: - Tag 12 - height 4 cm, pale",
            "  - day: 12",
            "    height: 4 cm",
            "    note: pale; roots white",
            "  - day: 33-38",
            "    note: 'rain: no change'",
        ],
        [("line 1", "Basil, spring")],
        [],
    )


def test_dates_without_a_year() -> None:
    """A year that a later date names holds for those before it; the order of two numbers is told by all of them."""
    text = "## 1/3: sown\n2/3: nothing\n14/3/2026: height 9 cm\n1/2 tsp of feed went in\n"

    assert read(text) == (
        [
            "  - date: 2026-03-01",
            "    note: sown",
            "  - date: 2026-03-02",
            "    note: nothing",
            "  # line 3: 14/3/2026: height 9 cm",
            "  - date: 2026-03-14",
            "    height: 9 cm",
            "    note: 1/2 tsp of feed went in",
        ],
        [],
        [
            "dates: day first, since 14 is no month",
            "dates without a year: counted from 2026, which a later date names",
        ],
    )


def test_two_of_a_kind_on_one_day() -> None:
    """A second value of a key on the same day is an entry of its own; a time of day is kept with its line."""
    assert read("2026-03-01 08:30 height 4 cm\nheight 5 cm\n")[0] == [
        "  # line 1: 2026-03-01 08:30 height 4 cm",
        "  # line 2: height 5 cm",
        "  - date: 2026-03-01",
        "    height: 4 cm",
        "  - date: 2026-03-01",
        "    height: 5 cm",
    ]


def test_the_start_is_the_day_of_sowing() -> None:
    """A line that says that it was sown gives day 0."""
    found = read_diary(
        "2026-03-04: sown\n2026-03-09: up\n", heights_only, Choices(), year=2026, month_first=False
    )
    assert [(day.isoformat(), place) for day, place in found.starts] == [("2026-03-04", "line 1")]


def test_day_numbers_stand_among_dates() -> None:
    """Where the start is known, day 5 of a run sown on 4 March stands behind 6 March; else numbers come first."""
    found = read_diary(
        "2026-03-04: sown\nDay 5 pale\n2026-03-06: up\n",
        heights_only,
        Choices(),
        year=2026,
        month_first=False,
    )
    notes = ["    note: sown", "    note: up", "    note: pale"]

    def said(start: dt.date | None) -> list[str]:
        return [line for line in log_text(found, start).splitlines() if "note" in line]

    assert said(dt.date(2026, 3, 4)) == notes
    assert said(None) == ["    note: pale", "    note: sown", "    note: up"]


def test_plants_named() -> None:
    """The plants of a diary are counted by the highest number that it names."""
    assert plants_named("P1 and plant 3 were cut, P2-P5 left") == 5
    assert plants_named("pH 7, EP1") == 0
