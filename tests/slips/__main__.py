"""`python -m tests.slips`: the table of slips with what comes of each, and the totals.

`python -m tests.slips basil indent` prints the rows with one of the words; `--hold` writes down in `held.txt` which
slips come out right, so that the suite holds them.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from tests.slips.judged import Judged, judged
from tests.slips.table import HELD, slips


def main(words: Sequence[str]) -> int:
    """Print the rows whose file or title holds one of the words (none: all); 1 where one is wrong."""
    wanted = [word for word in words if word != "--hold"]
    rows = _rows(wanted)
    for row in rows:
        print(row.row())
    print(f"\n{_totals(rows)}")
    if "--hold" in words and not wanted:
        HELD.write_text("".join(f"{row.slip.id}\n" for row in rows if row.right), "utf-8")
    return int(not all(row.right for row in rows))


def _rows(words: Sequence[str]) -> list[Judged]:
    with tempfile.TemporaryDirectory() as folder:
        os.environ.setdefault("SITEGEN_CACHE", f"{folder}/cache")
        wanted = [slip for slip in slips() if not words or any(word in slip.id for word in words)]
        return [judged(slip, Path(folder)) for slip in wanted]


def _totals(rows: Sequence[Judged]) -> str:
    counts = Counter((not row.right, row.verdict.partition(" `")[0]) for row in rows)
    lines = [
        f"{count:4} {'WRONG' if wrong else 'ok   '} {verdict}"
        for (wrong, verdict), count in sorted(counts.items(), key=lambda item: (item[0][0], -item[1]))
    ]
    right = [row for row in rows if row.right]
    alone = sum(not row.others for row in right)
    return "\n".join(
        [*lines, "", f"{len(right)} of {len(rows)} right; {alone} of them with no further finding"]
    )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
