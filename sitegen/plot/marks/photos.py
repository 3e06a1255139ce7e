"""Days with photos, marked on the day axis of every chart: that there is something to see, never what.

In: the photos of a run. Out: one mark a day.
"""

from __future__ import annotations

from collections import Counter

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.wording import opening
from sitegen.core.values.day import Day
from sitegen.plot.drawing.picture import Mark

# A picture with a hill in it.
_FRAME = "M-1.1,-0.85L1.1,-0.85L1.1,0.85L-1.1,0.85L-1.1,-0.85M-1.1,0.6L-0.2,-0.3L0.4,0.3L0.7,0L1.1,0.4"


def photo_marks(facts: Facts) -> tuple[Mark, ...]:
    """A mark for each day that has photos, in the order of days."""
    days = Counter(photo.day for photo in facts.run.photo_files if photo.day)
    return tuple(
        Mark(day.middle, 0.0, _FRAME, "var(--paper)", _said(day, count))
        for day, count in sorted(days.items())
    )


def _said(day: Day, count: int) -> str:
    return tr("{day}: {photos}", day=opening(day.words), photos=tr_n("{n} photo", "{n} photos", count))
