"""Make the demo's exports: a logger's air readings, a sheet of heights, a table of spreads.

In: nothing but the numbers below. Out: `air.csv`, `heights.xlsx` and `spread.csv` in the folders
of their experiments, the same bytes every time. It never reads the journal, and the site never
runs it. All values are invented.
"""

from __future__ import annotations

import math
import random
import zipfile
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from xml.sax.saxutils import escape

SEASONS = Path(__file__).parent / "seasons"

AIR_FROM = datetime(2026, 6, 1)
AIR_UNTIL = datetime(2026, 8, 6, 23, 55)
STEP = timedelta(minutes=5)
GAPS = (
    (datetime(2026, 6, 19, 18, 10), datetime(2026, 6, 19, 22, 40)),
    (datetime(2026, 7, 15, 21, 0), datetime(2026, 7, 17, 9, 25)),
)
SHORTER_LAMP_DAY = date(2026, 7, 5)
WARM_SPELL = date(2026, 7, 4)

HEIGHT_HEADINGS = ("Measured on", "Front left", "Front right", "Back left", "Back right")
HEIGHTS: tuple[tuple[date, str, str, str, str], ...] = (
    (date(2025, 10, 5), "9", "7.5", "10", "ca. 8"),
    (date(2025, 10, 12), "13", "10.5", "14", "12"),
    (date(2025, 10, 19), "17", "14", "18", "16"),
    (date(2025, 10, 26), "21", "17", "22", "-"),
    (date(2025, 11, 2), "24", "19.5", "25", "22"),
    (date(2025, 11, 16), "27", "22", "28", "ca. 25"),
    (date(2025, 11, 30), "28", "24", "29", "26.5"),
    (date(2025, 12, 14), "29", "25", "30+", "27"),
    (date(2025, 12, 28), "29", "-", "30+", "27.5"),
    (date(2026, 1, 11), "30", "26", "31", "28"),
)

SPREAD = """\
day;Cup 1;Cup 2;Cup 3;Cup 4;Cup 5;Cup 6
17;7,5;7;6,5;7,5;6,5;6
24;12,5;12;11,5;13;11;10,5
31;17,5;17;16;18,5;ca. 15;15
38;16;21,5;15,5;22;14,5;19,5
45;17;24;16;24,5;15,5;22
52;17,5;25,5;-;26+;16;24
"""


def air_lines() -> Iterator[str]:
    """Yield the logger's lines, leaving out the two gaps."""
    chance = random.Random(20260601)
    weather = _daily_means(chance)
    drift = 0.0
    yield "Timestamp,Temp,RH"
    moment = AIR_FROM
    while moment <= AIR_UNTIL:
        drift = 0.97 * drift + chance.gauss(0.0, 0.05)
        if not any(start <= moment < end for start, end in GAPS):
            temperature = _temperature_c(moment, weather) + drift
            humidity = _humidity_percent(temperature, moment) + chance.gauss(0.0, 0.5)
            yield f"{moment:%Y-%m-%d %H:%M},{temperature:.1f},{humidity:.0f}"
        moment += STEP


def _daily_means(chance: random.Random) -> dict[date, float]:
    """Return each day's mean temperature [C]: a slow summer rise, a warm spell and some weather."""
    means: dict[date, float] = {}
    weather = 0.0
    for index in range((AIR_UNTIL - AIR_FROM).days + 2):
        day = AIR_FROM.date() + timedelta(days=index)
        weather = 0.7 * weather + chance.gauss(0.0, 0.6)
        spell = 2.6 * math.exp(-(((day - WARM_SPELL).days / 5.0) ** 2))
        means[day] = 21.0 + 0.035 * index + spell + weather
    return means


def _temperature_c(moment: datetime, means: dict[date, float]) -> float:
    hour = moment.hour + moment.minute / 60.0
    share = hour / 24.0
    today, tomorrow = means[moment.date()], means[moment.date() + timedelta(days=1)]
    swing = 2.4 * math.cos(2.0 * math.pi * (hour - 15.5) / 24.0)
    return today + (tomorrow - today) * share + swing + _lamp_warmth_c(moment, hour)


