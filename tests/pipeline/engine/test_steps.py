"""What a check of a run says: whether it can be published, on which day, and for which days that holds."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.site.site_map import RunLink
from sitegen.core.values.day import DateRange
from sitegen.pipeline.engine.steps import Check, Rendered

LINK = RunLink("one", "First", date(2026, 3, 1), "leaf", "one", ("tray",), (), dated=True)
ERROR = Finding("no-unit", Source("a.yaml"), "`9` has no unit")
WARNING = Finding("long-gap", Source("a.yaml"), "20 days without an entry")
TODAY = date(2026, 5, 1)


def test_a_check_says_nothing_of_its_own() -> None:
    """Without more than findings it is of no log, is no draft, and holds on all days."""
    assert Check(()) == Check((), DateRange(), 0, False, None, None, "", None)
    assert Rendered(()) == Rendered((), (), 0, 0)


@pytest.mark.parametrize(
    ("findings", "link", "sound"),
    [
        ((), LINK, True),
        ((WARNING,), LINK, True),
        ((WARNING, ERROR), LINK, False),
        ((), None, False),
    ],
    ids=["nothing", "a warning", "an error", "no set-up"],
)
def test_a_run_without_errors_is_sound(
    findings: tuple[Finding, ...], link: RunLink | None, *, sound: bool
) -> None:
    """Warnings keep nothing back; what cannot be linked to has no page."""
    assert Check(findings, link=link).sound is sound


@pytest.mark.parametrize(
    ("publish", "draft", "public", "shown"),
    [
        (None, False, True, DateRange()),
        (None, True, False, DateRange()),
        (date(2026, 4, 30), False, True, DateRange(since=date(2026, 4, 30))),
        (TODAY, False, True, DateRange(since=TODAY)),
        (date(2026, 5, 2), False, False, DateRange(until=TODAY)),
        (date(2026, 5, 20), False, False, DateRange(until=date(2026, 5, 19))),
        (TODAY, True, False, DateRange()),
    ],
)
def test_the_day_on_which_a_run_is_published(
    publish: date | None, *, draft: bool, public: bool, shown: DateRange
) -> None:
    """From its date on; a draft on none. What is shown stays until the day before the date, or from it on."""
    check = Check((), draft=draft, publish=publish, link=LINK)

    assert (check.public(TODAY), check.shown_as_on(TODAY)) == (public, shown)
    assert replace(check, findings=(ERROR,)).public(TODAY) is public
