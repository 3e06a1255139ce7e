"""Small journals and bare values for the tests of ingest: invented, and without a finding until a test adds one."""

from __future__ import annotations

import io
from collections.abc import Iterable
from pathlib import Path
from posixpath import normpath

from PIL import Image

from sitegen.app.console.report import finding_line
from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.findings.source import Source
from sitegen.core.format.entry import key_of
from sitegen.core.records.routines import Light, Routine
from sitegen.core.records.rows import Event, Pick, Reading, Rows, Run
from sitegen.core.records.tables import event_value
from sitegen.core.values.quantity import Quantity
from sitegen.ingest import read_experiment, read_journal
from sitegen.ingest.yaml.nodes import Node, Scalar
from sitegen.ingest.yaml.parser import parse
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
    root: Path, log: str, head: str = HEAD, files: Iterable[tuple[str, bytes]] = (), journal: str = ""
) -> tuple[Run | None, list[str]]:
    """An experiment in the shared sound journal, read; a log's entries begin in the line after its head."""
    beside = tuple((normpath(f"seasons/spring/run/{name}"), content) for name, content in files)
    text = f"{head}log:\n{log}"
    own = (("journal.yaml", journal.encode()),) if journal else ()
    Case("", "", ((EXPERIMENT, text.encode()), *beside, *own), "").write(root)
    journal_files, findings = read_journal(root)
    assert journal_files is not None
    assert not findings, said(findings)
    run, more = read_experiment(journal_files.folders[0], journal_files)
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


def amount(quantity: Quantity | None) -> str:
    """A quantity with its flags in its canonical unit: `about 9 cm`, `8-9 cm`, `9+ cm`, `?`."""
    if quantity is None:
        return ""
    if not quantity.known:
        return "?"
    low, high = f"{quantity.low:.4g}", "+" if quantity.high is None else f"-{quantity.high:.4g}"
    number = low if quantity.single else f"{low}{high}"
    flags = ("about " if quantity.about else "", " by eye" if quantity.by_eye else "")
    return f"{flags[0]}{number} {quantity.unit}".rstrip() + flags[1]


def _event(row: Event) -> str:
    assert type(row) is key_of(row.deed).record
    names = (
        "product",
        "amount",
        "out_of",
        "each",
        "as_labelled",
        "filled",
        "until",
        "kept",
        "file",
        "at",
        "length",
    )
    more = {name: event_value(row, name) for name in names}
    words = (
        row.deed.value,
        str(row.which) if row.which else "",
        f"in {row.tub}" if row.tub and row.tub != "tub" else "",
        more["product"],
        amount(more["amount"]),
        f"of {more['out_of']}" if more["out_of"] is not None else "",
        "each" if more["each"] else "",
        "as labelled" if more["as_labelled"] else "",
        "filled" if more["filled"] else "",
        f"'{row.what}'" if row.what else "",
        f"until {more['until']}" if more["until"] else "",
        more["file"],
        f"at {more['at']} s" if more["at"] is not None else "",
        f"for {more['length']} s" if more["length"] is not None else "",
        {None: "", True: "kept", False: "cleared"}[more["kept"]],
    )
    return " ".join(word for word in words if word)


def _reading(row: Reading) -> str:
    subject = str(row.which) if row.which else ", ".join(row.plants) or ("" if row.tub == "tub" else row.tub)
    words = (
        row.name,
        row.moment,
        subject,
        amount(row.value),
        row.what,
        f"to the {row.at}" if row.at else "",
        "together" if row.together else "",
    )
    return " ".join(word for word in words if word)


def _pick(row: Pick) -> str:
    count = f"count {row.count}" if row.count is not None else ""
    spoilt = f"spoilt {row.spoilt}" if row.spoilt is not None else ""
    weight = f"weighing {amount(row.spoilt_weight)}" if row.spoilt_weight is not None else ""
    flush = f"flush {row.flush}" if row.flush is not None else ""
    words = (
        "pick",
        str(row.which),
        amount(row.weight),
        count,
        row.part,
        row.grade,
        spoilt,
        weight,
        flush,
        row.earlier,
    )
    return " ".join(word for word in words if word)


def _light(row: Light) -> str:
    use = row.use
    lamp = use.lamp.id if use.lamp else ""
    words = ("light", "" if row.tub == "tub" else row.tub, lamp, amount(use.hours), amount(use.distance))
    return " ".join(word for word in (*words, "off" if use.off else "") if word)


def _routine(row: Routine) -> str:
    tub = f"in {row.tub}" if row.tub not in ("", "tub") else ""
    labelled = "as labelled" if row.as_labelled else ""
    until = f"until day {row.until}" if row.until else ""
    words = ("from now", row.what, tub, row.product, amount(row.amount), labelled, row.often, until)
    return " ".join(word for word in words if word)


def shown(rows: Rows) -> list[str]:
    """All rows of a log in short, table by table."""
    return [
        *(_event(row) for row in rows.events),
        *(_reading(row) for row in rows.readings),
        *(_pick(row) for row in rows.picks),
        *(f"total so far {row.which} {amount(row.amount)}" for row in rows.tallies),
        *(f"{row.name} {row.which} {'reached' if row.reached else 'not yet'}" for row in rows.milestones),
        *(_light(row) for row in rows.lights),
        *(_routine(row) for row in rows.routines),
        *(" ".join(filter(None, ("photo", row.file, row.alt, row.shows))) for row in rows.photos),
    ]


def picture() -> bytes:
    """A small sound photo."""
    buffer = io.BytesIO()
    Image.new("RGB", (1200, 900), (90, 140, 80)).save(buffer, "JPEG")
    return buffer.getvalue()


PICTURES = (("photos/day-3-leaf.jpg", picture()),)
