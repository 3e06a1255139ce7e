"""Names at the ends of lines."""

from __future__ import annotations

from sitegen.render.pages.compared.arm_pictures import spread


def test_names_that_do_not_touch_stay_where_they_are() -> None:
    """Each stands at the end of its line."""
    assert spread([100, 300, 900], 75) == [100, 300, 900]


def test_names_that_would_touch_are_moved_apart() -> None:
    """Downwards by as little as is needed, and up again where they would leave the drawing."""
    assert spread([100, 100, 120], 75) == [100, 175, 250]
    assert spread([980, 990, 1000], 75) == [850, 925, 1000]
