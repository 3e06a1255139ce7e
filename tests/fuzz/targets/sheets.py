"""Spreadsheets: CSV, the parts of a workbook, its bytes; sheets and diaries that become drafts."""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

from sitegen.core.findings.finding import Findings
from sitegen.filing.drafting.choices import Choices
from sitegen.filing.drafting.diary import plants_named, read_diary
from sitegen.filing.drafting.draft import SetUp, all_plants, draft_text
from sitegen.filing.drafting.records import Found
from sitegen.filing.drafting.sheets.columns import Around
from sitegen.filing.drafting.sheets.drafted_sheet import read_file
from sitegen.filing.drafting.sheets.sheet_files import UnreadableError, decoded, read_sheets
from sitegen.filing.words.understanding import understood
from sitegen.ingest import read_records
from sitegen.ingest.yaml.parser import parse
from tests.filing.drafting.builders import workbook
from tests.filing.words.runs import RUNS
from tests.fuzz.target import Run, Target, hold, joined, sections
from tests.fuzz.targets.journals import DEMO, TESTS, WORDS, report
from tests.fuzz.targets.runs import opened

_HEAD = b"format: 1\ntitle: Sheet\ncrop: pak-choi\nsystem: tub-6\nstart: 2025-10-01\nplants: 4\nreadings:\n  - %s\nlog: []\n"
_ITEMS = (
    b"{file: sheet.csv, reading: height, columns: {a: P1, b: P2}}",
    b"{file: sheet.csv, time: when, columns: {a: air_temperature, b: humidity}, units: {a: C}}",
    b"{file: sheet.csv, date: when, reading: leaves, unit: cm, sheet: One, columns: {a: P1, b: all}}",
)
_SHEETS = (
    b"day,a,b\n1,9 cm,8-9 cm\n2,ca. 8,\n3,12+,?\n",
    b"when;a;b\n2025-10-01 08:00;21,5;60\n2025-10-01 09:00;22,0;61\n",
    b"when\ta\tb\n19/10/2025\t9\t8\n20/10/2025\t9.5\t-\n",
    b'Title of it\nwhen,a,"b"\n01.10.2025,"1,5",2\n02.10.2025,"1.5",x\n',
)


def _item(files: dict[str, bytes]) -> bytes:
    return files.get("item", _ITEMS[0]).replace(b"\n", b" ").strip() or b"{}"


def _csv(folder: Path) -> Run:
    files, home = opened(folder)

    def run(data: bytes) -> object:
        parts = sections(data)
        (home.path / "sheet.csv").write_bytes(parts.get("sheet.csv", b""))
        found, findings = read_records(home, files, None, _HEAD % _item(parts), headers=False)
        return found, report(findings)

    return run


def _csv_seeds() -> Iterator[bytes]:
    for item in _ITEMS:
        yield from (joined([("item", item), ("sheet.csv", sheet)]) for sheet in _SHEETS)
    for path in sorted(DEMO.rglob("*.csv")):
        yield joined([("item", _ITEMS[1]), ("sheet.csv", path.read_bytes()[:1500])])


@cache
def _members(content: bytes) -> tuple[tuple[str, bytes], ...]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return tuple((name, archive.read(name)) for name in archive.namelist())


@cache
def _workbooks() -> tuple[bytes, ...]:
    return (
        workbook(("One", [("when", "a", "b"), ("2025-10-01", 9, "8-9"), ("2025-10-02", 1e300, None)], ())),
        workbook(
            ("One", [("Title", None, None), ("day", "a", "b"), (1, 9.5, True)], ("A1:C1",)),
            ("Two", [("day", "x")], ()),
        ),
    )


def _zipped(files: dict[str, bytes]) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        shorter = {name[:200].partition("\0")[0]: body for name, body in files.items() if name != "item"}
        for name, body in shorter.items():
            if name:
                archive.writestr(name, body)
    return buffer.getvalue()


def _parts_of_workbooks(folder: Path) -> Run:
    return _workbook(folder, lambda data: (_item(sections(data)), _zipped(sections(data))))


def _bytes_of_workbooks(folder: Path) -> Run:
    return _workbook(folder, lambda data: (_ITEMS[2], data))


def _workbook(folder: Path, made: object) -> Run:
    files, home = opened(folder)

    def run(data: bytes) -> object:
        item, content = made(data)  # type: ignore[operator]
        (home.path / "sheet.xlsx").write_bytes(content)
        item = item.replace(b"sheet.csv", b"sheet.xlsx")
        found, findings = read_records(home, files, None, _HEAD % item, headers=False)
        return found, report(findings), _drafted("sheet.xlsx", content)

    return run


def _part_seeds() -> Iterator[bytes]:
    for item in _ITEMS:
        yield from (joined([("item", item), *_small(content)]) for content in _workbooks())


_BOUNDS = ("nested-too-deep", "text-too-long", "too-many-items")  # deep also by brackets in words


def _small(content: bytes) -> Iterable[tuple[str, bytes]]:
    """The members of a workbook that are read; styles and themes are long."""
    return [(name, body.replace(b"><", b">\n<")) for name, body in _members(content) if len(body) < 2500]