def _lamp_warmth_c(moment: datetime, hour: float) -> float:
    """Return what the lamp adds [C]: on 06:00 to 21:00, later with three hours off at midday."""
    if moment.date() >= SHORTER_LAMP_DAY and 12.0 <= hour < 15.0:
        return 0.3
    return 1.2 if 6.5 <= hour < 21.0 else 0.1


def _humidity_percent(temperature_c: float, moment: datetime) -> float:
    evening = 2.5 * math.sin(2.0 * math.pi * (moment.hour - 19) / 24.0)
    return min(88.0, max(36.0, 61.0 - 2.6 * (temperature_c - 22.0) + evening))


def write_heights(path: Path) -> None:
    """Write the sheet of heights as a workbook with one sheet, real dates and typed-in cells."""
    rows = [_row(1, [_text(heading) for heading in HEIGHT_HEADINGS])]
    for number, (day, *cells) in enumerate(HEIGHTS, start=2):
        rows.append(_row(number, [_day(day), *map(_cell, cells)]))
    parts = {**WORKBOOK_PARTS, "xl/worksheets/sheet1.xml": SHEET.format(rows="".join(rows))}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as book:
        for name, text in parts.items():
            book.writestr(zipfile.ZipInfo(name, (2026, 1, 11, 0, 0, 0)), text)


def _row(number: int, cells: list[str]) -> str:
    placed = (cell.replace("@", f"{chr(65 + index)}{number}") for index, cell in enumerate(cells))
    return f'<row r="{number}">{"".join(placed)}</row>'


def _text(value: str) -> str:
    return f'<c r="@" t="inlineStr"><is><t>{escape(value)}</t></is></c>'


def _day(value: date) -> str:
    return f'<c r="@" s="1"><v>{(value - date(1899, 12, 30)).days}</v></c>'


def _cell(value: str) -> str:
    return f'<c r="@"><v>{value}</v></c>' if value.replace(".", "", 1).isdigit() else _text(value)


HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
SHEET = HEAD + f'<worksheet xmlns="{MAIN}"><sheetData>{{rows}}</sheetData></worksheet>'
WORKBOOK_PARTS = {
    "[Content_Types].xml": HEAD
    + f'<Types xmlns="{PACKAGE}/content-types">'
    + '<Default Extension="rels" '
    + 'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    + f'<Override PartName="/xl/workbook.xml" ContentType="{KIND}.sheet.main+xml"/>'
    + f'<Override PartName="/xl/styles.xml" ContentType="{KIND}.styles+xml"/>'
    + f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{KIND}.worksheet+xml"/>'
    + "</Types>",
    "_rels/.rels": HEAD
    + f'<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="rId1" '
    + f'Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
    "xl/workbook.xml": HEAD
    + f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>'
    + '<sheet name="Heights cm" sheetId="1" r:id="rId1"/></sheets></workbook>',
    "xl/_rels/workbook.xml.rels": HEAD
    + f'<Relationships xmlns="{PACKAGE}/relationships">'
    + f'<Relationship Id="rId1" Type="{OFFICE}/worksheet" Target="worksheets/sheet1.xml"/>'
    + f'<Relationship Id="rId2" Type="{OFFICE}/styles" Target="styles.xml"/></Relationships>',
    "xl/styles.xml": HEAD
    + f'<styleSheet xmlns="{MAIN}"><fonts count="1"><font><sz val="11"/></font></fonts>'
    + '<fills count="1"><fill><patternFill patternType="none"/></fill></fills>'
    + '<borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs>'
    + '<cellXfs count="2"><xf/><xf numFmtId="14" applyNumberFormat="1"/></cellXfs></styleSheet>',
}


def main() -> None:
    """Write the three exports."""
    air = SEASONS / "2026-summer" / "emberfrill-hot-loft" / "air.csv"
    air.write_text("\n".join(air_lines()) + "\n", encoding="utf-8", newline="\n")
    write_heights(SEASONS / "2025-autumn" / "cinder-button-flood" / "heights.xlsx")
    spread = SEASONS / "2025-autumn" / "harbour-cut-or-whole" / "spread.csv"
    spread.write_text(SPREAD, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
