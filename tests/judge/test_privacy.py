"""Personal details and photos that carry a location."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.files import PhotoFile
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Deed, Photo, Run
from sitegen.core.records.setup import Answer, Chapter, Correction, Episode, Seed, ViewerQuestion
from sitegen.judge.privacy import DETAILS, Detail, forms_of, personal_detail, photo_location
from tests.judge.builders import TODAY, Row, by, checked, day, done, findings, picked, place, run, setup, sown

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
    """A text that looks like an address, an account or a telephone number is a warning."""
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
    """Photos that carry a location share one finding, at the first."""
    files = PhotoFile("a.jpg"), PhotoFile("b.jpg", located=True), PhotoFile("c.jpg", located=True)

    assert by(photo_location, run(sown(), photo_files=files)) == [
        (
            "photos/b.jpg:1:1: warning[photo-location]: `b.jpg` carries the place where it was taken, "
            "and so does 1 more photo; what is published does not "
            "(remove the location before you pass the file itself on)"
        )
    ]


def test_photos_without_a_location() -> None:
    """Photos without a location give no finding."""
    assert by(photo_location, run(sown(), photo_files=(PhotoFile("a.jpg"),))) == []


@pytest.mark.parametrize("detail", DETAILS, ids=lambda detail: detail.pattern.pattern)
@given(data=st.data())
def test_a_detail_has_its_sign(detail: Detail, data: st.DataObject) -> None:
    """Every match of a pattern has one of its signs."""
    assert detail.may_be_in(forms_of(data.draw(st.from_regex(detail.pattern))))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("tel 12 34 56", []),
        ("tel 12 34 567", ["tel 12 34 567"]),
        ("tel 123 456 789 012 345", ["tel 123 456 789 012 345"]),
        ("tel 123 456 789 012 3456", []),
        ("+1234567", []),
        ("+12345678", ["+12345678"]),
        ("+123456789012345", ["+123456789012345"]),
        ("+1234567890123456", []),
        ("a@b.org and c@d.example", ["a@b.org"]),
        ("a@b.JPG and c@d.Test", []),
        ("GB82 WEST 1234 5698 7654 32", ["GB82 WEST 1234 5698 7654 32"]),
        ("GB82 WEST 1234 5698 7654 33", []),
        ("+43 660 1234567 or +43 660 7654321", ["+43 660 1234567", "+43 660 7654321"]),
        ("c@d.test, then a@b.org", ["a@b.org"]),
        ("tel. 555-123-4567", ["555-123-4567"]),
    ],
)
def test_bounds_of_a_detail(text: str, found: list[str]) -> None:
    """Digits are counted and check digits reckoned; reserved hosts and files are passed over; details never overlap."""
    assert [f.found for f in checked(personal_detail, noted(text))] == found


def test_whole_finding_of_a_detail() -> None:
    """A finding names the kind of the detail; two kinds in a text are two findings."""
    text = "Ask bob@farm.co or call 555-123-4567."
    note = noted(text)

    def detail(found: str, kind: str) -> Finding:
        message = f"`{found}` looks like {kind}, and this text is published"
        mend = "remove it, if it is not meant for everyone"
        return Finding("personal-detail", place(105), message, mend, found)

    assert checked(personal_detail, note) == [
        detail("bob@farm.co", "a mail address"),
        detail("555-123-4567", "a telephone number"),
    ]


MAIL = "bob@farm.co"
AT = place(90)


@pytest.mark.parametrize(
    "head",
    [
        {"title": MAIL},
        {"question": MAIL},
        {"before": MAIL},
        {"disclosure": MAIL},
        {"answer": Answer("again", why=MAIL)},
        {"answer": Answer("again", change=MAIL)},
        {"seed": Seed(source=MAIL)},
        {"episodes": (Episode("First"), Episode(MAIL))},
        {"episodes": (Episode("First", chapters=(Chapter(0, "Begin"), Chapter(9, MAIL))),)},
        {"corrections": (Correction(TODAY, "a"), Correction(TODAY, MAIL))},
        {"viewer_questions": (ViewerQuestion("Who?", "Me", AT), ViewerQuestion(MAIL, "", AT))},
        {"viewer_questions": (ViewerQuestion("Who?", MAIL, AT),)},
    ],
)
def test_texts_of_the_head(head: dict[str, Any]) -> None:
    """Every text of the head is searched, and a finding lies at its key."""
    key = next(iter(head))
    made = run(sown(), head=setup(**head, spans=((key, AT),)))

    assert [(f.found, f.source) for f in checked(personal_detail, made)] == [(MAIL, AT)]


@pytest.mark.parametrize(
    "row",
    [
        done(Deed.NOTE, 5, what=MAIL),
        done(Deed.CLIP, 5, what=MAIL),
        Routine("feed", day(5), 5, place(105), often=MAIL),
        Photo("a.jpg", day(5), 5, place(105), alt=MAIL),
        replace(picked(5, 20), grade=MAIL),
    ],
)
def test_texts_of_the_log(row: Row) -> None:
    """Notes, clips, routines, texts of photos and grades are searched."""
    assert [(f.found, f.source) for f in checked(personal_detail, run(sown(), row))] == [(MAIL, place(105))]


@pytest.mark.parametrize(
    ("recap", "source"),
    [
        ("bob@farm.co", Source("recap.md", 1, 1, 11)),
        (" bob@farm.co", Source("recap.md", 1, 2, 11)),
        ("\nbob@farm.co", Source("recap.md", 2, 1, 11)),
        ("a\nb\n c bob@farm.co\nd", Source("recap.md", 3, 4, 11)),
        ("See https://x.test/a@b.org, bob@farm.co", Source("recap.md", 1, 29, 11)),
    ],
)
def test_places_in_a_recap(recap: str, source: Source) -> None:
    """Lines and columns count from 1, and a link keeps its width."""
    assert [f.source for f in checked(personal_detail, run(sown(), recap=recap))] == [source]


def test_recap_of_an_experiment_in_a_folder() -> None:
    """The recap lies beside the experiment's file."""
    head = setup(source=Source("seasons/one/run/experiment.yaml"))

    (found,) = checked(personal_detail, run(sown(), head=head, recap=MAIL))
    assert found.source.file == "seasons/one/run/recap.md"


