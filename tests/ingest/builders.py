"""Small journals and bare values for the tests of ingest: invented, and without a finding until a test adds one."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from sitegen.app.report.line import finding_line
from sitegen.core.finding import Finding, Findings, Source
from sitegen.core.rows import Rows, Run
from sitegen.ingest import read_experiment, read_journal
from sitegen.ingest.nodes import Node, Scalar, parse
from tests.cases import Case

EXPERIMENT = "seasons/spring/run/experiment.yaml"
HEAD = """\
format: 1
title: Sorrel in a crate
crop: sorrel
system: crate
start: 2025-03-01
plants: 4
"""
TUBS = HEAD.replace(
    "system: crate\n",
    "tubs: {left: {system: crate, plants: P1-P2}, right: {system: bowl, plants: P3-P4}}\n",
)
GROUPS = HEAD + "groups: {front: P1-P2, back: P3-P4}\n"


def scalar(text: str) -> Scalar:
    """A text as it would stand in line 1 from column 10 on."""
    return Scalar(text, Source("f.yaml", 1, 10, max(1, len(text))))


def said(findings: Iterable[Finding]) -> list[str]:
    """Findings as `line:column: code: message (mend)`, without the file's name."""
    lines = (finding_line(finding).removeprefix(f"{finding.source.file}:") for finding in findings)
    return [line.replace("error[", "").replace("warning[", "").replace("]: ", ": ", 1) for line in lines]


def tree(text: str) -> tuple[Node | None, list[str]]:
    """The nodes of a text, and what was found."""
    findings = Findings()
    return parse(text, "f.yaml", findings), said(findings)


def read(
    root: Path, log: str, head: str = HEAD, files: Iterable[tuple[str, bytes]] = ()
) -> tuple[Run | None, list[str]]:
    """An experiment in the shared sound journal, read; a log's entries begin in the line after its head."""
    beside = tuple((f"seasons/spring/run/{name}", content) for name, content in files)
    text = f"{head}log:\n{log}"
    Case("", "", ((EXPERIMENT, text.encode()), *beside), "").write(root)
    shelf, findings = read_journal(root)
    assert shelf is not None
    assert not findings, said(findings)
    run, more = read_experiment(shelf.folders[0], shelf)
    return run, said(more)


def rows(root: Path, log: str, head: str = HEAD, files: Iterable[tuple[str, bytes]] = ()) -> Rows:
    """The rows of a log that has no findings."""
    run, findings = read(root, log, head, files)
    assert findings == []
    assert run is not None
    return run.rows


def found(root: Path, log: str, head: str = HEAD, files: Iterable[tuple[str, bytes]] = ()) -> list[str]:
    """What is found in a log."""
    return read(root, log, head, files)[1]
