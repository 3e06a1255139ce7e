"""Which warnings were told before: one that stands is told once a change of its file, not at every run.

In: findings, the stamps of the journal's files. Out: the warnings that were told about the file as it is; the store
remembers those that stand. Errors are always told.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sitegen.core.findings.finding import Finding
from sitegen.core.store import Store
from sitegen.pipeline.engine.files import Inventory, text_digest


def told_before(
    findings: Sequence[Finding], root: Path, files: Inventory, store: Store
) -> tuple[Finding, ...]:
    """The warnings told before; from now on, all of them are."""
    key = store.key("found", "told", str(root))
    kept = store.get(key)
    before = dict(kept.value["told"]) if kept is not None else {}
    stand = {
        _digest(each): list(files.stamps.get(each.source.file, ())) for each in findings if not each.is_error
    }
    if stand != before:
        store.put(key, {"told": stand})
    return tuple(
        each
        for each in findings
        if not each.is_error and (digest := _digest(each)) in before and before[digest] == stand[digest]
    )


def _digest(finding: Finding) -> str:
    # Without its message, which may count days: it would be another warning each morning.
    return text_digest(repr((finding.code, finding.source)))
