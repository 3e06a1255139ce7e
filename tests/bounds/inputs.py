"""Inputs far beyond what anybody writes: each a small journal with one file that is too much of something.

In: nothing. Out: `INPUTS` by name: the files that a journal then has, by path. Texts are made when they are asked for.
"""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Callable, Mapping

from tests.journal_maker import CROPS, GEAR

__all__ = ["EXPERIMENT", "INPUTS", "RUN", "Files"]

Files = Mapping[str, str | bytes]

RUN = "seasons/one/leaf-run"
EXPERIMENT = f"{RUN}/experiment.yaml"
_RECAP = f"{RUN}/recap.md"
_HEAD = "format: 1\ntitle: Leaf run\ncrop: leaf\nsystem: tray\nstart: 2025-03-01\nplants: 4\n"
_LOG = "log:\n  - {day: 0, sow: 1 a spot}\n"
_READINGS = "readings: [{file: sheet.%s, reading: leaves, columns: {one: P1}}]\n"
SOUND: dict[str, str | bytes] = {
    "journal.yaml": "format: 1\ntitle: Test bench\n",
    "gear.yaml": GEAR,
    "crops.yaml": CROPS,
    "seasons/one/season.yaml": "title: Season one\n",
    EXPERIMENT: _HEAD + _LOG,
}

_MANY = 100_000


def _log(entry: str, *, head: str = _HEAD) -> Files:
    """A log with one entry more."""
    return {EXPERIMENT: f"{head}{_LOG}  - {entry}\n"}


def _head(old: str, new: str) -> Files:
    """A set-up with one line otherwise."""
    return {EXPERIMENT: _HEAD.replace(old, new) + _LOG}


def _recap(text: str) -> Files:
    return {_RECAP: text}


def _template(text: str) -> Files:
    return {"about.md": "# About\n", "look/templates/text.html": text}


def _csv(text: str) -> Files:
    return {EXPERIMENT: _HEAD + _READINGS % "csv" + _LOG, f"{RUN}/sheet.csv": text}


