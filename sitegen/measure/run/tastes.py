"""Notes of taste that name a set of plants.

In: the tastings of a run. Out: those whose words have the name of the set or the id of one of its plants. A note that
names none is of no set: nobody knows which plants were tasted.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from sitegen.core.facts.indices import TasteNote
from sitegen.core.records.rows import Run, Tasting


def tastes_of(run: Run, path: str, key: str, label: str, plants: Sequence[str]) -> tuple[TasteNote, ...]:
    """The notes of a set, in the order of days; `path` says whether it is a group, a variety or a tub."""
    names = re.compile("|".join(_names(path, key, label)), re.IGNORECASE)
    ids = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, plants))})(?!\w)")
    tastings = sorted(run.rows.of(Tasting), key=lambda row: (row.day.key, row.source))
    return tuple(
        TasteNote(row.day, row.score, row.out_of, row.what, row.source)
        for row in tastings
        if names.search(row.what) or ids.search(row.what)
    )


def _names(path: str, key: str, label: str) -> Iterator[str]:
    """What a note may call a set. The name of a tub is a word for other things too: it stands beside `tub`."""
    for name in dict.fromkeys((key, key.replace("-", " "), label)):
        word = re.escape(name)
        beside_tub = path == "by_tub" and "tub" not in name.lower()
        word = rf"(?:{word} tub|tub {word})" if beside_tub else word
        yield rf"(?<!\w){word}(?!\w)"
