"""Links that lead out of a journal: nothing is read through one, and the author is told of it.

In: a path that leads out. Out: one finding, the same whoever comes upon it; `sorted_findings` keeps it once.
"""

from __future__ import annotations

import os
from pathlib import Path

from sitegen.core.files.inside import leads_out, link_place
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source


def is_outside(path: Path, root: Path, findings: Findings) -> bool:
    """Whether a path leads out of the journal, with a finding where it does."""
    if not leads_out(path, root):
        return False
    place = link_place(path, root)
    target = os.path.realpath(root / place)
    kind = "folder" if os.path.isdir(target) else "file"  # noqa: PTH112 - of a text
    findings.add(
        "link-outside",
        Source(place),
        f"`{place}` is a link that leads out of the journal, to `{target}`, so nothing is read through it",
        mend=f"copy the {kind} into the journal, in place of the link",
        found=target,
        expected="a place in the journal",
    )
    return True
