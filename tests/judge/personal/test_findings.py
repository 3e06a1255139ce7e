"""Findings about what looks personal: their words, their places, and what is passed over."""

from __future__ import annotations

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.records.published_text import PublishedText
from sitegen.judge.personal import personal_findings, personal_parts

AT = Source("e.yaml", 9, 11, 40)
MEND = "remove it, or write it under `private`, if it is not meant for everyone"
PAGE = "experiments/one.html"


def text(words: str, *files: str, source: Source | None = None, held_back: bool = False) -> PublishedText:
    """A text that stands in its line as it is read."""
    return PublishedText(words, source or AT._replace(width=len(words)), files or (PAGE,), held_back)


@pytest.mark.parametrize(
    ("files", "held_back", "where"),
    [
        ((PAGE,), False, f"`{PAGE}`"),
        ((PAGE, "find.js"), False, f"`{PAGE}` and 1 more file"),
        ((PAGE, "find.js", "index.html"), True, f"`{PAGE}` and 2 more files, once it is published"),
    ],
)
def test_where_it_appears(files: tuple[str, ...], held_back: bool, where: str) -> None:
    """A finding says where it would appear, at its narrowest place."""
    assert [*personal_findings([text("Seen by Mrs Tillbury today.", *files, held_back=held_back)])] == [
        Finding(
            "personal-hint",
            Source("e.yaml", 9, 19, 12),
            f"`Mrs Tillbury` looks like the name of a person; it appears in {where}",
            MEND,
            "Mrs Tillbury",
        )
    ]


def test_what_every_command_tells() -> None:
    """What is told without asking has its own code."""
    (found,) = personal_findings([text("Ask anna@gardenmail.co for it.")])

    assert (found.code, found.found) == ("personal-detail", "anna@gardenmail.co")


@pytest.mark.parametrize(
    ("width", "place"),
    [
        (20, Source("e.yaml", 9, 19, 12)),  # as it is read
        (22, Source("e.yaml", 9, 20, 12)),  # in quotes
        (30, Source("e.yaml", 9, 11, 30)),  # written otherwise: the whole of it
    ],
)
def test_places(width: int, place: Source) -> None:
    """A part is marked where its spelling in the file is known, else the whole text."""
    words = "Seen by Mrs Tillbury"

    assert [f.source for f in personal_findings([text(words, source=AT._replace(width=width))])] == [place]


def test_places_in_a_file() -> None:
    """In a file, lines and columns count from 1."""
    page = PublishedText(
        "# A\n\nSeen by Mrs Tillbury\n", Source("about.md"), ("about.html",), whole_file=True
    )

    assert [f.source for f in personal_findings([page])] == [Source("about.md", 3, 9, 12)]


@pytest.mark.parametrize(
    "words",
    [
        "```photo\nIMG_2034.JPG\nA rosette\n```\n",
        "~~~strip\nP1\n~~~",
        "Words <!-- Mrs Tillbury said so --> and more",
        "{{ facts.length }} and no more",
        "https://example.net/users/Mrs/555-123-4567",
    ],
)
def test_what_is_passed_over(words: str) -> None:
    """Blocks that place a photo, comments, values and links are passed over."""
    assert [*personal_parts(words)] == []


def test_code() -> None:
    """In styles and drawings only paths and mail addresses are looked for."""
    code = PublishedText(
        '<svg export="/home/anna/tub.svg">\n<!-- x -->a 48.20817, 16.37382</svg>',
        Source("look/assets/a.svg"),
        ("assets/a.svg",),
        whole_file=True,
        code=True,
    )

    assert [f.found for f in personal_findings([code])] == ["/home/anna/tub.svg"]


def test_overlapping_parts() -> None:
    """Of parts that lie on each other the first kind of the tables is told."""
    assert [detail.name for detail, _, _ in personal_parts("geo:47.3882,9.8623")] == ["a point on a map"]
