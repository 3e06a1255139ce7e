"""What differed between a run and the run of the same crop before it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sitegen.core.language.wording import Wording
from sitegen.core.site.site_map import RunLink, SiteMap
from sitegen.render.story.run_sentences import differences

SETTING = (("variety", ("Amber", "Blue")), ("system", ("Bucket",)), ("plants", ("4",)))
THERE = RunLink("a", "A", date(2025, 3, 1), "leaf", "one", ("tray",), (), dated=True, setting=SETTING)


def test_what_differed_is_stated_on_both_sides() -> None:
    """What both heads say and say otherwise is stated; what one does not say is not compared."""
    here = replace(
        THERE,
        id="b",
        started=date(2025, 9, 4),
        setting=(("variety", ("Rust",)), ("system", ("Bucket",)), ("lamp", ("Bar",)), ("plants", ("6",))),
    )

    assert differences(here, THERE, Wording()) == (
        "Sown: September 2025 here, March 2025 there.",
        "Variety: Rust here, Amber and Blue there.",
        "Plants: 6 here, 4 there.",
    )


def test_the_run_before_is_of_the_same_crop() -> None:
    """Another crop sown in between is a neighbour in time, and not the run before."""
    between = replace(THERE, id="x", crop="root", started=date(2025, 5, 1))
    here = replace(THERE, id="b", started=date(2025, 9, 4))

    found = SiteMap([here, between, THERE]).neighbours("b")

    assert (found.earlier, found.before, found.after) == (between, THERE, None)
