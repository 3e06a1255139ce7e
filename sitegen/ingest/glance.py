"""The head of an experiment, read without its log.

In: an experiment's folder, what all experiments share. Out: its set-up as far as the lines before `log:` tell, or None.
Makes no findings: they are said when the whole is read.
"""

from __future__ import annotations

from sitegen.core.finding import Findings
from sitegen.core.setup import Setup
from sitegen.ingest.expect import expect_mapping
from sitegen.ingest.experiment import read_setup
from sitegen.ingest.files import read_text
from sitegen.ingest.journal import ExperimentFolder, Shelf
from sitegen.ingest.reader import read_table
from sitegen.ingest.tree import parse

__all__ = ["glance"]


def glance(folder: ExperimentFolder, shelf: Shelf) -> Setup | None:
    """The set-up that the head alone gives."""
    findings = Findings()
    text = read_text(folder.path / "experiment.yaml", shelf.root, findings) or ""
    node = parse(text.partition("\nlog:")[0] + "\n", folder.id, findings)
    mapping = expect_mapping(node, folder.id, findings) if node is not None else None
    if mapping is None:
        return None
    read = read_table(mapping, "experiment", findings)
    found = read_setup(read, folder.id, folder.season, shelf.library, findings)
    return found[0] if found is not None else None
