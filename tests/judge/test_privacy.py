"""Personal details and photos that carry a location."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.findings.finding import Source
from sitegen.core.records.rows import Deed, PhotoFile, Run
from sitegen.judge.privacy import DETAILS, Detail, Forms, personal_detail, photo_location
from tests.judge.builders import by, done, findings, run, setup, sown

MEND = "and this text is published (remove it, if it is not meant for everyone)"


def noted(text: str) -> Run:
    """A run with one note, written plainly on line 105."""
    return run(sown(), done(Deed.NOTE, 5, what=text))


@pytest.mark.parametrize(
    ("text", "found", "what"),
    [
        ("Ask anna.k@garden-club.net for seed.", "anna.k@garden-club.net", "a mail address"),
        ("Call +43 660 1234567 at noon", "+43 660 1234567", "a telephone number"),
        ("Call (555) 123-4567", "(555) 123-4567", "a telephone number"),
        ("Tel. 0660 1234567", "Tel. 0660 1234567", "a telephone number"),
        ("Seed from 12 Oak Mill Lane.", "12 Oak Mill Lane", "a street address"),
        ("Abgeholt in der Mühlgasse 12", "Mühlgasse 12", "a street address"),
        ("chez 4 rue des Lilas", "4 rue des Lilas", "a street address"),
        ("Paid to DE89 3704 0044 0532 0130 00.", "DE89 3704 0044 0532 0130 00", "an account number"),
    ],
)
def test_personal_detail(text: str, found: str, what: str) -> None:
    """What looks like a way to reach someone is asked about."""
    assert by(personal_detail, noted(text)) == [
        f"e.yaml:105:5: warning[personal-detail]: `{found}` looks like {what}, {MEND}"
    ]


@pytest.mark.parametrize(
    "text",
    [
        "84 g on day 26, 121 g on day 33, 205 g by eye",
        "EC 1400 then 1650 then 1800, pH 5.8-6.2",
        "100-200-300 cm, 2025-10-19 14:30, batch 20251019",
        "write to keeper@example.org",
        "shelf@2x.png and https://example.net/users/555-123-4567",
        "12 Big Leaves, 3 Drive belts, moved to Stellplatz 4",
        "P1-P3 in the left tub, 4 Lanes of lamp light",
        "DE89 3704 0044 0532 0130 01",
        "+2 leaves, +10 cm, + 12 g",
    ],
)
def test_no_personal_detail(text: str) -> None:
    """Days, weights, readings, links and reserved hosts are no personal details."""
    assert by(personal_detail, noted(text)) == []


def places(made: Run) -> list[Source]:
    """Where personal details were found, on the day after the last entry."""
    return [f.source for f in findings(made, dt.date(2025, 3, 7)) if f.code == "personal-detail"]


def test_place_in_a_recap() -> None:
    """In a recap the finding points at the words themselves."""
    made = run(sown(), recap="# Recap\n\nWrite to bob@farm.co today.\n")

    assert places(made) == [Source("recap.md", 3, 10, 11)]


def test_place_in_a_plain_text() -> None:
    """In a text that is written as it is read, the finding points at the words themselves."""
    text = "Write to bob@farm.co today."
    note = done(Deed.NOTE, 5, what=text)._replace(source=Source("e.yaml", 105, 11, len(text)))

    assert places(run(sown(), note)) == [Source("e.yaml", 105, 20, 11)]


def test_place_in_a_folded_text() -> None:
    """In a text that is written otherwise than it is read, the finding points at the whole of it."""
    note = done(Deed.NOTE, 5, what="Write to bob@farm.co today.")

    assert places(run(sown(), note)) == [note.source]


def test_detail_in_the_head() -> None:
    """The texts of the head are published too."""
    made = run(sown(), head=setup(question="Will bob@farm.co like it?"))

    assert by(personal_detail, made) == [
        f"e.yaml:4:5: warning[personal-detail]: `bob@farm.co` looks like a mail address, {MEND}"
    ]


def test_photos_with_a_location() -> None:
    """Photos that carry a location are said once, at the first."""
    files = PhotoFile("a.jpg"), PhotoFile("b.jpg", located=True), PhotoFile("c.jpg", located=True)

    assert by(photo_location, run(sown(), photo_files=files)) == [
        (
            "photos/b.jpg:1:1: warning[photo-location]: `b.jpg` carries the place where it was taken, "
            "and so does 1 more photo; what is published does not "
            "(remove the location before you pass the file itself on)"
        )
    ]


def test_photos_without_a_location() -> None:
    """Photos without a location are not spoken of."""
    assert by(photo_location, run(sown(), photo_files=(PhotoFile("a.jpg"),))) == []


@pytest.mark.parametrize("detail", DETAILS, ids=lambda detail: detail.pattern.pattern)
@given(data=st.data())
def test_a_detail_has_its_sign(detail: Detail, data: st.DataObject) -> None:
    """What is looked for first is in every text that holds such a detail."""
    assert detail.may_be_in(Forms.of(data.draw(st.from_regex(detail.pattern))))