def _xlsx(sheet: bytes, *, strings: bytes = b"", sheets: int = 1) -> Files:
    """A workbook whose first sheet is some XML, packed as small as it can be."""
    kept = io.BytesIO()
    names = range(1, sheets + 1)
    space = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    listed = "".join(f'<sheet name="S{n}" sheetId="{n}" r:id="rId{n}"/>' for n in names)
    related = "".join(
        f'<Relationship Id="rId{n}" Type="{office}/worksheet" Target="worksheets/sheet{n}.xml"/>'
        for n in names
    )
    related += f'<Relationship Id="rIdS" Type="{office}/sharedStrings" Target="sharedStrings.xml"/>'
    package = "http://schemas.openxmlformats.org/package/2006"
    with zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("[Content_Types].xml", f'<Types xmlns="{package}/content-types"/>')
        packed.writestr(
            "_rels/.rels",
            f'<Relationships xmlns="{package}/relationships"><Relationship Id="rId1"'
            f' Type="{office}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        )
        packed.writestr(
            "xl/workbook.xml", f'<workbook {space} xmlns:r="{office}"><sheets>{listed}</sheets></workbook>'
        )
        packed.writestr(
            "xl/_rels/workbook.xml.rels",
            f'<Relationships xmlns="{package}/relationships">{related}</Relationships>',
        )
        packed.writestr("xl/sharedStrings.xml", f"<sst {space}>".encode() + strings + b"</sst>")
        for n in names:
            packed.writestr(
                f"xl/worksheets/sheet{n}.xml", f"<worksheet {space}>".encode() + sheet + b"</worksheet>"
            )
    return {EXPERIMENT: _HEAD + _READINGS % "xlsx" + _LOG, f"{RUN}/sheet.xlsx": kept.getvalue()}


def _rows(number: int, cell: bytes) -> bytes:
    cells = b"".join(
        b'<c r="%s1" t="inlineStr"><is><t>%s</t></is></c>' % each
        for each in ((b"A", b"date"), (b"B", b"one"))
    )
    head = b'<row r="1">' + cells + b"</row>"
    return (
        b"<sheetData>"
        + head
        + b"".join(b'<row r="%d">%s</row>' % (n, cell) for n in range(2, number))
        + b"</sheetData>"
    )


def _far_cell() -> bytes:
    """Two cells at opposite corners of a sheet, which as a table are 17 thousand million."""
    first = b'<row r="1"><c r="A1" t="inlineStr"><is><t>date</t></is></c></row>'
    return b"<sheetData>" + first + b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'


def _png(width: int, height: int) -> bytes:
    """A PNG whose header says a size, with next to no picture behind it."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    size = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", size)
        + chunk(b"IDAT", zlib.compress(b"\0" * 1000))
        + chunk(b"IEND", b"")
    )


def _jpeg(width: int, height: int) -> bytes:
    """A JPEG whose frame says a size."""
    frame = (
        b"\xff\xc0\x00\x11\x08"
        + struct.pack(">HH", height, width)
        + b"\x03\x01\x11\x00\x02\x11\x00\x03\x11\x00"
    )
    scan = b"\xff\xda\x00\x0c\x03\x01\x00\x02\x00\x03\x00\x00\x3f\x00"
    return (
        b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00" + frame + scan + b"\xff\xd9"
    )


def _webp(width: int, height: int) -> bytes:
    """A WebP whose extended header says a canvas, at most 16,777,216 wide."""
    body = (
        b"VP8X"
        + struct.pack("<I", 10)
        + b"\0\0\0\0"
        + (width - 1).to_bytes(3, "little")
        + (height - 1).to_bytes(3, "little")
    )
    body += b"VP8L" + struct.pack("<I", 6) + b"\x2f\xff\xff\xff\x0f\x00"
    return b"RIFF" + struct.pack("<I", len(body) + 4) + b"WEBP" + body


def _heic(width: int, height: int) -> bytes:
    """A HEIC file whose one picture says a size."""

    def box(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body) + 8) + kind + body

    def full(kind: bytes, body: bytes, version: int = 0) -> bytes:
        return box(kind, bytes([version, 0, 0, 0]) + body)

    item = full(b"infe", struct.pack(">HH", 1, 0) + b"hvc1" + b"\0", 2)
    shapes = box(b"ipco", full(b"ispe", struct.pack(">II", width, height)))
    meta = full(b"hdlr", b"\0\0\0\0pict" + b"\0" * 13) + full(b"pitm", struct.pack(">H", 1))
    meta += full(b"iinf", struct.pack(">H", 1) + item)
    meta += box(b"iprp", shapes + full(b"ipma", struct.pack(">IHB", 1, 1, 1) + b"\x01"))
    meta += full(b"iloc", b"\x44\x00" + struct.pack(">HHHHII", 1, 1, 0, 1, 0, 4))
    return box(b"ftyp", b"heic\0\0\0\0mif1heic") + full(b"meta", meta)


def _photo(name: str, content: bytes) -> Files:
    return {f"{RUN}/photos/{name}": content}


def _laughs() -> str:
    """Aliases of aliases: 10 to the power of 9 texts, if they were resolved."""
    lines = ["a: &a [x, x, x, x, x, x, x, x, x, x]"]
    for before, name in zip("abcdefgh", "bcdefghi", strict=True):
        lines.append(f"{name}: &{name} [{', '.join([f'*{before}'] * 10)}]")
    return "\n".join(lines) + "\n"


_DIGITS = "9" * _MANY
_VALUES = {
    "height": '{P1: "%s cm"}',
    "leaves": '{P1: "%s"}',
    "harvest": '"%s g"',
    "temperature": '"%s °C"',
    "ph": '"%s"',
    "ec": '"%s mS/cm"',
    "water": '"%s L"',
    "feed": '{syrup: "%s ml"}',
    "sow": '"%s a spot"',
    "sprouted": '"%s"',
    "light": '{hours: "%s"}',
    "taste": '"%s/5"',
    "note": '"%s"',
    "photo": '"%s.jpg"',
    "lost": '"P%s"',
    "milestone": '{first leaf: "P%s"}',
    "episode": '{number: "%s", length: "%s:00"}',
}
# What a number is written with, in the forms that readers try one after the other.
_FORMS = {
    "digits": _DIGITS,
    "decimals": "0." + _DIGITS,
    "groups": "9," * (_MANY // 2) + "9",
    "points": "9." * (_MANY // 2) + "9",
    "spaces": "1" + " " * _MANY + "2",
    "signs": "-" * _MANY,
    "words": "five " * (_MANY // 5),
    "slashes": "1/" * (_MANY // 2) + "2",
    "colons": "12:" * (_MANY // 3) + "00",
    "brackets": "(" * _MANY,
}

INPUTS: dict[str, Callable[[], Files]] = {
    # values
    **{
        f"{key}: {form}": lambda key=key, value=value, form=form: _log(  # type: ignore[misc]
            f"{{day: 9, {key}: {value.replace('%s', _FORMS[form])}}}"
        )
        for key, value in _VALUES.items()
        for form in _FORMS
    },
    **{f"day: {form}": lambda form=form: _log(f'{{day: "{_FORMS[form]}", note: x}}') for form in _FORMS},  # type: ignore[misc]
    **{f"date: {form}": lambda form=form: _log(f'{{date: "{_FORMS[form]}", note: x}}') for form in _FORMS},  # type: ignore[misc]
    **{f"start: {form}": lambda form=form: _head("2025-03-01", f'"{_FORMS[form]}"') for form in _FORMS},  # type: ignore[misc]
    **{
        f"plants: {form}": lambda form=form: _head("plants: 4", f'plants: "{_FORMS[form]}"')
        for form in _FORMS
    },  # type: ignore[misc]
    **{f"title: {form}": lambda form=form: _head("Leaf run", f'"{_FORMS[form]}"') for form in _FORMS},  # type: ignore[misc]
    **{f"crop: {form}": lambda form=form: _head("crop: leaf", f'crop: "{_FORMS[form]}"') for form in _FORMS},  # type: ignore[misc]
    "start: last year": lambda: _head("2025-03-01", "9999-12-01"),
    "start: first year": lambda: _head("2025-03-01", "0001-01-01"),
    "start: in April of year 0": lambda: _head("2025-03-01", "0000-04-01"),
    "start: last year, a day after": lambda: _head("2025-03-01\n", "9999-12-31\n") | {},
    "day: 99999999": lambda: _log("{day: 99999999, note: x}"),
    "day: 9999": lambda: _log("{day: 9999, note: x}"),
    "date: 9999-12-31": lambda: _log("{date: 9999-12-31, note: x}"),
    "date: 0001-01-01": lambda: _log("{date: 0001-01-01, note: x}"),
    "plants: 99999": lambda: _head("plants: 4", "plants: 99999"),
    "plants: 9999999": lambda: _head("plants: 4", "plants: 9999999"),
    "plants: P1-P9999999": lambda: _log("{day: 9, lost: P1-P9999999}"),
    "sow: 9999999": lambda: _log("{day: 9, sow: 9999999}"),
    "key of 100,000 letters": lambda: _log(f"{{day: 9, {'k' * 900}: x}}"),
    "key quoted of 100,000 letters": lambda: _log(f'{{day: 9, ? "{"k" * _MANY}" : x}}'),
    "id of 100,000 letters": lambda: {EXPERIMENT: _HEAD + f"groups: {{? {'g' * _MANY} : P1-2}}\n" + _LOG},
    # logs
    "log of 15,000 entries": lambda: {EXPERIMENT: _HEAD + _LOG + "  - {day: 9, note: x}\n" * 15_000},
    "log of 40,000 entries": lambda: {EXPERIMENT: _HEAD + _LOG + "  - {day: 9, note: x}\n" * 40_000},
    "log of 40,000 faults": lambda: {EXPERIMENT: _HEAD + _LOG + "  - {day: x, notes: x}\n" * 40_000},
    "log of a million entries": lambda: {EXPERIMENT: _HEAD + _LOG + "  - {day: 9, note: x}\n" * 1_000_000},
    "line of 990,000 signs": lambda: _log("{day: 9, note: " + "x " * 480_000 + "}"),
    "entry of 80,000 keys": lambda: _log("{" + ", ".join(f"k{n}: 1" for n in range(80_000)) + "}"),
    "list of 100,000": lambda: _log("{day: 9, photo: [" + ", ".join(["a.jpg"] * _MANY) + "]}"),
    "group of 90,000 plants": lambda: {
        EXPERIMENT: _HEAD + "groups: {a: [" + ", ".join(f"P{n}" for n in range(90_000)) + "]}\n" + _LOG
    },
    # YAML
    "YAML: 100,000 brackets": lambda: _log("[" * _MANY),
    "YAML: 100,000 pairs of brackets": lambda: _log("[" * _MANY + "]" * _MANY),
    "YAML: 100,000 items in items": lambda: {EXPERIMENT: _HEAD + "log: " + "- " * _MANY + "x\n"},
    "YAML: 1,000 indents": lambda: {EXPERIMENT: "".join(f"{' ' * n}a:\n" for n in range(1_000))},
    "YAML: aliases": lambda: {EXPERIMENT: _laughs()},
    "YAML: 100,000 questions": lambda: {EXPERIMENT: "? " * _MANY},
    "YAML: 100,000 quotes": lambda: {EXPERIMENT: "title: " + "'" * (_MANY + 1)},
    "YAML: 100,000 colons": lambda: {EXPERIMENT: "title: " + "a: " * _MANY},
    "YAML: 100,000 commas": lambda: _log("{" + "," * _MANY + "}"),
    "YAML: 100,000 hashes": lambda: _log("{day: 9, note: " + " #" * _MANY + "}"),
    "YAML: 100,000 anchors": lambda: {EXPERIMENT: "&a " * _MANY},
    "YAML: 100,000 empty lines": lambda: {EXPERIMENT: _HEAD + "\n" * _MANY + "a b c\n"},
    "YAML: 30,000 broken lines": lambda: {EXPERIMENT: _HEAD + "log:\n" + "  - {day: 9, note: 'x}\n" * 30_000},
    "YAML: broken in braces": lambda: _log("{day: 9, " + "note: x, when: a b: " * 20_000 + "}"),
    # texts
    "recap: footnotes": lambda: _recap("[^1]" * 30_000),
    "recap: footnotes defined": lambda: _recap("[^1]" * 30_000 + "\n\n[^1]: x\n"),
    "recap: footnote definitions": lambda: _recap("".join(f"[^{n}]: x\n\n" for n in range(30_000))),
    "recap: paragraph": lambda: _recap("x" * 9_999 + "\n" + "y" * 9_999),
    "recap: signs": lambda: _recap("[" * 250 + "\n" + "<" * 251),
    **{
        f"recap: {sign} up to the bounds": lambda sign=sign: _recap(  # type: ignore[misc]
            "\n\n".join(
                [
                    (sign * 9_900)[: 9_900 if sign.count("[") + sign.count("<") == 0 else 490 * len(sign)][
                        :9_900
                    ]
                ]
                * 10
            )[:99_000]
        )
        for sign in (
            "[^1]",
            "`",
            "` `` ",
            "[",
            "![",
            "[a](",
            "<!-- ",
            "*a **a ",
            "_a __a ",
            "{{ x ",
            "{% ",
            "a  \n",
            "&amp",
            "{{ facts.harvest.totl }} ",
        )
    },
    **{
        f"recap: lines {line!r} up to the bounds": lambda line=line: _recap(
            (line * (4_900 // line.count("\n")))[:99_000]
        )  # type: ignore[misc]
        for line in (
            "- a\n",
            "# a\n",
            "> a\n",
            "|a|b|\n|-|-|\n",
            "a\n: b\n",
            "```chart\nharvest\n```\n",
            "[a]: b\n",
            "[^a]: b\n\n",
        )
    },
    **{
        f"{key}: {form} up to the bounds": lambda key=key, value=value, form=form: _log(  # type: ignore[misc]
            f"{{day: 9, {key}: {value.replace('%s', _FORMS[form][:980])}}}"
        )
        for key, value in _VALUES.items()
        for form in _FORMS
    },
    "height: many pounds": lambda: _log("{day: 9, harvest: " + "9" * 900 + " lb 4 oz}"),
    "sow: seeds": lambda: _log("{day: 9, sow: " + "9" * 900 + " a spot}"),
    "product: price": lambda: {
        "gear.yaml": GEAR + "  oil: {name: Oil, kind: feed, price: " + "9" * 900 + " per 1 L}\n"
    },
    "plants: 900 digits": lambda: _head("plants: 4", "plants: " + "9" * 900),
    "notes: 50 of 19,000 spaces": lambda: {
        EXPERIMENT: _HEAD + _LOG + ('  - {day: 9, note: "x' + " " * 19_000 + 'y"}\n') * 50
    },
    "taste: 50 of 19,000 digits": lambda: {
        EXPERIMENT: _HEAD + _LOG + ("  - {day: 9, taste: " + "1" * 19_000 + "}\n") * 50
    },
    "recap: many values": lambda: _recap("{{ facts.harvest.total }}\n" * 1_001),
    "recap: backticks": lambda: _recap("`" * _MANY),
    "recap: runs of backticks": lambda: _recap(" ".join("`" * n for n in range(1, 1_400))),
    "recap: brackets": lambda: _recap("[" * _MANY),
    "recap: brackets closed": lambda: _recap("[" * 50_000 + "]" * 50_000),
    "recap: links": lambda: _recap("[a](" * 30_000),
    "recap: links in angles": lambda: _recap("[a](<b" * 30_000),
    "recap: pictures": lambda: _recap("![" * 50_000),
    "recap: references": lambda: _recap("[a]: b\n" * 30_000),
    "recap: reference titles": lambda: _recap('[a]: b "' * 30_000),
    "recap: stars": lambda: _recap("*a **a " * 20_000),
    "recap: stars only": lambda: _recap("*" * _MANY),
    "recap: underscores": lambda: _recap("_a __a " * 20_000),
    "recap: tildes": lambda: _recap("~~a " * 30_000),
    "recap: quotes in quotes": lambda: _recap(">" * _MANY),
    "recap: quotes of many lines": lambda: _recap(("> " * 60 + "x\n") * 2_000),
    "recap: lists in lists": lambda: _recap("- " * 50_000),
    "recap: nested lists": lambda: _recap("".join(f"{'  ' * n}- a\n" for n in range(600))),
    "recap: angles": lambda: _recap("<" * _MANY),
    "recap: tags": lambda: _recap("<a " * 30_000),
    "recap: comments": lambda: _recap("<!-- " * 30_000),
    "recap: questions": lambda: _recap("<?" * 50_000),
    "recap: declarations": lambda: _recap("<!A " * 30_000),
    "recap: CDATA": lambda: _recap("<![CDATA[" * 20_000),
    "recap: attributes": lambda: _recap("<a" + " b=c" * 50_000 + ">"),
    "recap: open attributes": lambda: _recap("<a" + " b='c" * 50_000),
    "recap: entities": lambda: _recap("&amp" * 50_000),
    "recap: backslashes": lambda: _recap("\\" * _MANY),
    "recap: tables": lambda: _recap("|a" * 30_000 + "|\n" + "|-" * 30_000 + "|\n" + "|b|\n" * 1_000),
    "recap: table rows": lambda: _recap("|a|b|\n|-|-|\n" + "|\n" * 50_000),
    "recap: wide table": lambda: _recap("|a" * 300 + "|\n" + "|-" * 300 + "|\n" + "x\n" * 20_000),
    "recap: definitions": lambda: _recap("a\n: b\n" * 20_000),
    "recap: headings": lambda: _recap("# a\n" * 30_000),
    "recap: underlines": lambda: _recap("a\n=\n" * 30_000),
    "recap: fences": lambda: _recap("```\n" * 30_000),
    "recap: charts": lambda: _recap("```chart\nharvest\n```\n" * 10_000),
    "recap: bare addresses": lambda: _recap("http://a.b/" * 20_000),
    "recap: addresses in angles": lambda: _recap("<http://a" * 20_000),
    "recap: line breaks": lambda: _recap("a  \n" * 50_000),
    "recap: spaces": lambda: _recap("a" + " " * 300_000 + "b"),
    "recap: tabs": lambda: _recap("\t" * _MANY + "b"),
    "recap: empty lines": lambda: _recap("\n" * 300_000),
    "recap: line of 990,000": lambda: _recap("x" * 990_000),
    "recap: words of 990,000": lambda: _recap("x " * 495_000),
    "recap: parentheses": lambda: _recap("{{ facts" + "(" * 3_000 + ")" * 3_000 + " }}"),
    "recap: path": lambda: _recap("{{ facts" + ".harvest" * 50_000 + " }}"),
    "recap: path unclosed": lambda: _recap("{{ facts" + ".harvest" * 50_000),
    "recap: braces": lambda: _recap("{{" * 50_000),
    "recap: braces in braces": lambda: _recap("{{ x " * 20_000 + "}}" * 20_000),
    "recap: values": lambda: _recap("{{ facts.harvest.total }} " * 20_000),
    "recap: wrong values": lambda: _recap("{{ facts.harvest.totl }} " * 20_000),
    "recap: statements": lambda: _recap("{%" * 50_000),
    "recap: comments of templates": lambda: _recap("{#" * 50_000),
    "recap: spaces in a path": lambda: _recap("{{ facts" + " " * 50_000 + "}}"),
    "recap: long name": lambda: _recap("{{ facts." + "x" * 50_000 + " }}"),
    "question: 900,000": lambda: {EXPERIMENT: _HEAD + "question: " + "why so? " * 100_000 + "\n" + _LOG},
    "notes: stars": lambda: _log('{day: 9, note: "' + "*a **a " * 20_000 + '"}'),
    "notes: address": lambda: _log('{day: 9, note: "' + "http://" * 20_000 + '"}'),
    "notes: mail": lambda: _log('{day: 9, note: "' + "a@" * 50_000 + '"}'),
    "notes: mail with points": lambda: _log('{day: 9, note: "' + "a." * 50_000 + '@"}'),
    "notes: telephone": lambda: _log('{day: 9, note: "' + "+1 " * 50_000 + '"}'),
    "notes: telephone digits": lambda: _log('{day: 9, note: "' + "0 1-" * 50_000 + '"}'),
    "notes: street": lambda: _log('{day: 9, note: "' + "Long Street " * 10_000 + '"}'),
    "captions: 30,000": lambda: {
        f"{RUN}/episode-1.vtt": "WEBVTT\n\n" + "00:01.000 --> 00:02.000\nhello\n\n" * 30_000,
        EXPERIMENT: _HEAD + "episodes: [{number: 1, transcript: episode-1.vtt, length: '10:00'}]\n" + _LOG,
    },
    # spreadsheets
    "CSV: 100,000 columns": lambda: _csv(
        "date,one" + ",a" * _MANY + "\n" + "2025-03-02,3" + ",4" * _MANY + "\n"
    ),
    "CSV: 50 MB in a cell": lambda: _csv('date,one\n2025-03-02,"' + "x" * 50_000_000 + '"\n'),
    "CSV: heading of 120,000": lambda: _csv("date,one" + "x" * 120_000 + "\n2025-03-02,1\n"),
    "CSV: cell of 120,000 digits": lambda: _csv("date,one\n2025-03-02," + "9" * 120_000 + "\n"),
    "CSV: date of 120,000 digits": lambda: _csv("date,one\n" + "9" * 120_000 + ",1\n"),
    "CSV: 3,000,000 rows": lambda: _csv("date,one\n" + "2025-03-02,3\n" * 3_000_000),
    "CSV: 9,000 days": lambda: _csv("date,one\n" + "2025-03-02,3\n" * 9_000),
    "CSV: a sensor of 500,000 rows": lambda: {
        EXPERIMENT: _HEAD
        + "readings: [{file: sheet.csv, time: time, columns: {one: air_temperature C}}]\n"
        + _LOG,
        f"{RUN}/sheet.csv": "time,one\n"
        + "".join(
            f"2025-0{m}-{d:02} {h:02}:{n:02},2{n % 10}\n"
            for m in (3, 4, 5, 6, 7, 8, 9)
            for d in range(1, 31)
            for h in range(24)
            for n in range(60)
        )[:9_500_000]
        + "\n",
    },
    "CSV: 1,000,000 empty rows": lambda: _csv("date,one\n" + "\n" * 1_000_000),
    "CSV: 100,000 bad cells": lambda: _csv("date,one\n" + "2025-03-02,three\n" * _MANY),
    "CSV: 20,000,000 commas": lambda: _csv("date,one\n" + "," * 20_000_000),
    "XLSX: 2,000,000 rows": lambda: _xlsx(_rows(1_000_000, b"<c><v>1</v></c><c><v>1</v></c>")),
    "XLSX: far cell": lambda: _xlsx(_far_cell()),
    "XLSX: 300 MB of sheet": lambda: _xlsx(b"<!--" + b"x" * 300_000_000 + b"-->" + _rows(3, b"")),
    "XLSX: shared strings": lambda: _xlsx(_rows(3, b""), strings=b"<si><t>aaaaaaaaaa</t></si>" * 4_000_000),
    "XLSX: 5,000 sheets": lambda: _xlsx(_rows(3, b""), sheets=5_000),
    "XLSX: no zip": lambda: {
        EXPERIMENT: _HEAD + _READINGS % "xlsx" + _LOG,
        f"{RUN}/sheet.xlsx": b"PK\3\4" + b"x" * 1_000_000,
    },
    # photos
    **{
        f"photo: {kind} of 60,000": lambda kind=kind, make=make: _photo(
            f"2025-03-02.{kind}", make(60_000, 60_000)
        )  # type: ignore[misc]
        for kind, make in {"png": _png, "jpg": _jpeg, "webp": _webp, "heic": _heic}.items()
    },
    **{
        f"photo: {kind} just below the bound": lambda kind=kind, make=make: _photo(
            f"2025-03-02.{kind}", make(14_000, 14_000)
        )  # type: ignore[misc]
        for kind, make in {"png": _png, "jpg": _jpeg, "webp": _webp, "heic": _heic}.items()
    },
    "photo: png one line high": lambda: _photo("2025-03-02.png", _png(200_000_000, 1)),
    # templates
    "template: parentheses": lambda: _template("{{ " + "(" * 3_000 + "1" + ")" * 3_000 + " }}"),
    "template: attributes": lambda: _template("{{ site" + ".a" * 50_000 + " }}"),
    "template: sums": lambda: _template("{{ 1" + "+1" * 50_000 + " }}"),
    "template: blocks": lambda: _template("{% if 1 %}" * 3_000 + "{% endif %}" * 3_000),
    "template: nots": lambda: _template("{{ " + "not " * 50_000 + "1 }}"),
    "template: lists": lambda: _template("{{ " + "[" * 3_000 + "]" * 3_000 + " }}"),
    "template: digits": lambda: _template("{{ " + _DIGITS + " }}"),
    "template: endless loop": lambda: _template(
        "{% for a in range(99999) %}{% for b in range(99999) %}{% endfor %}{% endfor %}"
    ),
    "template: range": lambda: _template("{{ range(99999999) | list }}"),
    "template: calls itself": lambda: _template("{% macro a() %}{{ a() }}{% endmacro %}{{ a() }}"),
    "template: includes itself": lambda: _template("{% include 'text.html' %}"),
    "template: extends itself": lambda: _template("{% extends 'text.html' %}"),
    "template: constant power": lambda: _template("{{ 9 ** 99 ** 99 }}"),
    "template: doubling": lambda: _template(
        "{% set x = 'a' * 9999 %}" + "{% set x = x ~ x %}" * 60 + "{{ x }}"
    ),
    "template: doubling a list": lambda: _template(
        "{% set x = [1] %}" + "{% set x = x + x %}" * 60 + "{{ x }}"
    ),
    "template: doubling by format": lambda: _template(
        "{% set x = 'aaaa' %}" + "{% set x = '%s%s' | format(x, x) %}" * 60 + "{{ x | length }}"
    ),
    "template: doubling by join": lambda: _template(
        "{% set x = 'aaaa' %}" + "{% set x = [x, x] | join %}" * 60 + "{{ x | length }}"
    ),
    "template: doubling in lists": lambda: _template(
        "{% set x = ['a'] %}" + "{% set x = [x, x, x] %}" * 40 + "{{ x }}"
    ),
    "template: doubling numbers": lambda: _template(
        "{% set x = 99 %}" + "{% set x = x * x %}" * 60 + "{{ x }}"
    ),
    "template: regular expression": lambda: _template(
        "{{ ('a' * 9999) | urlize | striptags | wordwrap(1) | length }}"
    ),
    "template: tags": lambda: _template("{{ ('<' * 9999 ~ '<!--' * 9999) | striptags | length }}"),
    "template: addresses": lambda: _template("{{ ('(' * 9999 ~ 'http://' * 9999) | urlize | length }}"),
    "template: comments unclosed": lambda: _template("{#" * 50_000),
    "template: 30 MB": lambda: _template("x" * 30_000_000),
    "words: 100,000 lines": lambda: {"look/words/en.po": 'msgid "a"\nmsgstr "b"\n\n' * 30_000},
    "words: quotes": lambda: {"look/words/en.po": 'msgid "' + '"' * _MANY + "\n"},
}
