"""`python -m tests.slips`: the table of slips with what comes of each, and the totals."""

from __future__ import annotations

import os
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.slips.judged import judged
from tests.slips.table import slips


def main(words: list[str]) -> int:
    """Print the rows whose file or kind holds one of the words (none: all); 1 where one is wrong."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ.setdefault("SITEGEN_CACHE", f"{folder}/cache")
        wanted = [
            slip
            for slip in slips()
            if not words or any(word in f"{slip.name} {slip.title}" for word in words)
        ]
        rows = [judged(slip, Path(folder)) for slip in wanted]
    for row in rows:
        print(row.row())
    counts = Counter(
        ("ok   " if row.right else "WRONG") + f" {row.verdict.partition(' `')[0]}" for row in rows
    )
    print()
    for verdict, count in sorted(counts.items(), key=lambda item: (item[0][0] == "W", -item[1])):
        print(f"{count:4} {verdict}")
    right, alone = sum(row.right for row in rows), sum(row.right and not row.others for row in rows)
    print(f"\n{right} of {len(rows)} right; {alone} of them with no further finding")
    return int(right < len(rows))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
