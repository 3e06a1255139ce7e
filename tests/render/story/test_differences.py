"""What differed between two runs of a crop, in words."""

from __future__ import annotations

from sitegen.core.facts.across import Condition, Differed
from sitegen.core.language.wording import Wording
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.render.story.arms.differences import differences


def _names(code: str, here: str, there: str) -> Differed:
    return Differed(code, Condition(code, names=(here,)), Condition(code, names=(there,)))


def _values(code: str, here: Quantity, there: Quantity) -> Differed:
    return Differed(code, Condition(code, here), Condition(code, there))


def test_what_differed_is_stated_of_both() -> None:
    """Each circumstance is one sentence: that of the run, not that of the other."""
    found = (
        _names("system", "Slate tub", "Moss tub"),
        _values("month", counted(10), counted(3)),
        _values("hours", exactly(16, Dimension.DURATION, 1), exactly(14, Dimension.DURATION, 1)),
        _values("plants", counted(6), counted(4)),
        _values("seed_age", counted(1), counted(2)),
        _values("density", exactly(25, Dimension.COUNT, 1), exactly(12, Dimension.COUNT, 1)),
    )

    assert [line.replace("\u00a0", " ") for line in differences(found, Wording())] == [
        "System: Slate tub this time, Moss tub in the other run.",
        "Month of sowing: October this time, March in the other run.",
        "Lamp hours a day: 16 h this time, 14 h in the other run.",
        "Plants: 6 this time, 4 in the other run.",
        "Age of the seed: 1 year this time, 2 years in the other run.",
        ("Plants per area: 25 per m² (2.3 per sq ft) this time, 12 per m² (1.1 per sq ft) in the other run."),
    ]


def test_seed_of_the_year_is_no_0_years_old() -> None:
    """Seed that was sown in the year on its packet is less than a year old."""
    found = (_values("seed_age", counted(0), counted(2)),)

    assert differences(found, Wording()) == (
        "Age of the seed: less than a year this time, 2 years in the other run.",
    )


def test_what_one_of_them_did_not_record_is_named_at_the_end() -> None:
    """Nothing is said to differ that only one of two logs tells."""
    found = (
        Differed("lamp", Condition("lamp", names=("Bar",)), None),
        _names("feed", "Syrup", "Drops"),
        Differed("ec", None, Condition("ec", counted(1))),
    )

    assert differences(found, Wording()) == (
        "Feed: Syrup this time, Drops in the other run.",
        "Not recorded for both runs: lamp at the start and EC.",
    )
