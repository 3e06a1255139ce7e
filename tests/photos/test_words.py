"""What stands beside a photo."""

from __future__ import annotations

import pytest

from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Photo, Which
from sitegen.core.values.day import Day
from sitegen.photos.words import alternative, caption
from tests.photos.builders import HERE, run

P1 = Which(("P1",))
ALL = Which(("P1", "P2", "P3"), word="all")


def photo(which: Which | None = None, alt: str = "", shows: str = "") -> Photo:
    """A line of the log."""
    return Photo("a.jpg", Day.on(35), 0, HERE, alt, which, shows)


@pytest.mark.parametrize(
    ("line", "day", "alt", "below"),
    [
        (None, None, "Pak choi", ""),
        (None, Day.on(35), "Pak choi on day 35", "Day 35"),
        (photo(P1), Day.on(35), "Pak choi P1 on day 35", "Day 35, P1"),
        (photo(ALL), Day.on(35), "Pak choi on day 35", "Day 35"),
        (photo(Which(("P1", "P2"))), Day.on(35), "Pak choi P1 and P2 on day 35", "Day 35, P1 and P2"),
        (
            photo(P1, shows="not ready"),
            Day(33, 38),
            "Pak choi P1, days 33–38, not ready",
            "Days 33–38, P1, not ready",
        ),
        (photo(Which(count=2, of=3)), Day.on(35, about=True), "Pak choi, about day 35", "About day 35"),
        (photo(P1, "Roots, white and long"), Day.on(35), "Roots, white and long", "Day 35, P1"),
    ],
)
def test_words(line: Photo | None, day: Day | None, alt: str, below: str) -> None:
    """The author's words come first; without them, crop, plants and day say what is known."""
    say = Wording().say
    found = (alternative(run(), day, line, say), caption(run(), day, line, say))

    assert tuple(text.replace("\u00a0", " ") for text in found) == (alt, below)