def _drafted(name: str, content: bytes) -> object:
    """The text that a file becomes, which must be YAML; None where it is no table."""
    choices = Choices({})
    try:
        found = read_file(read_sheets(name, content), content, Around((name, "run"), "metric"), 2026, choices)
    except UnreadableError as error:
        return str(error)
    return _text_of(found, choices)


def _text_of(found: Found, choices: Choices) -> object:
    setup = SetUp(
        found.title or "run",
        "basil",
        "crate",
        found.first.isoformat() if found.first else "unknown",
        all_plants(found) or 1,
    )
    text = draft_text("sheet", setup, found, choices.assumed)
    findings = Findings()
    tree = parse(text, "experiment.yaml", findings)
    # A sheet of a hostile hand may also name more than a file may hold: its draft says so when it is read.
    bounded = any(finding.code in _BOUNDS for finding in findings)
    hold(
        tree is not None or bounded,
        f"the draft is no YAML: {[(f.code, f.message, f.source.line) for f in findings]}",
    )
    return text


def _draft(_folder: Path) -> Run:
    return lambda data: _drafted("sheet.csv", data)


def _diary(_folder: Path) -> Run:
    known = tuple(RUNS.values())

    def run(data: bytes) -> object:
        text, _ = decoded(data[1:])
        which, choices = known[(data[0] if data else 0) % len(known)], Choices({})
        found = read_diary(
            text, lambda line: understood(line, which), choices, year=2026, month_first=data[:1] < b"P"
        )
        for number in range(1, plants_named(text) + 1):
            found.name_plant(f"P{number}")
        return _text_of(found, choices)

    return run


def _diary_seeds() -> Iterator[bytes]:
    for path in sorted((TESTS / "journals" / "diary").rglob("*")):
        if path.is_file():
            yield b"a" + path.read_bytes()[:3000]
    yield b"b1 March 2026: sowed 6 seeds\n\nday 4 - two up\n12.3. P1 9 cm, watered 2 L\n10/11 fed 5 ml leaf mix\n"
    yield b"c- Mon 2026-03-02 harvested 84 g from plants 1-3\n# Week 2\n3 april ph 7.1 then 5.9\n"


_CELLS = (b"day", b"date", b"when", b"Height (cm)", b"P1 height", b"Temp [\xc2\xb0C]", b"RH %", b"pH", b"EC", b"Notes", b"Plant 1", b"weight g", b"01.10.2025", b"2025-10-01T08:00:00Z", b"08:00", b"Sown: 1 March 2026")  # fmt: skip
_XML = (b"<c r=\"A1\" t=\"s\"><v>0</v></c>", b"<v>1e308</v>", b"<v>45000.5</v>", b't="d"', b't="b"', b't="e"', b't="inlineStr"', b'r="XFD1048576"', b'ref="A1:XFD1048576"', b"<mergeCell ref=\"A1:B2\"/>", b'count="4294967295"', b"&#0;", b"<!DOCTYPE x [<!ENTITY a 'b'>]>", b"&a;", b'sheetId="1"', b'Target="../../x"')  # fmt: skip

TARGETS = (
    Target("csv", _csv, _csv_seeds, ("ingest/sheets",), "sitegen.ingest.sheets.cells:_csv_rows", "cells", (*WORDS, *_CELLS), 3000),
    Target("workbook-parts", _parts_of_workbooks, _part_seeds, ("ingest/sheets", "filing/drafting/sheets"),
           "sitegen.ingest.sheets.cells:_workbook_rows", "text", (*_XML, *_CELLS), 16_000),
    Target("workbook-bytes", _bytes_of_workbooks, _workbooks, ("ingest/sheets", "filing/drafting/sheets"),
           "sitegen.ingest.sheets.cells:_workbook_rows", "bytes", (), 8000),
    Target("draft-sheet", _draft, lambda: (*_SHEETS, *_tables()), ("filing/drafting",), "sitegen.filing.drafting.sheets.drafted_sheet:_read_table",
           "cells", (*WORDS, *_CELLS), 3000),
    Target("draft-diary", _diary, _diary_seeds, ("filing/drafting", "filing/words", "filing/dates.py"),
           "sitegen.filing.drafting.diary:_line", "text", (*WORDS, *_CELLS), 3000),
)  # fmt: skip


def _tables() -> Iterator[bytes]:
    yield b'Basil 2026\nSown: 1 March 2026\n\nDate,Height P1 (cm),Height P2 (cm),Notes\n2026-03-10,4,5,up\n2026-03-17,8,9.5,"fed, watered"\n'
    yield b"Plant;Date;Weight g;pH\n1;10.03.2026;84,5;6,1\n2;10.03.2026;12;\n"
    yield b"time\tTemp [C]\tRH %\n2026-03-01 08:00\t21.5\t60\n2026-03-01 09:00\t21.7\t61\n"
    yield b"day,plant,what,amount\n1,P1,water,2 L\n4,all,feed,5 ml\n"
