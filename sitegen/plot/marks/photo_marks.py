"""Days with photos, marked on the day axis of every chart.

In: the photos of a run. Out: one symbol a day.
"""

from __future__ import annotations

from collections import Counter

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_n
from sitegen.core.language.text import day_words
from sitegen.core.language.wording import opening
from sitegen.plot.chart_data import Symbol

# A frame with a hill in it.
_PHOTO = "M-1.1,-0.85L1.1,-0.85L1.1,0.85L-1.1,0.85L-1.1,-0.85M-1.1,0.6L-0.2,-0.3L0.4,0.3L0.7,0L1.1,0.4"


def photo_symbols(facts: Facts) -> tuple[Symbol, ...]:
    """A symbol for each day that has photos, in the order of days."""
    days = Counter(photo.day for photo in facts.run.photo_files if photo.day)
    said = {day: tr_n("{n} photo", "{n} photos", count) for day, count in sorted(days.items())}
    return tuple(
        Symbol(
            day.middle,
            0.0,
            _PHOTO,
            "var(--paper)",
            tr("{day}: {photos}", day=opening(day_words(day)), photos=photos),
        )
        for day, photos in said.items()
    )