def located(number: int, more: str = "") -> list[Finding]:
    """Photos with a location, the first of them b.jpg."""
    return [
        Finding(
            "photo-location",
            Source("photos/b.jpg"),
            f"`b.jpg` carries the place where it was taken{more}; what is published does not",
            "remove the location before you pass the file itself on",
            f"{number} photo{'' if number == 1 else 's'}",
        )
    ]


@pytest.mark.parametrize(
    ("number", "expected"),
    [
        (0, []),
        (1, located(1)),
        (2, located(2, ", and so does 1 more photo")),
        (3, located(3, ", and so do 2 more photos")),
    ],
)
def test_number_of_located_photos(number: int, expected: list[Finding]) -> None:
    """One finding tells how many more photos carry a location."""
    files = [PhotoFile("a.jpg"), *(PhotoFile(f"{name}.jpg", located=True) for name in "bcd"[:number])]

    assert checked(photo_location, run(sown(), photo_files=tuple(files))) == expected


def test_located_photo_of_the_log() -> None:
    """The finding of a photo in the log lies at the first line that names it."""
    rows = Photo("b.jpg", day(4), 4, place(104)), Photo("b.jpg", day(5), 5, place(105))
    files = (PhotoFile("b.jpg", located=True), PhotoFile("c.jpg", located=True))

    (found,) = checked(photo_location, run(sown(), *rows, photo_files=files))
    assert found.source == place(104)


def test_signs() -> None:
    """A text without signs may hold no detail; letters count in capitals, digits in shapes."""
    assert [detail for detail in DETAILS if detail.may_be_in(forms_of("84 g at EC 1.4, day 26"))] == []
    assert [
        [d.form for d in DETAILS if d.may_be_in(forms_of(text))] for text in ("tel", "AB12", "a@b", "x-1234")
    ] == [
        ["capitals"],
        ["shape"],
        ["text"],
        ["shape"],
    ]
    assert forms_of("Öl Tel 12") == {"text": "Öl Tel 12", "capitals": "ÖL TEL 12", "shape": "Öa Aaa 00"}


def test_names_of_footage() -> None:
    """The name of a clip's file is not published, and not searched."""
    assert checked(personal_detail, run(sown(), done(Deed.CLIP, 5, file=MAIL))) == []
