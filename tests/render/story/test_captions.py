"""What stands beside a photo."""

from __future__ import annotations

import pytest

from sitegen.core.language.wording import Wording
from sitegen.core.site.content import Picture
from sitegen.core.values.day import Day
from sitegen.render.story.days.gallery import captioned
from tests.photos.builders import run

ALL = ("P1", "P2", "P3")


def photo(day: Day | None = None, *plants: str, alt: str = "", shows: str = "") -> Picture:
    """A picture of some plants, with the author's words where there are any."""
    return Picture("a.jpg", alt, (), day=day, plants=plants, shows=shows)


@pytest.mark.parametrize(
    ("picture", "alt", "below"),
    [
        (photo(), "Pak choi", ""),
        (photo(Day.on(35)), "Pak choi on day 35", "Day 35"),
        (photo(Day.on(35), "P1"), "Pak choi P1 on day 35", "Day 35, P1"),
        (photo(Day.on(35), *ALL), "Pak choi on day 35", "Day 35"),
        (photo(Day.on(35), "P1", "P2"), "Pak choi P1 and P2 on day 35", "Day 35, P1 and P2"),
        (
            photo(Day(33, 38), "P1", shows="not ready"),
            "Pak choi P1, days 33–38, not ready",
            "Days 33–38, P1, not ready",
        ),
        (photo(Day.on(35, about=True)), "Pak choi, about day 35", "About day 35"),
        (photo(Day.on(35), "P1", alt="Roots, white and long"), "Roots, white and long", "Day 35, P1"),
    ],
)
def test_captions(picture: Picture, alt: str, below: str) -> None:
    """The author's words come first; without them, crop, plants and day say what is known."""
    (found,) = captioned([picture], run().setup, Wording().say)

    assert (found.alt.replace("\u00a0", " "), found.caption.replace("\u00a0", " ")) == (alt, below)
