"""A spoken diary, typed in by someone who had only the README and `sitegen schema`.

Day numbers only, no start date, inches, ounces, millilitres, counts without names, a pick that nobody weighed, no photos.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from sitegen.app.main import status_of
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension, unit_named
from sitegen.pipeline import validate
from sitegen.pipeline.facts import facts_of

DIARY = Path(__file__).parent / "journals" / "diary"
TODAY = date(2026, 11, 25)


def test_the_diary_validates() -> None:
    """Nothing in it is wrong or odd."""
    assert validate(DIARY, TODAY).findings == ()


def test_the_diary_is_published(tmp_path: Path) -> None:
    """It has a page."""
    assert status_of(["write", str(DIARY), "-o", str(tmp_path / "site"), "--today", str(TODAY)]) == 0
    assert (tmp_path / "site" / "experiments" / "dwarf-chilli-bucket.html").is_file()


def test_the_diary_says_no_more_than_was_said() -> None:
    """Three weighed or judged picks and one that nobody weighed; a filling of a tub in use is no known amount."""
    _, (facts,), _ = facts_of(DIARY, (), TODAY)

    ounce, gallon = unit_named("oz", Dimension.MASS), unit_named("gal", Dimension.VOLUME)
    assert ounce is not None
    assert gallon is not None
    picked, water = facts.harvest.total.value, facts.solution.water.value
    assert isinstance(picked, Quantity)
    assert isinstance(water, Quantity)
    assert (round(ounce.from_canonical(picked.low), 9), picked.high, picked.unweighed) == (6.25, None, 1)
    assert (round(gallon.from_canonical(water.low), 9), water.high, water.unweighed) == (0.5, None, 1)
