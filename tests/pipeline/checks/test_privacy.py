"""What looks personal in a journal: in its texts, beside readings, in photos."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from sitegen.pipeline.checks.privacy import Personal, personal
from tests.journal_maker import make_journal
from tests.photos.pictures import exif, jpeg
from tests.pipeline.bench import TODAY, leaf

SHEET = """\
date,one,two
2026-03-05 asked anna@sorrel.at,3,4
2026-03-06,3,4
2026-03-07 call +43 660 1234567,3,4
"""
SHEETS = "readings: [{file: sheet.csv, reading: height cm, columns: {one: P1, two: P2}}]\n"


def bench(folder: Path) -> Path:
    """A draft and an open run, both with words beside readings; a photo that says where it was taken."""
    runs = {
        "draft": leaf("Drafted", more=f"draft: true\n{SHEETS}", note="as it was"),
        "open": leaf("Open", "tomato", note="mail to ben@sorrel.at"),
    }
    root = make_journal(folder / "bench", runs, more={"seasons/one/draft/sheet.csv": SHEET})
    (root / "seasons/one/open/photos").mkdir()
    (root / "seasons/one/open/photos/day-3.jpg").write_bytes(jpeg(metadata=exif("2026:03:04 10:00:00")))
    return root


def test_what_looks_personal(tmp_path: Path) -> None:
    """In notes, in words beside dates of a spreadsheet, in headers of photos: each with its place, sorted by file."""
    root = bench(tmp_path)
    found = personal(root, TODAY)

    assert [(each.code, each.source.file, each.source.line) for each in found.findings] == [
        ("personal-detail", "seasons/one/draft/sheet.csv", 2),
        ("personal-detail", "seasons/one/draft/sheet.csv", 4),
        ("personal-detail", "seasons/one/open/experiment.yaml", 12),
        ("photo-location", "seasons/one/open/photos/day-3.jpg", 1),
    ]
    assert found.findings[0].message == (
        "`anna@sorrel.at` looks like a mail address; it appears in `data/draft/readings.csv`, once it is published"
    )


def test_words_beside_readings_are_counted_once(tmp_path: Path) -> None:
    """A row with several readings has its words once, and one without words none."""
    root = bench(tmp_path)
    before = personal(root, TODAY).texts
    sheet = root / "seasons/one/draft/sheet.csv"
    sheet.write_text(SHEET.replace(" call +43 660 1234567", ""), "utf-8")

    assert before - personal(root, TODAY).texts == 1


def test_words_of_a_published_run_are_there_already(tmp_path: Path) -> None:
    """It depends on the day."""
    root = bench(tmp_path)
    path = root / "seasons/one/draft/experiment.yaml"
    path.write_text(path.read_text("utf-8").replace("draft: true", "publish: 2026-05-01"), "utf-8")
    said = [personal(root, day).findings[0].message for day in (date(2026, 4, 30), TODAY)]

    assert [message.endswith(", once it is published") for message in said] == [True, False]


def test_a_journal_that_cannot_be_read(tmp_path: Path) -> None:
    """Its errors are told, and no text was looked through."""
    root = bench(tmp_path)
    (root / "journal.yaml").write_text("title: [", "utf-8")
    found = personal(root, TODAY)

    assert [each.source.file for each in found.findings] == ["journal.yaml"]
    assert found == Personal(found.findings, 0)
