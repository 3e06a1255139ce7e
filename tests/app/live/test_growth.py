"""What a preview holds does not grow with the number of edits and visits."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.journals import make
from tests.bench.live_growth import PHOTO, PHOTOS, RUNS, held_after_edits, held_after_visits, served_live

MOST = 300.0  # MB, as tests/bench/README.md states it
FULL = 200  # edits, after which all that is kept is there


@pytest.mark.full
def test_a_thousand_edits_and_visits_leave_what_a_few_have_left(tmp_path: Path) -> None:
    """Memory stays below its bound, and files and threads below those that were there after the first edits."""
    journal = make(tmp_path / "journal", RUNS, photos=PHOTOS, size=PHOTO)
    with served_live(journal) as live:
        held = list(held_after_edits(live, journal, 1000, 100))
        held += held_after_visits(live, 1000)
    full, later = held[FULL // 100], held[FULL // 100 + 1 :]

    assert max(each.resident for each in held) < MOST
    assert max(each.files for each in later) <= full.files + 4  # connections that are being closed
    assert max(each.threads for each in later) <= full.threads
