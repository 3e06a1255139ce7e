"""`python -m tests.canaries`: how many canaries of each kind were planted, and which of them were found where."""

from __future__ import annotations

import sys
import tempfile
from collections import defaultdict
from pathlib import Path

import pytest

from sitegen.app.main import status_of
from tests.canaries.environment import disguise
from tests.canaries.journal import make_secrets
from tests.canaries.walk import Sighting, sightings

TODAY = "2026-11-28"


def main(themes: tuple[str, ...] = ("ledger", "propagator")) -> int:
    """Write the journal in each theme, with and without HTML in texts, and print a table; 1 where a canary got out."""
    seen: dict[str, list[Sighting]] = defaultdict(list)
    counts: dict[str, int] = {}
    for theme in themes:
        for raw in (False, True):
            with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
                secrets = make_secrets(Path(folder), theme=theme, raw_html=raw)
                disguise(secrets, patch)
                done = status_of(
                    ["write", str(secrets.root), "-o", str(secrets.output), "--today", TODAY, "--jobs", "1"]
                )
                assert done == 0, f"nothing was written in {theme}"
                planted = secrets.planted
                for each in sightings(secrets.output, planted.canaries):
                    seen[each.canary.kind].append(each)
                counts = {kind: sum(c.kind == kind for c in planted.canaries) for kind in planted.kinds()}
    print(f"{'kind':<22}{'planted':>8}{'found':>7}")
    for kind, number in counts.items():
        places = {sighting.canary.place for sighting in seen[kind]}
        print(f"{kind:<22}{number:>8}{len(places):>7}")
    print(
        f"{'all':<22}{sum(counts.values()):>8}{sum(len({s.canary.place for s in each}) for each in seen.values()):>7}"
    )
    for kind, found in seen.items():
        by_place: dict[str, set[str]] = defaultdict(set)
        for sighting in found:
            by_place[sighting.canary.place].add(f"{sighting.file} ({sighting.view})")
        for place, files in by_place.items():
            print(f"  {kind}: {place}: {', '.join(sorted(files)[:4])}{' …' if len(files) > 4 else ''}")
    return 1 if any(seen.values()) else 0


if __name__ == "__main__":
    sys.exit(main(tuple(sys.argv[1:]) or ("ledger", "propagator")))
